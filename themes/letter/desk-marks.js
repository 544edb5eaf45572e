// The page itself: which picture is open, what is in hand, and what each key, button and field does.
// A mark that is `set` counts and is kept. A `hollow` one is proposed: it counts for nothing until somebody confirms it, or
// moves it where it is only a place to `start` from.

const by = (id) => document.getElementById(id);
const ENDS = given.blind ? {} : { scale: ["scale-from", "scale-to"], stick: ["stick-from", "stick-to"] };
const SHOWS = ["view", "checkpoint"];
const LIMBS = [["knee", "ankle", "heel", "toe"], ["hip"], ["shoulder"], ["wrist"]];
const page = { still: null, set: {}, hollow: {}, current: null, held: null, cross: null, aim: null, looking: false, unseen: false, all: !given.focus.length, before: true, keys: true, past: [], future: [] };

const here = (number) => `${given.here}/${number}`;
const called = (name) => words.points[name] ?? words.ends[name];
const says = (word, values = {}) => Object.entries(values).reduce((text, [key, value]) => text.replace(`{${key}}`, value), words[word]);
const fresh = (html) => { const made = document.createElement("template"); made.innerHTML = html; return made.content.firstElementChild; };

// What stands in the sheet, from what is set -----------------------------------------------------------------------

const quantity = (id) => by(id).value.trim() || null;

/** A line of the ground with both its ends; null while one is missing, or the scale has no length. */
function lineOf(kind, set) {
  const [from, to] = ENDS[kind].map((end) => set[end]?.at);
  if (!from || !to) return null;
  if (kind === "stick") return { from, to };
  return quantity("length") && { from, to, length: quantity("length"), ...(by("is-stick").checked && { is_stick: true }) };
}

/** The values of the picture by their keys in the sheet, with a mark at `aim` beside those that are set. */
function inSheet(aim = null) {
  const set = aim ? { ...page.set, [aim.name]: { at: aim.at, by: "hand" } } : page.set, found = {};
  for (const [name, { at, by: how, raw }] of Object.entries(set)) {
    if (name in words.points) found[`marks.${name}`] = raw ?? { at, by: how };
  }
  for (const kind of Object.keys(ENDS)) {
    const line = lineOf(kind, set), was = page.still.written[kind];
    if (line) found[kind] = page.touched.has(kind) || !was ? line : was;
  }
  if (quantity("distance")) {
    const camera = { distance: quantity("distance"), ...(quantity("height") && { height: quantity("height") }) };
    found.camera = page.touched.has("camera") ? camera : page.still.written.camera ?? camera;
  }
  for (const part of ["fps", "swing"]) if (quantity(part)) found[part] = quantity(part);
  return found;
}

const keeping = openKeeping((what) => `${here(page.still.number)}/${what}${given.query}`, () => inSheet(), (state, says) => {
  by("saved").textContent = says ? `${words[state] ?? ""} ${says}`.trim() : words[state];
  by("meanwhile").hidden = state !== "meanwhile";
});

const ask = openMeasuring((what) => `${here(page.still.number)}/${what}`, (said, sent) => { if (sent.file === page.still.file) listValues(said); });

function measure() {
  if (given.blind) return;
  const now = { marks: {} };
  for (const [key, value] of Object.entries(inSheet(page.aim))) {
    if (key.startsWith("marks.")) now.marks[key.slice(6)] = value; else now[key] = value;
  }
  ask({ file: page.still.file, now, metrics: page.all ? [] : given.focus });
}

// A picture is opened ----------------------------------------------------------------------------------------------

