/* Light or dark as the device has it, unless the visitor says otherwise; that is kept. Loaded before anything is drawn. */
(function () {
  "use strict";
  const NAME = `colours ${new URL("../", document.currentScript.src).pathname}`;
  const NEXT = { "": "light", light: "dark", dark: "" };
  const SAYS = { "": "Use light colours", light: "Use dark colours", dark: "Follow the device" };
  const page = document.documentElement;

  const chosen = () => page.dataset.colours || "";

  function choose(colours) {
    if (colours) { page.dataset.colours = colours; } else { delete page.dataset.colours; }
  }

  /** What was chosen on an earlier page; a browser that keeps nothing follows the device. */
  function kept() {
    try {
      return localStorage.getItem(NAME) || "";
    } catch (refused) {
      return "";
    }
  }

  function keep(colours) {
    try {
      localStorage.setItem(NAME, colours);
    } catch (refused) { /* then it holds for this page */ }
  }

  choose(kept());
  document.addEventListener("DOMContentLoaded", () => {
    const button = document.querySelector("button.colours");
    const say = () => { button.title = SAYS[chosen()]; button.setAttribute("aria-label", SAYS[chosen()]); };
    button.hidden = false;
    button.addEventListener("click", () => { choose(NEXT[chosen()]); keep(chosen()); say(); });
    say();
  });
}());
