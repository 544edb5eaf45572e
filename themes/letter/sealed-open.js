"use strict";
// From a passphrase to the files of an area: the reading side of reportgen/sealing/seal.py.
// An area is a student's pages or the library; its files lie in bundles, one for each folder.

const FORMAT = "reportgen 2";
const SIGNS = "0123456789BCDFGHJKLMNPQRSTVWXZbcdfghjklmnpqrstvwxz!$()*+,-.:;=?@";
const utf8 = new TextEncoder();
const textOf = (bytes) => new TextDecoder().decode(bytes);

class Missing extends Error {}
class Refused extends Error {}

function bytesOf(written) {
  const bytes = new Uint8Array((written.length * 6) >> 3);
  const values = new Uint8Array(128);
  [...SIGNS].forEach((sign, value) => { values[sign.charCodeAt(0)] = value; });
  let held = 0, bits = 0, at = 0;
  for (let i = 0; i < written.length; i++) {
    held = (held << 6) | values[written.charCodeAt(i)];
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes[at++] = held >> bits;
      held &= (1 << bits) - 1;
    }
  }
  return bytes;
}

const BASE32 = "abcdefghijklmnopqrstuvwxyz234567";

function base32(bytes) {
  let written = "", held = 0, bits = 0;
  for (const byte of bytes) {
    held = (held << 8) | byte;
    for (bits += 8; bits >= 5;) {
      bits -= 5;
      written += BASE32[held >> bits];
      held &= (1 << bits) - 1;
    }
  }
  return bits ? written + BASE32[held << (5 - bits)] : written;
}

// How long a file may take; from disk it is there at once, and not every browser says when there is none.
const PATIENCE_MS = location.protocol === "file:" ? 10000 : 60000;
const AFTER_LOAD_MS = 1000;

// What a sealed file holds, handed over by the file itself: from disk, no script may read another file.
function carried(address) {
  return new Promise((take, fail) => {
    const frame = document.createElement("iframe");
    const done = (settle, value) => {
      removeEventListener("message", hear);
      frame.remove();
      settle(value);
    };
    const hear = (event) => {
      if (event.source === frame.contentWindow && typeof event.data === "string") done(take, event.data);
    };
    addEventListener("message", hear);
    frame.setAttribute("sandbox", "allow-scripts");
    frame.setAttribute("aria-hidden", "true");
    frame.hidden = true;
    const missing = () => done(fail, new Missing(address));
    frame.addEventListener("load", () => setTimeout(missing, AFTER_LOAD_MS));
    setTimeout(missing, PATIENCE_MS);
    frame.src = address;
    document.body.append(frame);
  });
}

const asTyped = (typed) => typed.normalize("NFKC").toLowerCase().replace(/[^a-z0-9]+/g, "");

// Of no key can any script have the bytes: each gives other keys, or does its one work.
const stretching = (typed) => crypto.subtle.importKey("raw", utf8.encode(asTyped(typed)), "PBKDF2", false, ["deriveKey"]);
const slowly = (salt, rounds) => ({ name: "PBKDF2", hash: "SHA-256", salt: bytesOf(salt), iterations: rounds });
const WRAPS = { name: "AES-KW", length: 256 };
const MAC = { name: "HMAC", hash: "SHA-256", length: 256 };
const unwrapped = (key, under) => crypto.subtle.unwrapKey("raw", bytesOf(key), under, "AES-KW", "HKDF", false, ["deriveKey"]);
const hmac = async (key, text) => new Uint8Array(await crypto.subtle.sign("HMAC", key, utf8.encode(text)));

// The content key that a passphrase opens, or null where it opens nothing.
async function contentKey(typed, keys) {
  const passphrase = await stretching(typed);
  let entry = keys.members[0];
  if (keys.salt) {
    const finding = await crypto.subtle.deriveKey(slowly(keys.salt, keys.rounds), passphrase, MAC, false, ["sign"]);
    const tag = await hmac(finding, `${FORMAT} tag`);
    entry = keys.members.find((one) => bytesOf(one.tag).every((byte, i) => byte === tag[i]));
  }
  if (!entry) return null;
  const wrapping = await crypto.subtle.deriveKey(slowly(entry.salt, keys.rounds), passphrase, WRAPS, false, ["unwrapKey"]);
  return unwrapped(entry.key, wrapping).catch(() => null);
}

async function keysOf(at) {
  try {
    return JSON.parse(await carried(`${at}keys.html`));
  } catch (error) {
    throw error instanceof Missing ? error : new Refused("keys");
  }
}

// An area that can be read: `name` as it is bound in, `at` where its files lie, and what its content key gives.
async function opened(name, at, key) {
  const from = (purpose) => ({ name: "HKDF", hash: "SHA-256", salt: utf8.encode(name), info: utf8.encode(`${FORMAT} ${purpose}`) });
  return {
    name, at,
    pages: await crypto.subtle.deriveKey(from("pages"), key, { name: "AES-GCM", length: 256 }, false, ["decrypt"]),
    names: await crypto.subtle.deriveKey(from("names"), key, MAC, false, ["sign"]),
    keys: await crypto.subtle.deriveKey(from("keys"), key, WRAPS, false, ["unwrapKey"]),
    read: new Map(),
  };
}

// The files of one folder of an area, by name. Whatever was changed is refused whole.
function bundle(area, folder) {
  if (!area.read.has(folder)) {
    const reading = readBundle(area, folder);
    area.read.set(folder, reading);
    reading.catch(() => area.read.delete(folder));
  }
  return area.read.get(folder);
}

async function readBundle(area, folder) {
  const named = base32((await hmac(area.names, folder)).slice(0, 16));
  const sealed = bytesOf(await carried(`${area.at}${named}.html`));
  try {
    const gcm = { name: "AES-GCM", iv: sealed.slice(0, 12), additionalData: utf8.encode(`${FORMAT}\n${area.name}\n${folder}`) };
    const whole = new Uint8Array(await crypto.subtle.decrypt(gcm, area.pages, sealed.slice(12)));
    const deflated = whole.slice(4, 4 + new DataView(whole.buffer).getUint32(0));
    const stream = new Blob([deflated]).stream().pipeThrough(new DecompressionStream("deflate"));
    const packed = await new Response(stream).arrayBuffer();
    const start = 4 + new DataView(packed).getUint32(0);
    const index = Object.entries(JSON.parse(textOf(new Uint8Array(packed, 4, start - 4))));
    return new Map(index.map(([name, [from, length]]) => [name, new Uint8Array(packed, start + from, length)]));
  } catch {
    throw new Refused(folder);
  }
}
