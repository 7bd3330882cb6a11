/* Puts the visitor's numbers into the gaps of the formulas: the twin of the second half of build_tools/formula/mathml.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, G = ClockRef.given;
  const FIRST_NUMBERS = 3, MOST_NUMBERS = 8; // of a list in a sum

  const escape = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;").replace(/'/g, "&#x27;");

  /** A printed number as MathML; a negative one in brackets where `tight`. */
  function number(text, tight = false) {
    const [mantissa, exponent] = text.split("e");
    const negative = mantissa.startsWith("-");
    let body = `<mn>${N.forPage(mantissa.replace(/^-+/, ""))}</mn>`;
    if (exponent) {
      const power = exponent.startsWith("-") ? `<mo>−</mo><mn>${exponent.slice(1)}</mn>` : `<mn>${exponent.replace(/^\++/, "")}</mn>`;
      body += `<mo>×</mo><msup><mn>10</mn><mrow>${power}</mrow></msup>`;
    }
    if (negative) body = `<mo>−</mo>${body}`;
    if (tight && (negative || exponent)) body = `<mo>(</mo>${body}<mo>)</mo>`;
    return negative || exponent ? `<mrow>${body}</mrow>` : body;
  }

  /** A value as it stands in a sum: a long list by its first numbers, its last and how many there are. */
  function inSum(value) {
    const long = Array.isArray(value) && value.length > MOST_NUMBERS;
    return long ? `${G.written(value.slice(0, FIRST_NUMBERS))} … ${G.written(value.slice(-1))} (${value.length} numbers)` : G.written(value);
  }

  function valueOf(value, tight) {
    if (typeof value === "string" || Array.isArray(value)) return `<mtext>${escape(inSum(value))}</mtext>`;
    return number(N.inWorking(value), tight);
  }

  function ratioOf(train) {
    const side = (place) => train.map((mesh) => `<mn>${mesh[place]}</mn>`).join("<mo>×</mo>");
    return `<mfrac><mrow>${side(0)}</mrow><mrow>${side(1)}</mrow></mfrac>`;
  }

  /** A layout with every gap filled by its number. */
  function withNumbers(parts, values) {
    return parts.map((part) => filled(part, values)).join("");
  }

  function filled(part, values) {
    if (typeof part === "string") return part;
    if ("value" in part) return valueOf(values[part.value], part.tight);
    if ("ratio" in part) return ratioOf(values[part.ratio]);
    if ("test" in part) return withNumbers(part.test(values) ? part.then : part.other, values);
    return values[part.of].map((value) => withNumbers(part.body, { ...values, [part.each]: value })).join(`<mo>${part.sign}</mo>`);
  }

  /** A printed result with its unit as MathML. */
  const quantity = (text, unit) => number(text) + (unit ? `<mspace width='0.25em'></mspace><mtext>${escape(unit)}</mtext>` : "");

  /** One step worked out: its label, the numbers put in, and the printed value. */
  function line(step, answered) {
    const value = answered.values[step.name];
    const end = typeof value === "string" ? `<mtext>${escape(value)}</mtext>` : quantity(N.inWorking(value), G.symbol(step.unit));
    return { label: step.label, working: withNumbers(step.working, answered.values), result: end };
  }

  /** The rows of one step, aligned: numbers put in, then the result. */
  function aligned(rows) {
    const cells = rows.map(([left, right]) =>
      `<mtr><mtd style="text-align:right">${left}</mtd><mtd><mo>=</mo></mtd><mtd style="text-align:left">${right}</mtd></mtr>`).join("");
    return `<math display="block"><mtable displaystyle="true">${cells}</mtable></math>`;
  }

  ClockRef.working = { withNumbers, number, quantity, line, aligned, escape };
})(typeof window === "undefined" ? globalThis : window);
