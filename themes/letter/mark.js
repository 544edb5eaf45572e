"use strict";
// The page itself: what is open, what is in hand, and what each key, button and field does.

const words = Object.fromEntries(given.measures.map((measure) => [measure.metric, measure]));
const measures = given.measures.filter(({formula}) => formula);
const followed = measures.filter(({metric}) => given.followed.includes(metric));
const FIELDS = ["view", "checkpoint", "swing", "length", "unit", "scaleIs", "distance", "distanceUnit", "height", "heightUnit", "fps", "file"];
const KEPT = ["unit", "distanceUnit", "heightUnit"];

// `current` is the point to place next, `held` the set point that the arrows nudge, `cross` where the keys are.
const page = {stills: [], chosen: null, current: null, held: null, cross: null, keys: false, plays: "right", frame: 0,
  tempo: {start: null, top: null, impact: null}, all: !followed.length, unsaved: false, opened: 0};

const still = () => page.stills.find(({id}) => id === page.chosen) ?? null;
const sheets = () => page.stills.map(onSheet).filter(Boolean);
const lender = (one, what) => page.stills.find((other) => other.id !== one.id && other.view === one.view && onSheet(other)?.[what]) ?? null;
const lentTo = (one) => Object.fromEntries(["stick", "scale", "camera"].map((what) => [what, Boolean(lender(one, what))]));
const asked = () => page.all ? measures : followed;
const pointsOf = (one) => pointsFor(one, asked(), lentTo(one));
const allPoints = () => { const {needed, others} = pointsOf(still()); return [...needed, ...others]; };

const picture = openPicture(by("picture"), by("lens"), {
  tap: (place) => setPoint(place),
  drag(name, place, begins) {
    page.held = name;
    put((begins ? withPoint : withPointMoved)(still(), name, place), says("moved", {point: spoken(name)}));
  },
  pointed() { page.keys = false; },
});

/** Puts another state of the chosen still in the place of the one before, and says what happened. */
function put(next, what) {
  if (next.points !== still().points) page.unsaved = true;
  page.stills = page.stills.map((one) => one.id === next.id ? next : one);
  refresh(what);
}

/** Places the current point, or the held one again where all are set. */
function setPoint(place) {
  const name = page.current ?? page.held;
  if (!still().view || !still().checkpoint) return tell(says("choose_first"));
  if (!name) return tell(says("all_set"));
  const next = withPoint(still(), name, place);
  page.held = name;
  page.cross = next.points[name];
  page.current = nextPoint(next, pointsOf(next).needed, name);
  return put(next, says("is_at", {point: spoken(name), ...coordinates(page.cross)}));
}

function choose(id) {
  page.chosen = id;
  page.held = page.cross = null;
  page.current = still()?.view && still()?.checkpoint ? nextPoint(still(), pointsOf(still()).needed, null) : null;
  refresh("");
}

function choosePoint(name, byKeys) {
  page.current = name;
  page.held = still().points[name] ? name : null;
  page.keys = byKeys;
  if (page.held) {
    page.cross = still().points[name];
    picture.follow(page.cross);
  }
  if (byKeys) by("picture").focus();
  refresh(page.held ? says("in_hand", {point: spoken(name)}) : "");
}

function tell(what) {
  const next = page.current && (!still().points[page.current] || page.current !== page.held) ? page.current : null;
  const parts = what ? [`${what[0].toUpperCase()}${what.slice(1)} `] : [];
  if (page.held) parts.push(`${says("nudge")} `);
  if (next) parts.push(...nextIs(next));
  else if (!still().view || !still().checkpoint) parts.push(what ? "" : says("choose"));
  else if (!page.held) parts.push(says("needed_set"));
  by("told").replaceChildren(...parts);
}

/** Draws the picture alone: lists that change while the pointer is down on them would lose its click. */
function showPicture() {
  if (!still()) return;
  if (page.keys && !page.held) page.cross ??= picture.middle();
  picture.show(still(), {held: page.held, cross: page.keys && !page.held ? page.cross : null});
}

function refresh(what) {
  const one = still();
  for (const id of ["placing", "sheet-section"]) by(id).hidden = !one;
  listStills(page.stills, page.chosen, pointsOf, choose);
  if (!one) return listSheet();
  showPicture();
  for (const field of FIELDS) if (by(field) !== document.activeElement) by(field).value = one[field];
  const ready = one.view && one.checkpoint, {needed, others} = pointsOf(one);
  listPoints(by("points"), ready ? needed : [], one, page, choosePoint);
  listPoints(by("others"), ready ? others : [], one, page, choosePoint);
  by("sheet").classList.toggle("tall", one.size[1] > one.size[0]);
  by("more").hidden = !ready || !others.length;
  by("picture-name").textContent = says("picture", {file: one.file, count: Object.keys(one.points).length});
  by("remarks").replaceChildren(...remarks(one, one.plays ?? page.plays, lentTo(one)).map((remark) => made("li", {}, remark)));
  by("borrowed").textContent = !onSheet(one)?.scale && lender(one, "scale") ? says("borrowed", {file: lender(one, "scale").file}) : "";
  const [undo, redo, away] = ["undo", "redo", "away"].map((act) => document.querySelector(`[data-act=${act}]`));
  undo.disabled = !one.past.length;
  redo.disabled = !one.future.length;
  away.disabled = !inHand();
  if (what !== undefined) tell(what);
  return listSheet();
}

