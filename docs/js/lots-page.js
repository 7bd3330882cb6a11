/* The page of the lot book: the lots with their remarks, a form for one noted by hand, export, and erasing. */
(function () {
  "use strict";
  const ROOT = new URL("../", document.currentScript.src);
  const lots = ClockRef.lots;
  const book = lots.here(ROOT);

  function el(tag, properties, ...children) {
    const made = Object.assign(document.createElement(tag), properties);
    made.append(...children.filter((child) => child !== null));
    return made;
  }

  const day = (at) => new Date(at).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });

  /** A button that asks once more before it does what cannot be undone. */
  function careful(words, again, act) {
    const button = el("button", { type: "button", className: "plain" }, words);
    button.onclick = () => {
      if (button.textContent === again) { act(); } else { button.textContent = again; }
    };
    button.onblur = () => { button.textContent = words; };
    return button;
  }

  class Page {
    constructor(place) {
      this.place = place;
      this.status = el("p", { role: "status" });
      this.list = el("div", {});
      this.head = el("p", { className: "lead" });
      this.tools = el("p", { className: "row" });
      place.replaceChildren(this.head, this.form(), this.status, this.list, this.tools);
      window.addEventListener("storage", () => this.show());
      this.show();
    }

    /** Do something with the book; a refusal is said, and the page then shows what the book holds. */
    try(act, done) {
      try {
        act();
        this.status.textContent = done;
      } catch (error) {
        if (!(error instanceof lots.BookError)) { throw error; }
        this.status.textContent = error.message;
        return false;
      }
      this.show();
      return true;
    }

    show() {
      let all = [];
      try {
        all = book.all();
      } catch (error) {
        if (!(error instanceof lots.BookError)) { throw error; }
        this.status.textContent = error.message;
        this.tools.replaceChildren(this.eraser());
        return;
      }
      this.head.textContent = all.length === 1 ? "One lot is noted on this device." : `${all.length || "No"} lots are noted on this device.`;
      const open = new Set([...this.list.querySelectorAll("details[open]")].map((one) => one.dataset.lot));
      const typing = this.typing();
      this.list.replaceChildren(...all.map((one) => this.lot(one, open.has(one.lot))));
      this.typeOn(typing);
      this.tools.replaceChildren(...(all.length ? [this.save("Save as CSV", "csv", "text/csv"), this.save("Save as text", "txt", "text/plain"), this.eraser()] : []));
    }

    /** Remarks that are being typed while another window changes the book, or null. */
    typing() {
      const text = this.list.contains(document.activeElement) && document.activeElement.matches("textarea") ? document.activeElement : null;
      return text && { lot: text.closest(".lot").dataset.lot, said: text.value, at: text.selectionStart, shown: text.dataset.shown };
    }

    typeOn(typing) {
      const lot = typing && [...this.list.querySelectorAll(".lot")].find((one) => one.dataset.lot === typing.lot);
      if (!lot) { return; }
      const text = lot.querySelector("textarea");
      text.value = typing.said;
      text.dataset.shown = typing.shown;
      text.focus();
      text.setSelectionRange(typing.at, typing.at);
    }

    form() {
      const number = el("input", { id: "lot-number", name: "lot", autocomplete: "off", maxLength: 20 });
      const remarks = el("textarea", { id: "lot-remarks", name: "remarks", rows: 2, maxLength: 2000 });
      const made = el("form", { className: "note-lot" }, el("p", {}, el("label", { htmlFor: "lot-number" }, "Lot number"), " ", number),
        el("p", {}, el("label", { htmlFor: "lot-remarks" }, "Remarks"), " ", remarks), el("p", {}, el("button", { type: "submit" }, "Note it")));
      lots.keepTyped("typed into the book", number, remarks);
      made.onsubmit = (event) => {
        event.preventDefault();
        const lot = number.value.trim();
        if (this.try(() => book.note(lot, "", null, remarks.value, new Date().toISOString()), `Lot ${lot} is noted.`)) { made.reset(); lots.remember("typed into the book", ""); } else { number.focus(); }
      };
      return made;
    }

    lot(one, open) {
      const parts = Object.entries(one.parts);
      const head = parts.length ? parts[0][1].ranking[0].join(": ") : one.remarks.split("\n")[0];
      const made = el("details", { open, className: "lot" }, el("summary", {}, `${one.lot}${head ? ` – ${head}` : ""}`),
        ...parts.map(([facet, part]) => this.part(facet, part)), this.remarks(one),
        el("p", { className: "row" }, parts.length ? el("a", { href: new URL(`sheets/for-an-expert/#lot=${encodeURIComponent(one.lot)}`, ROOT).href }, "Sheet for an expert") : null,
          careful("Erase this lot", "Erase it for good?", () => this.try(() => book.remove(one.lot), `Lot ${one.lot} is erased.`))),
        el("p", { className: "noted" }, `Noted on ${day(one.at)}.`));
      made.dataset.lot = one.lot;
      return made;
    }

    part(facet, part) {
      const again = el("a", { href: new URL(`key/${facet}/#${part.where}`, ROOT).href }, "Open in the key");
      return el("section", {}, el("h2", {}, part.label), el("p", {}, part.verdict), el("ul", {}, ...part.ranking.map(([name, sure]) => el("li", {}, `${name}: ${sure}`))),
        el("details", {}, el("summary", {}, "What was answered"), el("ul", {}, ...part.answers.map(([, asked, said]) => el("li", {}, `${asked} ${said}`)))), el("p", {}, again));
    }

    remarks(one) {
      const text = el("textarea", { rows: 3, value: one.remarks, maxLength: 2000, ariaLabel: `Remarks on lot ${one.lot}` });
      text.dataset.shown = one.remarks;
      text.onchange = () => this.try(() => book.remark(one.lot, text.value, text.dataset.shown), `The remarks on lot ${one.lot} are kept.`);
      return el("p", {}, text);
    }

    save(words, ending, type) {
      const button = el("button", { type: "button" }, words);
      button.onclick = () => {
        const made = ending === "csv" ? "\ufeff" + lots.csv(book.all()) : lots.text(book.all()); /* the mark tells spreadsheets that it is UTF-8 */
        const link = el("a", { href: URL.createObjectURL(new Blob([made], { type: `${type};charset=utf-8` })), download: `lot-book.${ending}` });
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 10000);
      };
      return button;
    }

    eraser() {
      return careful("Erase the whole book", "Erase every lot for good?", () => this.try(() => book.erase(), "The lot book is empty."));
    }
  }

  ClockRef.onPage(function (page) {
    const place = page.querySelector(".lot-book");
    if (place) { ClockRef.lotPage = new Page(place); }
  });
}());
