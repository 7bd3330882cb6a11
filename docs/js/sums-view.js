/* How the answer of a calculation looks in the page, and as text to be copied. */
(function () {
  "use strict";
  const N = ClockRef.number, G = ClockRef.given, W = ClockRef.working;

  const NEAREST = 3, FIGURES = 6, FIGURES_OF_AN_ERROR = 3;
  const ROUNDED = "Rounded to what your figures carry, each taken as right to half its last digit, whole numbers to three figures. Measured finer? Type the zeros too, as in 50.00.";
  const MOST_COLUMNS = 4; // that stand side by side on a phone

  const labelOf = (calculation, name) => [...calculation.inputs, ...calculation.steps].find((part) => part.name === name).label;
  const printed = (text) => (/^-?[\d.]+(e-?\d+)?$/.test(text) ? N.forPage(text) : W.escape(text));
  const withUnit = (text, unit) => `${printed(text)} ${W.escape(G.symbol(unit))}`.trimEnd();
  const value = (text, unit) => `<span data-value="${W.escape(text)}">${withUnit(text, unit)}</span>`;
  const row = (label, shown, kind = "") => `<div${kind}><dt>${W.escape(label)}</dt><dd>${shown}</dd></div>`;
  const part = (calculation, name) => calculation.inputs.find((field) => field.name === name);

  /** What a result was before it was rounded to what the figures typed carry, and how far off it may be. */
  const carried = ({ unrounded, spread }) => (unrounded ? ` <small>(unrounded ${printed(unrounded)} ± ${printed(spread)})</small>` : "");

  /** The results, with what was solved for in front, what agrees, and the tables. */
  function answerHtml(calculation, answered) {
    const { results, blank, solved, agreement, tables } = answered;
    const rows = results.map((result) => row(result.label, [result, ...result.also].map((each) => value(each.shown, each.unit)).join(" = ") + carried(result)));
    if (solved) rows.unshift(row(`${labelOf(calculation, blank)}, found for the field left empty`, value(ClockRef.carried.printFound(answered, blank), part(calculation, blank).unit), ' class="found"'));
    const why = results.some((result) => result.unrounded) ? `<p class="hint">${ROUNDED}</p>` : "";
    return `<dl>${rows.join("")}</dl>${why}${solved ? solvedHtml(answered) : agreementHtml(calculation, agreement)}${tables.map(tableHtml).join("")}`;
  }

  /** A table of the answer; columns in which nothing stands are left out. */
  function tableHtml({ label, columns, rows }) {
    const shown = columns.map((column, place) => [column, place]).filter(([, place]) => rows.some((each) => each[place]));
    const heads = shown.map(([column]) => `<th scope="col">${W.escape(`${column.label} ${G.symbol(column.unit)}`.trim())}</th>`).join("");
    const cell = (each, [column, place]) => `<td data-head="${W.escape(column.label)}" data-unit="${W.escape(G.symbol(column.unit))}">${printed(each[place])}</td>`;
    const body = rows.map((each) => `<tr>${shown.map((one) => cell(each, one)).join("")}</tr>`).join("");
    return `<h2>${W.escape(label)}</h2><div class="wide${shown.length > MOST_COLUMNS ? " many" : ""}" tabindex="0" role="region" aria-label="${W.escape(label)}"><table><thead><tr>${heads}</tr></thead><tbody>${body}</tbody></table></div>`;
  }

  function agreementHtml(calculation, agreement) {
    return Object.entries(agreement).map(([name, agrees]) => `<p>${W.escape(labelOf(calculation, name))}: what you gave ${agrees ? "agrees" : "does not agree"} with this.</p>`).join("");
  }

  function solvedHtml({ solved, spread }) {
    const { fits, nearest } = solved, count = fits.length, written = (some) => some.map((each) => candidateText(each, spread)).join("; ");
    const several = count > 1 ? `${count} values fit: ${written(fits)}.` : "";
    const next = written(nearest.slice(0, NEAREST));
    const lines = count ? [several, next && `Next to ${count > 1 ? "them" : "it"}: ${next}.`] : [`Nothing fits exactly; these come nearest: ${next}.`];
    return lines.filter(Boolean).map((line) => `<p>${W.escape(line)}</p>`).join("");
  }

  /** "32, which gives 8557.71, off by -267.43"; the error alone would not say of what. */
  function candidateText({ value: found, gives, error }, spread) {
    return `${ClockRef.carried.printCandidate(found, spread)} (gives ${N.compact(gives, FIGURES)}, off by ${N.compact(error, FIGURES_OF_AN_ERROR)})`;
  }

  /** Each step with the numbers put in. */
  function workingHtml(calculation, answered) {
    const steps = calculation.steps.map((step) => {
      const line = W.line(step, answered), rows = [["", line.working], ["", line.result]];
      const once = typeof answered.values[step.name] === "string" || line.result.startsWith(line.working); // "= 10 = 10" says nothing
      return `<div><p>${W.escape(line.label)}</p><div class="formula" tabindex="0" role="group" aria-label="${W.escape(line.label)}, worked">${W.aligned(once ? rows.slice(1) : rows)}</div></div>`;
    });
    return steps.length ? `<h2>Working</h2><div class="steps">${steps.join("")}</div>` : "";
  }

  /** The answer as lines of text: what was asked and given, what came out and how, the limits, the source, the way back. */
  function asText(calculation, answered, { question, limits, source, address }) {
    const { inputs, results, tables, blank } = answered;
    const given = calculation.inputs.filter((field) => field.name in inputs);
    return [
      question, "",
      ...given.map((field) => `${field.label}: ${shownInput(field, answered)}${field.name === blank ? " (found for the field left empty)" : ""}`), "",
      ...results.map((result) => `${result.label} = ${[result, ...result.also].map((each) => `${each.shown} ${G.symbol(each.unit)}`.trim()).join(" = ")}${result.unrounded ? ` (unrounded ${result.unrounded} ± ${result.spread})` : ""}`),
      ...tables.flatMap((table) => ["", table.label, ...table.rows.map((each) => each.filter(Boolean).join("  "))]), "",
      `Limits: ${limits}`, `Source: ${source}`, address,
    ].join("\n");
  }

  function shownInput(field, answered) {
    const choice = (field.choices || []).find((each) => each.value === answered.inputs[field.name]);
    return choice ? choice.label : `${ClockRef.carried.printFound(answered, field.name)} ${G.symbol(field.unit)}`.trim();
  }

  ClockRef.sumsView = { answerHtml, workingHtml, asText, withUnit };
})();
