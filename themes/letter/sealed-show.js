"use strict";
// From the files of an area to the page on the screen.

const { lang: LANG, dir: DIR } = document.documentElement;
const KINDS = { svg: "image/svg+xml", png: "image/png", jpg: "image/jpeg", webp: "image/webp", pdf: "application/pdf", ics: "text/calendar", mp4: "video/mp4", webm: "video/webm" };
const SITE = "https://site.invalid/";

// What the scripts say, in the language of the door. A page that is shown may bring a block of this name of its own.
const spoken = document.getElementById("words");
const WORDS = JSON.parse(spoken.textContent);
spoken.remove();

const kindOf = (name) => KINDS[name.split(".").pop()] ?? "application/octet-stream";
const resolved = (link, from) => new URL(link, SITE + from);
const placeOf = (url) => url.href.split("#")[0].slice(SITE.length);
const plainly = (text) => { try { return decodeURIComponent(text); } catch { return text; } };

async function file(place) {
  const area = areaOf(place);
  const path = place.slice(area.name.length + 1);
  const cut = path.lastIndexOf("/");
  const files = await bundle(area, cut < 0 ? "" : path.slice(0, cut));
  const found = files.get(path.slice(cut + 1));
  if (!found) throw new Missing(place);
  return found;
}

// The files of the page that is shown stand in memory, each at an address of its own until the page goes.
class Held {
  addresses = [];

  address(bytes, name) {
    this.addresses.push(URL.createObjectURL(new Blob([bytes], { type: kindOf(name) })));
    return this.addresses.at(-1);
  }

  drop() {
    this.addresses.splice(0).forEach((address) => URL.revokeObjectURL(address));
  }
}

async function pageAt(place, held) {
  if (!place.endsWith(".html")) return filePage(place, await file(place), held);
  const page = new DOMParser().parseFromString(textOf(await file(place)), "text/html");
  page.querySelectorAll("script:not([type='application/json']), iframe, object, embed, noscript, .skip").forEach((one) => one.remove());
  await Promise.all([...page.querySelectorAll("a[href]")].map(async (link) => {
    const url = resolved(link.getAttribute("href"), place);
    if (url.href.startsWith(SITE)) link.setAttribute("href", await routeTo(placeOf(url), plainly(url.hash.slice(1))));
    else link.setAttribute("rel", "noreferrer noopener");
  }));
  await Promise.all([...page.querySelectorAll("img[src], source[srcset]")].map(async (picture) => {
    const name = picture.hasAttribute("srcset") ? "srcset" : "src";
    const source = placeOf(resolved(picture.getAttribute(name), place));
    picture.setAttribute(name, held.address(await file(source), source));
  }));
  setAside(page, place);
  if (areaOf(place) !== areas.own) await leadHome(page);
  return page;
}

// The frames of a swing come after the page: until then it is read without them.
function setAside(page, from) {
  page.querySelectorAll("image[href], image[data-late]").forEach((image) => {
    image.dataset.late = placeOf(resolved(image.getAttribute("href") ?? image.dataset.late, from));
    image.removeAttribute("href");
  });
  page.querySelectorAll(".side").forEach((side) => {
    side.dataset.late = placeOf(resolved(JSON.parse(side.dataset.swing).file, from));
  });
}

// Gives the images of a page their frames, each picture once.
function lateInto(held, mine) {
  const coming = new Map();
  return async (image) => {
    const place = image.dataset.late;
    if (!coming.has(place)) {
      coming.set(place, file(place).then((bytes) => mine === turn ? held.address(bytes, place) : null).catch(() => null));
    }
    const address = await coming.get(place);
    if (address) image.setAttribute("href", address);
  };
}

function made(tag, attributes, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...inside);
  return element;
}

const PAGES = DOOR === "library" ? WORDS.library : WORDS.own_pages;

// The row of links on top of a page; pages that the door makes itself have none.
function linksOf(page) {
  if (!page.querySelector(".top")) {
    page.body.prepend(made("header", {}, made("div", { class: "top" }, made("p", { class: "from" }, document.title))));
  }
  const top = page.querySelector(".top");
  if (!top.querySelector("nav ul")) top.append(made("nav", { "aria-label": PAGES }, made("ul", {})));
  return top.querySelector("nav ul");
}