async function open(number) {
  if (page.still && !await keeping.flush()) return;
  const answer = await fetch(`${here(number)}/still?${given.focus.map((metric) => `metric=${metric}`).join("&")}`);
  if (!answer.ok) { location.reload(); return; }
  const still = await answer.json(), { marks = {}, scale, stick, camera } = still.written;
  Object.assign(page, { still, set: {}, hollow: {}, held: null, cross: null, aim: null, looking: !given.blind, unseen: !given.blind, past: [], future: [], touched: new Set() });
  const numbers = (place) => place.map(Number);
  for (const [name, raw] of Object.entries(marks)) {
    page.set[name] = { at: numbers(Array.isArray(raw) ? raw : raw.at), by: raw.by, raw };
  }
  for (const [kind, line] of Object.entries({ scale, stick })) {
    for (const end of line ? ["from", "to"] : []) page.set[`${kind}-${end}`] = { at: numbers(line[end]) };
  }
  proposeGround(still.proposed);
  const ground = { ...still.lent, ...still.proposed };
  by("length").value = scale?.length ?? ground.scale?.length ?? "";
  by("is-stick").checked = (scale ?? ground.scale)?.is_stick === "true";
  by("distance").value = camera?.distance ?? "";
  by("height").value = camera?.height ?? "";
  for (const part of ["fps", "swing"]) by(part).value = still.written[part] ?? "";
  for (const part of SHOWS) by(part).value = still[part];
  offerCamera(camera ? null : still.proposed.camera);
  keeping.open(still.file, inSheet());
  by("saved").textContent = "";
  history.replaceState(null, "", here(number) + given.query);
  page.current = next(null);
  refresh("");
  measure();
  by("picture").focus();
  await propose(still);
  preload();
}

function offerCamera(camera) {
  by("camera-before").hidden = !camera;
  if (!camera) return;
  by("camera-before").textContent = says("camera_before", { camera: [camera.distance, camera.height].filter(Boolean).join(", ") });
  by("camera-before").onclick = () => {
    by("distance").value = camera.distance;
    by("height").value = camera.height ?? "";
    offerCamera(null);
    touched("camera");
  };
}

/** Says in the sheet what the picture shows; which points it is asked for follows from that. */
async function shows(part) {
  if (!await keeping.flush()) return;
  const { number, file } = page.still, change = [[part], page.still[part], by(part).value];
  const answer = await fetch(`${here(number)}/keep`, { method: "POST", body: JSON.stringify({ file, changes: [change] }) }).catch(() => null);
  if (!answer?.ok) by("saved").textContent = `${words.refused} ${(await answer?.json().catch(() => ({})))?.says ?? words.lost}`;
  open(number);
}

const beside = (step) => {
  const at = given.pictures.indexOf(page.still.number);
  return given.pictures[at + step];
};
function turn(step) {
  const number = beside(step);
  if (number === undefined) tell(words[step > 0 ? "last_picture" : "first_picture"]); else open(number);
}
function preload() {
  for (const number of [beside(1), beside(-1)]) if (number !== undefined) new Image().src = picturePath(number);
  if (beside(1) !== undefined) proposals(beside(1));
}
const picturePath = (number) => here(number).replace(/marks\/\d+$/, `pictures/${number}`);

// The list ---------------------------------------------------------------------------------------------------------

const shownMarks = () => page.still.shown;
const asked = () => page.still.asked[page.all ? "all" : "focus"];
function needed() {
  const lines = Object.keys(ENDS).filter((kind) => ENDS[kind].some((end) => page.set[end] || page.hollow[end]) || (kind === "scale" && !page.still.lent.scale));
  return [...lines.flatMap((kind) => ENDS[kind]), ...asked()];
}
const others = () => {
  const first = needed();
  return [...Object.values(ENDS).flat(), ...shownMarks()].filter((name) => !first.includes(name));
};
/** The mark to set after `from`: the next of the list that is not set, from the beginning again after the last. */
function next(from) {
  const names = needed(), at = names.indexOf(from);
  return [...names.slice(at + 1), ...names.slice(0, at + 1)].find((name) => !page.set[name]) ?? null;
}
/** Marks that the page shows: nothing hollow of what nobody asks for. */
const hollowShown = () => Object.fromEntries(Object.entries(page.hollow).filter(([name]) => needed().includes(name)));

// What happens to marks --------------------------------------------------------------------------------------------

const inside = ([x, y]) => [x, y].map((value, k) => Math.round(Math.min(Math.max(value, 0), page.still.size[k]) * 10) / 10);

