/* The units beside the fields of a form: which one a field begins with, and what is typed read in the one that is chosen. */
(function () {
  "use strict";
  const N = ClockRef.number, G = ClockRef.given, W = ClockRef.working;
  const KEPT = "units", FIGURES = 4, FIGURES_OF_THE_USUAL = 2;

  /** The unit that this visitor last chose, by the unit that a field has by itself. */
  function kept() {
    try {
      return JSON.parse(localStorage.getItem(KEPT)) || {};
    } catch (refused) {
      return {};
    }
  }

  function keep(own, chosen) {
    try {
      localStorage.setItem(KEPT, JSON.stringify({ ...kept(), [own]: chosen }));
    } catch (refused) { /* a browser that keeps nothing begins with the example's unit */ }
  }

  class FormUnits {
    constructor(owner) {
      this.owner = owner;
      this.changed = {};
      this.shown = {};
      for (const name of owner.names()) {
        if (!this.box(name)) continue;
        this.box(name).addEventListener("input", () => this.chosen(name)); // comes before "change", and before the form shows anything
        if (!owner.field(name).value) this.begin(name);
      }
    }

    box(name) { return this.owner.form.elements.namedItem(`${name}-unit`); }
    own(name) { return this.box(name).options[0].value; }
    part(name) { return this.owner.calculation.inputs.find((field) => field.name === name); }

    /** An empty field has the unit last chosen for such fields, else that of the example: inches chosen for a length don't turn threads to the inch into inches. */
    begin(name) {
      const box = this.box(name), wanted = kept()[this.own(name)], options = [...box.options];
      const usual = Math.max(0, options.findIndex((option) => option.defaultSelected)), base = G.unitNamed(options[usual].value).base;
      const place = options.findIndex((option) => option.value === wanted && G.unitNamed(wanted).base === base);
      box.selectedIndex = place < 0 ? usual : place;
    }

    /** Writes into a field; a number with a unit that the field offers goes into both. */
    put(name, text) {
      const box = this.box(name), pieces = box && text ? G.splitQuantity(text) : [];
      if (box && text) box.selectedIndex = 0;
      else if (box) this.begin(name);
      if (pieces.length === 1 && pieces[0][1] && [...box.options].some((option) => option.value === pieces[0][1])) {
        box.value = pieces[0][1];
        text = pieces[0][0];
      }
      this.owner.field(name).value = text;
      delete this.changed[name];
    }

    /** What was typed, and the direction of the compass beside it in a field that takes one. */
    parted(name) {
      const text = this.owner.field(name).value, field = this.part(name);
      return field && field.compass ? ClockRef.spellings.splitDirection(text) : [text, ""];
    }

    /** Whether a field holds a number without a unit, so that the box beside it counts. */
    bare(name) {
      const [text] = this.parted(name);
      return /[\d½¼¾⅓⅔⅛⅜⅝⅞]/.test(text) && !text.includes(":") && G.splitQuantity(text).every((piece) => !piece[1]);
    }

    /** What was typed, with the unit that counts. */
    full(name) {
      const [text, way] = this.parted(name), box = this.box(name);
      return box && box.selectedIndex > 0 && this.bare(name) ? `${text} ${box.value} ${way}`.trimEnd() : this.owner.field(name).value;
    }

    /** Another unit was chosen: empty fields of the same sort follow; a number that stands already is read in the new unit, or converted on demand. */
    chosen(name) {
      const own = this.own(name), before = this.last[name];
      keep(own, this.box(name).value);
      for (const other of this.owner.names()) if (other !== name && this.box(other) && this.own(other) === own && !this.owner.field(other).value) this.begin(other);
      this.changed[name] = this.bare(name) ? { from: before, text: this.owner.field(name).value } : null;
    }

    /** The number in the field, counted in one unit, as it is written in another; "" when it can't be. */
    turned(text, from, to, figures = FIGURES) {
      try {
        return N.trimmed(N.significant(G.convert(N.read(text), from, to), figures));
      } catch (error) {
        if (error instanceof N.NumberError) return "";
        throw error;
      }
    }

    /** Puts the converted number in place of the one that was typed in the unit before. */
    convert(name) {
      const { from, text } = this.changed[name];
      this.owner.field(name).value = this.turned(text, from, this.box(name).value);
      delete this.changed[name];
    }

    /** Rewrites what stands below each field that has a choice of units: what is usual, and how the number is read. */
    hints() {
      this.last = {};
      for (const name of this.owner.names()) {
        const box = this.box(name);
        this.owner.field(name).parentNode.classList.toggle("own-unit", /\d/.test(this.owner.field(name).value) && !this.bare(name));
        if (!box) continue;
        this.last[name] = box.value;
        const place = this.owner.form.querySelector(`#hint-${name}`), field = this.owner.field(name);
        const hint = [this.usual(name, place.dataset.usual), this.reading(name), this.offer(name)].filter(Boolean).join(" ");
        if (hint !== this.shown[name]) place.innerHTML = this.shown[name] = hint; // a button that is being pressed stays
        field.placeholder = box.options[box.selectedIndex].defaultSelected || !this.part(name).example ? this.asGiven(name) : " ";
        field.inputMode = box.selectedIndex === 0 && !(this.part(name).minimum || "").startsWith("-") ? "decimal" : "text";
      }
    }

    asGiven(name) {
      const { default: preset, example = "" } = this.part(name);
      if (preset) return preset;
      const pieces = G.splitQuantity(example);
      return (pieces.length === 1 ? pieces[0][0] : example) || " ";
    }

    usual(name, range) {
      if (!range) return "";
      const own = this.own(name), unit = this.box(name).value;
      const ends = range.split(" ").map((end) => (unit === own ? end : this.turned(end, own, unit, FIGURES_OF_THE_USUAL)));
      if (ends.includes("")) return "";
      if (N.toFloat(N.read(ends[0])) > N.toFloat(N.read(ends[ends.length - 1]))) ends.reverse();
      return `Usually ${ends.map(N.forPage).join(" to ")} ${W.escape(G.symbol(unit))}.`;
    }

    /** "39.14 in = 994.2 mm" for a number in another unit than the sum's own. */
    reading(name) {
      const unit = this.box(name).value, own = this.own(name), text = this.owner.field(name).value.trim();
      const turned = unit !== own && this.bare(name) ? this.turned(text, unit, own) : "";
      return turned && `${W.escape(text)} ${W.escape(G.symbol(unit))} = ${N.forPage(turned)} ${W.escape(G.symbol(own))}.`;
    }

    /** A button for whoever wanted the same length in another unit, not the same number. */
    offer(name) {
      const change = this.changed[name], unit = this.box(name).value;
      if (!change || change.text !== this.owner.field(name).value || change.from === unit) return "";
      const turned = this.turned(change.text, change.from, unit);
      return turned && `<button type="button" data-do="convert" data-name="${name}">Turn ${W.escape(change.text)} ${W.escape(G.symbol(change.from))} into ${N.forPage(turned)} ${W.escape(G.symbol(unit))}</button>`;
    }
  }

  ClockRef.FormUnits = FormUnits;
})();