// From the library, or a file, back to the door's first page.
async function leadHome(page) {
  linksOf(page).append(made("li", {}, made("a", { href: await routeTo(HOME) }, PAGES)));
}

const WHAT = { pdf: WORDS.pdf, ics: WORDS.ics };

// The page that leads to a file: of a drill's video the drill, of others the first of their folder.
const pageOf = (place) => place.startsWith("library/") && /\/video\.\w+$/.test(place) ? place.replace(/\/[^/]*$/, ".html") : place.replace(/[^/]*$/, "index.html");

// A page for a file that no page can show: it opens beside this one or is saved.
async function filePage(place, bytes, held) {
  const parts = place.split("/");
  const name = parts.slice(place.startsWith(DOOR) ? DOOR.split("/").length : 0).join("-");
  const address = held.address(bytes, name);
  const what = WHAT[name.split(".").pop()] ?? WORDS.file;
  const page = document.implementation.createHTMLDocument(what);
  const links = made("p", { class: "on as-file" });
  if (kindOf(name) === KINDS.pdf) links.append(made("a", { href: address, target: "_blank", rel: "noopener" }, WORDS.new_tab));
  links.append(made("a", { href: address, download: name }, WORDS.save));
  const back = made("a", { href: await routeTo(pageOf(place)) }, WORDS.back);
  page.body.append(made("main", {}, made("h1", {}, what), made("p", { class: "under" }, `${name}, ${Math.ceil(bytes.length / 1000)} kB`),
    links, made("p", { class: "key" }, WORDS.unsealed), made("p", { class: "on" }, back)));
  await leadHome(page);
  return page;
}

const TROUBLE = [
  [Missing, WORDS.missing, WORDS.missing_why],
  [Refused, WORDS.refused, WORDS.refused_why],
];

async function troublePage(error) {
  const [, title, says] = TROUBLE.find(([kind]) => error instanceof kind) ?? TROUBLE[1];
  const page = document.implementation.createHTMLDocument(title);
  const home = made("a", { href: await routeTo(HOME) }, WORDS.first_page);
  page.body.append(made("main", {}, made("h1", {}, title), made("p", {}, says), made("p", { class: "on" }, home)));
  return page;
}

// What is shown, and which turn it is: whatever began before the latest one and ends after it shows nothing.
let shown = new Held();
let turn = 0;
let settled = false;

// Show what the address asks for. Nothing of a page is shown before all of it is there.
async function show() {
  const mine = ++turn;
  const held = new Held();
  settled = false;
  let page, target;
  try {
    const { place, at } = await asked();
    page = await pageAt(place, held);
    target = await anchorOn(page, place, at);
  } catch (error) {
    if (mine === turn) page = await troublePage(error);
  }
  if (mine !== turn) return held.drop();
  linksOf(page).append(document.getElementById("locks").content.cloneNode(true));
  page.querySelector(".top").classList.add("locks");
  const open = document.getElementById("open");
  open.replaceChildren(...document.importNode(page.body, true).childNodes);
  open.hidden = false;
  document.getElementById("envelope").hidden = true;
  speak(page.documentElement);
  shown.drop();
  shown = held;
  liven(open);
  stepThrough(open, lateInto(held, mine));
  settle(page.title, target);
}

// A page may be in another language than the door; a page that the door made itself is in the door's.
function speak({ lang, dir }) {
  document.documentElement.lang = lang || LANG;
  document.documentElement.dir = (lang ? dir : DIR) || "ltr";
}

// Where the reader stands on a new page: at its anchor, where they had left it, or at its top. The tab keeps its title,
// since browsers keep titles: what page it is, the status line says to those who listen.
function settle(title, target) {
  const there = target && document.getElementById(target);
  const heading = there || document.querySelector("#open h1");
  if (heading) {
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
  }
  document.getElementById("says").textContent = title;
  const y = history.state?.y;
  if (y === undefined && there) there.scrollIntoView();
  else scrollTo(0, y ?? 0);
  settled = true;
  remember();
}

// All that the tab's own history keeps, for it is written to disk: how far down the page the reader is.
function remember() {
  if (settled) history.replaceState({ y: scrollY }, "");
}
