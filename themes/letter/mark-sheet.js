"use strict";
// What goes into the lesson sheet, as text.

/** A text as YAML takes it: plain where that is safe, else in double quotes. */
const written = (text) => /^[A-Za-z.\/][A-Za-z0-9._\/-]*$/.test(text) ? text : JSON.stringify(text);
const pair = ([x, y]) => `[${x}, ${y}]`;

/** The lines of one still below `stills:`; pictures lie in the student's folder of stills. */
function stillLines(sheet) {
  const lines = [`  - file: ${written(`../stills/${sheet.file}`)}`, `    view: ${sheet.view}`, `    checkpoint: ${sheet.checkpoint}`];
  if (sheet.swing) lines.push(`    swing: ${sheet.swing}`);
  if (sheet.fps) lines.push(`    fps: ${sheet.fps}`);
  if (sheet.scale) {
    const {from, to, length, is_stick: stick} = sheet.scale;
    lines.push(`    scale: {from: ${pair(from)}, to: ${pair(to)}, length: ${length.text}${stick ? ", is_stick: true" : ""}}`);
  }
  if (sheet.stick) lines.push(`    stick: {from: ${pair(sheet.stick.from)}, to: ${pair(sheet.stick.to)}}`);
  if (sheet.camera) {
    const {distance, height} = sheet.camera;
    lines.push(`    camera: {distance: ${distance.text}${height ? `, height: ${height.text}` : ""}}`);
  }
  const marks = Object.entries(sheet.marks);
  if (marks.length) lines.push("    marks:", ...marks.map(([name, place]) => `      ${name}: ${pair(place)}`));
  return lines;
}

/** The tempo as it stands in a sheet; null unless start, top and impact follow each other and the rate is known. */
function tempoOf({start, top: turning, impact}, rate) {
  const fps = Number(typedNumber(rate));
  return start !== null && turning !== null && impact !== null && start < turning && turning < impact && fps >= 10 && fps <= 2000
    ? {start, top: turning, impact, fps} : null;
}

/** The blocks `stills:` and `tempo:`; empty where there is neither. */
function sheetText(sheets, tempo) {
  const lines = sheets.length ? ["stills:", ...sheets.flatMap(stillLines)] : [];
  if (tempo) lines.push(`tempo: {start: ${tempo.start}, top: ${tempo.top}, impact: ${tempo.impact}, fps: ${tempo.fps}}`);
  return lines.length ? `${lines.join("\n")}\n` : "";
}

/** The marks of a second look, each picture by its digest; empty where no point is set. */
function secondLook(stills, {marked_by: who}, date) {
  const marked = stills.filter((one) => one.picture && Object.keys(one.points).length);
  const lines = marked.flatMap(({picture, asked, points}) => [`  - picture: ${picture}`, "    marks:",
    ...asked.filter((name) => points[name]).map((name) => `      ${name}: ${pair(points[name])}`)]);
  return lines.length ? `${[`date: ${date}`, ...(who ? [`marked_by: ${JSON.stringify(who)}`] : []), "stills:", ...lines].join("\n")}\n` : "";
}

/** A value as the report says it: `62° open`, `2.1 cm`, `−0.4 cm`. */
function amount(value, {mark, decimals, plus, minus: below}) {
  const fixed = value.toFixed(decimals), zero = Number(fixed) === 0, shown = figure(fixed);
  if (!plus) return (zero ? shown.replace("-", "") : shown.replace("-", "−")) + mark;
  return shown.replace("-", "") + mark + (zero ? "" : ` ${value < 0 ? below : plus}`);
}
