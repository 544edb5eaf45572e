"use strict";
// Pictures and videos from disk, the video's frames as stills, and everything that is saved or copied.

const RATE = {least: 1, most: 2000};

function ask(what) {
  by("asked").textContent = what;
  by("asked").hidden = !what;
}

/** Opens files one after another: pictures join the list, a video takes the place of the one before. */
async function openFiles(files) {
  ask("");
  for (const file of files) {
    if (file.type.startsWith("video/") || /\.(mp4|m4v|mov|webm|mkv|avi)$/i.test(file.name)) openFilm(file);
    else await openPictureFile(file);
  }
}

async function openPictureFile(file) {
  const url = URL.createObjectURL(file), image = new Image();
  image.src = url;
  try {
    if (!/^image\/(png|jpeg)$/.test(file.type)) throw new Error("neither");
    await image.decode();
  } catch {
    URL.revokeObjectURL(url);
    return ask(says("unreadable", {file: file.name}));
  }
  return add(newStill(newId(), file.name, url, [image.naturalWidth, image.naturalHeight], {blob: file, ...ASKED.get(file.name)}));
}

/** What a second look asks of the pictures inside the page, by their names. */
const ASKED = new Map(given.files.filter(({again}) => again).map(({name, again}) => [name, again]));

const newId = () => { page.opened += 1; return `still-${page.opened}`; };

function add(one) {
  const before = page.stills[0], kept = before ? Object.fromEntries(KEPT.map((field) => [field, before[field]])) : {};
  const first = page.stills.length === 0;
  page.stills = inSwingOrder([...page.stills, nameAgain({...one, ...kept})]);
  if (first || one.taken) choose(one.id); else refresh();
}

function openFilm(file) {
  by("film").hidden = false;
  film.load(URL.createObjectURL(file));
}

const film = openVideo(by("video"), {
  frame(number, last) {
    page.frame = number;
    by("frame").textContent = number;
    by("frames").textContent = last;
    by("along").max = last;
    by("along").value = number;
    by("along").setAttribute("aria-valuetext", says("frame_of", {frame: number, frames: last}));
  },
  failed() { by("film").hidden = true; ask(says("unplayable")); },
});

by("along").addEventListener("input", () => film.goTo(Number(by("along").value)));
by("film").addEventListener("click", (event) => {
  const {step, moment} = event.target.dataset;
  if (step) film.step(Number(step));
  if (moment) { page.tempo = {...page.tempo, [moment]: page.frame}; showTempo(); }
});
by("film").addEventListener("keydown", (event) => {
  if (event.target.matches("input[type=text], select") || event.ctrlKey || event.metaKey || event.altKey) return;
  const back = event.key === "," || event.key === "<" || (event.key === "ArrowLeft" && event.target === by("video"));
  const on = event.key === "." || event.key === ">" || (event.key === "ArrowRight" && event.target === by("video"));
  if (!back && !on) return;
  event.preventDefault();
  film.step((on ? 1 : -1) * (event.shiftKey ? 10 : 1));
});
by("rate").addEventListener("input", () => {
  const rate = Number(typedNumber(by("rate").value));
  if (rate >= RATE.least && rate <= RATE.most) film.setRate(rate);
  showTempo();
});
by("camera-rate").addEventListener("input", () => showTempo());

function showTempo() {
  for (const [moment, frame] of Object.entries(page.tempo)) by(`tempo-${moment}`).textContent = frame === null ? says("open") : says("frame", {frame});
  const {start, top: turning, impact} = page.tempo, tempo = tempoOf(page.tempo, by("camera-rate").value || by("rate").value);
  const all = start !== null && turning !== null && impact !== null;
  by("tempo-says").textContent = tempo
    ? says("tempo", {backswing: figure(((turning - start) / tempo.fps).toFixed(2)), downswing: figure(((impact - turning) / tempo.fps).toFixed(2))})
    : all ? says("no_tempo") : "";
  listSheet();
}

by("take").addEventListener("click", async () => {
  const {blob, size} = await film.still(), fps = typedNumber(by("camera-rate").value || by("rate").value) ?? "";
  add(newStill(newId(), "still.png", URL.createObjectURL(blob), size,
    {blob, taken: true, view: by("take-view").value, checkpoint: by("take-checkpoint").value, fps}));
  tell(says("taken", {file: still().file}));
});

function save(blob, name) {
  const url = URL.createObjectURL(blob), link = made("a", {href: url, download: name});
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

by("save-still").addEventListener("click", () => save(still().blob, still().file));
by("save-stills").addEventListener("click", () => page.stills.filter(({taken}) => taken).forEach(({blob, file}) => save(blob, file)));
by("save").addEventListener("click", () => {
  save(new Blob([by("yaml").value], {type: "text/yaml"}), given.again ? `${today()}-second-look.yaml` : `${by("date").value || today()}-stills.yaml`);
  copied(says("saved"));
});
by("copy").addEventListener("click", async () => {
  try {
    await navigator.clipboard.writeText(by("yaml").value);
  } catch {
    by("yaml").select();
    document.execCommand("copy");
  }
  copied(says("copied"));
});

function copied(what) {
  page.unsaved = false;
  by("sheet-told").textContent = what;
}

by("take-out").addEventListener("click", () => {
  const at = page.stills.findIndex(({id}) => id === page.chosen);
  page.stills = page.stills.filter(({id}) => id !== page.chosen);
  choose((page.stills[at] ?? page.stills[at - 1])?.id ?? null);
});
by("date").addEventListener("input", () => { page.stills = page.stills.map(nameAgain); refresh(); });
by("files").addEventListener("change", async () => { await openFiles([...by("files").files]); by("files").value = ""; });
document.addEventListener("dragover", (event) => { event.preventDefault(); document.body.classList.add("over"); });
for (const end of ["dragleave", "drop"]) document.addEventListener(end, () => document.body.classList.remove("over"));
document.addEventListener("drop", (event) => { event.preventDefault(); openFiles([...event.dataTransfer.files]); });
window.addEventListener("beforeunload", (event) => { if (page.unsaved) event.preventDefault(); });

/** A file that travels inside the page. */
const unpacked = ({name, type, data}) => new File([Uint8Array.from(atob(data), (sign) => sign.charCodeAt(0))], name, {type});

for (const id of ["checkpoint", "take-checkpoint"]) by(id).append(...CHECKPOINTS.map((checkpoint) => made("option", {value: checkpoint}, momentName(checkpoint))));
for (const id of ["unit", "distanceUnit", "heightUnit"]) by(id).append(...given.units.map(([unit, name]) => made("option", {value: unit}, name)));
by("date").value = today();
refresh();
openFiles(given.files.map(unpacked)).then(() => {
  if (page.stills.length) choose(page.stills[0].id);
  if (given.ask) ask(given.ask);
});
