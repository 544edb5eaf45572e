"use strict";
// The formulas of the report, read from the same data, on the marks as they are set: values without their uncertainty.
// X points to the target, Y from the player to the ball, Z up, all in metres; a view that shows no X or Y leaves NaN.
// A still here is what stands in the sheet, and its size: {view, checkpoint, swing, size: [width, height],
// scale: {from, to, length: {value, unit}, is_stick}, stick: {from, to}, camera: {distance: {value, unit}}, marks: {"lead-hip": [x, y], ...}}.

const METRES = {mm: 0.001, cm: 0.01, m: 1, in: 0.0254, ft: 0.3048, yd: 0.9144};
const VIEWS = ["face-on", "down-the-line"];
const ANKLES = ["lead-ankle", "trail-ankle"];

const metres = ({value, unit}) => value * METRES[unit];
const degrees = (radians) => radians * 180 / Math.PI;
const minus = (a, b) => a.map((value, axis) => value - b[axis]);
const between = (a, b) => a.map((value, axis) => (value + b[axis]) / 2);
const AXES = {target: [0, 1], "trail-side": [0, -1], ball: [1, 1], heels: [1, -1], up: [2, 1], down: [2, -1]};

/** Stills that have marks and a scale, as plane coordinates in metres from the picture's centre. */
function planesOf(stills, plays) {
  const first = (view, what) => stills.find((still) => still.view === view && still[what])?.[what];
  const side = plays === "left" ? -1 : 1;
  const seen = {};
  const swings = stills.map(({view, checkpoint, swing, marks}) => {
    if (!Object.keys(marks).length) return 0;
    const key = `${view} ${checkpoint}`;
    seen[key] = (seen[key] ?? 0) + 1;
    return swing ?? seen[key];
  });
  const shifts = ballShifts(stills, swings);
  const shown = stills.flatMap((still, k) => {
    const scale = still.scale ?? first(still.view, "scale"), camera = still.camera ?? first(still.view, "camera");
    if (!scale) return [];
    const place = (pixel) => {
      const [x, y] = minus(pixel, shifts[k]);
      return [side * (x - still.size[0] / 2), still.size[1] / 2 - y];
    };
    const perMetre = Math.hypot(...minus(scale.to, scale.from)) / metres(scale.length);
    return [{still, swing: swings[k], scale, place, perMetre, distance: camera ? metres(camera.distance) : null}];
  });
  const stands = standsOf(shown);
  return shown.filter(({still}) => Object.keys(still.marks).length).map((one) => {
    const {still, swing, distance} = one, {yaw, nearer} = stands[still.view], perMetre = trueScale(one, nearer);
    const along = {}, up = {};
    for (const [name, pixel] of Object.entries(still.marks)) [along[name], up[name]] = one.place(pixel).map((value) => value / perMetre);
    return {view: still.view, checkpoint: still.checkpoint, swing, size: still.size,
      along, up, yaw, inverse: distance ? 1 / distance : 0};
  });
}

/** The body in the plane of one picture. */
function bodyFromOne(plane) {
  const faceOn = plane.view === "face-on";
  return Object.fromEntries(Object.keys(plane.along).map((name) =>
    [name, faceOn ? [plane.along[name], NaN, plane.up[name]] : [NaN, plane.along[name], plane.up[name]]]));
}

/** Where the planes of the two cameras cross, [X, Y]: the middle of the ankles; null where they are not marked. */
function middleOfFeet(faceOn, down) {
  if (![faceOn, down].every((plane) => ANKLES.every((name) => name in plane.along))) return null;
  const [leadX, trailX] = ANKLES.map((name) => faceOn.along[name]);
  const [leadY, trailY] = ANKLES.map((name) => down.along[name]);
  const halfFaceOn = (leadX + trailX) * faceOn.inverse / 2, halfDown = (leadY + trailY) * down.inverse / 2;
  const betweenX = ((leadX - trailX) - halfFaceOn * (leadY - trailY)) / (1 + halfFaceOn * halfDown);
  const betweenY = (leadY - trailY) + halfDown * betweenX;
  return [(leadX + trailX) / 2 - (leadX - trailX) * betweenY * faceOn.inverse / 4,
    (leadY + trailY) / 2 + (leadY - trailY) * betweenX * down.inverse / 4];
}

