/* Numbers as evidence, on their page. What was typed stands in the address, so that Back, reload and a sent link keep it. */
(function () {
  "use strict";
  const SHOWN = 8, HALF_A_MINUTE = 30000;

  function el(tag, properties, ...children) {
    const made = Object.assign(document.createElement(tag), properties);
    made.append(...children.filter(Boolean));
    return made;
  }

  class Numbers {
    constructor(form) {
      this.form = form;
      this.output = form.querySelector(".answer");
      this.rows = ClockRef.numbersData.measures;
      this.taps = 0;
      new URLSearchParams(location.hash.slice(1)).forEach((text, name) => { if (form.elements[name]) { form.elements[name].value = text; } });
      form.hidden = false;
      form.addEventListener("input", () => this.show());
      form.addEventListener("submit", (event) => { event.preventDefault(); this.show(); });
      form.querySelector('[data-do="clear"]').addEventListener("click", () => { this.rows.forEach((row) => { form.elements[row.name].value = ""; }); this.show(); });
      this.tapper = form.querySelector('[data-do="tap"]');
      this.tapper.addEventListener("click", () => this.tap());
      this.show();
    }

    /* The first tap is nought and starts the half minute. */
    tap() {
      if (!this.since) {
        this.since = performance.now();
        this.taps = 0;
        setTimeout(() => this.tapped(), HALF_A_MINUTE);
      } else {
        this.taps += 1;
      }
      this.tapper.textContent = `${this.taps} – go on for half a minute`;
    }

    tapped() {
      this.since = 0;
      this.form.elements[ClockRef.numbersData.ticks].value = String(this.taps);
      this.tapper.textContent = "Tap again at every tick";
      this.show();
    }

    typed() {
      const texts = {}, numbers = {};
      this.rows.forEach((row) => {
        const text = this.form.elements[row.name].value, place = this.form.querySelector(`#error-${row.name}`);
        place.hidden = true;
        if (!text.trim()) { return; }
        texts[row.name] = text;
        try { numbers[row.name] = ClockRef.numbers.read(row, text); } catch (error) { place.textContent = error.message; place.hidden = false; }
        this.form.elements[row.name].setAttribute("aria-invalid", String(!place.hidden));
      });
      history.replaceState(null, "", `#${new URLSearchParams(texts)}`);
      return numbers;
    }

    show() {
      const numbers = this.typed();
      this.output.replaceChildren(...(Object.keys(numbers).length ? this.said(ClockRef.numbers.judge(numbers), numbers) : []).filter(Boolean));
    }

    said(found, numbers) {
      const compared = this.rows.some((row) => row.allowed && numbers[row.name]);
      const names = (list) => list.map((name) => this.rows.find((row) => row.name === name).says.split(",")[0].toLowerCase()).join(", ");
      const line = (one, words) => el("li", {}, el("a", { href: this.form.dataset.root + one.count.url }, one.count.name), `: ${words}`);
      const list = (heading, met, words) => met.length ? el("section", {}, el("h3", {}, heading),
        el("ul", {}, ...met.slice(0, SHOWN).map((one) => line(one, words(one)))), met.length > SHOWN ? el("p", {}, `And ${met.length - SHOWN} more.`) : null) : null;
      return [
        found.together ? el("p", { className: found.belong ? "" : "caution" }, found.together) : null,
        compared && !found.fitting.length ? el("p", {}, "No standard count fits all of this.") : null,
        list("Standard counts that fit", found.fitting, (one) => names(one.fits)),
        list("Contradicted", found.contradicted, (one) => `fits ${names(one.fits)}; contradicted by ${names(one.against)}`),
        this.onward(found.answers),
      ];
    }

    onward(answers) {
      if (!answers.length) { return null; }
      const hash = new URLSearchParams(answers.map((row) => [row.question, row.answer]));
      const ways = ClockRef.numbersData.facets.slice(0, 3).map((facet) => el("li", {}, el("a", { href: `${this.form.dataset.root}key/${facet.id}/#${hash}` }, facet.label)));
      return el("section", {}, el("h3", {}, "For the key"), el("ul", {}, ...answers.map((row) => el("li", {}, row.says))), el("p", {}, "Go on with these answers:"), el("ul", {}, ...ways));
    }
  }

  ClockRef.onPage(function (page) {
    const form = page.querySelector("form.numbers");
    if (form) { new Numbers(form); }
  });
}());
