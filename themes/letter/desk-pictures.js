// Pictures that are dropped on the lesson or chosen: each goes to the desk as soon as it is known what it shows.
(() => {
  const here = desk.base + "/lesson/" + desk.student + "/" + desk.name, section = document.getElementById("pictures");
  const taken = section.querySelector(".taken"), coming = section.querySelector(".coming"), chosen = section.querySelector("[type=file]");
  const CHECKPOINTS = [...document.getElementById("coming-picture").content.querySelectorAll("[name=checkpoint] option")].map(({ value }) => value).filter(Boolean);
  let sending = Promise.resolve();  // one after the other: each is a row below the one before
  const fresh = (id) => document.getElementById(id).content.firstElementChild.cloneNode(true);

  async function list() {
    const answer = await fetch(here + "/pictures");
    if (!answer.ok) return;
    taken.replaceChildren(...(await answer.json()).map((one) => {
      const row = fresh("taken-picture");
      row.querySelector("a").href = here + "/marks/" + one.number;
      row.querySelector("img").src = here + "/pictures/" + one.number;
      row.querySelector(".where").textContent = one.where;
      row.querySelector(".mute").textContent = one.marks ? "✓ " + one.marks : "";
      row.querySelector(".leave").addEventListener("click", () => out(one));
      return row;
    }));
  }

  async function out(one) {
    const answer = await fetch(here + "/change", { method: "POST", body: JSON.stringify({ loc: ["stills", one.number], was: one.row, value: null }) });
    if (!answer.ok) told(section.querySelector(":scope > .says"), await answer.json().catch(() => ({})));
    list();
  }

  function told(place, { says }) {
    place.textContent = says || words.lost;
    place.hidden = false;
  }

  /** View and moment from a file's name, as in 2026-03-05-impact-fo.png; empty where it does not say. */
  function guessed(file) {
    const said = file.toLowerCase().split(/[^a-z]+/);
    return { view: said.includes("fo") ? "face-on" : said.includes("dtl") ? "down-the-line" : "", checkpoint: CHECKPOINTS.find((one) => said.includes(one)) ?? "" };
  }

  function take(files) {
    for (const file of files) {
      if (films.is(file)) { films.take(file); continue; }
      const row = fresh("coming-picture"), guess = guessed(file.name);
      row.querySelector(".name").textContent = file.name;
      for (const select of row.querySelectorAll("select")) {
        select.value = guess[select.name];
        select.addEventListener("change", () => ask(row, file));
      }
      row.querySelector(".leave").addEventListener("click", () => row.remove());
      row.querySelector("img").addEventListener("error", ({ target }) => target.removeAttribute("src"));  // no browser shows HEIC
      if (file instanceof Blob) {
        const reader = new FileReader();
        reader.onload = () => { row.querySelector("img").src = reader.result; };
        reader.readAsDataURL(file);
      }
      coming.append(row);
      ask(row, file);
    }
  }

  function ask(row, file) {
    const [view, checkpoint] = ["view", "checkpoint"].map((name) => row.querySelector(`[name=${name}]`).value);
    if (view && checkpoint) sending = sending.then(() => send(row, file, view, checkpoint));
  }

  async function send(row, file, view, checkpoint) {
    if (!row.isConnected) return;
    try {
      const [to, body] = file instanceof Blob ? ["/picture?", file] : [`/inbox?file=${encodeURIComponent(file.name)}&`, ""];
      const answer = await fetch(`${here}${to}view=${view}&checkpoint=${checkpoint}`, { method: "POST", body });
      if (!answer.ok) { told(row.querySelector(".says"), await answer.json().catch(() => ({}))); return; }
    } catch {
      told(row.querySelector(".says"), {});
      return;
    }
    row.remove();
    await list();
  }

  chosen.addEventListener("change", () => { take(chosen.files); chosen.value = ""; });
  section.addEventListener("picture", (event) => take([{ name: event.detail }]));  // of the inbox
  const pictures = (event) => [...(event.dataTransfer?.types ?? [])].includes("Files");
  addEventListener("dragover", (event) => { if (pictures(event)) { event.preventDefault(); document.body.classList.add("over"); } });
  addEventListener("dragleave", (event) => { if (!event.relatedTarget) document.body.classList.remove("over"); });
  addEventListener("drop", (event) => {
    if (!pictures(event)) return;
    event.preventDefault();
    document.body.classList.remove("over");
    take(event.dataTransfer.files);
  });
  list();
})();
