"use strict";
// The picture with its points: drawn, made larger and smaller, moved about, and touched.
// `scale` is screen pixels for a pixel of the picture; `left` and `upper` are the picture's place in the window's corner.

const LINES = [
  ["lead-hip", "trail-hip"], ["lead-shoulder", "trail-shoulder"], ["lead-hip", "lead-knee"], ["lead-knee", "lead-ankle"],
  ["trail-hip", "trail-knee"], ["trail-knee", "trail-ankle"], ["scale-from", "scale-to"], ["stick-near", "stick-far"],
];
const MOST = 40;
const TAP_PX = 6;
const LENS_TIMES = 3;

function svgElement(tag, attributes, parent) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  parent.append(made);
  return made;
}

/** Draws into `svg` and tells: `tap(place)`, `drag(name, place, begins)`, `pointed()` when a pointer takes over. */
function openPicture(svg, lens, tell) {
  const image = svgElement("image", {x: 0, y: 0}, svg), drawn = svgElement("g", {}, svg);
  const lensImage = svgElement("image", {x: 0, y: 0}, lens), lensCross = svgElement("path", {class: "hair"}, lens);
  let still = null, shown = {held: null, cross: null}, scale = 1, left = 0, upper = 0, fitted = true;

  const room = () => [svg.clientWidth || 1, svg.clientHeight || 1];
  const least = () => Math.min(room()[0] / still.size[0], room()[1] / still.size[1]);
  const placeAt = (event) => {
    const box = svg.getBoundingClientRect();
    return [left + (event.clientX - box.left) / scale, upper + (event.clientY - box.top) / scale];
  };

  function settle() {
    const kept = (corner, window, length) => window >= length ? (length - window) / 2 : Math.min(Math.max(corner, 0), length - window);
    left = kept(left, room()[0] / scale, still.size[0]);
    upper = kept(upper, room()[1] / scale, still.size[1]);
    draw();
  }

  function zoom(times, [x, y]) {
    if (!still) return;
    const next = Math.min(Math.max(scale * times, least()), Math.max(MOST, least()));
    left = x - (x - left) * scale / next;
    upper = y - (y - upper) * scale / next;
    scale = next;
    fitted = scale <= least() * 1.001;
    settle();
  }

  function whole() {
    if (!still) return;
    fitted = true;
    scale = least();
    settle();
  }

  function follow([x, y]) {
    const [w, h] = room().map((length) => length / scale), edge = 0.12;
    if (x < left + w * edge || x > left + w * (1 - edge)) left = x - w / 2;
    if (y < upper + h * edge || y > upper + h * (1 - edge)) upper = y - h / 2;
    settle();
  }

  function show(next, {held, cross}) {
    const other = still?.id !== next?.id, resized = String(still?.size) !== String(next?.size);
    still = next;
    shown = {held, cross};
    if (!still) return;
    if (other) {
      for (const one of [image, lensImage]) {
        one.setAttribute("href", still.url);
        one.setAttribute("width", still.size[0]);
        one.setAttribute("height", still.size[1]);
      }
      svg.style.aspectRatio = `${still.size[0]} / ${still.size[1]}`;
    }
    if (resized || fitted) whole(); else settle();
  }

  function draw() {
    const [w, h] = room(), {points} = still;
    svg.setAttribute("viewBox", `${left} ${upper} ${w / scale} ${h / scale}`);
    drawn.replaceChildren();
    for (const halo of [true, false]) {
      for (const [from, to] of LINES) {
        if (!points[from] || !points[to]) continue;
        const [[x1, y1], [x2, y2]] = [points[from], points[to]];
        svgElement("line", {x1, y1, x2, y2, class: halo ? "bone halo" : `bone ${from.split("-")[0]}`}, drawn);
      }
    }
    for (const [name, [x, y]] of Object.entries(points)) drawMark(name, x, y);
    if (shown.cross) {
      const at = `translate(${shown.cross[0]} ${shown.cross[1]}) scale(${1 / scale})`, path = "M-26 0H-5M5 0H26M0-26V-5M0 5V26";
      svgElement("path", {d: path, transform: at, class: "cross halo"}, drawn);
      svgElement("path", {d: path, transform: at, class: "cross"}, drawn);
    }
  }

  function drawMark(name, x, y) {
    const held = name === shown.held;
    const mark = svgElement("g", {transform: `translate(${x} ${y}) scale(${1 / scale})`, class: `point ${name.split("-")[0]}`, "data-name": name}, drawn);
    const shape = kindOf(name) !== "mark" ? "M0-8V8" : "M-5 0H5M0-5V5";
    svgElement("path", {d: shape, class: "halo"}, mark);
    svgElement("path", {d: shape}, mark);
    if (!held) return;
    svgElement("circle", {r: 13, class: "ring halo"}, mark);
    svgElement("circle", {r: 13, class: "ring"}, mark);
    const right = (x - left) * scale < room()[0] * 0.65;
    const label = {x: right ? 20 : -20, y: 5, "text-anchor": right ? "start" : "end"};
    svgElement("text", {...label, class: "halo"}, mark).textContent = spoken(name);
    svgElement("text", label, mark).textContent = spoken(name);
  }

  function look([x, y], event) {
    const box = svg.getBoundingClientRect(), side = lens.clientWidth / (scale * LENS_TIMES);
    lens.classList.toggle("right", event.clientX - box.left < box.width / 2);
    lens.setAttribute("viewBox", `${x - side / 2} ${y - side / 2} ${side} ${side}`);
    lensCross.setAttribute("d", `M${x - side / 2} ${y}h${side}M${x} ${y - side / 2}v${side}`);
    lens.classList.add("on");
  }

  function near(event) {
    const reach = (event.pointerType === "touch" ? 24 : 12) / scale, [x, y] = placeAt(event);
    const far = (name) => Math.hypot(still.points[name][0] - x, still.points[name][1] - y);
    return Object.keys(still.points).filter((name) => far(name) < reach).sort((a, b) => (b === shown.held) - (a === shown.held) || far(a) - far(b))[0] ?? null;
  }

  const down = new Map();
  let gesture = null;

  const spread = () => {
    const [a, b] = [...down.values()];
    return {apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) || 1, clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2};
  };

  svg.addEventListener("pointerdown", (event) => {
    if (!still || event.button > 0) return;
    svg.setPointerCapture(event.pointerId);
    down.set(event.pointerId, event);
    tell.pointed();
    if (down.size === 1) gesture = {kind: "tap", from: event, last: event, name: near(event)};
    if (down.size === 2) gesture = {kind: "pinch", ...spread()};
    if (down.size === 1 && event.pointerType !== "mouse") look(placeAt(event), event);
    if (down.size > 1) lens.classList.remove("on");
  });

  svg.addEventListener("pointermove", (event) => {
    if (!down.has(event.pointerId)) return;
    down.set(event.pointerId, event);
    if (gesture.kind === "pinch" && down.size === 2) {
      const now = spread(), [x, y] = placeAt(gesture);
      left -= (now.clientX - gesture.clientX) / scale;
      upper -= (now.clientY - gesture.clientY) / scale;
      zoom(now.apart / gesture.apart, [x, y]);
      gesture = {kind: "pinch", ...now};
      return;
    }
    const far = Math.hypot(event.clientX - gesture.from?.clientX, event.clientY - gesture.from?.clientY) > TAP_PX;
    if (gesture.kind === "tap" && far) {
      gesture.kind = gesture.name ? "drag" : "pan";
      if (gesture.name) tell.drag(gesture.name, placeAt(event), true);
      else lens.classList.remove("on");
    } else if (gesture.kind === "drag") {
      tell.drag(gesture.name, placeAt(event), false);
      look(placeAt(event), event);
    }
    if (gesture.kind === "pan") {
      left -= (event.clientX - gesture.last.clientX) / scale;
      upper -= (event.clientY - gesture.last.clientY) / scale;
      settle();
    }
    gesture.last = event;
  });

  for (const end of ["pointerup", "pointercancel"]) {
    svg.addEventListener(end, (event) => {
      if (!down.delete(event.pointerId)) return;
      lens.classList.remove("on");
      if (end === "pointerup" && gesture.kind === "tap") tell.tap(placeAt(event));
      gesture = {kind: "over"};
    });
  }

  svg.addEventListener("wheel", (event) => {
    if (!still || (fitted && event.deltaY > 0)) return;
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0015)), placeAt(event));
  }, {passive: false});

  new ResizeObserver(() => { if (still) { if (fitted) whole(); else settle(); } }).observe(svg);

  return {
    show, whole, follow,
    larger: (at) => zoom(1.5, at ?? middle()),
    smaller: (at) => zoom(1 / 1.5, at ?? middle()),
    middle,
    step: (far) => Math.max(1, Math.round((far ? 50 : 10) / scale)),
  };

  function middle() {
    return [left + room()[0] / scale / 2, upper + room()[1] / scale / 2];
  }
}
