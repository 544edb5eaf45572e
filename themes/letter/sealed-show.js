"use strict";
// From the files of an area to the page on the screen. A place on the site is a path below upload/, as in
// "s/abc/2026-03-05/index.html"; what stands behind the # of the address is the place within this door's own area.

const { area: DOOR, up: UP } = document.documentElement.dataset;
const { lang: LANG, dir: DIR } = document.documentElement;
const HOME = `${DOOR}/index.html`;
const KINDS = { svg: "image/svg+xml", png: "image/png", jpg: "image/jpeg", pdf: "application/pdf", ics: "text/calendar" };
const SITE = "https://site.invalid/";

// What the scripts say, in the language of the door. A page that is shown may bring a block of this name of its own.
const spoken = document.getElementById("words");
const WORDS = JSON.parse(spoken.textContent);
spoken.remove();

const kindOf = (name) => KINDS[name.split(".").pop()] ?? "application/octet-stream";
const resolved = (link, from) => new URL(link, SITE + from);
const placeOf = (url) => url.href.split("#")[0].slice(SITE.length);
const plainly = (text) => { try { return decodeURIComponent(text); } catch { return text; } };
const routeTo = (place, anchor) => `#/${place.startsWith(`${DOOR}/`) ? place.slice(DOOR.length + 1) : place}${anchor}`;

// The place and the anchor that the address of the tab asks for.
function asked() {
  const [route, anchor] = location.hash.slice(1).split("#");
  const path = plainly(route.replace(/^\//, ""));
  if (!path) return [HOME, ""];
  return [path.startsWith("library/") && areas.library ? path : `${DOOR}/${path}`, anchor ? `#${anchor}` : ""];
}

const areas = {};
const areaOf = (place) => place.startsWith("library/") && areas.library ? areas.library : areas.own;

async function file(place) {
  const area = areaOf(place);
  const path = place.slice(area.name.length + 1);
  const cut = path.lastIndexOf("/");
  const files = await bundle(area, cut < 0 ? "" : path.slice(0, cut));
  const found = files.get(path.slice(cut + 1));
  if (!found) throw new Missing(place);
  return found;
}

let pictures = [];
function addressOf(bytes, name) {
  const address = URL.createObjectURL(new Blob([bytes], { type: kindOf(name) }));
  pictures.push(address);
  return address;
}

async function pageAt(place) {
  if (!place.endsWith(".html")) return filePage(place, await file(place));
  const page = new DOMParser().parseFromString(textOf(await file(place)), "text/html");
  page.querySelectorAll("script:not([type='application/json']), iframe, object, embed, .skip").forEach((one) => one.remove());
  for (const link of page.querySelectorAll("a[href]")) {
    const url = resolved(link.getAttribute("href"), place);
    if (url.href.startsWith(SITE)) link.setAttribute("href", routeTo(placeOf(url), url.hash));
    else link.setAttribute("rel", "noreferrer noopener");
  }
  await Promise.all([...page.querySelectorAll("img[src], source[srcset]")].map(async (picture) => {
    const name = picture.hasAttribute("srcset") ? "srcset" : "src";
    const source = placeOf(resolved(picture.getAttribute(name), place));
    picture.setAttribute(name, addressOf(await file(source), source));
  }));
  if (areaOf(place) !== areas.own) leadBack(page);
  return page;
}

// From the library back to the student's own pages: a link that only this door needs.
function leadBack(page) {
  const top = page.querySelector(".top");
  if (!top) return;
  if (!top.querySelector("nav ul")) top.append(made("nav", { "aria-label": WORDS.library }, made("ul", {})));
  top.querySelector("nav ul").append(made("li", {}, made("a", { href: "#/index.html" }, WORDS.own_pages)));
}

function made(tag, attributes, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...inside);
  return element;
}

const WHAT = { pdf: WORDS.pdf, ics: WORDS.ics };

// A page for a file that no page can show: it opens beside this one or is saved.
function filePage(place, bytes) {
  const parts = place.split("/");
  const name = parts.slice(place.startsWith(DOOR) ? DOOR.split("/").length : 0).join("-");
  const address = addressOf(bytes, name);
  const what = WHAT[name.split(".").pop()] ?? WORDS.file;
  const page = document.implementation.createHTMLDocument(what);
  const links = made("p", { class: "on as-file" });
  if (kindOf(name) === KINDS.pdf) links.append(made("a", { href: address, target: "_blank", rel: "noopener" }, WORDS.new_tab));
  links.append(made("a", { href: address, download: name }, WORDS.save));
  page.body.append(made("main", {}, made("h1", {}, what), made("p", { class: "under" }, `${name}, ${Math.ceil(bytes.length / 1000)} kB`), links,
    made("p", { class: "on" }, made("a", { href: routeTo(place.replace(/[^/]*$/, "index.html"), "") }, WORDS.back))));
  return page;
}

const TROUBLE = [
  [Missing, WORDS.missing, WORDS.missing_why],
  [Refused, WORDS.refused, WORDS.refused_why],
];

function troublePage(error) {
  const [, title, says] = TROUBLE.find(([kind]) => error instanceof kind) ?? TROUBLE[1];
  const page = document.implementation.createHTMLDocument(title);
  page.body.append(made("main", {}, made("h1", {}, title), made("p", {}, says), made("p", { class: "on" }, made("a", { href: "#/index.html" }, WORDS.first_page))));
  return page;
}

let shown = 0;

// Show what the address asks for. Nothing of a page is shown before all of it is there.
async function show() {
  const mine = ++shown;
  const [place, anchor] = asked();
  const before = pictures;
  pictures = [];
  const page = await pageAt(place).catch(troublePage);
  if (mine !== shown) return;
  const open = document.getElementById("open");
  open.replaceChildren(...document.importNode(page.body, true).childNodes);
  open.hidden = false;
  document.getElementById("envelope").hidden = true;
  document.title = page.title;
  speak(page.documentElement);
  before.forEach((address) => URL.revokeObjectURL(address));
  liven(open);
  settle(place, anchor);
}

// A page may be in another language than the door; a page that the door made itself is in the door's.
function speak({ lang, dir }) {
  document.documentElement.lang = lang || LANG;
  document.documentElement.dir = (lang ? dir : DIR) || "ltr";
}

// Where the reader stands on a new page: at its anchor, where they had left it, or at its top.
function settle(place, anchor) {
  const target = anchor && document.getElementById(plainly(anchor.slice(1)));
  const heading = target || document.querySelector("#open h1");
  if (heading) {
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
  }
  document.getElementById("says").textContent = document.title;
  const y = history.state?.y;
  remember(y ?? 0);
  if (y === undefined && target) target.scrollIntoView();
  else scrollTo(0, y ?? 0);
}

// The keys travel with the tab's own history, where no other page can look and no script can take them out.
function remember(y) {
  history.replaceState({ own: areas.own.key, library: areas.library?.key, y }, "");
}
