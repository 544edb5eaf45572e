"use strict";
// What stands behind the # of the address: no name of a page, for browsers keep addresses, but letters that mean nothing
// to whoever cannot open the area. A place is a path below upload/, as in "s/abc/2026-03-05/index.html".

const { area: DOOR, up: UP } = document.documentElement.dataset;
const HOME = `${DOOR}/index.html`;
const ROUTE = 16, ANCHOR = 8;

const areas = {};
const areaOf = (place) => place.startsWith("library/") && areas.library ? areas.library : areas.own;

// The places of an area, and the key that makes routes.
async function placesOf(area) {
  const { key, places } = JSON.parse(textOf((await bundle(area, "")).get("places.json")));
  const routing = await crypto.subtle.importKey("raw", bytesOf(key), { name: "HMAC", hash: "SHA-256" }, false, ["sign"]);
  return { routing, places: places.map((place) => `${area.name}/${place}`) };
}

// Routes are made with the key of the door's own area, those to the library too: nobody else has the same.
const letters = async (place, anchor = "") => {
  const told = place.startsWith(`${DOOR}/`) ? place.slice(DOOR.length + 1) : place;
  return base32(await hmac(areas.own.routing, anchor ? `${told}#${anchor}` : told));
};

async function routeTo(place, anchor = "") {
  const there = anchor ? (await letters(place, anchor)).slice(0, ANCHOR) : "";
  return `#${(await letters(place)).slice(0, ROUTE)}${there}`;
}

// The place to which a route leads within an area.
async function placeIn(area, route) {
  area.routes ??= new Map(await Promise.all(
    (await placesOf(area)).places.map(async (place) => [(await letters(place)).slice(0, ROUTE), place])));
  return area.routes.get(route);
}

// The place that the address of the tab asks for, and the route of the anchor in it. What leads nowhere leads home.
async function asked() {
  const said = location.hash.slice(1);
  const route = said.slice(0, ROUTE);
  const place = said && (await placeIn(areas.own, route) ?? (areas.library && await placeIn(areas.library, route)));
  if (said && !place) history.replaceState(history.state, "", "#");
  return { place: place || HOME, at: place ? said.slice(ROUTE) : "" };
}

// The id on a page to which the route of an anchor leads.
async function anchorOn(page, place, at) {
  if (!at) return undefined;
  const ids = [...page.querySelectorAll("[id]")].map((one) => one.id);
  const routes = await Promise.all(ids.map((id) => letters(place, id)));
  return ids[routes.findIndex((route) => route.startsWith(at))];
}
