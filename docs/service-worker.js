/* Keeps the site on the device, one edition at a time: whatever is answered from here belongs to that edition.
   The line before this one is written at build time by build_tools/offline.py:
   SAVED = {version, pages, files: {path: hash}, later: {path: hash}, packs: {first, whole: {path, hash, pages}}}. */
importScripts("js/offline-pack.js", "js/lzma.js");

if (typeof SAVED === "undefined") {  /* served while pages are being written: nothing may be kept, and what was kept goes */
  addEventListener("install", () => skipWaiting());
  addEventListener("activate", () => registration.unregister());
  throw new Error("Nothing is saved while pages are being written.");
}

const OURS = `clock-movement-reference ${registration.scope} `;
const EDITION = OURS + SAVED.version;
const TYPES = { html: "text/html", css: "text/css", js: "text/javascript", json: "application/json", csv: "text/csv", svg: "image/svg+xml", xml: "text/xml" };
const STEP = 1 << 20;  /* bytes unpacked before others get their turn */
const opened = {};  /* packs in memory, by name */
const strangers = new Set();  /* windows that show a page of another edition, from the network */
let saving = null;
let handedTo = null;  /* the newer edition that was asked to take over */
let trouble = "";

const addressOf = (path) => new URL(path, registration.scope).href;

class Trouble extends Error {
  constructor(word) { super(word); this.word = word; }
}

/* What went wrong, in a word that the page makes a sentence of. */
function wordFor(error) {
  if (error instanceof Trouble) { return error.word; }
  if (error.name === "QuotaExceededError") { return "full"; }
  return error instanceof TypeError ? "network" : "refused";
}

async function hashOf(body) {
  const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return [...bytes].slice(0, 16).map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/* The bytes of a file that is certainly of this edition, and their type. What the page has just loaded need not travel again. */
async function fetched(path, hash) {
  for (const cache of ["default", "reload"]) {
    const answer = await fetch(addressOf(path), { cache });
    const body = answer.ok ? await answer.arrayBuffer() : null;
    if (body && await hashOf(body) === hash) { return { body, type: answer.headers.get("Content-Type") || "" }; }
  }
  throw new Trouble("changed");
}

const dated = (body, headers) => new Response(body, { headers: { ...headers, "Saved-At": new Date().toISOString() } });

async function saveFiles(store, files) {
  await Promise.all(Object.entries(files).map(async ([path, hash]) => {
    if (await store.match(addressOf(path))) { return; }
    const { body, type } = await fetched(path, hash);
    await store.put(addressOf(path), dated(body, { "Content-Type": type }));
  }));
}

async function unpacked(body) {
  const unpacking = new ClockRef.lzma.Unpacking(new Uint8Array(body));
  while (!unpacking.step(STEP)) { await new Promise((done) => setTimeout(done)); }
  return new Response(unpacking.out).body;
}

/* A pack is kept in a form that the browser itself opens quickly, where it has one: this worker is started many times. */
async function savePack(store, name) {
  const { path, hash } = SAVED.packs[name];
  if (await store.match(addressOf(path))) { return; }
  const plain = await unpacked((await fetched(path, hash)).body);
  const kept = "CompressionStream" in self ? dated(plain.pipeThrough(new CompressionStream("gzip")), { Kept: "gzip" }) : dated(plain, {});
  await store.put(addressOf(path), kept);
}

async function saveFirst() {
  const store = await caches.open(EDITION);
  await saveFiles(store, SAVED.files);
  await savePack(store, "first");
}

/* The pack comes last and in one piece: it is there, or nothing of it is. */
async function saveWhole() {
  const store = await caches.open(EDITION);
  await saveFiles(store, SAVED.later);
  await savePack(store, "whole");
}

async function others() {
  return (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== EDITION);
}

/* Whether an older edition is saved as a whole: the new one then takes its place only as a whole. */
async function hadWhole() {
  for (const name of await others()) {
    const store = await caches.open(name);
    if ((await store.keys()).some((request) => request.url.includes("/offline/whole-"))) { return true; }
  }
  return false;
}

async function tell() {
  const windows = await clients.matchAll({ type: "window", includeUncontrolled: true });
  const now = await state();
  windows.forEach((one) => one.postMessage({ saved: now }));
}

async function state() {
  const store = await caches.open(EDITION);
  const since = async (name) => (await store.match(addressOf(SAVED.packs[name].path)))?.headers.get("Saved-At") || "";
  return { version: SAVED.version, pages: SAVED.pages, firstPages: SAVED.packs.first.pages, first: await since("first"), whole: await since("whole"), trouble };
}

/* Run a piece of saving; what goes wrong is said in the open windows and thrown on. */
async function attempt(work) {
  trouble = "";
  try {
    await work();
  } catch (error) {
    trouble = wordFor(error);
    throw error;
  } finally {
    await tell();
  }
}

addEventListener("install", (event) => {
  event.waitUntil(attempt(async () => {
    await saveFirst();
    if (await hadWhole()) { await saveWhole(); }
    if (!registration.active) { await skipWaiting(); }
  }).catch(async (error) => {
    await caches.delete(EDITION);
    throw error;
  }));
});

addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    const names = await others();
    await Promise.all(names.map((name) => caches.delete(name)));
    if (!names.length) { await clients.claim(); }  /* the page of a first visit, too, can search from now on without a network */
  })());
});

