"use strict";
// A still and its points as plain values: nothing here changes one, each function gives another.
// Beside the marks of the sheet, the two ends of the stick and of the scale are points as well.

const CHECKPOINTS = ["setup", "takeaway", "top", "transition", "delivery", "impact", "finish"];
const STICK_ENDS = ["stick-near", "stick-far"];
const SCALE_ENDS = ["scale-from", "scale-to"];
const MARKS = [
  "lead-toe", "trail-toe", "lead-heel", "trail-heel", "lead-ankle", "trail-ankle", "lead-knee", "trail-knee",
  "lead-hip", "trail-hip", "seat", "lead-shoulder", "trail-shoulder", "neck", "head", "lead-wrist", "trail-wrist", "ball",
];

const SAME_PLACE_PX = 1;
const STICK_PX = 20, STICK_SLOPE = 0.25;

const allowed = (name, view) => view !== "face-on" || name !== "seat";

function newStill(id, file, url, size, given = {}) {
  const [view, checkpoint] = guessed(file);
  return {id, file, url, size, view, checkpoint, swing: "", length: "", unit: "m", scaleIs: "", distance: "", distanceUnit: "m",
    height: "", heightUnit: "m", fps: "", frame: null, points: {}, past: [], future: [], saved: true, ...given};
}

/** View and checkpoint from a file's name, as in 2026-03-05-impact-fo.png; empty where it does not say. */
function guessed(file) {
  const words = file.toLowerCase().split(/[^a-z]+/);
  const view = words.includes("fo") ? "face-on" : words.includes("dtl") ? "down-the-line" : "";
  return [view, CHECKPOINTS.find((checkpoint) => words.includes(checkpoint)) ?? ""];
}

/** Stills in the order of the swing, each moment face-on first; what has no view or checkpoint yet comes last. */
function inSwingOrder(stills) {
  const rank = (still) => CHECKPOINTS.includes(still.checkpoint) && still.view
    ? 2 * CHECKPOINTS.indexOf(still.checkpoint) + VIEWS.indexOf(still.view) : Infinity;
  return [...stills].sort((a, b) => (rank(a) === rank(b) ? 0 : rank(a) - rank(b)));
}

/** The name of a still that is taken from a video; a further one of that moment gets -2, -3, ... */
function fileName(date, checkpoint, view, taken) {
  const stem = `${date}-${checkpoint}-${view === "face-on" ? "fo" : "dtl"}`;
  let name = `${stem}.png`;
  for (let n = 2; taken.includes(name); n += 1) name = `${stem}-${n}.png`;
  return name;
}

/** The points to place, in order: the ends of the stick and of the scale, what a measure needs at this view and checkpoint, and the others. A stick or scale
 * that another picture of this view lends ({stick, scale}) is not needed. Ankles and ball serve every measure: they tell where the player stands and whether the camera moved. */
function pointsFor(still, measures, lent) {
  if (still.asked) return {needed: still.asked, others: []};
  const wanted = new Set(ANKLES.concat("ball"));
  for (const {ways} of measures) {
    for (const way of ways) {
      if (way.checkpoints.includes(still.checkpoint)) (way.seen[still.view] ?? []).forEach((mark) => wanted.add(mark));
    }
  }
  const here = MARKS.filter((mark) => allowed(mark, still.view));
  const ground = [[STICK_ENDS, lent.stick], [SCALE_ENDS, lent.scale]];
  const own = ground.filter(([ends, other]) => !other || ends.some((end) => still.points[end])).map(([ends]) => ends);
  return {
    needed: [...own.flat(), ...here.filter((mark) => wanted.has(mark))],
    others: [...ground.map(([ends]) => ends).filter((ends) => !own.includes(ends)).flat(), ...here.filter((mark) => !wanted.has(mark))],
  };
}

/** The point to place after `from`: the next of `names` that is not set, from the beginning again after the last. */
function nextPoint(still, names, from) {
  const at = names.indexOf(from);
  return [...names.slice(at + 1), ...names.slice(0, at + 1)].find((name) => !still.points[name]) ?? null;
}

const tenth = (value) => Math.round(value * 10) / 10;

/** A place inside the picture, to a tenth of a pixel: as it is written on the sheet. */
const inside = ([x, y], [width, height]) => [tenth(Math.min(Math.max(x, 0), width)), tenth(Math.min(Math.max(y, 0), height))];

const changed = (still, points) => ({...still, points, past: [...still.past, still.points], future: []});
const withPoint = (still, name, place) => changed(still, {...still.points, [name]: inside(place, still.size)});

