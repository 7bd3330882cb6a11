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

/* The theme opens its search with a label, which the keyboard alone cannot press: a button does it for everybody. */
ClockRef.onPage(function (page) {
  "use strict";
  page.querySelectorAll("button.open-search").forEach(function (button) {
    button.addEventListener("click", function () { page.getElementById("__search").click(); });
  });
});
