/* Tapping along with a clock: each tap is a tick, or every so many ticks; count and time go into the form, and standard counts that fit are named. */
(function () {
  "use strict";
  const ClockRef = window.ClockRef, N = ClockRef.number;
  const BOUNCE = 60, MINUTES = 60, SHOWN = 8; // ms; minutes in an hour; counts in the list
  const LONG = 1.6, SHORT = 0.5; // gaps, beside the middle one, that a missed or doubled tap leaves

  class Tapping {
    constructor(owner, place) {
      this.owner = owner;
      this.place = place;
      this.button = place.querySelector(".tap");
      this.fitting = owner.form.querySelector(".fitting");
      place.hidden = false;
      this.button.addEventListener("pointerdown", (event) => this.tap(event.timeStamp));
      this.button.addEventListener("keydown", (event) => {
        if (event.repeat || (event.key !== " " && event.key !== "Enter")) return;
        event.preventDefault();
        this.tap(event.timeStamp);
      });
      place.querySelector('[data-tap="again"]').addEventListener("click", () => this.again());
      place.querySelector("input").addEventListener("input", () => this.fill());
      this.again();
    }

    say(text) { this.place.querySelector('[role="status"]').textContent = text; }

    again() {
      this.times = [];
      this.button.textContent = "Tap here at every tick";
      this.say("");
    }

    /** Ticks from one tap to the next; 1 while nothing else that makes sense stands there. */
    step() {
      const typed = Number(this.place.querySelector("input").value);
      return Number.isInteger(typed) && typed > 0 ? typed : 1;
    }

    tap(time) {
      if (this.times.length && time - this.times[this.times.length - 1] < BOUNCE) return;
      this.times.push(time);
      this.button.textContent = this.times.length === 1 ? "First tick: go on" : `${this.times.length} taps: go on, or stop here`;
      this.fill();
    }

    fill() {
      const taps = this.times.length;
      if (taps < 2) return;
      const { count, time } = this.place.dataset;
      this.owner.units.put(count, String((taps - 1) * this.step() + 1));
      this.owner.units.put(time, ((this.times[taps - 1] - this.times[0]) / 1000).toFixed(2));
      this.owner.show();
      this.say(this.doubt());
    }

    /** A sentence when one gap is plainly unlike the others. */
    doubt() {
      const gaps = this.times.slice(1).map((time, place) => time - this.times[place]), middle = [...gaps].sort((a, b) => a - b)[Math.floor(gaps.length / 2)];
      if (gaps.length < 3) return "";
      if (Math.max(...gaps) > LONG * middle) return "One gap is much longer than the others: a tick was missed. Start again.";
      return Math.min(...gaps) < SHORT * middle ? "One gap is much shorter than the others: a tap too many. Start again." : "";
    }

    /** The standard counts whose beats lie within the error. */
    show(answered) {
      this.fitting.replaceChildren();
      if (!answered) return;
      const { beats, error, root } = this.place.dataset, data = ClockRef.numbersData;
      const [found, allowed] = [beats, error].map((name) => N.toFloat(answered.values[name]));
      const off = (count) => Math.abs(count.figures[data.ticks] * MINUTES - found);
      const met = data.counts.filter((count) => off(count) <= allowed).sort((a, b) => off(a) - off(b));
      const line = (count) => {
        const item = document.createElement("li"), link = document.createElement("a");
        link.href = root + count.url;
        link.textContent = count.name;
        item.append(link, `: ${Math.round(count.figures[data.ticks] * MINUTES)} an hour`);
        return item;
      };
      const heading = document.createElement("h2"), list = document.createElement("ul");
      heading.textContent = met.length ? `Standard counts within the error: ${met.length}${met.length > SHOWN ? `, the nearest ${SHOWN} here` : ""}` : "No standard count lies within the error";
      list.append(...met.slice(0, SHOWN).map(line));
      this.fitting.append(heading, ...(met.length ? [list] : []));
    }
  }

  ClockRef.Tapping = Tapping;
})();
