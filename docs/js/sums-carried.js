/* How far the figures that were typed carry: the twin of build_tools/carried.py and build_tools/printing.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums, G = ClockRef.given;
  const SMALL = 1e-6, FIGURES_OF_A_SPREAD = 3, FIGURES_OF_A_WHOLE_NUMBER = 3;
  const halved = (last) => N.over(last, S.whole(2));
  const isWhole = (value) => N.exact(value) && value.d === 1n;

  /** Half a unit of the last digit of every measured input that was typed, in the input's unit; an array for a list. */
  function halves(calculation, typed, inputs) {
    const found = {};
    for (const field of calculation.inputs) {
      const text = (typed[field.name] || "").trim(), value = inputs[field.name];
      if (!field.measured || !text || value === undefined) continue;
      if (field.type === "list") found[field.name] = G.listPieces(field, text).map((piece) => (piece !== "?" && N.read(piece).n ? halved(N.lastDigit(piece)) : S.whole(0)));
      else if (!S.eq(value, S.whole(0)) && !(field.default && S.eq(value, G.readQuantity(field.default, field.unit)))) found[field.name] = half(G.figureText(field, text)[0], field.unit);
    }
    return found;
  }

  /** Half a unit of the last digit of a typed figure; half of its third figure where it has no decimals and so no finer last digit. */
  function half(text, unit) {
    const { value, allowed } = ClockRef.answer.readFigure(text, unit), last = N.lastDigit(G.lastPiece(text, unit)[0]);
    const decimals = last.n < last.d && /^10+$/.test(last.d);
    if (S.eq(value, S.whole(0)) || decimals) return allowed;
    return S.min(allowed, halved(S.pow(S.whole(10), S.whole(N.magnitude(N.settled(value)) - FIGURES_OF_A_WHOLE_NUMBER + 1))));
  }

  /** How far each step's value may be off for the last digits of the inputs. */
  function spreads(calculation, inputs, doubts) {
    const found = {};
    if (!Object.keys(doubts).length) return found;
    const base = ClockRef.answer.workSteps(calculation, inputs), ways = moved(inputs, doubts).map((some) => some.map((each) => worked(calculation, each)).filter(Boolean));
    for (const { name } of calculation.steps) {
      if (typeof base[name] === "string" || (isWhole(base[name]) && ways.flat().every((values) => isWhole(values[name])))) continue;
      const square = ways.reduce((sum, some) => sum + Math.max(0, ...some.map((values) => distance(values[name], base[name]))) ** 2, 0);
      if (square) found[name] = Math.sqrt(square);
    }
    return found;
  }

  /** How far the value that was solved for may be off; 0 where nothing tells. */
  function foundSpread(calculation, inputs, blank, wanted, doubts) {
    const value = N.toFloat(inputs[blank.name]);
    const step = Math.abs(value) * SMALL || N.toFloat(S.sub(N.read(blank.maximum), N.read(blank.minimum))) * SMALL;
    const ends = [-step, step].map((move) => worked(calculation, { ...inputs, [blank.name]: value + move }));
    if (!ends.every(Boolean)) return 0;
    const others = spreads(calculation, inputs, doubts);
    for (const [name, doubt] of Object.entries(wanted)) {
      const slope = distance(ends[1][name], ends[0][name]) / (2 * step);
      if (slope) return Math.hypot(N.toFloat(doubt), others[name] || 0) / slope;
    }
    return 0;
  }

  /** The inputs with one number moved by its half up, down, and a seventh of that, where no result is whole by chance. */
  function moved(inputs, doubts) {
    const ways = (by) => [by, S.neg(by), S.div(by, S.whole(7))];
    return Object.entries(doubts).flatMap(([name, by]) => {
      const value = inputs[name];
      if (!Array.isArray(by)) return [ways(by).map((move) => ({ ...inputs, [name]: S.add(value, move) }))];
      return by.map((each, place) => ways(each).map((move) => ({ ...inputs, [name]: value.map((one, at) => (at === place ? S.add(one, move) : one)) })));
    });
  }

  function worked(calculation, inputs) {
    try {
      return ClockRef.answer.workSteps(calculation, inputs);
    } catch (error) {
      if (error instanceof N.NumberError) return null; // a clock that can't be, a hair beyond one that can
      throw error;
    }
  }

  const distance = (value, base) => (typeof value === "string" || typeof base === "string" ? 0 : Math.abs(N.toFloat(S.sub(value, base))));

  /** The printed text, or fewer digits: the last one is worth no less than the whole width of the doubt, though one figure is always left. */
  function carried(value, text, spread) {
    if (typeof value === "string" || !spread || text.includes("e") || !N.settled(value).n) return text;
    const width = N.settled(S.mul(S.whole(2), spread)), short = N.roundHalfAway(width, FIGURES_OF_A_SPREAD - 1 - N.magnitude(width));
    const place = Math.min(N.magnitude(short), N.magnitude(N.settled(value))), [whole, decimals = ""] = text.split(".");
    if (place <= (text.includes(".") ? -decimals.length : whole.length - whole.replace(/0+$/, "").length)) return text;
    return N.fixed(value, -place);
  }

  function convertedSpread(value, spread, own, unit) {
    if (!spread || own === unit) return spread;
    try {
      return S.abs(S.sub(G.convert(S.add(value, spread), own, unit), G.convert(value, own, unit)));
    } catch (error) {
      if (error instanceof N.NumberError) return 0;
      throw error;
    }
  }

  /** An input as it is printed: what was typed in full, what was solved for as far as the figures typed carry. */
  const printFound = ({ inputs, blank, spread }, name) => printCandidate(inputs[name], name === blank ? spread : 0);
  const printCandidate = (value, spread) => carried(value, G.written(value), spread);

  ClockRef.carried = { half, halves, spreads, foundSpread, carried, convertedSpread, printFound, printCandidate };
})(typeof window === "undefined" ? globalThis : window);
