/* The lot book: what was noted of each lot at a sale, kept on this device alone. Pure but for the store that is handed in;
   whatever the store refuses is thrown as a sentence for the visitor.

   A lot is {lot, at, remarks, parts}; parts: facet → {label, from, where, verdict, ranking: [[name, how sure]], answers: [[question id, asked, said]]}. */
var ClockRef = this.ClockRef || {};
this.ClockRef = ClockRef;

ClockRef.lots = (function () {
  "use strict";
  const FULL = "This device has no room left for the lot book, so nothing was noted. Export the book, erase some lots, and note it again.";
  const REFUSED = "This browser refuses to keep anything for this site (a private window, perhaps), so nothing was noted. Write it down on paper.";
  const UNREADABLE = "What this device holds as the lot book can’t be read. Nothing was changed; erase the book to begin a new one.";
  const GONE = "That lot has been erased in another window, so nothing was noted. Note it anew if it is wanted.";
  const NO_NUMBER = "Which lot? Type its number first.";

  class BookError extends Error {}

  const same = (a, b) => a.localeCompare(b, "en", { sensitivity: "base" }) === 0;
  const inOrder = (lots) => [...lots].sort((a, b) => a.lot.localeCompare(b.lot, "en", { numeric: true, sensitivity: "base" }));

  function isLot(one) {
    return one && typeof one.lot === "string" && typeof one.at === "string" && typeof one.remarks === "string" && one.parts && typeof one.parts === "object";
  }

  class Book {
    /** The store is asked for only when it is needed, since a browser may refuse even that. */
    constructor(store, name) {
      this.store = store;
      this.name = name;
    }

    /** All lots by number, 2 before 10. */
    all() {
      let lots;
      try {
        lots = JSON.parse(this.kept((store) => store.getItem(this.name)) || "[]");
      } catch (error) {
        throw error instanceof BookError ? error : new BookError(UNREADABLE);
      }
      if (!Array.isArray(lots) || !lots.every(isLot)) { throw new BookError(UNREADABLE); }
      return inOrder(lots);
    }

    find(number) {
      return this.all().find((one) => same(one.lot, number.trim()));
    }

    /** Note a lot, or more about one that is there: parts of other facets stay, remarks are added below those already made. */
    note(number, facet, part, remarks, at) {
      const lot = number.trim();
      if (!lot) { throw new BookError(NO_NUMBER); }
      const before = this.find(lot) || { lot, remarks: "", parts: {} };
      const said = remarks.trim();
      const more = said && !before.remarks.split("\n").includes(said) ? [before.remarks, said].filter(Boolean).join("\n") : before.remarks;
      const after = { ...before, at, remarks: more, parts: facet ? { ...before.parts, [facet]: part } : before.parts };
      this.write([...this.all().filter((one) => !same(one.lot, lot)), after]);
      return after;
    }

    /** Put remarks in place of those that were shown; what another window has noted of the lot since then stays below them. */
    remark(number, remarks, shown) {
      const before = this.find(number);
      if (!before) { throw new BookError(GONE); }
      const meanwhile = before.remarks === shown ? "" : before.remarks;
      const after = { ...before, remarks: [remarks.trim(), meanwhile].filter(Boolean).join("\n") };
      this.write(this.all().map((one) => (same(one.lot, number) ? after : one)));
    }

    remove(number) {
      this.write(this.all().filter((one) => !same(one.lot, number)));
    }

    erase() {
      this.kept((store) => store.removeItem(this.name));
    }

    write(lots) {
      this.kept((store) => store.setItem(this.name, JSON.stringify(inOrder(lots))));
    }

    kept(act) {
      try {
        return act(this.store());
      } catch (error) {
        throw new BookError(error.name === "QuotaExceededError" ? FULL : REFUSED);
      }
    }
  }

  const ranked = (part) => part.ranking.map(([name, sure]) => `${name} (${sure})`).join("; ");
  const told = (part) => part.answers.map(([, asked, said]) => `${asked} ${said}`).join("; ");
  const day = (at) => at.slice(0, 10);

  /** Commas, quotes and lines as spreadsheets take them; what would be worked out as a formula there gets the mark that makes it a text. */
  function cell(text) {
    const safe = /^[=+\-@\t\r]/.test(text) && !/^[+-]?\d+([.,]\d+)?$/.test(text) ? `'${text}` : text;
    return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  }

  /** One line a lot, one column more for each facet that was noted of any. */
  function csv(lots) {
    const facets = Object.entries(Object.assign({}, ...lots.map((one) => one.parts)));
    const heads = ["Lot", "Noted", "Remarks", ...facets.flatMap(([, part]) => [part.label, `${part.label}: ranking`, `${part.label}: answers`])];
    const rows = lots.map((one) => [one.lot, day(one.at), one.remarks, ...facets.flatMap(([facet]) => {
      const part = one.parts[facet];
      return part ? [part.verdict, ranked(part), told(part)] : ["", "", ""];
    })]);
    return [heads, ...rows].map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
  }

  function lines(one) {
    const parts = Object.values(one.parts).flatMap((part) => [`  ${part.label} (seen from: ${part.from})`, `    ${part.verdict}`,
      `    ${ranked(part)}`, ...part.answers.map(([, asked, said]) => `    - ${asked} ${said}`)]);
    const remarks = one.remarks ? [`  Remarks: ${one.remarks.split("\n").join("\n           ")}`] : [];
    return [`Lot ${one.lot} (noted ${day(one.at)})`, ...parts, ...remarks].join("\n");
  }

  /** The book as plain text to read, print or send. */
  const text = (lots) => lots.map((one) => `${lines(one)}\n`).join("\n");

  return { Book, BookError, csv, text };
}());
