"use strict";
// The door: ask for the passphrase, then show the pages.

const LIBRARY = "library";
const at = (id) => document.getElementById(id);

async function enter(own, library) {
  areas.own = await opened(DOOR, "", own);
  if (library) areas.library = await opened(LIBRARY, `${UP}${LIBRARY}/`, library);
  await bundle(areas.own, "");
}

async function libraryKey(keys) {
  return keys.library ? unwrapped(keys.library, areas.own.keys) : undefined;
}

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

async function unlock() {
  at("unlock").disabled = true;
  tell(WORDS.opening, true);
  try {
    const keys = await keysOf("");
    const own = await contentKey(at("passphrase").value, keys);
    if (!own) return waitAndAskAgain();
    areas.own = await opened(DOOR, "", own);
    await enter(own, await libraryKey(keys));
  } catch (error) {
    at("unlock").disabled = false;
    return tell(error instanceof Missing ? WORDS.unreachable : WORDS.changed);
  }
  at("passphrase").value = "";
  tell("");
  at("unlock").disabled = false;
  return show();
}

function ask() {
  at("lock").hidden = false;
  at("passphrase").focus();
}

function lookOrHide() {
  const looks = at("passphrase").type === "password";
  at("passphrase").type = looks ? "text" : "password";
  at("look").textContent = looks ? WORDS.hide : WORDS.show;
  at("look").setAttribute("aria-pressed", String(looks));
}

async function start() {
  if (!globalThis.crypto?.subtle || !globalThis.DecompressionStream) {
    at("unable").textContent = isSecureContext ? WORDS.too_old : WORDS.no_https;
    at("unable").hidden = false;
    return;
  }
  history.scrollRestoration = "manual";
  at("lock").addEventListener("submit", (event) => { event.preventDefault(); unlock(); });
  at("look").addEventListener("click", lookOrHide);
  addEventListener("popstate", () => { if (areas.own) show(); });
  addEventListener("click", (event) => {
    if (areas.own && event.target.closest?.("a[href^='#']")) remember(scrollY);
  });
  addEventListener("pagehide", () => { if (areas.own) remember(scrollY); });
  const { own, library } = history.state ?? {};
  if (!own) return ask();
  try {
    await enter(own, library);
  } catch {
    delete areas.own;
    return ask();
  }
  return show();
}

start();