function listSheet() {
  const rate = by("camera-rate").value || by("rate").value, tempo = tempoOf(page.tempo, rate);
  const found = measured(sheets(), page.plays, measures);
  listValues(found, tempo && (tempo.top - tempo.start) / (tempo.impact - tempo.top), words);
  listMissing(found.filter(({metric}) => asked().some((measure) => measure.metric === metric)), words);
  const text = given.again ? secondLook(page.stills, given.again, today()) : sheetText(sheets(), tempo);
  by("yaml").value = text;
  by("yaml").rows = Math.min(28, text.split("\n").length + 1);
  by("sheet-section").hidden = !text;
  by("save-stills").hidden = !page.stills.some(({taken}) => taken);
}

/** The set point that Delete would take away. */
const inHand = () => page.held ?? (page.current && still().points[page.current] ? page.current : null);

const acts = {
  back() {
    const names = allPoints(), at = names.indexOf(page.held ?? page.current);
    choosePoint(names[Math.max(0, at < 0 ? names.length - 1 : at - 1)], page.keys);
  },
  skip() {
    const names = allPoints(), at = names.indexOf(page.current ?? page.held);
    choosePoint(names[(at + 1) % names.length], page.keys);
  },
  undo() { page.held = null; put(undone(still()), says("undone")); },
  redo() { page.held = null; put(redone(still()), says("redone")); },
  away() {
    const name = inHand();
    if (!name) return;
    page.held = null;
    page.current = name;
    put(withoutPoint(still(), name), says("taken_away", {point: spoken(name)}));
  },
  larger: () => picture.larger(page.held ? still().points[page.held] : page.keys ? page.cross : null),
  smaller: () => picture.smaller(page.held ? still().points[page.held] : page.keys ? page.cross : null),
  whole: () => picture.whole(),
};

function move(dx, dy, far) {
  page.keys = true;
  if (page.held) {
    const [x, y] = still().points[page.held], pixels = far ? 10 : 1;
    const next = withPoint(still(), page.held, [x + dx * pixels, y + dy * pixels]);
    page.cross = next.points[page.held];
    put(next, says("is_at", {point: spoken(page.held), ...coordinates(page.cross)}));
  } else {
    const [x, y] = page.cross ?? picture.middle(), step = picture.step(far);
    page.cross = inside([x + dx * step, y + dy * step], still().size);
    refresh();
  }
  picture.follow(page.cross);
}

function enter() {
  page.keys = true;
  if (!page.held) return setPoint(page.cross ?? picture.middle());
  page.held = null;
  if (page.current && still().points[page.current]) page.current = nextPoint(still(), pointsOf(still()).needed, page.current);
  return refresh("");
}

const ARROWS = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]};
const KEYS = {Enter: enter, " ": enter, PageUp: acts.back, Backspace: acts.back, PageDown: acts.skip, Delete: acts.away,
  "+": acts.larger, "=": acts.larger, "-": acts.smaller, "−": acts.smaller, 0: acts.whole};

by("picture").addEventListener("keydown", (event) => {
  const arrow = ARROWS[event.key], act = KEYS[event.key];
  if (!still() || event.ctrlKey || event.metaKey || event.altKey || !(arrow || act)) return;
  event.preventDefault();
  page.keys = true;
  if (arrow) move(...arrow, event.shiftKey); else act();
});
by("picture").addEventListener("focus", () => { page.keys = by("picture").matches(":focus-visible"); showPicture(); });
by("picture").addEventListener("blur", () => { page.keys = false; showPicture(); });

document.addEventListener("keydown", (event) => {
  if (!still() || !(event.ctrlKey || event.metaKey) || event.target.matches("input, textarea, select")) return;
  const key = event.key.toLowerCase(), act = key === "y" || (key === "z" && event.shiftKey) ? acts.redo : key === "z" ? acts.undo : null;
  if (!act) return;
  event.preventDefault();
  act();
});

by("acts").addEventListener("click", (event) => acts[event.target.dataset.act]?.());
for (const field of FIELDS) {
  by(field).addEventListener(by(field).matches("select") ? "change" : "input", () => {
    const next = {...still(), [field]: by(field).value};
    const renamed = field === "file" ? {...next, named: true} : next;
    page.stills = inSwingOrder(page.stills.map((one) => one.id === next.id ? nameAgain(renamed) : one));
    if (field === "view" || field === "checkpoint") choose(next.id); else refresh();
  });
}
for (const radio of document.querySelectorAll("[name=plays]")) {
  radio.addEventListener("change", () => { page.plays = radio.value; refresh(); });
}

by("all-metrics")?.addEventListener("change", () => {
  page.all = by("all-metrics").checked;
  choose(page.chosen);
});

/** A still that was taken from a video is named by what it shows, until it was given a name by hand. */
function nameAgain(one) {
  if (!one.taken || one.named || !one.view || !one.checkpoint) return one;
  const others = page.stills.filter(({id}) => id !== one.id).map(({file}) => file);
  return {...one, file: fileName(by("date").value || today(), one.checkpoint, one.view, others)};
}

const today = () => new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 10);
