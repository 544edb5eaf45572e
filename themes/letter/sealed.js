"use strict";
// The door: ask for the passphrase, then show the pages.

const LIBRARY = "library";
const at = (id) => document.getElementById(id);

// A passphrase that does not open: each time twice as long to wait, so that nobody tries by the hundred at this screen.
let failures = 0;
const LONGEST = 60;

function waitAndAskAgain() {
  const wait = Math.min(2 ** failures++, LONGEST);
  tell((wait === 1 ? WORDS.wrong_one : WORDS.wrong_many).replace("{count}", wait));
  setTimeout(() => {
    at("unlock").disabled = false;
    tell(WORDS.again, true);
  }, wait * 1000);
}

function tell(says, calm = false) {
  at("told").textContent = says;
  at("told").classList.toggle("calm", calm);
}

// The door's own area and, for students, the library, with all that it takes to show their pages.
async function openedBy(key, keys) {
  const own = await opened(DOOR, "", key);
  own.routing = (await placesOf(own)).routing;
  const library = keys.library && await opened(LIBRARY, `${UP}${LIBRARY}/`, await unwrapped(keys.library, own.keys));
  return { own, library };
}

async function unlock() {
  const mine = ++turn;
  const typed = at("passphrase").value;
  conceal();
  at("unlock").disabled = true;
  tell(WORDS.opening, true);
  let found;
  try {
    const keys = await keysOf("");
    const key = await contentKey(typed, keys);
    if (!key && mine === turn) return waitAndAskAgain();
    found = await openedBy(key, keys);
  } catch (error) {
    if (mine === turn) tell(error instanceof Missing ? WORDS.unreachable : WORDS.changed);
  }
  at("unlock").disabled = false;
  if (!found || mine !== turn) return;
  Object.assign(areas, found);
  at("passphrase").value = "";
  tell("");
  return show();
}

// Nothing of what was open stays in this page: no key, no text, no picture.
function lock() {
  turn++;
  settled = false;
  delete areas.own;
  delete areas.library;
  at("open").replaceChildren();
  at("open").hidden = true;
  shown.drop();
  at("says").textContent = "";
  at("passphrase").value = "";
  conceal();
  tell("");
  speak({});
  at("envelope").hidden = false;
}

function lockAndSaySo() {
  remember();
  lock();
  tell(WORDS.locked, true);
  at("passphrase").focus();
}

function ask() {
  at("lock").hidden = false;
  at("passphrase").focus();
}

// A field that can be read is one that browsers may keep.
function conceal() {
  if (at("passphrase").type !== "password") lookOrHide();
}

function lookOrHide() {
  const looks = at("passphrase").type === "password";
  at("passphrase").type = looks ? "text" : "password";
  at("look").textContent = looks ? WORDS.hide : WORDS.show;
  at("look").setAttribute("aria-pressed", String(looks));
}

function whyNot() {
  if (top !== self) return at("framed");
  if (globalThis.crypto?.subtle && globalThis.DecompressionStream) return null;
  at("unable").textContent = isSecureContext ? WORDS.too_old : WORDS.no_https;
  return at("unable");
}

function start() {
  const reason = whyNot();
  if (reason) {
    at("alone").href = location.href;
    reason.hidden = false;
    return;
  }
  history.scrollRestoration = "manual";
  at("lock").addEventListener("submit", (event) => { event.preventDefault(); unlock(); });
  at("look").addEventListener("click", lookOrHide);
  addEventListener("popstate", () => { if (areas.own) show(); });
  addEventListener("click", (event) => {
    if (event.target.closest?.(".lock")) lockAndSaySo();
    else if (event.target.closest?.("a[href^='#']")) remember();
  });
  addEventListener("scrollend", remember);
  addEventListener("pagehide", lock);
  addEventListener("pageshow", (event) => { if (event.persisted) lock(); });
  ask();
}

start();