/** The body in space from two pictures: each one's depth is the other one's place, two linear equations. */
function bodyFromTwo(faceOn, down, [feetX, feetY]) {
  const body = {}, [cosF, sinF, cosD, sinD] = [faceOn, down].flatMap(({yaw}) => [Math.cos(yaw), Math.sin(yaw)]);
  for (const name of Object.keys(faceOn.along)) {
    if (!(name in down.along)) continue;
    const p = faceOn.along[name] * faceOn.inverse, q = down.along[name] * down.inverse;
    const a = cosF - p * sinF, b = sinF + p * cosF, c = -sinD - q * cosD, d = cosD - q * sinD, whole = a * d - b * c;
    const rightX = faceOn.along[name] - feetX, rightY = down.along[name] - feetY;
    const x = (d * rightX - b * rightY) / whole, y = (a * rightY - c * rightX) / whole;
    const z = [faceOn.up[name] * (1 - (y * cosF - x * sinF) * faceOn.inverse), down.up[name] * (1 + (x * cosD + y * sinD) * down.inverse)];
    body[name] = [x + feetX, y + feetY, (z[0] + z[1]) / 2];
  }
  if ("seat" in down.along && "lead-hip" in body && "trail-hip" in body) {
    const x = between(body["lead-hip"], body["trail-hip"])[0] - feetX, q = down.along.seat * down.inverse;
    body.seat = [NaN, feetY + (down.along.seat - feetY + x * (sinD + q * cosD)) / (cosD - q * sinD), NaN];
  }
  return body;
}

/** A mark of a body, or the middle between those of the lead and the trail side. */
const point = (body, name) => name.startsWith("mid-")
  ? between(body[name.replace("mid", "lead")], body[name.replace("mid", "trail")]) : body[name];
const vector = (body, from, to) => minus(point(body, to), point(body, from));
const component = (of, toward) => AXES[toward][1] * of[AXES[toward][0]];
const wrapped = (angle) => ((angle + 180) % 360 + 360) % 360 - 180;

/** Size of a line's turn from its width face-on; at setup it is taken as square. */
function foreshortenedTurn([width, , rise], [setupWidth, , setupRise]) {
  const square = Math.sqrt(Math.max(setupWidth ** 2 + setupRise ** 2 - rise ** 2, 0));
  const seen = Math.min(width, square);
  return degrees(Math.atan2(Math.sqrt(Math.max(square ** 2 - seen ** 2, 0)), Math.max(seen, -square)));
}

/** The angle between two directions: in space, or as the down-the-line picture shows it. */
function bend([a, b, c], [d, e, f], alone) {
  if (alone) return degrees(Math.atan2(e * c - f * b, e * b + f * c));
  return degrees(Math.atan2(Math.hypot(b * f - c * e, c * d - a * f, a * e - b * d), a * d + b * e + c * f));
}

/** What is told of one body: degrees, or centimetres. `alone` where one picture has to do; then `setup` is that body. */
const OF_A_BODY = {
  turn({of, toward}, body, alone, setup) {
    const joint = of.slice(0, -1), line = (one) => vector(one, `trail-${joint}`, `lead-${joint}`);
    if (alone) return foreshortenedTurn(line(body), line(setup));
    const [x, y] = line(body);
    return (toward === "closed" ? 1 : -1) * degrees(Math.atan2(y, x));
  },
  tilt({from, to, toward}, body) {
    const line = vector(body, from, to);
    return degrees(Math.atan2(component(line, toward), line[AXES[toward][0] === 2 ? 0 : 2]));
  },
  flexion({of}, body, alone) {
    const [side, joint] = of.split("-");
    const [above, at, below] = (joint === "knee" ? ["hip", "knee", "ankle"] : ["shoulder", "hip", "knee"]).map((name) => `${side}-${name}`);
    return (alone && joint === "hip" ? -1 : 1) * bend(vector(body, above, at), vector(body, at, below), alone);
  },
  distance({from, to, toward}, body) {
    const line = vector(body, from, to);
    return 100 * (toward ? component(line, toward) : Math.hypot(...line));
  },
};

function displacement({of, toward}, before, after) {
  const moved = minus(point(after, of), point(before, of));
  if (toward in AXES) return 100 * component(moved, toward);
  const [x, , z] = vector(before, of, toward);
  return 100 * (moved[0] * x + moved[2] * z) / Math.hypot(x, z);
}

