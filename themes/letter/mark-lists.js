"use strict";
// The lists of the page: pictures, points, values, and what is not measured yet.

const by = (id) => document.getElementById(id);

function made(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** Gives `list` a row for each key, and keeps the rows that are there already, with whatever has the focus in them. */
function keyed(list, keys, row) {
  const there = new Map([...list.children].map((child) => [child.dataset.key, child]));
  if ([...there.keys()].join("\n") !== keys.join("\n")) {
    list.replaceChildren(...keys.map((key) => {
      const kept = there.get(key) ?? row(key);
      kept.dataset.key = key;
      return kept;
    }));
  }
  return [...list.children];
}

function listStills(stills, chosen, points, choose) {
  const rows = keyed(by("stills"), stills.map(({id}) => id), (id) => {
    const button = made("button", {type: "button"}, made("img", {alt: "", src: stills.find((still) => still.id === id).url}), made("span"));
    button.addEventListener("click", () => choose(id));
    return made("li", {}, button);
  });
  rows.forEach((row, k) => {
    const still = stills[k], [button] = row.children, {needed} = points(still);
    const set = needed.filter((name) => still.points[name]).length;
    button.toggleAttribute("aria-current", still.id === chosen);
    if (still.id === chosen) button.setAttribute("aria-current", "true");
    const about = still.view && still.checkpoint ? says("set_of", {set, needed: needed.length}) : still.file;
    button.lastChild.replaceChildren(
      still.view && still.checkpoint ? says("still", {checkpoint: momentName(still.checkpoint), view: viewName(still.view)}) : says("still_open"), made("span", {class: "sub"}, about));
  });
}

function listPoints(list, names, still, {current, held}, choose) {
  const rows = keyed(list, names, (name) => {
    const button = made("button", {type: "button", "data-point": name}, made("span", {}, spoken(name)), made("span", {class: "tick"}));
    button.addEventListener("click", (event) => choose(name, event.detail === 0));
    return made("li", {}, button);
  });
  rows.forEach((row, k) => {
    const [button] = row.children, place = still.points[names[k]];
    button.classList.toggle("set", Boolean(place));
    button.dataset.held = names[k] === held;
    if (names[k] === current) button.setAttribute("aria-current", "step"); else button.removeAttribute("aria-current");
    button.lastChild.replaceChildren(place ? "✓" : "", made("span", {class: "sr"}, ` ${place ? says("set_at", coordinates(place)) : says("not_set")}`));
  });
}

function listValues(found, tempo, words) {
  const known = found.filter(({lacks}) => !lacks);
  const rows = keyed(by("values"), [...known.map(({metric}) => metric), ...(tempo ? ["tempo-ratio"] : [])], () =>
    made("tr", {}, made("th", {scope: "row"}), made("td")));
  rows.forEach((row, k) => {
    const metric = row.dataset.key, {value, views} = known[k] ?? {value: tempo, views: 0};
    const [name, said] = row.children;
    name.replaceChildren(words[metric].name, ...(views === 1 ? [made("span", {class: "cp"}, given.one_picture)] : []));
    said.textContent = amount(value, words[metric]);
  });
  by("none-yet").hidden = rows.length > 0;
}

function listMissing(found, words) {
  const lacking = found.filter(({lacks}) => lacks);
  by("lacking").hidden = !lacking.length;
  by("missing").replaceChildren(...lacking.map(({metric, lacks}) => {
    const needs = lacks.map(({view, checkpoint, marks}) =>
      says("needs", {marks: marks.map(spoken).join(", "), checkpoint: momentName(checkpoint), view: viewName(view)}));
    const all = needs.length ? needs.reduce((before, after) => says("apart", {before, after})) : says("same_size");
    return made("li", {}, says("lacks", {measure: words[metric].name, needs: all}));
  }));
}
