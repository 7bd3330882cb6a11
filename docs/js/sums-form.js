/* The form of a calculation: reads the fields, shows the answer with its working, keeps what was typed in the address. */
(function () {
  "use strict";
  const N = ClockRef.number, G = ClockRef.given, W = ClockRef.working;
  const KNOWN_ERRORS = () => [G.GivenError, ClockRef.answer.NoAnswer, N.NumberError];

  class Form {
    constructor(form) {
      this.form = form;
      this.calculation = ClockRef.calculations[form.dataset.sum];
      this.output = form.querySelector(".answer");
      this.touched = false;
      form.hidden = false;
      form.addEventListener("submit", (event) => { event.preventDefault(); this.touched = true; this.show(); });
      form.addEventListener("input", () => this.show());
      form.addEventListener("change", () => this.show());
      form.addEventListener("click", (event) => this.pressed(event.target.closest("button[data-do]")));
      window.addEventListener("hashchange", () => { if (location.hash.slice(1) !== this.address()) { this.load(); this.show(); } });
      this.load();
      this.show();
    }

    field(name) { return this.form.elements.namedItem(name); }
    unit(name) { return this.form.elements.namedItem(`${name}-unit`); }
    names() { return [...this.calculation.inputs, ...this.calculation.steps].map((part) => part.name).filter((name) => this.field(name)); }

    /** What stands in the fields, each with the unit chosen beside it when none was typed. */
    typed() {
      const texts = {};
      for (const name of this.names()) {
        const text = this.field(name).value, unit = this.unit(name);
        const bare = unit && unit.selectedIndex > 0 && /[\d½¼¾⅓⅔⅛⅜⅝⅞]/.test(text) && G.splitQuantity(text).every((piece) => !piece[1]);
        const given = this.calculation.inputs.some((field) => field.name === name);
        if (text.trim() || given) texts[name] = bare ? `${text} ${unit.value}` : text;
      }
      return texts;
    }

    pressed(button) {
      if (!button) return;
      const todo = { example: () => this.example(), clear: () => this.clear(), copy: () => this.copy(button) };
      todo[button.dataset.do]();
    }

    example() {
      this.clear();
      for (const field of this.calculation.inputs) this.put(field.name, field.example || "");
      this.show();
    }

    clear() {
      for (const name of this.names()) this.put(name, "");
      for (const field of this.calculation.inputs) if (field.default) this.put(field.name, field.default);
      this.touched = false;
      this.show();
    }

    /** Writes into a field; a number with a unit that the field offers goes into both. */
    put(name, text) {
      const unit = this.unit(name), pieces = unit && text ? G.splitQuantity(text) : [];
      if (unit) unit.selectedIndex = 0;
      if (pieces.length === 1 && pieces[0][1] && [...unit.options].some((option) => option.value === pieces[0][1])) {
        unit.value = pieces[0][1];
        text = pieces[0][0];
      }
      this.field(name).value = text;
    }

    load() {
      const kept = new URLSearchParams(location.hash.slice(1));
      for (const name of this.names()) if (kept.has(name)) this.put(name, kept.get(name));
    }

    address() {
      const texts = this.typed(), kept = new URLSearchParams();
      for (const [name, text] of Object.entries(texts)) {
        const field = this.calculation.inputs.find((each) => each.name === name);
        if (text.trim() && !(field && field.default === text)) kept.set(name, text);
      }
      return kept.toString();
    }

    show() {
      const address = this.address();
      history.replaceState(null, "", address ? `#${address}` : location.pathname + location.search);
      this.form.querySelectorAll(".error").forEach((place) => this.complain(place, ""));
      try {
        this.answered = ClockRef.answer.answer(this.calculation, this.typed());
        this.output.innerHTML = this.answerHtml();
      } catch (error) {
        if (!KNOWN_ERRORS().some((kind) => error instanceof kind)) throw error;
        this.answered = null;
        this.fail(error);
      }
      this.form.querySelector('button[data-do="copy"]').hidden = !this.answered;
    }

    /** The sentence beside the field that it speaks of; a field that is only still empty is left in peace until one asks. */
    fail(error) {
      const empty = error instanceof G.GivenError && !this.field(error.field).value.trim();
      const place = error instanceof G.GivenError && this.form.querySelector(`#error-${error.field}`);
      if (place && (!empty || this.touched)) this.complain(place, error.message);
      this.output.innerHTML = place ? "" : `<p>${W.escape(error.message)}.</p>`;
    }

    complain(place, text) {
      place.textContent = text ? text + "." : "";
      place.hidden = !text;
      const field = this.field(place.id.replace("error-", ""));
      if (text) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }

    answerHtml() {
      const { results, blank, solved, agreement } = this.answered;
      const rows = results.map((result) => `<div><dt>${W.escape(result.label)}</dt><dd>${this.resultHtml(result)}</dd></div>`);
      if (solved) rows.unshift(`<div><dt>${W.escape(this.labelOf(blank))}</dt><dd>${this.inputHtml(blank)}</dd></div>`);
      const tables = this.answered.tables.map((table) => this.tableHtml(table)).join("");
      return `<dl>${rows.join("")}</dl>${this.verdictHtml(solved, agreement)}${tables}${this.workingHtml()}`;
    }

    /** A table of the answer; columns in which nothing stands are left out. */
    tableHtml({ label, columns, rows }) {
      const shown = columns.map((column, place) => [column, place]).filter(([, place]) => rows.some((row) => row[place]));
      const heads = shown.map(([column]) => `<th scope="col">${W.escape(`${column.label} ${G.symbol(column.unit)}`.trim())}</th>`).join("");
      const body = rows.map((row) => `<tr>${shown.map(([, place]) => `<td>${this.printed(row[place])}</td>`).join("")}</tr>`).join("");
      return `<h3>${W.escape(label)}</h3><div class="wide" tabindex="0" role="region" aria-label="${W.escape(label)}"><table><thead><tr>${heads}</tr></thead><tbody>${body}</tbody></table></div>`;
    }

    labelOf(name) { return this.calculation.inputs.find((field) => field.name === name).label; }

    resultHtml(result) {
      const shown = [[result.shown, result.unit], ...result.also.map((other) => [other.shown, other.unit])];
      return shown.map(([text, unit]) => `<span data-value="${W.escape(text)}">${this.printed(text)} ${W.escape(G.symbol(unit))}</span>`.replace(" </span>", "</span>")).join(" = ");
    }

    printed(text) { return /^-?[\d.]+(e-?\d+)?$/.test(text) ? N.forPage(text) : W.escape(text); }

    inputHtml(name) {
      const unit = this.calculation.inputs.find((field) => field.name === name).unit;
      const text = G.written(this.answered.inputs[name]);
      return `<span data-value="${W.escape(text)}">${this.printed(text)} ${W.escape(G.symbol(unit))}</span>`.replace(" </span>", "</span>");
    }

    verdictHtml(solved, agreement) {
      if (!solved) {
        return Object.entries(agreement).map(([name, agrees]) => {
          const label = this.calculation.steps.find((step) => step.name === name).label;
          return `<p>${W.escape(label)}: what you gave ${agrees ? "agrees" : "does not agree"} with this.</p>`;
        }).join("");
      }
      const written = (list) => list.map((candidate) => W.escape(G.written(candidate.value))).join(", ");
      if (!solved.fits.length) return `<p>Nothing fits exactly; this comes nearest.</p>`;
      const several = solved.fits.length > 1 ? `<p>${solved.fits.length} values fit: ${written(solved.fits)}.</p>` : "";
      return several + (solved.nearest.length ? `<p>Next to it: ${written(solved.nearest.slice(0, 3))}.</p>` : "");
    }

    workingHtml() {
      if (!this.calculation.steps.length) return "";
      const steps = this.calculation.steps.map((step) => {
        const line = W.line(step, this.answered);
        return `<p>${W.escape(line.label)}</p><div class="formula" tabindex="0" role="group" aria-label="Working">${W.aligned([["", line.working], ["", line.result]])}</div>`;
      });
      return `<h3>Working</h3>${steps.join("")}`;
    }

    async copy(button) {
      const { inputs, results, tables } = this.answered;
      const lines = [
        document.querySelector("h1").textContent,
        ...this.calculation.inputs.filter((field) => field.name in inputs).map((field) => `${field.label}: ${G.written(inputs[field.name])} ${G.symbol(field.unit)}`.trim()),
        ...results.map((result) => `${result.label} = ${result.shown} ${G.symbol(result.unit)}`.trim()),
        ...tables.flatMap((table) => [table.label, ...table.rows.map((row) => row.filter(Boolean).join("  "))]),
        `Limits: ${this.form.dataset.limits}`, `Source: ${this.form.dataset.source}`, location.href,
      ];
      try {
        await navigator.clipboard.writeText(lines.join("\n"));
        button.textContent = "Copied";
      } catch (refused) {
        button.textContent = "This browser does not let a page copy";
      }
    }
  }

  ClockRef.onPage((page) => page.querySelectorAll("form[data-sum]").forEach((form) => new Form(form)));
})();
