// The moments of a swing in one film or two: proposed by the desk, moved, confirmed and kept by a person.
(() => {
  const EVERY = 300, AGAIN = 1000, A_PICTURE = 14;  // milliseconds, milliseconds, pixels of a finger's way
  const stages = document.getElementById("stages"), rows = document.getElementById("rows"), told = document.getElementById("told");
  const says = document.getElementById("says"), clock = document.getElementById("clock"), none = document.getElementById("none");
  const status = told.querySelector("[role=status]"), keepButton = told.querySelector("[data-act=keep]"), allButton = told.querySelector("[data-act=all]");
  const fresh = (id) => document.getElementById(id).content.firstElementChild.cloneNode(true);
  const name = Object.fromEntries(MOMENTS), order = MOMENTS.map(([id]) => id);
  const ticked = new Map();  // "film moment" -> whether a person wants it kept
  let now = null, moment = null, active = 0, all = false, timer = null, sending = Promise.resolve(), waiting = 0, drawn = "";

  const known = () => (now?.films ?? []).filter((film) => film.moments);
  const numbered = (number) => now.films.find((film) => film.number === number);
  const source = (film, picture) => `${desk.here}/films/${film.number}/${picture}.jpg`;
  const counts = (film, at) => film.moments[at].state !== "asked";
  const wanted = (film, at) => ticked.get(film.number + " " + at) ?? (all || film.moments[at].needed);
  const kept = (film) => order.filter((at) => counts(film, at) && wanted(film, at));

  async function post(to, body) {
    const answer = await fetch(desk.here + to, { method: "POST", body: body === undefined ? "" : JSON.stringify(body) });
    const said = await answer.json().catch(() => ({}));
    if (!answer.ok) throw new Error(said.says || words.lost);
    return said;
  }

  // one after the other; what the desk answers is shown when nothing newer waits
  function send(to, body) {
    waiting += 1;
    sending = sending.then(() => post(to, body)).then((said) => { waiting -= 1; if (!waiting) take(said); }, (error) => { waiting -= 1; complain(error.message); });
    return sending;
  }

  function complain(what) {
    says.textContent = what;
    says.hidden = !what;
  }

  async function look() {
    clearTimeout(timer);
    try {
      const answer = await fetch(desk.here + "/moments/now");
      if (!waiting) take(await answer.json());
      complain("");
    } catch { told.hidden = false; complain(words.lost); timer = setTimeout(look, AGAIN); }
  }

  function take(said) {
    now = said;
    const film = known()[0];
    if (film && !moment) moment = first() ?? "setup";
    if (!numbered(active)) active = now.films[0]?.number ?? 0;
    draw();
    if (now.reading) timer = setTimeout(look, EVERY);
  }

  // what is asked and needed comes first, then what is needed
  const first = () => order.find((at) => asks(at)) ?? order.find((at) => known().some((film) => film.moments[at].needed));
  const asks = (at) => known().some((film) => !counts(film, at) && wanted(film, at));

  function draw() {
    none.hidden = now.films.length > 0;
    told.hidden = !known().length;
    document.getElementById("reading").hidden = !now.reading;
    const built = JSON.stringify(now.films.map((film) => [film.number, film.view, !!film.moments, film.stretch]));
    if (built !== drawn) { drawn = built; build(); }
    drawClock();
    now.films.forEach(drawStage);
    known().forEach(drawRow);
    drawTold();
  }

  function build() {
    stages.replaceChildren(...now.films.map(stage));
    rows.replaceChildren(...known().map(row));
  }

  function stage(film) {
    const figure = fresh("stage"), picture = figure.querySelector(".picture");
    figure.dataset.film = film.number;
    figure.querySelector("b").textContent = film.view?.name ?? film.name;
    figure.querySelector(".steps").hidden = !film.moments;
    for (const button of figure.querySelectorAll("[data-step]")) button.addEventListener("click", () => { active = film.number; step(Number(button.dataset.step)); });
    picture.addEventListener("focus", () => { active = film.number; drawActive(); });
    picture.addEventListener("wheel", (event) => { if (film.moments) { event.preventDefault(); active = film.number; step(Math.sign(event.deltaY || event.deltaX)); } }, { passive: false });
    drawn_across(picture, film);
    question(figure.querySelector(".ask"), film);
    return figure;
  }

  function drawn_across(picture, film) {
    let from = null;
    picture.addEventListener("pointerdown", (event) => { if (film.moments) { active = film.number; from = event.clientX; picture.setPointerCapture(event.pointerId); drawActive(); } });
    picture.addEventListener("pointermove", (event) => {
      if (from === null) return;
      const way = Math.trunc((event.clientX - from) / A_PICTURE);
      if (way) { from += way * A_PICTURE; step(way); }
    });
    for (const end of ["pointerup", "pointercancel"]) picture.addEventListener(end, () => { from = null; });
  }

  function question(place, film) {
    const ways = !film.view ? Object.entries(words.views).map(([view, text]) => [{ view }, text, false])
      : film.stretch ? film.stretch.ways.map(([stretched, text]) => [{ stretched }, text, stretched === film.stretch.now]) : [];
    place.hidden = !ways.length;
    place.replaceChildren(film.view ? words.stretch : words.where, ...ways.map(([word, text, is]) => answer(text, is, () => send(`/films/${film.number}/word`, word))));
  }

  function answer(text, is, act) {
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: text });
    button.setAttribute("aria-pressed", is);
    button.addEventListener("click", act);
    return button;
  }

  function row(film) {
    const made = fresh("row");
    made.dataset.film = film.number;
    made.querySelector("h2").textContent = film.view.name;
    made.querySelector("ol").replaceChildren(...order.map((at) => {
      const one = fresh("thumb");
      one.dataset.moment = at;
      one.querySelector(".moment").textContent = name[at];
      one.querySelector("button").addEventListener("click", () => { active = film.number; moment = at; draw(); });
      one.querySelector("input").addEventListener("change", (event) => { ticked.set(film.number + " " + at, event.target.checked); draw(); });
      return one;
    }));
    return made;
  }

  function drawClock() {
    const asks = now.clock?.ways ?? [];
    clock.classList.toggle("asked", asks.length > 0);
    clock.replaceChildren(now.clock?.says ?? "", ...asks.flatMap(([lag_by, text]) => [" ", answer(text, false, () => send(`/films/${known()[1].number}/word`, { lag_by }))]));
  }

  function drawActive() {
    for (const figure of stages.children) figure.classList.toggle("on", now.films.length > 1 && Number(figure.dataset.film) === active);
  }

  function show(img, to) {
    if (img.getAttribute("src") !== to) img.setAttribute("src", to);
  }

  function drawStage(film) {
    const figure = stages.querySelector(`[data-film="${film.number}"]`), caption = figure.querySelector("figcaption span");
    const picture = figure.querySelector(".picture"), img = picture.querySelector("img");
    drawActive();
    if (!film.moments) {
      caption.textContent = film.reading ? words.reading.replace("%s", film.done) : film.name;
      if (film.done || !film.reading) show(img, source(film, film.reading ? film.done - 1 : 0));
      return;
    }
    const at = film.moments[moment].picture;
    caption.textContent = [film.rate, film.found ? film.slow ? words.slow : "" : words.not_found].filter(Boolean).join(". ");
    show(img, source(film, at));
    stages.classList.toggle("wide", img.naturalWidth > img.naturalHeight);
    const text = fromImpact(film, at);
    figure.querySelector(".at").textContent = text || name.impact;
    picture.setAttribute("aria-label", `${film.view.name}, ${name[moment]}`);
    picture.setAttribute("aria-valuemax", film.pictures - 1);
    picture.setAttribute("aria-valuenow", at);
    picture.setAttribute("aria-valuetext", text || name.impact);
    for (const near of [1, -1, 2, -2, 3, -3]) if (at + near >= 0 && at + near < film.pictures) new Image().src = source(film, at + near);
  }

  function fromImpact(film, at) {
    const seconds = film.times[at] - film.impact, step = film.times[1] - film.times[0];
    if (Math.abs(seconds) < step / 2) return "";
    const figures = new Intl.NumberFormat(document.documentElement.lang, { minimumFractionDigits: 3, maximumFractionDigits: 3 });
    return words[seconds < 0 ? "before" : "after"].replace("{seconds}", figures.format(Math.abs(seconds)));
  }

  function drawRow(film) {
    const made = rows.querySelector(`[data-film="${film.number}"]`);
    for (const one of made.querySelectorAll("li")) {
      const at = one.dataset.moment, { picture, state } = film.moments[at], img = one.querySelector("img"), box = one.querySelector("input");
      one.className = state;
      show(img, source(film, picture));
      img.onload = () => { if (film.middle !== null) img.style.objectPosition = `${Math.min(100, Math.max(0, (100 * film.middle) / img.naturalWidth))}% 50%`; };
      one.querySelector(".state").textContent = words.states[state];
      one.querySelector("button").toggleAttribute("aria-current", at === moment);
      box.disabled = !counts(film, at);
      box.checked = counts(film, at) && wanted(film, at);
      box.setAttribute("aria-label", `${name[at]}, ${film.view.name}`);
    }
  }

  function drawTold() {
    if (!known().length) return;
    const states = known().map((film) => film.moments[moment].state);
    const state = ["asked", "proposed", "confirmed"].find((one) => states.includes(one)), apart = now.apart[moment];
    status.textContent = words.told[state].replace("{moment}", name[moment]) + (apart === undefined ? "" : " " + words.apart.replace("{ms}", apart));
    const count = known().reduce((sum, film) => sum + kept(film).length, 0), left = order.filter(asks);
    keepButton.textContent = count === 1 ? words.keep_one : words.keep.replace("{count}", count);
    keepButton.disabled = !count || now.films.some((film) => !film.moments);  // a swing is kept whole
    allButton.setAttribute("aria-pressed", all);
    document.getElementById("left").textContent = left.length ? words.left.replace("{moments}", left.map((at) => name[at]).join(", ")) : "";
  }

  function step(by) {
    const film = numbered(active);
    if (!film?.moments) return;
    const one = film.moments[moment], picture = Math.min(film.pictures - 1, Math.max(0, one.picture + by));
    if (picture === one.picture) return;
    one.picture = picture;
    one.state = "confirmed";
    draw();
    later(film.number, moment);
  }

  // while an arrow is held, the latest picture alone is sent
  let held = null;
  function later(number, at) {
    if (held) return;
    waiting += 1;  // what the desk answers to an earlier move is stale
    held = sending.then(() => { held = null; waiting -= 1; return send("/moments/move", { film: number, moment: at, picture: numbered(number).moments[at].picture }); });
  }

  async function confirm() {
    const at = moment;
    await held;
    await send(`/moments/${at}/confirm`);
    go(order.slice(order.indexOf(at) + 1).find(asks) ?? order.find(asks) ?? at);
  }

  function go(at) {
    if (!at) return;
    moment = at;
    draw();
    rows.querySelector(`[data-film="${active}"] [data-moment="${at}"]`)?.scrollIntoView({ block: "nearest", inline: "center" });
  }

  async function keep() {
    const text = keepButton.textContent;
    keepButton.disabled = true;
    keepButton.textContent = words.keeping;
    await (held ?? sending);
    try {
      const moments = Object.fromEntries(known().map((film) => [film.number, kept(film)]).filter(([, list]) => list.length));
      location.assign((await post("/moments/keep", { moments, films: document.getElementById("films-too").checked })).to);
    } catch (error) {
      complain(error.message);
      keepButton.disabled = false;
      keepButton.textContent = text;
    }
  }

  function every() {
    all = !all;
    ticked.clear();
    draw();
  }

  const acts = { confirm, keep, all: every };
  told.addEventListener("click", (event) => { const act = event.target.closest("[data-act]")?.dataset.act; if (act) acts[act](); });

  function other(by) {
    const numbers = known().map(({ number }) => number);
    active = numbers[(numbers.indexOf(active) + by + numbers.length) % numbers.length];
    drawActive();
  }

  const keys = {
    ArrowLeft: (event) => step(event.shiftKey ? -10 : -1),
    ArrowRight: (event) => step(event.shiftKey ? 10 : 1),
    ArrowUp: () => other(-1),
    ArrowDown: () => other(1),
    PageUp: () => go(order[order.indexOf(moment) - 1]),
    PageDown: () => go(order[order.indexOf(moment) + 1]),
    Enter: confirm,
    a: every,
    t: () => { const film = numbered(active); if (counts(film, moment)) { ticked.set(active + " " + moment, !wanted(film, moment)); draw(); } },
  };
  addEventListener("keydown", (event) => {
    if (!known().length) return;
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) { event.preventDefault(); if (!keepButton.disabled) keep(); return; }
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Enter" && event.target.closest("button, a, summary, input")) return;
    const act = keys[event.key] ?? keys[event.key.toLowerCase()];
    if (act) { event.preventDefault(); act(event); }
  });

  look();
})();