/** The value of a formula, deg or cm, from the bodies by checkpoint; `alone` where one picture has to do. */
function valueOf({at, ...formula}, bodies, alone) {
  const [[kind, given]] = Object.entries(formula);
  if (kind === "difference") {
    const [of, less] = given.map((one) => valueOf(one, bodies, alone));
    return isAngle(formula) ? wrapped(of - less) : of - less;
  }
  if (kind === "displacement") return displacement(given, bodies[given.since], bodies[at]);
  const value = (moment) => OF_A_BODY[kind](given, bodies[moment], alone, bodies.setup);
  if (!given.since) return value(at);
  return isAngle(formula) ? wrapped(value(at) - value(given.since)) : value(at) - value(given.since);
}

const isAngle = (formula) => formula.difference ? isAngle(formula.difference[0]) : !(formula.distance ?? formula.displacement);

const shows = (plane, marks) => marks.every((mark) => mark in plane.along);

/** The planes by view, checkpoint and swing, and what a way of measuring takes from them. */
function shotsOf(planes) {
  const at = (view, checkpoint) => planes.filter((plane) => plane.view === view && plane.checkpoint === checkpoint);
  const swingsShowing = (checkpoint, seen) => {
    const each = Object.entries(seen).map(([view, marks]) =>
      new Set(at(view, checkpoint).filter((plane) => shows(plane, marks)).map((plane) => plane.swing)));
    return [...each[0]].filter((swing) => each.every((swings) => swings.has(swing))).sort((a, b) => a - b);
  };
  const pick = (checkpoint, seen, swing) => {
    const showing = swingsShowing(checkpoint, seen);
    const chosen = showing.includes(swing) ? swing : showing[0];
    return VIEWS.filter((view) => view in seen).map((view) => at(view, checkpoint).findLast((plane) => plane.swing === chosen));
  };
  const feet = (picked) => {
    const both = {"face-on": ANKLES, "down-the-line": ANKLES};
    const standing = swingsShowing("setup", both).length ? pick("setup", both, picked[0].swing) : picked;
    return middleOfFeet(...standing) ?? [0, 0];
  };
  const body = (checkpoint, seen, swing) => {
    const picked = pick(checkpoint, seen, swing);
    return picked.length === 1 ? bodyFromOne(picked[0]) : bodyFromTwo(...picked, feet(picked));
  };
  const comparable = (way, swing) => !way.compares_places || pick(way.checkpoints[0], way.seen, swing).every(
    (plane, k) => String(plane.size) === String(pick(way.checkpoints.at(-1), way.seen, swing)[k].size));
  const swingsOf = (way) => way.checkpoints.every((checkpoint) => swingsShowing(checkpoint, way.seen).length)
    ? swingsShowing(way.checkpoints.at(-1), way.seen).filter((swing) => comparable(way, swing)) : [];
  const lacks = (way) => way.checkpoints.flatMap((checkpoint) => Object.entries(way.seen).flatMap(([view, marks]) => {
    const there = at(view, checkpoint).map((plane) => marks.filter((mark) => !(mark in plane.along)));
    const fewest = there.sort((a, b) => a.length - b.length)[0] ?? marks;
    return fewest.length ? [{view, checkpoint, marks: fewest}] : [];
  }));
  return {body, swingsOf, lacks};
}

/** What the marks give, in the metric's unit: for each of `measures` {metric, value, views, swings}, or {metric, lacks} of its nearest way. */
function measured(stills, plays, measures) {
  const shots = shotsOf(planesOf(stills, plays));
  return measures.map(({metric, formula, factor, ways}) => {
    const way = ways.find((one) => shots.swingsOf(one).length);
    if (!way) {
      const lacking = ways.map(shots.lacks);
      const weight = (lack) => lack.reduce((sum, {marks}) => sum + marks.length, 0);
      return {metric, lacks: lacking.reduce((a, b) => (weight(b) < weight(a) ? b : a))};
    }
    const views = Object.keys(way.seen).length;
    const swings = shots.swingsOf(way).map((swing) => factor * valueOf(formula, Object.fromEntries(
      way.checkpoints.map((checkpoint) => [checkpoint, shots.body(checkpoint, way.seen, swing)])), views === 1));
    return {metric, value: swings.reduce((a, b) => a + b) / swings.length, views, swings};
  });
}