/** The same, as one step with the change before it, while a point is dragged. */
const withPointMoved = (still, name, place) => ({...still, points: {...still.points, [name]: inside(place, still.size)}});

function withoutPoint(still, name) {
  const {[name]: gone, ...rest} = still.points;
  return gone ? changed(still, rest) : still;
}

function undone(still) {
  if (!still.past.length) return still;
  return {...still, points: still.past.at(-1), past: still.past.slice(0, -1), future: [still.points, ...still.future]};
}

function redone(still) {
  if (!still.future.length) return still;
  return {...still, points: still.future[0], past: [...still.past, still.points], future: still.future.slice(1)};
}

/** A number above 0 as a person types it, with point or comma: its text, or null. */
function typedNumber(text) {
  const clean = String(text).trim().replace(",", ".");
  return /^\d{1,6}(\.\d{1,6})?$/.test(clean) && Number(clean) > 0 ? clean : null;
}

const quantity = (text, unit) => typedNumber(text) && {value: Number(typedNumber(text)), unit, text: `${typedNumber(text)} ${unit}`};

/** The still as it stands in a sheet, with its size; null while its view or checkpoint is open. */
function onSheet(still) {
  if (!still.view || !still.checkpoint) return null;
  const length = quantity(still.length, still.unit), fps = typedNumber(still.fps), swing = typedNumber(still.swing);
  const distance = quantity(still.distance, still.distanceUnit), height = quantity(still.height, still.heightUnit);
  const [from, to] = SCALE_ENDS.map((end) => still.points[end]);
  const sheet = {file: still.file, view: still.view, checkpoint: still.checkpoint, size: still.size,
    marks: Object.fromEntries(MARKS.filter((mark) => still.points[mark] && allowed(mark, still.view)).map((mark) => [mark, still.points[mark]]))};
  const [near, far] = STICK_ENDS.map((end) => still.points[end]);
  if (from && to && length && Math.hypot(...minus(to, from)) >= SAME_PLACE_PX) sheet.scale = {from, to, length, ...(still.scaleIs && {is_stick: true})};
  if (near && far && runsAway(near, far)) sheet.stick = {from: near, to: far};
  if (distance) sheet.camera = height ? {distance, height} : {distance};
  if (fps && fps >= 10 && fps <= 2000) sheet.fps = Number(fps);
  if (sheet.fps && still.frame !== null) sheet.frame = still.frame;
  if (swing && Number.isInteger(Number(swing)) && swing <= 50) sheet.swing = Number(swing);
  return sheet;
}

const runsAway = (near, far) => {
  const [across, down] = minus(far, near).map(Math.abs);
  return down >= STICK_PX && down >= STICK_SLOPE * across;
};

/** What a point belongs to: the stick, the scale or the body. Those of one can lie on those of another. */
const kindOf = (name) => ["stick", "scale"].find((kind) => name.startsWith(kind)) ?? "mark";

/** What cannot be right about a still, each as a sentence. */
function remarks(still, plays, lent) {
  const said = [], names = Object.keys(still.points);
  names.forEach((one, k) => names.slice(k + 1).forEach((other) => {
    const joint = still.view === "down-the-line" && one.split("-").at(-1) === other.split("-").at(-1);
    if (!joint && Math.hypot(...minus(still.points[one], still.points[other])) < SAME_PLACE_PX && kindOf(one) === kindOf(other)) {
      said.push(says("same_place", {point: spoken(other), other: spoken(one)}));
    }
  }));
  if (still.view === "face-on" && still.checkpoint === "setup") {
    for (const joint of ["hip", "shoulder", "knee", "ankle"]) {
      const [lead, trail] = [still.points[`lead-${joint}`], still.points[`trail-${joint}`]];
      if (lead && trail && (plays === "left" ? trail[0] - lead[0] : lead[0] - trail[0]) < -SAME_PLACE_PX) {
        said.push(says(plays === "left" ? "swapped_or_right" : "swapped_or_left", {lead: spoken(`lead-${joint}`), trail: spoken(`trail-${joint}`)}));
      }
    }
  }
  if (SCALE_ENDS.every((end) => still.points[end]) && !typedNumber(still.length)) said.push(says("no_length"));
  const [near, far] = STICK_ENDS.map((end) => still.points[end]);
  if (near && far && !runsAway(near, far)) said.push(says(still.view === "face-on" ? "stick_square" : "stick_along"));
  if (near && far && !lent.camera && !typedNumber(still.distance)) said.push(says("stick_distance"));
  if (typedNumber(still.height) && !typedNumber(still.distance)) said.push(says("no_distance"));
  return said;
}
