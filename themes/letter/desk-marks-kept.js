// What the page sends: marks that are to be kept, one picture after the other, and marks that are to be measured.

/** A value by its signs: the sheet has texts alone. */
const signs = (value) => {
  if (value === null || value === undefined) return "";
  if (Array.isArray(value)) return `[${value.map(signs)}]`;
  if (typeof value === "object") return `{${Object.keys(value).sort().map((key) => `${key}:${signs(value[key])}`)}}`;
  return String(value);
};

/** Keeps what a picture has set: `now()` is its values by their keys in the sheet, `tell(state, says)` hears how it goes. */
function openKeeping(address, now, tell) {
  const AFTER = 250, AGAIN = 1000;
  let file = null, kept = {}, timer = null, sending = null;

  function changes() {
    const found = [], there = now();
    for (const key of new Set([...Object.keys(kept), ...Object.keys(there)])) {
      if (signs(kept[key]) !== signs(there[key])) found.push([key.split("."), kept[key] ?? null, there[key] ?? null]);
    }
    return found;
  }

  const later = (after) => { timer ??= setTimeout(() => { timer = null; send(); }, after); };

  function send() {
    if (sending) return sending;
    const sent = changes();
    if (!sent.length) return Promise.resolve(true);
    tell("saving");
    sending = post(sent).finally(() => { sending = null; });
    return sending.then((fine) => fine && changes().length ? send() : fine);
  }

  async function post(sent) {
    let answer;
    try {
      answer = await fetch(address("keep"), { method: "POST", body: JSON.stringify({ file, changes: sent }) });
    } catch {
      tell("lost");
      later(AGAIN);
      return false;
    }
    if (answer.ok) {
      for (const [at, , value] of sent) kept[at.join(".")] = value;
      tell("saved");
      return true;
    }
    const said = await answer.json().catch(() => ({}));
    tell(answer.status === 409 ? "meanwhile" : "refused", said.says);
    if (answer.status !== 409) later(AGAIN);
    return false;
  }

  addEventListener("pagehide", () => {
    const sent = changes();
    if (sent.length && file !== null) navigator.sendBeacon(address("keep"), JSON.stringify({ file, changes: sent }));
  });

  return {
    /** Begin with what the sheet has of a picture. */
    open(name, written) { file = name; kept = { ...written }; },
    changed: () => later(AFTER),
    /** Whatever still waits is sent at once; whether all of it is kept. */
    flush() { clearTimeout(timer); timer = null; return (sending ?? Promise.resolve(true)).then(send); },
  };
}

/** Asks what the marks give: one question at a time, and the latest when its turn comes. */
function openMeasuring(address, tell) {
  let asking = false, next = null;
  async function ask(sent) {
    if (asking) { next = sent; return; }
    asking = true;
    try {
      const answer = await fetch(address("values"), { method: "POST", body: JSON.stringify(sent) });
      if (answer.ok) tell(await answer.json(), sent);
    } catch {
      // the line of what is kept says that the desk does not answer
    }
    asking = false;
    if (next) { const waited = next; next = null; ask(waited); }
  }
  return ask;
}
