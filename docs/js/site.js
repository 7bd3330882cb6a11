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

/* The theme opens its search with a label, which the keyboard alone cannot press. */
ClockRef.onPage(function (page) {
  "use strict";
  page.querySelectorAll("label[for='__search'][role='button']").forEach(function (label) {
    label.addEventListener("keydown", function (event) {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        label.click();
      }
    });
  });
});
