/* Saves the site on the device and says so: one quiet line at the foot of each page, and more on the page about it. */
(function () {
  "use strict";
  const ROOT = new URL("../", document.currentScript.src);
  const TROUBLE = {
    full: "This device has no room left to save the site. Pages open with a network only; free some room and open this page again.",
    refused: "This browser doesn’t let the site save anything (a private window, perhaps). Pages open with a network only.",
    network: "The network went away while the site was being saved. It is tried again when the next page is opened.",
    changed: "The site was being renewed just now. Saving is tried again when the next page is opened.",
  };
  const NONE = "This browser can’t save the site for use without a network.";
  const number = (value) => value.toLocaleString("en-GB");
  const day = (text) => new Date(text).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });

  /** What is saved, since when and how much, in a sentence or two. */
  function sentence(saved, newer) {
    const next = newer ? " A newer edition is ready and is used from the next page on, once no other window shows this one." : "";
    if (saved.whole) { return `All ${number(saved.pages)} pages are saved on this device, as of ${day(saved.whole)}.${next}`; }
    const first = saved.first ? `The key, the sums and the names are saved on this device, as of ${day(saved.first)} (${number(saved.firstPages)} of ${number(saved.pages)} pages).` : "";
    return `${first} ${saved.trouble ? TROUBLE[saved.trouble] : "The rest is on its way."}${next}`.trim();
  }

  function say(words) {
    document.querySelectorAll(".saved").forEach((line) => { line.textContent = words; line.parentElement.hidden = false; });
  }

  /** Behind the address #missing=…: which page was asked for and isn't here. */
  function sayMissing() {
    const place = document.querySelector(".missing");
    const path = new URLSearchParams(location.hash.slice(1)).get("missing");
    if (!place || !path || !/^[\w\-/.]+$/.test(path)) { return; }
    const again = document.createElement("a");
    again.href = new URL(path.replace(/index\.html$/, ""), ROOT).href;
    again.textContent = "Try it again";
    place.replaceChildren("That page isn’t saved on this device yet, and there is no network just now. ", again, " where there is one.");
    place.hidden = false;
  }

  /** With a limit on data the rest is fetched only when asked for. */
  function offer(worker) {
    const button = document.querySelector("button.save-rest");
    if (button) {
      button.hidden = false;
      button.onclick = () => { button.hidden = true; worker.postMessage("save the rest"); };
    }
  }

  async function start() {
    const workers = navigator.serviceWorker;
    const registration = await workers.register(new URL("service-worker.js", ROOT), { scope: ROOT.pathname, updateViaCache: "none" });
    workers.addEventListener("message", (event) => {
      if (event.data.saved) { heard(event.data.saved, registration); }
    });
    workers.startMessages();
    const ready = await workers.ready;
    ready.active.postMessage({ shows: document.documentElement.dataset.version });
  }

  let asked = false;

  function heard(saved, registration) {
    say(sentence(saved, registration.waiting !== null));
    if (saved.whole || asked || !registration.active) { return; }
    asked = true;
    if (navigator.connection && navigator.connection.saveData) {
      offer(registration.active);
    } else {
      registration.active.postMessage("save the rest");
    }
  }

  ClockRef.onPage(function () {
    sayMissing();
    if (!document.documentElement.dataset.version) { return; } /* while pages are being written nothing is saved */
    if (!("serviceWorker" in navigator)) { say(NONE); return; }
    start().catch((error) => say(error.name === "SecurityError" ? TROUBLE.refused : TROUBLE.network));
  });
}());
