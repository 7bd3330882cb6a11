/* Answers a calculation from what was typed: the twin of build_tools/calculate.py and build_tools/answer.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums, G = ClockRef.given;
  const FIGURES_OF_A_RESULT = 6;

  /** The question is understood and has no answer; one sentence says why. */
  class NoAnswer extends Error {}

  const trimmed = (typed, name) => (typed[name] || "").trim();

  /** The values of all names before the first step: constants, the inputs, and the numbers that choices bring. */
  function namedValues(calculation, inputs) {
    const values = { ...inputs };
    for (const [name, number] of Object.entries(calculation.constants || {})) values[name] = N.read(number);
    for (const field of calculation.inputs) {
      const choice = field.choices && inputs[field.name] !== undefined && field.choices.find((each) => each.value === inputs[field.name]);
      if (choice) for (const [name, number] of Object.entries(choice.sets || {})) values[name] = N.read(number);
    }
    return values;
  }

  /** Every name and its value after the last step. */
  function workSteps(calculation, inputs) {
    const values = namedValues(calculation, inputs);
    for (const step of calculation.steps) {
      let impossible = false;
      try {
        impossible = Boolean(step.impossibleIf) && step.impossibleIf(values);
        if (!impossible) values[step.name] = step.f(values);
      } catch (error) {
        if (error instanceof N.NumberError) throw new N.NumberError(`${step.label}: ${error.message}`);
        throw error;
      }
      if (impossible) throw new N.NumberError(step.impossible);
    }
    return values;
  }

  function unitOf(calculation, name) {
    const parts = [...calculation.inputs, ...calculation.steps, ...(calculation.procedure ? calculation.results : [])];
    return (parts.find((part) => part.name === name) || {}).unit || "";
  }

  function printValue(value, decimals, figures) {
    if (typeof value === "string") return value;
    return value.d === 1n ? value.n.toString() : rounded(value, decimals, figures);
  }

  const rounded = (value, decimals, figures) => decimals === undefined ? N.significant(value, figures || FIGURES_OF_A_RESULT) : N.fixed(value, decimals);

  /** A result as it is printed, in its own unit and in those shown beside it. */
  function printed(calculation, result, values, spread = 0) {
    const C = ClockRef.carried, own = unitOf(calculation, result.name), unit = result.unit || own, value = values[result.name];
    const converted = unit === own ? value : G.convert(value, own, unit), off = C.convertedSpread(value, spread, own, unit);
    const unrounded = printValue(converted, result.decimals, result.significant), shown = C.carried(converted, unrounded, off);
    const also = (result.also || []).map((other) => {
      const length = rounded(value, result.decimals).replace(/\./g, "").replace(/^[-0]+/, "").length, there = G.convert(value, own, other);
      return { unit: other, shown: C.carried(there, N.significant(there, result.significant || Math.max(3, length)), C.convertedSpread(value, spread, own, other)) };
    });
    const found = { name: result.name, label: labelOf(calculation, result), value, shown, unit, also };
    return shown === unrounded ? found : { ...found, unrounded, spread: N.significant(off, 1) };
  }

  const labelOf = (calculation, result) =>
    result.label || ([...calculation.steps, ...calculation.inputs].find((part) => part.name === result.name) || {}).label || result.name;

  /** The inputs and what the named procedure makes of them; results that don't apply are left out. */
  function workProcedure(calculation, inputs) {
    const values = namedValues(calculation, inputs);
    const found = ClockRef.procedures[calculation.procedure](values, ClockRef.goingTrains);
    for (const [name, value] of Object.entries(found)) if (value !== null) values[name] = value;
    return values;
  }

  /** Works the entry out from the values of its inputs, of which each result may be off by its spread. */
  function evaluate(calculation, inputs, spread = {}) {
    if (!calculation.procedure) {
      const values = workSteps(calculation, inputs);
      return { values, tables: [], results: calculation.results.map((result) => printed(calculation, result, values, spread[result.name])) };
    }
    const values = workProcedure(calculation, inputs), given = calculation.results.filter((result) => result.name in values);
    return {
      values, results: given.filter((result) => !result.columns).map((result) => printed(calculation, result, values)),
      tables: given.filter((result) => result.columns).map((result) => printedTable(result, values[result.name])),
    };
  }

  /** A table as it is printed; what does not apply is blank. */
  function printedTable(result, rows) {
    const cell = (value, { decimals, significant }) => (value === null ? "" : printValue(value, decimals, significant));
    return { name: result.name, label: result.label, columns: result.columns, rows: rows.map((row) => row.map((value, place) => cell(value, result.columns[place]))) };
  }

  /** Reads "8825.14" or "6.5 in" for a step: half of the last digit is allowed. */
  function readFigure(text, unit) {
    const value = G.readQuantity(text, unit), [last, spelling] = G.lastPiece(text, unit);
    const half = N.over(N.lastDigit(last), N.of("2"));
    if (!spelling) return { value, allowed: half };
    const found = G.findUnit(spelling, unit);
    if (found.base === G.unitNamed(unit).base) return { value, allowed: G.convert(half, found.name, unit) };
    return { value, allowed: S.abs(S.div(S.mul(value, half), N.read(last))) };
  }

  const agrees = (figure, value) => S.le(S.abs(S.sub(N.settled(value), N.settled(figure.value))), figure.allowed);

  /** Answers from texts by field name. Throws GivenError for all fields that are wrong, NoAnswer when nothing answers. */
  function answer(calculation, typed) {
    typed = blanksLeft(calculation, typed);
    try {
      return answerTo(calculation, typed);
    } catch (error) {
      throw error instanceof G.GivenError ? withOthers(error, calculation, typed) : error;
    }
  }

  /** The error, and behind it those of every other field that is wrong, in the order of the form. */
  function withOthers(error, calculation, typed) {
    const found = [...calculation.inputs.map((field) => wrongInput(calculation, field, typed)), ...calculation.steps.map((step) => wrongResult(step, typed))];
    const names = [...calculation.inputs, ...calculation.steps].map((part) => part.name);
    const [first, ...others] = names.map((name, place) => (name === error.field ? error : found[place])).filter(Boolean);
    first.others = others;
    return first;
  }

  /** What is wrong with a field by itself; one without a value is wrong where nothing is solved for. */
  function wrongInput(calculation, field, typed) {
    const text = trimmed(typed, field.name), solving = calculation.steps.some((step) => trimmed(typed, step.name));
    if (!solving && blankFields(calculation, typed, false).includes(field)) return missing(calculation, field, typed);
    const open = ClockRef.solve.WITH_SIGN.includes(field.type) && text.includes("?");
    return text && !open ? refusal(() => G.readGiven(field, text)) : null;
  }

  const wrongResult = (step, typed) => (trimmed(typed, step.name) ? refusal(() => readWanted(step, typed[step.name])) : null);

  /** The sentence with which a field is refused; null when it is read. */
  function refusal(read) {
    try {
      read();
      return null;
    } catch (error) {
      if (error instanceof G.GivenError) return error;
      throw error;
    }
  }

  function answerTo(calculation, typed) {
    const wanted = {};
    for (const step of calculation.steps) if (trimmed(typed, step.name)) wanted[step.name] = readWanted(step, typed[step.name]);
    const solving = Object.keys(wanted).length > 0;
    const blanks = blankFields(calculation, typed, solving);
    if (!blanks.length) {
      const inputs = readAll(calculation, typed);
      return worked(calculation, inputs, wanted, ClockRef.carried.halves(calculation, typed, inputs));
    }
    if (!solving) throw missing(calculation, blanks[0], typed);
    if (blanks.length > 1) {
      throw new G.GivenError(blanks[1].name, `${blanks.slice(0, -1).map((each) => each.label).join(", ")} and ${blanks[blanks.length - 1].label} are ${blanks.length === 2 ? "both" : "all"} open; give all but one, and that one is solved for`);
    }
    return solve(calculation, blanks[0], typed, wanted);
  }

  /** What was typed, with a lone "?" as the blank that it means; only trains, lists and dates keep theirs. */
  function blanksLeft(calculation, typed) {
    const kept = calculation.inputs.filter((field) => ClockRef.solve.WITH_SIGN.includes(field.type)).map((field) => field.name);
    return Object.fromEntries(Object.entries(typed).map(([name, text]) => [name, text && text.trim() === "?" && !kept.includes(name) ? "" : text]));
  }

  function blankFields(calculation, typed, solving) {
    const open = calculation.inputs.filter((field) => {
      const text = trimmed(typed, field.name);
      return !(text || field.default || field.optional) || (ClockRef.solve.WITH_SIGN.includes(field.type) && text.includes("?"));
    });
    if (open.length || !solving) return open;
    return calculation.inputs.filter((field) => field.name in typed && !trimmed(typed, field.name));
  }

  function missing(calculation, field, typed) {
    const what = trimmed(typed, field.name) ? "has a ? in it" : "is missing";
    return new G.GivenError(field.name, `${field.label} ${what}; accepted: ${G.accepted(field)}`);
  }

  function readWanted(step, text) {
    try {
      return readFigure(text, step.unit);
    } catch (error) {
      if (!(error instanceof N.NumberError)) throw error;
      throw new G.GivenError(step.name, `${error.message}; accepted: a number ${G.symbol(step.unit)}`.trimEnd());
    }
  }

  const readOne = (field, typed) => G.readGiven(field, trimmed(typed, field.name) || field.default);
  const used = (calculation, typed) => calculation.inputs.filter((field) => !field.optional || trimmed(typed, field.name));
  const readAll = (calculation, typed) => Object.fromEntries(used(calculation, typed).map((field) => [field.name, readOne(field, typed)]));

  function worked(calculation, inputs, wanted, halved) {
    let outcome;
    try {
      outcome = evaluate(calculation, inputs, ClockRef.carried.spreads(calculation, inputs, halved));
    } catch (error) {
      if (error instanceof N.NumberError) throw new NoAnswer(error.message);
      throw error;
    }
    const agreement = Object.fromEntries(Object.entries(wanted).map(([name, figure]) => [name, agrees(figure, outcome.values[name])]));
    return { inputs, ...outcome, blank: "", solved: null, agreement };
  }

  function solve(calculation, blank, typed, wanted) {
    const known = {};
    for (const field of calculation.inputs) if (field !== blank) known[field.name] = readOne(field, typed);
    const text = typed[blank.name] || "", works = (value) => workSteps(calculation, { ...known, [blank.name]: value });
    const filledIn = (candidate) => ClockRef.solve.filledIn(blank, text, candidate.value);
    let solved = tellingApart(calculation, blank, text, works, wanted);
    if (!solved.fits.length && !solved.nearest.length) throw new NoAnswer(`${blank.label}: no value within its range can be worked out`);
    solved = agreeing(solved, wanted, (candidate) => works(filledIn(candidate)));
    const best = solved.fits[0] || solved.nearest[0], inputs = {};
    for (const field of calculation.inputs) inputs[field.name] = field === blank ? filledIn({ ...best, value: inexact(best.value) }) : known[field.name];
    const halved = ClockRef.carried.halves(calculation, typed, inputs);
    const doubts = Object.fromEntries(Object.keys(wanted).map((name) => [name, ClockRef.carried.half(typed[name], unitOf(calculation, name))]));
    const spread = blank.type === "number" ? ClockRef.carried.foundSpread(calculation, inputs, blank, doubts, halved) : 0;
    return { ...worked(calculation, inputs, wanted, spread ? { ...halved, [blank.name]: spread } : halved), blank: blank.name, solved, spread };
  }

  /** What was searched for is exact only where seven figures say all of it, so that the working shows no more of the rest. */
  const inexact = (value) => (!N.exact(value) || S.eq(N.read(N.compact(value)), value) ? value : N.toFloat(value));

  /** What fits the first of the wanted results that tells values apart. */
  function tellingApart(calculation, blank, text, works, wanted) {
    const tried = [];
    for (const [target, aim] of Object.entries(wanted)) {
      const solved = ClockRef.solve.searched(blank, text, (value) => works(value)[target], aim);
      if (!solved.many && !solved.idle) return solved;
      tried.push(solved);
    }
    const several = tried.find((each) => each.many && !each.idle);
    if (several) {
      const [least, most] = several.many.map((end) => N.compact(end, 6));
      throw new NoAnswer(`${blank.label}: every value from ${least} to ${most} fits; one more measurement is needed`);
    }
    const given = calculation.steps.filter((step) => step.name in wanted).map((step) => step.label).join(" and ");
    throw new NoAnswer(`${blank.label} makes no difference here to what was given (${given}): give another result`);
  }

  /** Of several values that fit, those with which every wanted result agrees, if there are any. */
  function agreeing(solved, wanted, worksOf) {
    if (Object.keys(wanted).length === 1 || solved.fits.length < 2) return solved;
    const fits = solved.fits.filter((candidate) => {
      const values = worksOf(candidate);
      return Object.entries(wanted).every(([name, figure]) => agrees(figure, values[name]));
    });
    return fits.length ? { ...solved, fits } : solved;
  }

  ClockRef.answer = { answer, evaluate, workSteps, readFigure, agrees, NoAnswer, unitOf };
})(typeof window === "undefined" ? globalThis : window);
