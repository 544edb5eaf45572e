// The picture with its marks: drawn, made larger and smaller, moved about, and touched. Nothing is measured here.
// `scale` is screen pixels for a pixel of the picture; `left` and `upper` are the picture's place in the window's corner.

const LINES = [
  ["lead-hip", "trail-hip"], ["lead-shoulder", "trail-shoulder"], ["lead-hip", "lead-knee"], ["lead-knee", "lead-ankle"],
  ["trail-hip", "trail-knee"], ["trail-knee", "trail-ankle"], ["lead-heel", "lead-toe"], ["trail-heel", "trail-toe"],
  ["scale-from", "scale-to"], ["stick-from", "stick-to"],
];
const MOST = 40, TAP_PX = 5, LENS_TIMES = 4;
const SLOW = 0.25, SLOW_BELOW = 0.12;  // a finger slower than so many pixels a millisecond moves the aim by a quarter

function svgElement(tag, attributes, parent) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  parent.append(made);
  return made;
}

/** Draws into `svg` and tells: `aim(name, place)` while a pointer slides, `place(name, place)` where it lets go, `tap(name, place)`
 * on a mark, `cancel()` where a second finger comes. `name` is the mark that was taken hold of, null beside all of them. */
function openPicture(svg, lens, tell) {
  const image = svgElement("image", { x: 0, y: 0 }, svg), drawn = svgElement("g", {}, svg);
  const lensImage = svgElement("image", { x: 0, y: 0 }, lens), lensCross = svgElement("path", { class: "hair" }, lens);
  let still = null, scale = 1, left = 0, upper = 0, fitted = true, over = null;

  const room = () => [svg.clientWidth || 1, svg.clientHeight || 1];
  const least = () => Math.min(room()[0] / still.size[0], room()[1] / still.size[1]);
  const placeAt = (event) => {
    const box = svg.getBoundingClientRect();
    return [left + (event.clientX - box.left) / scale, upper + (event.clientY - box.top) / scale];
  };
  const middle = () => [left + room()[0] / scale / 2, upper + room()[1] / scale / 2];

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
    const [w, h] = room().map((length) => length / scale), edge = 0.1;
    if (x < left + w * edge || x > left + w * (1 - edge)) left = x - w / 2;
    if (y < upper + h * edge || y > upper + h * (1 - edge)) upper = y - h / 2;
    settle();
  }

  /** `next` is {src, size, set, hollow, start, before, lent, held, current, cross}: places by the names of their marks;
   * `start` are those of the hollow ones that must be moved. */
  function show(next) {
    const other = still?.src !== next.src, resized = String(still?.size) !== String(next.size);
    still = next;
    if (other) {
      for (const one of [image, lensImage]) {
        one.setAttribute("href", still.src);
        one.setAttribute("width", still.size[0]);
        one.setAttribute("height", still.size[1]);
      }
    }
    if (resized || fitted) whole(); else settle();
  }

  function draw() {
    const [w, h] = room(), { set, hollow, before, lent } = still;
    svg.setAttribute("viewBox", `${left} ${upper} ${w / scale} ${h / scale}`);
    drawn.replaceChildren();
    bones(lent, "bone lent");
    bones(before, "bone before");
    for (const [name, at] of Object.entries(before)) svgElement("circle", { r: 3, class: "before", transform: onScreen(at), "data-before": name }, drawn);
    const joined = Object.fromEntries(Object.entries({ ...hollow, ...set }).filter(([name]) => set[name] || !still.start.includes(name)));
    bones(joined, "bone halo");
    bones(joined, "bone", (a, b) => set[a] && set[b] ? "" : " hollow");
    for (const [name, at] of Object.entries(hollow)) mark(name, at, true);
    for (const [name, at] of Object.entries(set)) mark(name, at, false);
    if (still.cross) {
      const at = onScreen(still.cross), path = "M-26 0H-5M5 0H26M0-26V-5M0 5V26";
      svgElement("path", { d: path, transform: at, class: "cross halo" }, drawn);
      svgElement("path", { d: path, transform: at, class: "cross" }, drawn);
    }
  }

  const onScreen = ([x, y]) => `translate(${x} ${y}) scale(${1 / scale})`;

  function bones(points, kind, more = () => "") {
    for (const [from, to] of LINES) {
      if (!points[from] || !points[to]) continue;
      const [[x1, y1], [x2, y2]] = [points[from], points[to]];
      svgElement("line", { x1, y1, x2, y2, class: `${kind} ${from.split("-")[0]}${more(from, to)}` }, drawn);
    }
  }

  function mark(name, at, open) {
    const chosen = name === still.held || (name === still.current && !still.held);
    const group = svgElement("g", { transform: onScreen(at), class: `point ${open ? still.start.includes(name) ? "hollow start" : "hollow" : "set"} ${name.split("-")[0]}`, [open ? "data-hollow" : "data-set"]: name }, drawn);
    const shape = /^(scale|stick)-/.test(name) ? "M0-8V8" : "M-5 0H5M0-5V5";
    if (open) {
      const r = still.start.includes(name) ? 10 : 6;
      svgElement("circle", { r, class: "halo" }, group);
      svgElement("circle", { r }, group);
    } else {
      svgElement("path", { d: shape, class: "halo" }, group);
      svgElement("path", { d: shape }, group);
    }
    if (!chosen) return;
    svgElement("circle", { r: 14, class: "ring halo" }, group);
    svgElement("circle", { r: 14, class: "ring" }, group);
    const right = (at[0] - left) * scale < room()[0] * 0.7, label = { x: right ? 21 : -21, y: 5, "text-anchor": right ? "start" : "end" };
    svgElement("text", { ...label, class: "halo" }, group).textContent = still.called(name);
    svgElement("text", label, group).textContent = still.called(name);
  }

  function look([x, y], event) {
    const box = svg.getBoundingClientRect(), side = lens.clientWidth / (scale * LENS_TIMES);
    lens.classList.toggle("right", event.clientX - box.left < box.width / 2);
    lens.setAttribute("viewBox", `${x - side / 2} ${y - side / 2} ${side} ${side}`);
    lensCross.setAttribute("d", `M${x - side / 2} ${y}H${x - side / 16}M${x + side / 16} ${y}H${x + side / 2}M${x} ${y - side / 2}V${y - side / 16}M${x} ${y + side / 16}V${y + side / 2}`);
    lens.classList.add("on");
  }

  /** The mark nearest to a pointer, within `reach` screen pixels; the one in hand before others. */
  function near(event, reach) {
    const [x, y] = placeAt(event), all = { ...still.hollow, ...still.set };
    const far = (name) => Math.hypot(all[name][0] - x, all[name][1] - y);
    return Object.keys(all).filter((name) => far(name) * scale < reach).sort((a, b) => (b === still.held) - (a === still.held) || far(a) - far(b))[0] ?? null;
  }

  const down = new Map();
  let gesture = { kind: "over" };

  const spread = () => {
    const [a, b] = [...down.values()];
    return { apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) || 1, clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 };
  };

  svg.addEventListener("pointerdown", (event) => {
    if (!still || event.button > 1) return;
    svg.setPointerCapture(event.pointerId);
    down.set(event.pointerId, event);
    if (down.size > 1) {
      if (gesture.kind !== "pinch") tell.cancel();
      lens.classList.remove("on");
      gesture = { kind: "pinch", ...spread() };
      return;
    }
    if (event.button === 1 || event.shiftKey) {
      event.preventDefault();
      gesture = { kind: "pan", last: event };
      return;
    }
    const aim = placeAt(event), name = near(event, event.pointerType === "touch" ? 22 : 10);
    gesture = { kind: name ? "press" : "aim", from: event, last: event, name, aim };
    look(aim, event);
    if (!name) tell.aim(null, aim);
  });

  svg.addEventListener("pointermove", (event) => {
    if (!still) return;
    over = event;
    if (!down.has(event.pointerId)) return;
    down.set(event.pointerId, event);
    if (gesture.kind === "pinch" && down.size === 2) {
      const now = spread(), at = placeAt(gesture);
      left -= (now.clientX - gesture.clientX) / scale;
      upper -= (now.clientY - gesture.clientY) / scale;
      zoom(now.apart / gesture.apart, at);
      gesture = { kind: "pinch", ...now };
      return;
    }
    const { last } = gesture;
    if (gesture.kind === "pan") {
      left -= (event.clientX - last.clientX) / scale;
      upper -= (event.clientY - last.clientY) / scale;
      settle();
    }
    if (gesture.kind === "press" && Math.hypot(event.clientX - gesture.from.clientX, event.clientY - gesture.from.clientY) > TAP_PX) {
      gesture.kind = "drag";
      gesture.aim = (still.set[gesture.name] ?? still.hollow[gesture.name]).map((value, k) => value + (placeAt(event)[k] - placeAt(gesture.from)[k]));
    } else if (gesture.kind === "aim" || gesture.kind === "drag") {
      const moved = [event.clientX - last.clientX, event.clientY - last.clientY];
      const speed = Math.hypot(...moved) / Math.max(1, event.timeStamp - last.timeStamp);
      const gain = event.pointerType === "touch" && speed < SLOW_BELOW ? SLOW : 1;
      gesture.aim = gesture.aim.map((value, k) => value + gain * moved[k] / scale);
    }
    if (gesture.kind === "aim" || gesture.kind === "drag") {
      look(gesture.aim, event);
      tell.aim(gesture.name, gesture.aim);
    }
    gesture.last = event;
  });

  for (const end of ["pointerup", "pointercancel"]) {
    svg.addEventListener(end, (event) => {
      if (!down.delete(event.pointerId)) return;
      lens.classList.remove("on");
      const { kind, name, aim } = gesture;
      gesture = { kind: "over" };
      if (end === "pointercancel") tell.cancel();
      else if (kind === "press") tell.tap(name, aim);
      else if (kind === "aim" || kind === "drag") tell.place(name, aim);
    });
  }
  svg.addEventListener("pointerleave", () => { if (!down.size) over = null; });

  svg.addEventListener("wheel", (event) => {
    if (!still || (fitted && event.deltaY > 0)) return;
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0015)), placeAt(event));
  }, { passive: false });

  new ResizeObserver(() => { if (still) { if (fitted) whole(); else settle(); } }).observe(svg);

  return {
    show, whole, follow, middle,
    larger: (at) => zoom(1.5, at ?? middle()),
    smaller: (at) => zoom(1 / 1.5, at ?? middle()),
    step: (far) => Math.max(1, Math.round((far ? 50 : 10) / scale)),
    /** The mark under the pointer, however far; null where the pointer is not over the picture. */
    under: () => over && near(over, 80),
    /** Where a place of the picture is on the screen. */
    onScreen: ([x, y]) => { const box = svg.getBoundingClientRect(); return [box.left + (x - left) * scale, box.top + (y - upper) * scale]; },
  };
}