function remember() {
  page.past.push([page.set, page.hollow]);
  page.future = [];
}
function put(name, place, how) {
  const { [name]: gone, ...hollow } = page.hollow, mark = { at: inside(place), by: page.set[name]?.by ?? how ?? (gone ? "confirmed" : "hand") };
  page.set = { ...page.set, [name]: mark };
  page.hollow = hollow;
  kindTouched(name);
}
function kindTouched(name) {
  const kind = name.split("-")[0];
  if (kind in ENDS) page.touched.add(kind);
}
function changed(what) {
  keeping.changed();
  refresh(what);
  measure();
}
function touched(kind) {
  page.touched.add(kind);
  changed("");
}
function setAt(name, place) {
  remember();
  put(name, place);
  page.held = name;
  page.cross = page.set[name].at;
  if (name === page.current || page.current === null) page.current = next(name);
  changed(says("is_at", { point: called(name), x: page.cross[0], y: page.cross[1] }));
  if (name === "scale-to" && !quantity("length")) by("length").focus();
}
function choose(name) {
  page.held = page.set[name] ? name : null;
  page.current = page.set[name] ? next(name) : name;
  page.cross = page.set[name]?.at ?? page.hollow[name]?.at ?? page.cross;
  if (page.cross) picture.follow(page.cross);
  refresh(page.held ? says("in_hand", { point: called(name) }) : "");
}
/** Lead and trail of a limb change places, set marks and hollow ones. */
function exchange() {
  const name = picture.under() ?? page.held ?? page.current;
  const limb = LIMBS.find((joints) => joints.some((joint) => name === `lead-${joint}` || name === `trail-${joint}`));
  if (!limb) { tell(words.no_limb); return; }
  remember();
  page.set = { ...page.set };
  page.hollow = { ...page.hollow };
  for (const joint of limb) {
    for (const marks of [page.set, page.hollow]) {
      const [lead, trail] = [marks[`lead-${joint}`], marks[`trail-${joint}`]];
      for (const [to, mark] of [[`lead-${joint}`, trail], [`trail-${joint}`, lead]]) if (mark) marks[to] = mark; else delete marks[to];
    }
  }
  if (page.held && !page.set[page.held]) page.held = null;
  if (!page.current || page.set[page.current]) page.current = next(page.held);
  changed(says("exchanged", { points: limb.map((joint) => called(`lead-${joint}`)).join(", ") }));
}
function back(from, to) {
  if (!from.length) return;
  to.push([page.set, page.hollow]);
  [page.set, page.hollow] = from.pop();
  Object.keys(ENDS).forEach((kind) => page.touched.add(kind));
  page.held = null;
  if (!page.current || page.set[page.current]) page.current = next(null);
  changed(words.undone);
}
const acts = {
  exchange,
  undo: () => back(page.past, page.future),
  redo: () => back(page.future, page.past),
  back: () => along(-1),
  skip: () => along(1),
  away() {
    const name = page.held;
    if (!name) return;
    remember();
    const { [name]: gone, ...rest } = page.set;
    page.set = rest;
    page.held = null;
    page.current = name;
    kindTouched(name);
    changed(says("taken_away", { point: called(name) }));
  },
  before() { page.before = !page.before; refresh(); },
  all() { page.all = !page.all; page.current = next(null); refresh(""); measure(); },
  next: () => turn(1),
  previous: () => turn(-1),
  larger: () => picture.larger(page.cross),
  smaller: () => picture.smaller(page.cross),
  whole: () => picture.whole(),
  enter,
};
function along(step) {
  const names = [...needed(), ...others()], at = names.indexOf(page.held ?? page.current);
  choose(names[(at + step + names.length) % names.length]);
}
/** Confirms what is in hand: a set mark is done, a hollow one is set as it is unless it must be moved, and beside both the
 * cross sets one. */
