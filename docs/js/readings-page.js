/* Below a sum that takes readings: rows with their dates, kept on this device, saved as CSV, and drawn. */
(function () {
  "use strict";
  const R = ClockRef.readings;

  class Readings {
    constructor(place) {
      this.place = place;
      this.form = place.closest("form");
      this.key = `readings ${location.pathname}`;
      this.rows = this.kept();
      place.hidden = false;
      place.addEventListener("click", (event) => this.pressed(event.target.closest("button[data-reading]")));
      this.form.addEventListener("input", () => this.draw());
      this.form.addEventListener("click", () => this.draw());
      this.part("at").value = new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 16);
      this.list();
      this.draw();
    }

    part(name) { return this.place.querySelector(`[data-part="${name}"]`); }
    say(text) { this.part("said").textContent = text; }

    kept() {
      try {
        const rows = JSON.parse(localStorage.getItem(this.key) || "[]");
        return Array.isArray(rows) ? rows.filter((row) => row && typeof row.at === "string") : [];
      } catch (refused) {
        return [];
      }
    }

    keep() {
      try {
        localStorage.setItem(this.key, JSON.stringify(this.rows));
        this.say(`${this.rows.length} readings are kept on this device, nowhere else.`);
      } catch (refused) {
        this.say("This browser keeps nothing; save the readings as CSV before you leave.");
      }
      this.list();
    }

    pressed(button) {
      if (!button) return;
      const todo = { add: () => this.add(), use: () => this.use(), save: () => this.save(), forget: () => this.forget(), drop: () => this.drop(Number(button.dataset.row)) };
      todo[button.dataset.reading]();
    }

    add() {
      const at = this.part("at").value, typed = this.part("error").value.trim().replace("\u2212", "-").replace(",", ".");
      if (!at || typed === "" || !Number.isFinite(Number(typed))) {
        this.say("Give the time of the reading and the seconds ahead, such as 4.2, or -3 for behind.");
        return;
      }
      this.rows.push({ at, error: typed });
      this.part("error").value = "";
      this.keep();
      this.use();
    }

    drop(row) {
      this.rows.splice(row, 1);
      this.keep();
      this.use();
    }

    forget() {
      this.rows = [];
      this.keep();
      this.say("Forgotten.");
    }

    /** Puts the kept readings into the two fields of the sum. */
    use() {
      const { days, errors } = R.asLists(this.rows);
      this.form.elements.namedItem(this.place.dataset.across).value = days;
      this.form.elements.namedItem(this.place.dataset.up).value = errors;
      this.form.dispatchEvent(new Event("input", { bubbles: true }));
    }

    save() {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([R.asCsv(this.rows)], { type: "text/csv" }));
      link.download = "readings.csv";
      link.click();
      URL.revokeObjectURL(link.href);
    }

    list() {
      const item = (row, place) => {
        const line = document.createElement("li"), drop = document.createElement("button");
        line.textContent = `${row.at.replace("T", " ")}: ${row.error} s `;
        Object.assign(drop, { type: "button", textContent: "Take out" });
        Object.assign(drop.dataset, { reading: "drop", row: place });
        drop.setAttribute("aria-label", `Take out the reading of ${row.at.replace("T", " ")}`);
        line.append(drop);
        return line;
      };
      this.part("rows").replaceChildren(...this.rows.map(item));
      for (const name of ["use", "save", "forget"]) this.place.querySelector(`[data-reading="${name}"]`).hidden = !this.rows.length;
    }

    /** The points of the two fields and the line nearest to them, when they can be worked. */
    draw() {
      const numbers = (name) => this.form.elements.namedItem(name).value.split(/[;\s]+/).filter(Boolean).map((text) => Number(text.replace("\u2212", "-").replace(",", ".")));
      const xs = numbers(this.place.dataset.across), ys = numbers(this.place.dataset.up);
      const told = xs.length === ys.length && xs.length > 1 && [...xs, ...ys].every(Number.isFinite) && new Set(xs).size > 1;
      if (!told) {
        this.part("drawing").replaceChildren();
        return;
      }
      const exact = (values) => values.map((value) => ClockRef.number.read(value.toFixed(9)));
      const slope = ClockRef.number.toFloat(ClockRef.sums.slope(exact(xs), exact(ys)));
      this.part("drawing").innerHTML = R.drawing(xs.map((x, place) => [x, ys[place]]), slope);
    }
  }

  ClockRef.onPage((page) => page.querySelectorAll(".readings").forEach((place) => new Readings(place)));
})();
