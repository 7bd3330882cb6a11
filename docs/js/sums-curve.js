/* The curve of a sum, drawn anew with the visitor's figures, and a dot where his own sum lies: after build_tools/figures/curve.py. */
(function () {
  "use strict";
  const N = ClockRef.number, G = ClockRef.given, W = ClockRef.working;
  const POINTS = 60, ROWS = 6, FIGURES = 5, WIDTH = 328, TOP = 34, BOTTOM = 214, RIGHT = 316, LETTER = 6.72, STEPS = [1, 2, 2.5, 5, 10];
  const MONTHS = ["Jan", "Mar", "May", "Jul", "Sep", "Nov"], DAY_MS = 86400000;

  class Curve {
    constructor(figure) {
      this.figure = figure;
      this.form = document.querySelector(`form[data-sum="${figure.dataset.sum}"]`);
      this.calculation = ClockRef.calculations[figure.dataset.sum];
      this.across = this.calculation.inputs.find((field) => field.name === figure.dataset.across);
      this.example = this.parts().map((part) => part.innerHTML);
      this.form.addEventListener("answered", (event) => this.show(event.detail));
    }

    /** What is drawn anew: the drawing, its caption, and the figures behind it. */
    parts() { return ["svg", "figcaption", "tbody"].map((name) => this.figure.querySelector(name)); }

    /** The curve of what was answered; that of the worked example where nothing was, or where it gives no curve. */
    show(answered) {
      const points = answered ? this.points(answered) : [];
      if (points.length < 2) {
        this.parts().forEach((part, place) => { part.innerHTML = this.example[place]; });
        return;
      }
      const [svg, caption, body] = this.parts(), { up } = this.figure.dataset, own = { x: this.place(answered.inputs[this.across.name]), y: N.toFloat(answered.values[up]) };
      svg.innerHTML = svg.querySelector("title").outerHTML + svg.querySelector("desc").outerHTML + drawn(points, own, this.words());
      const held = this.calculation.inputs.filter((field) => field !== this.across && field.name in answered.inputs).map((field) => `${field.label.toLowerCase()} ${this.written(field, answered)}`);
      caption.textContent = `${this.figure.dataset.title}, with your figures. The dot is your sum: ${this.written(this.across, answered)} gives ${this.result(answered, up)}.${held.length ? ` Held fast: ${held.join(", ")}.` : ""}`;
      body.innerHTML = points.filter((_, place) => place % Math.max(1, Math.floor(points.length / ROWS)) === 0)
        .map(({ words, y }) => `<tr><td>${W.escape(words)}</td><td>${N.significant(y, FIGURES)}</td></tr>`).join("");
    }

    words() {
      const { acrossWords, upWords } = this.figure.dataset;
      return { across: acrossWords.split("\n"), up: upWords.split("\n"), months: this.across.type === "date" };
    }

    result(answered, name) {
      const found = answered.results.find((each) => each.name === name);
      return found ? `${N.forPage(found.shown)} ${G.symbol(found.unit)}`.trim() : N.forPage(N.significant(answered.values[name], FIGURES));
    }

    written(field, answered) {
      const choice = (field.choices || []).find((each) => each.value === answered.inputs[field.name]);
      return choice ? choice.label : `${ClockRef.carried.printFound(answered, field.name)} ${G.symbol(field.unit)}`.trim();
    }

    /** Where a value of the field stands along the bottom: days of its year for a date. */
    place(value) { return this.across.type === "date" ? (Date.parse(value) - Date.parse(`${value.slice(0, 4)}-01-01`)) / DAY_MS : N.toFloat(value); }

    /** The sum worked along the bottom, as far as the visitor's own value at least; places without an answer are left out. */
    points(answered) {
      const inputs = answered.inputs, { from, to, up } = this.figure.dataset;
      return this.values(inputs[this.across.name], from, to).map((value) => {
        try {
          const y = ClockRef.answer.workSteps(this.calculation, { ...inputs, [this.across.name]: value })[up];
          return { x: this.place(value), y: N.toFloat(y), words: G.written(value) };
        } catch (error) {
          if (error instanceof N.NumberError) return null;
          throw error;
        }
      }).filter(Boolean);
    }

    values(own, from, to) {
      if (this.across.type === "date") {
        const first = Date.parse(`${own.slice(0, 4)}-01-01T00:00:00Z`);
        return Array.from({ length: POINTS + 1 }, (_, step) => new Date(first + step * 6 * DAY_MS).toISOString().slice(0, 10));
      }
      const mine = N.toFloat(own), low = Math.min(mine, Number(from)), high = Math.max(mine, Number(to)), whole = this.across.type === "whole";
      const size = whole ? Math.max(1, Math.floor((high - low) / POINTS)) : (high - low) / POINTS;
      return Array.from({ length: Math.floor((high - low) / size + 1e-9) + 1 }, (_, step) => N.read((low + step * size).toFixed(whole ? 0 : 6)));
    }
  }

  /** Round values from one end of an axis to the other, with their texts. */
  function marks(least, most) {
    const raw = (most - least) / 5, size = 10 ** Math.floor(Math.log10(raw)), step = STEPS.map((factor) => factor * size).find((each) => each >= raw * 0.999);
    const places = Math.max(0, -Math.floor(Math.log10(step) + 1e-9) + (Math.abs(step / 10 ** Math.floor(Math.log10(step)) - 2.5) < 1e-9 ? 1 : 0));
    const first = Math.ceil(least / step - 1e-9), last = Math.floor(most / step + 1e-9);
    return Array.from({ length: last - first + 1 }, (_, n) => [(first + n) * step, N.forPage(N.fixed((first + n) * step, places))]);
  }

  /** The range up the side: the curve's own, down to nought where that is near. */
  function room(low, high) {
    if (low === high) return [low - 1, high + 1];
    return [low > 0 && low < (high - low) * 2 ? 0 : low, high < 0 && high > (low - high) * 2 ? 0 : high];
  }

  const line = (style, ...points) => `<path class="${style}" d="M${points.map((point) => point.map((one) => one.toFixed(2)).join(" ")).join("L")}"/>`;
  const text = (x, y, words, style, anchor) => `<text class="${style}" text-anchor="${anchor}" x="${x.toFixed(2)}" y="${y.toFixed(2)}">${W.escape(words)}</text>`;
  const inside = (x, words) => Math.min(Math.max(x, (words.length * LETTER) / 2), WIDTH - (words.length * LETTER) / 2);

  function drawn(points, own, words) {
    const xs = points.map(({ x }) => x), [low, high] = room(...[Math.min, Math.max].map((end) => end(own.y, ...points.map(({ y }) => y))));
    const first = Math.min(...xs), last = Math.max(...xs), upMarks = marks(low, high), left = 14 + Math.max(...upMarks.map(([, each]) => each.length * LETTER));
    const at = (x, y) => [left + ((x - first) / (last - first)) * (RIGHT - left), BOTTOM - ((y - low) / (high - low)) * (BOTTOM - TOP)];
    const acrossMarks = words.months ? MONTHS.map((month, place) => [Math.round(place * 60.9), month]) : marks(first, last);
    return [
      line("line", [left, BOTTOM], [RIGHT, BOTTOM]), line("line", [left, TOP], [left, BOTTOM]),
      ...acrossMarks.map(([value, each]) => { const [x] = at(value, low); return line("line", [x, BOTTOM], [x, BOTTOM + 4]) + text(inside(x, each), BOTTOM + 18, each, "small soft", "middle"); }),
      ...upMarks.map(([value, each]) => { const [, y] = at(first, value); return line("hair", [left, y], [RIGHT, y]) + text(left - 5, y + 4, each, "small soft", "end"); }),
      ...words.up.map((each, place, all) => text(4, TOP - 16 - 13 * (all.length - 1 - place), each, "small", "start")),
      ...words.across.map((each, place) => text(inside((left + RIGHT) / 2, each), BOTTOM + 38 + 13 * place, each, "small", "middle")),
      line("line accent", ...points.map(({ x, y }) => at(x, y))),
      `<circle class="solid" cx="${at(own.x, own.y)[0].toFixed(2)}" cy="${at(own.x, own.y)[1].toFixed(2)}" r="4"/>`,
    ].join("");
  }

  ClockRef.onPage((page) => page.querySelectorAll("figure[data-sum]").forEach((figure) => new Curve(figure)));
})();
