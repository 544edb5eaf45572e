"use strict";
// How the cameras stand, by sticks on the ground and by the ball: what the report makes of the marks as they are set.
// A still `shown` has {still, place, perMetre, distance}: `place` gives pixels from the centre, to target or ball and up.

const USUAL_DISTANCE = 4;
const ANKLE_HEIGHT = 0.08;

const mean = (values) => values.reduce((a, b) => a + b) / values.length;

/** How far each still's whole picture lies from the first of its view and swing, by the ball: [right, down] in pixels. */
function ballShifts(stills, swings) {
  const firsts = {};
  return stills.map(({view, marks: {ball}}, k) => {
    if (!ball) return [0, 0];
    const moved = minus(ball, firsts[`${view} ${swings[k]}`] ??= ball);
    return Math.hypot(...moved) > given.moved_px ? moved : [0, 0];
  });
}

/** How the camera of each view is turned, in radians, + counter-clockwise seen from above, and how far nearer to it than the ankles its scale lies where that is a stick (metres, or null). */
function standsOf(shown) {
  const telling = (view) => shown.filter(({still, distance}) => still.view === view && still.stick && distance);
  const nearer = Object.fromEntries(VIEWS.map((view, k) => {
    const off = telling(VIEWS[1 - k]).filter(({still}) => ANKLES.every((name) => name in still.marks)).map(offTheAnkles);
    return [view, off.length ? mean(off) : null];
  }));
  return Object.fromEntries(VIEWS.map((view) => {
    const turned = telling(view).map((one) => yawByStick(one, one.distance * trueScale(one, nearer[view])));
    return [view, {yaw: turned.length ? mean(turned) : 0, nearer: nearer[view]}];
  }));
}

const ends = ({still: {stick}, place}) => [place(stick.from), place(stick.to)];

/** Pixels a metre in the player's plane: a stick that lies nearer to the camera shows larger. */
function trueScale({scale, perMetre, distance}, nearer) {
  const far = distance ?? USUAL_DISTANCE;
  return scale.is_stick && nearer !== null ? perMetre * (far - nearer) / far : perMetre;
}

function yawByStick(one, focal) {
  const [[u1, v1], [u2, v2]] = ends(one).map(([x, y]) => [x, -y]);
  return Math.atan((u1 / v1 - u2 / v2) / (focal * (1 / v2 - 1 / v1)));
}

function offTheAnkles(one) {
  const [[x1, y1], [x2, y2]] = ends(one), [x, y] = between(...ANKLES.map((name) => one.place(one.still.marks[name])));
  const along = x1 + (x2 - x1) * (y - ANKLE_HEIGHT * one.perMetre - y1) / (y2 - y1);
  return (one.still.view === "down-the-line" ? 1 : -1) * (along - x) / one.perMetre;
}
