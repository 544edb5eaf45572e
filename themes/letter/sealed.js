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
  const seconds = wait === 1 ? "a second" : `${wait} seconds`;
  tell(`That is not the passphrase of this page. Compare it with your letter, sign by sign; you can try again in ${seconds}.`);
  setTimeout(() => {
    at("unlock").disabled = false;
    tell("You can try again now.", true);
  }, wait * 1000);
}

function tell(says, calm = false) {
  at("told").textContent = says;
  at("told").classList.toggle("calm", calm);
}

async function unlock() {
  at("unlock").disabled = true;
  tell("Opening …", true);
  try {
    const keys = await keysOf("");
    const own = await contentKey(at("passphrase").value, keys);
    if (!own) return waitAndAskAgain();
    areas.own = await opened(DOOR, "", own);
    await enter(own, await libraryKey(keys));
  } catch (error) {
    at("unlock").disabled = false;
    return tell(error instanceof Missing
      ? "The pages behind this door cannot be reached. Look at your connection, and try again."
      : "The pages behind this door were changed by somebody, and are not shown. Please tell your instructor.");
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
  at("look").textContent = looks ? "Hide" : "Show";
  at("look").setAttribute("aria-pressed", String(looks));
}

async function start() {
  if (!globalThis.crypto?.subtle || !globalThis.DecompressionStream) {
    at("unable").textContent = isSecureContext
      ? "This page is sealed, and this browser is too old to open it. Please use a newer one."
      : "This page is sealed, and opens only from an address that begins with https://.";
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
