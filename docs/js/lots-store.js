/* Where a browser keeps the lot book, and what it remembers until the window is closed. */
(function () {
  "use strict";
  const lots = ClockRef.lots;

  /** The book of this site on this device; two sites on one address keep two books. */
  lots.here = (root) => new lots.Book(() => window.localStorage, `lot book ${root.pathname}`);

  /** Remember a text until the window is closed, or, without one, tell what was remembered; a browser may refuse both. */
  lots.remember = function (name, text) {
    try {
      if (text === undefined) { return sessionStorage.getItem(name) || ""; }
      sessionStorage.setItem(name, text);
    } catch (refused) {
      return "";
    }
    return text;
  };

  /** What is being typed into fields is there again after a reload or on the way back. */
  lots.keepTyped = function (name, ...fields) {
    const typed = JSON.parse(lots.remember(name) || "[]");
    fields.forEach((field, at) => {
      field.value = typed[at] || "";
      field.addEventListener("input", () => lots.remember(name, JSON.stringify(fields.map((one) => one.value))));
    });
  };
}());
