/* The form of a calculation: reads the fields, shows the answer with its working, keeps what was typed in the address. */
(function () {
  "use strict";
  const N = ClockRef.number, G = ClockRef.given, W = ClockRef.working, V = ClockRef.sumsView;
  const KNOWN_ERRORS = () => [G.GivenError, ClockRef.answer.NoAnswer, N.NumberError];
  const SMALLEST_TYPE = 0.7; // of the usual size; formulas that are still too wide scroll sideways
  const SHEET = 600, ON_SHEET = 0.88 / 1.02; // px across a sheet; size of a formula there, beside that on the screen
  const LONGEST_ON_LINE = 45; // letters beside a label on paper

  class Form {
    constructor(form) {
      this.form = form;
      this.calculation = ClockRef.calculations[form.dataset.sum];
      this.output = form.querySelector(".answer");
      this.touched = false;
      this.units = new ClockRef.FormUnits(this);
      const tapping = form.querySelector(".tapping");
      if (tapping) this.tapping = new ClockRef.Tapping(this, tapping);
      form.hidden = false;
      form.addEventListener("submit", (event) => { event.preventDefault(); this.submitted(); });
      form.addEventListener("input", () => this.show());
      form.addEventListener("change", () => this.show());
      form.addEventListener("click", (event) => this.pressed(event.target.closest("button[data-do]")));
      window.addEventListener("hashchange", () => { if (location.hash.slice(1) !== this.address()) { this.load(); this.show(); } });
      window.addEventListener("beforeprint", () => this.paper());
      this.load();
      this.show();
    }

    field(name) { return this.form.elements.namedItem(name); }
    names() { return [...this.calculation.inputs, ...this.calculation.steps].map((part) => part.name).filter((name) => this.field(name)); }
    part(name) { return this.form.querySelector(name); }

    /** What stands in the fields, each with the unit chosen beside it when none was typed. */
    typed() {
      const texts = {};
      for (const name of this.names()) {
        const text = this.units.full(name), given = this.calculation.inputs.some((field) => field.name === name);
        if (text.trim() || given) texts[name] = text;
      }
      return texts;
    }

    submitted() {
      this.touched = true;
      this.show();
      const wrong = this.part('[aria-invalid="true"]');
      if (!wrong) return;
      if (wrong.closest("details")) wrong.closest("details").open = true;
      wrong.focus();
    }

    pressed(button) {
      if (!button) return;
      const todo = { example: () => this.example(), clear: () => this.clear(), copy: () => this.copy(), print: () => window.print(), convert: () => { this.units.convert(button.dataset.name); this.show(); } };
      todo[button.dataset.do]();
    }

    example() {
      this.clear();
      for (const field of this.calculation.inputs) this.units.put(field.name, field.example || "");
      this.show();
    }

    clear() {
      for (const name of this.names()) this.units.put(name, "");
      for (const field of this.calculation.inputs) if (field.default) this.units.put(field.name, field.default);
      this.touched = false;
      this.show();
    }

    /** Fills the form from the address; what stands there as nothing was left empty on purpose. */
    load() {
      const kept = new URLSearchParams(location.hash.slice(1));
      for (const name of this.names()) if (kept.has(name)) this.units.put(name, kept.get(name));
      if (this.part(".known") && this.calculation.steps.some((step) => kept.has(step.name))) this.part(".known").open = true;
    }

    address() {
      const texts = this.typed(), kept = new URLSearchParams();
      for (const [name, text] of Object.entries(texts)) {
        const preset = (this.calculation.inputs.find((each) => each.name === name) || {}).default || "";
        if (text.trim() !== preset) kept.set(name, text);
      }
      return kept.toString();
    }

    show() {
      const address = this.address();
      history.replaceState(null, "", address ? `#${address}` : location.pathname + location.search);
      this.form.querySelectorAll(".error").forEach((place) => this.complain(place, ""));
      this.work();
      if (this.error) this.fail(this.error);
      else this.output.innerHTML = V.answerHtml(this.calculation, this.answered);
      this.part(".working").innerHTML = this.answered ? V.workingHtml(this.calculation, this.answered) : "";
      this.part(".after").hidden = !this.answered;
      this.part(".after .hint").textContent = "";
      this.form.classList.toggle("answered", Boolean(this.answered));
      this.units.hints();
      this.found();
      if (this.tapping) this.tapping.show(this.answered);
      this.form.dispatchEvent(new CustomEvent("answered", { detail: this.answered }));
      cancelAnimationFrame(this.fitting);
      this.fitting = requestAnimationFrame(() => fit(this.form)); // measured once, before it is seen
    }

    /** Works the sum out, unless it was worked out from the very same texts: a search for a blank may take a while. */
    work() {
      const typed = this.typed(), key = JSON.stringify(typed);
      if (key === this.worked) return;
      [this.worked, this.answered, this.error] = [key, null, null];
      try {
        this.answered = ClockRef.answer.answer(this.calculation, typed);
      } catch (error) {
        if (!KNOWN_ERRORS().some((kind) => error instanceof kind)) throw error;
        this.error = error;
      }
    }

    /** Says at a field left empty what was found for it. */
    found() {
      this.form.querySelectorAll("p.found").forEach((old) => old.remove());
      if (!this.answered || !this.answered.solved) return;
      const { blank } = this.answered, note = document.createElement("p");
      note.className = "found";
      note.textContent = "Left empty; worked out: ";
      note.insertAdjacentHTML("beforeend", V.withUnit(ClockRef.carried.printFound(this.answered, blank), this.calculation.inputs.find((field) => field.name === blank).unit));
      this.part(`#error-${blank}`).before(note);
    }

    /** A sentence beside each field that is wrong; one that is only still empty is left in peace until one asks. */
    fail(error) {
      const each = error instanceof G.GivenError ? [error, ...error.others] : [];
      for (const { field, message } of each) {
        if (this.touched || this.field(field).value.trim()) this.complain(this.part(`#error-${field}`), message);
      }
      this.output.innerHTML = each.length ? "" : `<p>${W.escape(error.message)}.</p>`;
    }

    complain(place, text) {
      place.textContent = text ? text + "." : "";
      place.hidden = !text;
      const field = this.field(place.id.replace("error-", ""));
      if (text) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }

    /** What stands on paper only: the cautions in full, long lists in full, the limits, the source and where the sheet came from. */
    paper() {
      document.querySelectorAll("details.caution").forEach((caution) => { caution.open = true; });
      for (const name of this.names()) {
        const field = this.field(name), long = field.value.length > LONGEST_ON_LINE && field.tagName === "INPUT";
        if (long) field.parentNode.dataset.typed = field.value;
        else delete field.parentNode.dataset.typed;
      }
      const { limits, source } = this.form.dataset;
      this.part(".paper").innerHTML = [`Where it holds: ${limits}`, `Source: ${source}.`, location.href].map((line) => `<p>${W.escape(line)}</p>`).join("");
    }

    async copy() {
      const { limits, source } = this.form.dataset, said = this.part(".after .hint");
      const text = V.asText(this.calculation, this.answered, { question: document.querySelector("h1").textContent, limits, source, address: location.href });
      try {
        await navigator.clipboard.writeText(text);
        said.textContent = "Copied.";
      } catch (refused) {
        said.textContent = "This browser does not let a page copy; mark the text, or print.";
      }
    }
  }

  /** Sets a formula that is wider than the screen in smaller type, down to a size that can still be read; what must be scrolled is marked. */
  function fit(place) {
    for (const box of place.querySelectorAll(".formula")) {
      const formula = box.firstElementChild;
      formula.style.removeProperty("--fit");
      const width = box.scrollWidth, share = box.clientWidth / width;
      if (share < 1) formula.style.setProperty("--fit", Math.max(share * 0.98, SMALLEST_TYPE));
      formula.style.setProperty("--fit-paper", Math.min(1, SHEET / (width * ON_SHEET)));
    }
    for (const box of place.querySelectorAll(".formula, .wide")) box.classList.toggle("scrolls", box.scrollWidth > box.clientWidth + 1);
  }

  ClockRef.onPage((page) => {
    page.querySelectorAll("form[data-sum]").forEach((form) => new Form(form));
    fit(page);
  });
})();