function enter() {
  const name = page.current;
  if (page.held) {
    page.held = null;
    page.cross = page.hollow[name]?.at ?? page.cross;
    refresh("");
  } else if (name && (page.hollow[name]?.start || (page.unseen && (page.hollow[name] || !page.cross)))) tell("");
  else if (name && page.hollow[name]) {
    remember();
    put(name, page.hollow[name].at, "confirmed");
    page.current = next(name);
    page.cross = page.hollow[page.current]?.at ?? page.cross;
    changed(says("confirmed", { point: called(name) }));
  } else if (name) setAt(name, page.cross ?? picture.middle());
  else turn(1);
}
function move(dx, dy, far) {
  const name = page.held ?? (page.hollow[page.current] ? page.current : null);
  if (name) {
    const [x, y] = (page.set[name] ?? page.hollow[name]).at, pixels = far ? 10 : 1;
    remember();
    put(name, [x + dx * pixels, y + dy * pixels]);
    page.held = name;
    page.cross = page.set[name].at;
    if (name === page.current) page.current = next(name);
    changed(says("is_at", { point: called(name), x: page.cross[0], y: page.cross[1] }));
  } else {
    const [x, y] = page.cross ?? picture.middle(), step = picture.step(far);
    page.cross = inside([x + dx * step, y + dy * step]);
    refresh();
  }
  picture.follow(page.cross);
}

const picture = openPicture(by("picture"), by("lens"), {
  aim(name, at) {
    page.keys = false;
    page.aim = { name: name ?? page.current ?? page.held, at: inside(at) };
    if (!page.aim.name) { page.aim = null; return; }
    showPicture();
    measure();
  },
  place(name, at) {
    page.aim = null;
    const which = name ?? page.current;
    if (which) setAt(which, at); else { refresh(words.all_set); measure(); }
  },
  tap(name, at) {
    page.keys = false;
    if (page.current) setAt(page.current, at); else choose(name);
  },
  cancel() { page.aim = null; showPicture(); measure(); },
});

// What is shown ----------------------------------------------------------------------------------------------------

function showPicture() {
  const at = (marks) => Object.fromEntries(Object.entries(marks).map(([name, mark]) => [name, mark.at]));
  const places = at(page.set), shown = hollowShown(), hollow = at(shown);
  const lent = Object.fromEntries(["scale", "stick"].flatMap((kind) => page.still.lent[kind] && !page.set[`${kind}-from`] ? ["from", "to"].map((end) => [`${kind}-${end}`, page.still.lent[kind][end]]) : []));
  if (page.aim) {
    if (!places[page.aim.name]) hollow[page.aim.name] = page.aim.at; else places[page.aim.name] = page.aim.at;
  }
  const cross = page.aim?.at ?? (page.keys && !page.held && page.current && !hollow[page.current] ? page.cross ?? picture.middle() : null);
  picture.show({ src: picturePath(page.still.number), size: page.still.size, set: places, hollow, lent, called,
    start: Object.keys(shown).filter((name) => shown[name].start),
    before: page.before && page.still.before ? page.still.before.marks : {}, held: page.aim ? null : page.held, current: page.aim ? null : page.current, cross });
}

function tell(what) {
  const hollow = page.hollow[page.current], about = hollow ? hollow.start ? "move_it" : "look_at" : page.looking ? "looking" : "next";
  const parts = [what, page.held ? words.nudge : page.current ? says(about, { point: called(page.current), where: where(page.current) }) : words.all_set];
  by("told").textContent = parts.filter(Boolean).map((part) => part[0].toUpperCase() + part.slice(1)).join(" ");
}
const where = (name) => words.where[name] ?? words.where[name.split("-").at(-1)] ?? "";

function refresh(what) {
  showPicture();
  by("where").textContent = page.still.where;
  const at = given.pictures.indexOf(page.still.number);
  by("which").textContent = says("which", { number: at + 1, count: given.pictures.length });
  list(by("points"), needed());
  const waiting = needed().filter((name) => page.hollow[name] && !page.set[name]);
  by("unconfirmed").textContent = waiting.length ? says("unconfirmed", { count: waiting.length }) : "";
  list(by("others"), others());
  by("act-all").setAttribute("aria-pressed", page.all);
  by("act-all").hidden = !given.focus.length;
  by("act-before").setAttribute("aria-pressed", page.before);
  by("act-before").hidden = !page.still.before;
  by("lent").textContent = page.still.lent.scale && !page.set["scale-from"] ? words.lent : "";
  document.title = `${page.still.where}, ${given.who}`;
  if (what !== undefined) tell(what);
}

