// Films that are dropped on the lesson or chosen, and what the inbox has: each goes to the desk, which reads it at once.
const films = (() => {
  const here = desk.base + "/lesson/" + desk.student + "/" + desk.name, section = document.getElementById("pictures");
  const list = section.querySelector(".films"), inbox = section.querySelector(".inbox"), again = section.querySelector(".again"), go = section.querySelector(".go");
  const EVERY = 300;  // milliseconds between two looks while a film is read
  const fresh = (id) => document.getElementById(id).content.firstElementChild.cloneNode(true);
  const rows = new Map();  // a film's number -> its row
  let missing = null, timer = null;

  const is = (file) => /^video\//.test(file.type ?? "") || /\.(mov|mp4|m4v)$/i.test(file.name);

  function tell(row, says) {
    const place = row.querySelector(".says");
    place.textContent = says || words.lost;
    place.hidden = false;
  }

  async function post(to, body = "") {
    const answer = await fetch(here + to, { method: "POST", body });
    if (!answer.ok) throw new Error((await answer.json().catch(() => ({}))).says);
    return answer.json();
  }

  function blank(name) {
    const row = fresh("one-film");
    row.querySelector(".name").textContent = name;
    row.querySelector(".ask").hidden = true;
    list.append(row);
    return row;
  }

  async function take(file) {
    const row = blank(file.name);
    row.querySelector(".leave").addEventListener("click", () => row.remove());
    if (missing) { tell(row, missing); return; }
    row.querySelector("[role=status]").textContent = words.copying;
    try {
      await post("/film?file=" + encodeURIComponent(file.name), file);
      row.remove();
      await look();
    } catch (error) {
      row.querySelector("[role=status]").textContent = "";
      tell(row, error instanceof TypeError ? "" : error.message);
    }
  }

  function show(one) {
    let row = rows.get(one.number);
    if (!row) {
      row = blank(one.name);
      row.querySelector(".leave").addEventListener("click", async () => { await post(`/films/${one.number}/remove`); look(); });
      for (const button of row.querySelectorAll("[data-view]"))
        button.addEventListener("click", async () => { await post(`/films/${one.number}/word`, JSON.stringify({ view: button.dataset.view })); look(); });
      rows.set(one.number, row);
    }
    row.querySelector(".name").textContent = one.view ? `${one.name}, ${one.view.name}` : one.name;
    row.querySelector(".ask").hidden = one.view || one.wrong;
    row.querySelector("[role=status]").textContent = one.wrong ? "" : one.kept ? words.kept : one.reading ? words.reading.replace("%s", one.done) : words.read;
    if (one.wrong) tell(row, one.wrong);
    const shown = row.querySelector("img"), number = one.reading ? one.done - 1 : 0;
    if (number >= 0 && !one.wrong) shown.src = `${here}/films/${one.number}/${number}.jpg`;
  }

  function arrived(one) {
    const row = fresh("arrived");
    row.querySelector(".name").textContent = one.name;
    row.querySelector("button").addEventListener("click", async () => {
      if (!one.film) { row.remove(); section.dispatchEvent(new CustomEvent("picture", { detail: one.name })); return; }
      if (missing) { tell(row, missing); return; }
      try { await post("/inbox?file=" + encodeURIComponent(one.name)); await look(); } catch (error) { tell(row, error.message); }
    });
    return row;
  }

  function kept(name) {
    const row = fresh("kept-film");
    row.querySelector(".name").textContent = name;
    row.querySelector("button").addEventListener("click", async () => {
      if (missing) { tell(row, missing); return; }
      const button = row.querySelector("button");
      button.disabled = true;
      try { await post("/films/again?file=" + encodeURIComponent(name)); await look(); } catch (error) { tell(row, error.message); button.disabled = false; }
    });
    return row;
  }

  async function look() {
    clearTimeout(timer);
    const answer = await fetch(here + "/films");
    if (!answer.ok) return;
    const now = await answer.json(), numbers = new Set(now.films.map(({ number }) => number));
    missing = now.missing;
    for (const [number, row] of rows) if (!numbers.has(number)) { row.remove(); rows.delete(number); }
    now.films.forEach(show);
    go.hidden = !now.films.some((one) => !one.wrong && !one.kept);
    if (again.dataset.names !== now.again.join("\n")) {
      again.dataset.names = now.again.join("\n");
      again.replaceChildren(...now.again.map(kept));
    }
    inbox.hidden = now.folder === null;
    inbox.querySelector(".folder").textContent = now.folder;
    inbox.querySelector(".count").textContent = now.inbox.length;
    const names = now.inbox.map(({ name }) => name).join("\n");
    if (inbox.dataset.names !== names) {
      inbox.dataset.names = names;
      inbox.querySelector("ul").replaceChildren(...now.inbox.map(arrived));
    }
    if (now.films.some(({ reading }) => reading)) timer = setTimeout(look, EVERY);
    else if (now.folder !== null) timer = setTimeout(look, 10 * EVERY);
  }

  look();
  return { is, take };
})();
