"use strict";
// What the page says, in the language that it was written for. What goes into the sheet is the same in every language.

const given = JSON.parse(document.getElementById("given").textContent);
const SAYS = JSON.parse(document.getElementById("words").textContent);

const filled = (message, values) => message.replace(/\{(\w+)\}/g, (_, place) => values[place]);

/** The message of that name, its {places} replaced by the values. */
const says = (name, values = {}) => filled(SAYS[name], values);

/** A number for reading, with the decimal sign of the language. */
const figure = (number) => String(number).replace(".", given.decimal);

const coordinates = ([x, y]) => ({x: figure(x), y: figure(y)});

const spoken = (point) => SAYS.ends[point] ?? given.points[point];
const whereIs = (point) => SAYS.where[point] ?? SAYS.where[point.split("-")[1]];
const momentName = (checkpoint) => given.checkpoints[checkpoint];
const viewName = (view) => given.views[view];

/** The point to place next and where it is, its name set off from the rest. */
function nextIs(point) {
  const [before, name, after] = SAYS.next.split(/<\/?strong>/).map((part) => filled(part, {point: spoken(point), where: whereIs(point)}));
  return [before, made("strong", {}, name), after];
}