function list(element, names) {
  const there = [...element.children].map((row) => row.dataset.name);
  if (there.join() !== names.join()) {
    element.replaceChildren(...names.map((name) => {
      const row = fresh('<li><button type="button"><span></span><span class="tick"><span aria-hidden="true"></span><span class="sr"></span></span></button></li>');
      row.dataset.name = name;
      row.querySelector("span").textContent = called(name);
      row.firstElementChild.addEventListener("click", () => { page.keys = true; choose(name); by("picture").focus(); });
      return row;
    }));
  }
  for (const row of element.children) {
    const { name } = row.dataset, button = row.firstElementChild, state = page.set[name] ? "set" : page.hollow[name]?.start ? "start" : page.hollow[name] ? "proposed" : "open";
    button.dataset.state = state;
    button.querySelector("[aria-hidden]").textContent = { set: "✓", proposed: "○", start: "◌", open: "" }[state];
    button.querySelector(".sr").textContent = words[state];
    if (name === (page.held ?? page.current)) button.setAttribute("aria-current", "step"); else button.removeAttribute("aria-current");
  }
}

function listValues({ values, wrong }) {
  by("wrong").replaceChildren(...wrong.map((line) => Object.assign(document.createElement("li"), { textContent: line })));
  by("values").replaceChildren(...values.map((one) => {
    const row = fresh('<li><p class="name"></p><p class="value"><strong></strong> <span class="u"></span></p><p class="mute"></p></li>');
    row.dataset.metric = one.metric;
    row.querySelector(".name").textContent = one.name;
    row.querySelector("strong").textContent = one.value ?? "–";
    row.querySelector(".u").textContent = one.u ? says("u", { u: one.u }) : "";
    const last = one.value && given.last[one.metric] ? says("last", { value: given.last[one.metric] }) : "";
    row.querySelector(".mute").textContent = [last, one.settles].filter(Boolean).join(" ");
    return row;
  }));
}

// Keys, buttons, fields --------------------------------------------------------------------------------------------

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const KEYS = { Enter: "enter", x: "exchange", n: "skip", b: "back", Delete: "away", Backspace: "away", l: "before", a: "all", PageDown: "next", PageUp: "previous", "+": "larger", "=": "larger", "-": "smaller", 0: "whole" };

by("picture").addEventListener("keydown", (event) => {
  if (!page.still) return;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const act = event.ctrlKey || event.metaKey ? { z: event.shiftKey ? "redo" : "undo", y: "redo" }[key] : event.altKey ? null : KEYS[key];
  const arrow = event.ctrlKey || event.metaKey || event.altKey ? null : ARROWS[event.key];
  if (!act && !arrow) return;
  event.preventDefault();
  if (act === "enter" && event.repeat) return;  // a key that is held down confirms one mark and no more
  page.keys = true;
  if (arrow) move(...arrow, event.shiftKey); else acts[act]();
});
for (const part of SHOWS) by(part).addEventListener("change", () => shows(part));
for (const button of document.querySelectorAll("[data-act]")) button.addEventListener("click", () => { if (page.still) acts[button.dataset.act](); });
for (const [kind, ids] of Object.entries({ scale: ["length", "is-stick"], camera: ["distance", "height"], fps: ["fps"], swing: ["swing"] })) {
  for (const id of ids) by(id).addEventListener("input", () => touched(kind));
}
by("theirs").addEventListener("click", () => { page.still = { ...page.still }; keeping.open(page.still.file, inSheet()); by("meanwhile").hidden = true; open(page.still.number); });
by("mine").addEventListener("click", async () => {
  const answer = await fetch(`${here(page.still.number)}/still`), { written: { marks = {}, ...rest } } = await answer.json();
  const parts = Object.fromEntries(["scale", "stick", "camera"].filter((part) => rest[part]).map((part) => [part, rest[part]]));
  keeping.open(page.still.file, { ...parts, ...Object.fromEntries(Object.entries(marks).map(([name, mark]) => [`marks.${name}`, mark])) });
  by("meanwhile").hidden = true;
  keeping.flush();
});
open(given.number);
