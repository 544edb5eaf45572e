"use strict";
// A swing to step through: one or two films on one clock. All words stand in the page; this changes what is seen.
// Nothing moves before somebody asks for it.

const SLOWER = 4;
const REST_MS = 1200;
const SWIPED_PX = 12;
const SVG = "http://www.w3.org/2000/svg";

const fromFile = (image) => image.setAttribute("href", image.dataset.late);

// `root` is what the swing stands in; where there is none, nothing happens. `load` gives an image its address.
function stepThrough(root, load = fromFile) {
  const box = root.querySelector(".swing");
  if (!box) return;
  const find = (selector) => box.querySelector(selector);
  const all = [...box.querySelectorAll(".side")].map((figure) => sideOf(figure, load));
  const slider = find(".slider"), play = find(".play"), jumps = find(".jumps"), ticks = find(".ticks");
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let shown = [], at = 0, waiting = 0;

  function go(frame) {
    const lead = shown[0];
    at = Math.max(0, Math.min(lead.times.length - 1, frame));
    shown.forEach((side, place) => side.show(place ? nearest(side.parts, lead.parts[at]) : at));
    slider.value = at;
    slider.setAttribute("aria-valuetext", lead.steps[at]);
    find(".step").textContent = lead.steps[at];
    [...jumps.children].forEach((item) => item.firstChild.setAttribute("aria-current", String(+item.dataset.frame === at)));
  }

  function stop() {
    clearTimeout(waiting);
    waiting = 0;
    play.textContent = play.dataset.play;
  }

  function by(hand) {
    stop();
    go(hand);
  }

  function move() {
    if (!box.isConnected || document.hidden) return stop();
    const { times } = shown[0], last = at === times.length - 1;
    go(last ? 0 : at + 1);
    waiting = setTimeout(move, at === times.length - 1 ? REST_MS : (times[at + 1] - times[at]) * 1000 * SLOWER);
  }

  function choose(places) {
    const part = shown.length ? shown[0].parts[at] : null;
    shown = places.map((place) => all[place]);
    all.forEach((side) => { side.figure.hidden = !shown.includes(side); });
    find(".sides").classList.toggle("alone", shown.length === 1);
    find(".sides").append(...shown.map((side) => side.figure));
    shown.forEach((side) => side.load());
    const lead = shown[0];
    slider.max = lead.times.length - 1;
    jumps.replaceChildren(...lead.moments.map((moment) => jumpTo(moment, by)));
    ticks.replaceChildren(...lead.moments.map((moment) => tickOf(moment, lead.times.length - 1)));
    go(part === null ? lead.opens() : nearest(lead.parts, part));
  }

  const pairs = [...box.querySelectorAll("[name=pair]")];
  pairs.forEach((pair) => pair.addEventListener("change", () => { stop(); choose(placesIn(pair)); }));
  slider.addEventListener("input", () => by(+slider.value));
  play.addEventListener("click", () => {
    if (waiting) return stop();
    play.textContent = play.dataset.stop;
    move();
  });
  play.hidden = still.matches;
  still.addEventListener("change", () => { stop(); play.hidden = still.matches; });
  box.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (event.key === "Escape") stop();
    if (!step || event.target.matches("input")) return;
    event.preventDefault();
    by(at + step);
  });
  all.forEach((side) => swiped(side.stage, () => at, by));
  box.classList.add("live");
  box.querySelectorAll("[data-live]").forEach((part) => { part.hidden = false; });
  choose(pairs.length ? placesIn(pairs.find((pair) => pair.checked)) : all.map((_, place) => place));
}

const placesIn = (pair) => pair.value.split(",").map(Number);

// The place of the number that is nearest.
const nearest = (numbers, wanted) => numbers.reduce((best, one, place) => Math.abs(one - wanted) < Math.abs(numbers[best] - wanted) ? place : best, 0);

function drawn(tag, attributes) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

// One film: its picture of all frames behind a window of one frame, over it the lines of a checkpoint.
function sideOf(figure, load) {
  const { file, columns, size: [width, height], sheet, times, parts, steps } = JSON.parse(figure.dataset.swing);
  const stage = drawn("svg", { class: "stage", viewBox: `1 1 ${width - 2} ${height - 2}`, role: "img" });
  const image = drawn("image", { width: sheet[0], height: sheet[1] });
  const lines = drawn("g", { class: "lines" });
  const moments = [...figure.querySelectorAll(".row > li")];
  image.dataset.late = figure.dataset.late ?? file;
  stage.append(image, lines);
  figure.prepend(stage);
  // Letters keep their size, however wide the frame is shown.
  const fit = () => stage.clientWidth && stage.style.setProperty("--px", width / stage.clientWidth);
  new ResizeObserver(fit).observe(stage);
  return {
    figure, stage, moments, times, parts, steps,
    opens: () => +(moments.find((moment) => moment.classList.contains("opens"))?.dataset.frame ?? 0),
    load() {
      figure.querySelectorAll("image[data-late]:not([href])").forEach(load);
      fit();
    },
    show(frame) {
      image.setAttribute("x", -(frame % columns) * width);
      image.setAttribute("y", -Math.floor(frame / columns) * height);
      const here = moments.find((moment) => +moment.dataset.frame === frame);
      moments.forEach((moment) => moment.classList.toggle("here", moment === here));
      lines.replaceChildren(...(here ? [...here.querySelector(".lines").children].map((line) => line.cloneNode(true)) : []));
      stage.setAttribute("aria-label", here ? here.querySelector("svg").getAttribute("aria-label") : steps[frame]);
      figure.dataset.frame = frame;
    },
  };
}

function jumpTo(moment, by) {
  const item = document.createElement("li"), button = document.createElement("button");
  item.dataset.frame = moment.dataset.frame;
  item.className = moment.className.replace(/\b(here|opens)\b/g, "");
  button.type = "button";
  button.append(...moment.querySelector(".at").cloneNode(true).childNodes);
  button.addEventListener("click", () => by(+moment.dataset.frame));
  item.append(button);
  return item;
}

// A mark on the slider; its words stand on the button of the same checkpoint.
function tickOf(moment, last) {
  const item = document.createElement("span");
  item.className = `tick ${moment.className.replace(/\b(here|opens)\b/g, "")}`;
  item.style.setProperty("--at", moment.dataset.frame / last);
  item.append(moment.querySelector(".mark").cloneNode(true));
  return item;
}

// A finger or a mouse that moves across a film takes it along, a frame for so many pixels.
function swiped(stage, now, by) {
  let from = null;
  stage.addEventListener("pointerdown", (event) => {
    from = { x: event.clientX, frame: now() };
    stage.setPointerCapture(event.pointerId);
  });
  stage.addEventListener("pointermove", (event) => {
    if (from) by(from.frame + Math.round((event.clientX - from.x) / SWIPED_PX));
  });
  for (const end of ["pointerup", "pointercancel"]) stage.addEventListener(end, () => { from = null; });
}

stepThrough(document);
