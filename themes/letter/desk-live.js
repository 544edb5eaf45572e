(() => {
  const here = desk.base + "/lesson/" + desk.student + "/" + desk.name, saved = document.getElementById("saved");
  const page = document.getElementById("page"), form = document.getElementById("form");
  const waiting = new Map();  // a field -> the timer after which it is sent
  const since = new Map();  // a field -> when the first sign was typed that is not sent yet
  const AFTER = 250, AGAIN = 1000, LONGEST = 800;  // milliseconds
  let version = desk.version, sending = Promise.resolve();

  const valueOf = (field) => {
    const written = field.querySelector("input, select, textarea").value;
    if ("many" in field.dataset) return written.split(/[,;\s]+/).filter(Boolean);
    return written.trim() === "" ? null : written;
  };
  const wasOf = (field) => {
    const was = field.dataset.was;
    if ("many" in field.dataset) return was.split(/[,;\s]+/).filter(Boolean);
    return was === "" ? null : was;
  };

  const post = (change) => fetch(here + "/change", { method: "POST", body: JSON.stringify(change) });

  // one after the other: a row that is taken out moves those below it
  const send = (field) => { sending = sending.then(() => sendNow(field)); return sending; };
  async function sendNow(field) {
    since.delete(field);
    const value = valueOf(field), typed = field.querySelector("input, select, textarea").value;
    if (typed === field.dataset.was) return;
    saved.textContent = words.saving;
    let answer;
    try {
      answer = await post({ loc: JSON.parse(field.dataset.loc), was: wasOf(field), value });
    } catch {
      saved.textContent = words.lost;
      later(field, AGAIN);
      return;
    }
    const said = await answer.json().catch(() => ({}));
    if (answer.ok) {
      field.dataset.was = typed;
      saved.textContent = words.saved;
      look();
    } else if (answer.status === 409) meanwhile(field, said.now, typed);
    else { saved.textContent = said.says || words.lost; later(field, AGAIN); }
  }

  // what is wrong now; one look at a time, and another one where something was saved meanwhile
  let looking = false, again = false;
  async function look() {
    if (looking) { again = true; return; }
    looking = true;
    do {
      again = false;
      try {
        const answer = await fetch(here + "/look", { method: "POST", body: "" });
        if (answer.ok) tell(await answer.json());
      } catch { /* the next save says that the desk is gone */ }
    } while (again);
    looking = false;
  }

  // after a pause, or while somebody types on and on, before what was typed first is a second old
  const later = (field, after) => {
    clearTimeout(waiting.get(field));
    if (!since.has(field)) since.set(field, Date.now());
    const left = after === AGAIN ? after : Math.max(0, Math.min(after, since.get(field) + LONGEST - Date.now()));
    waiting.set(field, setTimeout(() => { waiting.delete(field); send(field); }, left));
  };

  function meanwhile(field, now, typed) {
    const shown = Array.isArray(now) ? now.join(", ") : now ?? "";
    const says = field.querySelector(".says");
    says.hidden = false;
    says.textContent = words.meanwhile.replace("%s", shown);
    const both = document.createElement("span");
    both.className = "theirs";
    for (const [word, value] of [[words.mine, typed], [words.theirs, shown]]) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = word;
      button.addEventListener("click", () => {
        field.dataset.was = shown;
        field.querySelector("input, select, textarea").value = value;
        says.hidden = true;
        says.textContent = "";
        send(field);
      });
      both.append(button);
    }
    says.append(both);
  }

  // the places of all fields of the page, with what is wrong at each
  function tell(said) {
    const wrong = new Map([...said.fields, ...said.rows].map(([loc, says]) => [JSON.stringify(loc), says]));
    for (const one of form.querySelectorAll("[data-loc]")) {
      const says = wrong.get(JSON.stringify(JSON.parse(one.dataset.loc))) || "";
      const place = one.querySelector(":scope > .says");
      if (!place || place.querySelector(".theirs")) continue;
      place.textContent = says;
      place.hidden = !says;
      one.classList.toggle("bad", !!says);
    }
    const elsewhere = document.getElementById("elsewhere");
    elsewhere.replaceChildren(...said.elsewhere.map((line) => Object.assign(document.createElement("li"), { textContent: line })));
    elsewhere.hidden = !said.elsewhere.length;
    renew(said.version);
  }

  // one page at a time: while it is made and shown, whatever comes waits, and then the latest is asked for
  let loading = false, stale = false;
  function renew(now) {
    if (now === version) return;
    version = now;
    if (loading) stale = true;
    else reload();
  }
  function reload() {
    const at = page.contentWindow.scrollY;
    loading = true;
    page.addEventListener("load", () => {
      loading = false;
      page.contentWindow.scrollTo(0, at);
      if (stale) { stale = false; reload(); }
    }, { once: true });
    page.contentWindow.location.reload();
  }

  async function whole(change, to = "/change", section = null) {
    await flush();
    const answer = await fetch(here + to, { method: "POST", body: JSON.stringify(change) });
    const said = await answer.json().catch(() => ({}));
    if (answer.ok || answer.status === 409) {
      sessionStorage.setItem("place", form.scrollTop + " " + scrollY);
      if (section) sessionStorage.setItem("section", section.id);
      location.reload();
    } else saved.textContent = said.says || words.lost;
  }

  // whatever still waits is sent at once
  function flush() {
    for (const [field, timer] of waiting) { clearTimeout(timer); waiting.delete(field); send(field); }
    return sending;
  }

  form.addEventListener("input", (event) => {
    const field = event.target.closest(".field");
    if (field) later(field, field.classList.contains("choice") ? 0 : AFTER);
    const choose = event.target.closest(".choose");
    if (choose && event.target.type === "search") {
      const wanted = event.target.value.toLowerCase().split(/\s+/);
      for (const row of choose.querySelectorAll("li")) row.hidden = !wanted.every((word) => row.dataset.words.includes(word));
    }
  });
  form.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if (button.dataset.add) whole({ loc: JSON.parse(button.dataset.add), value: JSON.parse(button.dataset.fresh), add: true }, "/change", button.closest("section"));
    else if ("out" in button.dataset) {
      const row = button.closest(".row");
      whole({ loc: JSON.parse(row.dataset.loc), was: JSON.parse(row.dataset.was), value: null }, "/change", button.closest("section"));
    } else if (button.id === "ready") whole({}, "/ready");
  });
  addEventListener("pagehide", () => {
    for (const [field, timer] of waiting) {
      clearTimeout(timer);
      navigator.sendBeacon(here + "/change", JSON.stringify({ loc: JSON.parse(field.dataset.loc), was: wasOf(field), value: valueOf(field) }));
    }
  });
  addEventListener("load", () => {
    const [inner, outer] = (sessionStorage.getItem("place") || "0 0").split(" ").map(Number);
    sessionStorage.removeItem("place");
    form.scrollTop = inner;
    scrollTo(0, outer);
    // whoever works with keys goes on where a row was added or taken out
    const section = document.getElementById(sessionStorage.getItem("section"));
    sessionStorage.removeItem("section");
    const fields = section?.querySelectorAll(".row:last-of-type :is(input, select), [data-add], summary");
    if (fields?.length) fields[0].focus({ preventScroll: true });
  });
  addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) document.getElementById("ready")?.click();
  });

  const heard = new EventSource(desk.base + "/changes?since=" + version);
  heard.onmessage = (event) => renew(JSON.parse(event.data).version);
})();
