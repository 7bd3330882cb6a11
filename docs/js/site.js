/* What every page needs: the one global, and a way to run a piece of code on each page. */
var ClockRef = window.ClockRef || {};
window.ClockRef = ClockRef;

/** Runs fn once, when the page's own markup is there. */
ClockRef.onPage = function (fn) {
  "use strict";
  if (document.readyState === "loading") {
    document.addEventListener("DOMContentLoaded", function () { fn(document); });
  } else {
    fn(document);
  }
};