addEventListener("message", (event) => {
  if (event.data === "take over") { skipWaiting(); }
  if (event.data.shows) {
    if (event.data.shows !== SAVED.version) { strangers.add(event.source.id); }
    event.waitUntil(state().then((now) => event.source.postMessage({ saved: now })));
  }
  if (event.data === "save the rest") {
    saving = saving || attempt(saveWhole).catch(() => {}).finally(() => { saving = null; });
    event.waitUntil(saving);
  }
});

async function open(store, name) {
  const kept = await store.match(addressOf(SAVED.packs[name].path));
  if (!kept) { return null; }
  const plain = () => (kept.headers.get("Kept") === "gzip" ? new Response(kept.body.pipeThrough(new DecompressionStream("gzip"))) : kept);
  opened[name] = opened[name] || plain().text().then(ClockRef.pack.read);
  return opened[name].catch(() => { delete opened[name]; return null; });
}

/* The saved answer for a file, or null. A file that the whole pack has better (the search's) is taken from there. */
async function fromSaved(path, status) {
  const store = await caches.open(EDITION);
  for (const name of ["whole", "first"]) {
    const pack = await open(store, name);
    const text = pack && ClockRef.pack.textOf(pack, path);
    if (text !== null && text !== undefined) {
      return new Response(text, { status, headers: { "Content-Type": `${TYPES[path.split(".").pop()] || "text/plain"}; charset=utf-8` } });
    }
  }
  return await store.match(addressOf(path)) || null;
}

/* From the network. A page of another edition gets everything it needs from there, too, so that nothing is half old. */
async function fromNetwork(event) {
  const answer = await fetch(event.request);
  if (event.request.mode === "navigate" && answer.ok) {
    const edition = /<html[^>]* data-version="(\w+)"/.exec(await answer.clone().text());
    if (edition && edition[1] !== SAVED.version) {
      strangers.add(event.resultingClientId);
      registration.update().catch(() => {});
    }
  }
  return answer;
}

async function withoutNetwork(event, path) {
  if (event.request.mode !== "navigate") { return Response.error(); }
  if (await fromSaved(`${path}/index.html`)) { return Response.redirect(addressOf(`${path}/`)); }
  const store = await caches.open(EDITION);
  if (await open(store, "whole")) { return await fromSaved("404.html", 404); }
  return Response.redirect(addressOf(`offline/#missing=${encodeURIComponent(path)}`));
}

/* A newer edition that waits takes over when this is the only window. It can begin only when nothing is being answered here, so
   the window gets an empty page that asks again as soon as that has happened; if it doesn't happen, the old edition goes on. */
const HANDING_OVER = "<!doctype html><link rel=icon href=\"data:,\"><title>A newer edition</title><script>navigator.serviceWorker.oncontrollerchange = () => location.reload();</script>";

async function handedOver(event) {
  if (event.request.mode !== "navigate" || !registration.waiting || saving || handedTo === registration.waiting) { return null; }
  if ((await clients.matchAll({ type: "window" })).length > 1) { return null; }
  handedTo = registration.waiting;
  handedTo.postMessage("take over");
  return new Response(HANDING_OVER, { headers: { "Content-Type": "text/html; charset=utf-8", Refresh: "2" } });
}

async function answered(event, path) {
  const other = await handedOver(event);
  if (other) { return other; }
  const saved = strangers.has(event.clientId) ? null : await fromSaved(path);
  return saved || fromNetwork(event).catch(() => withoutNetwork(event, path));
}

addEventListener("fetch", (event) => {
  const path = event.request.method === "GET" ? ClockRef.pack.fileOf(event.request.url, registration.scope) : null;
  if (path !== null) { event.respondWith(answered(event, path)); }
});
