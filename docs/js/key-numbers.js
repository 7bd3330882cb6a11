/* Which standard counts fit what was counted or measured: the twin of build_tools/key_measured.py. Pure: it touches no page. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, G = ClockRef.given;
  const plain = (value) => (typeof value === "number" ? value : Number(N.compact(value, 15)));

  /** One number in the unit of its row; throws Error with one sentence. */
  function read(row, text) {
    let value;
    try { value = plain(G.readQuantity(text.trim(), row.unit)); } catch (error) { value = NaN; }
    if (!Number.isFinite(value)) { throw new Error(`${row.says}: “${text.trim()}” is not a number${row.unit ? ` in ${row.unit}` : ""}.`); }
    if (value < 0 || (row.allowed && value === 0 && row.name !== ClockRef.numbersData.ticks)) { throw new Error(`${row.says}: ${text.trim()} is too small.`); }
    return value;
  }

  /** Numbers by the name of their row → what they say together. */
  function judge(numbers) {
    const data = ClockRef.numbersData;
    const rows = data.measures.filter((row) => row.allowed && numbers[row.name]);
    const measured = Object.fromEntries(rows.map((row) => [row.name, numbers[row.name] * Number(row.times)]));
    const allowed = Object.fromEntries(data.measures.map((row) => [row.name, row.allowed]));
    const met = data.counts.map((count) => meet(count, measured, allowed)).filter((one) => one.fits.length)
      .sort((a, b) => a.against.length - b.against.length || b.fits.length - a.fits.length || a.off - b.off || (a.count.ref < b.count.ref ? -1 : 1));
    const most = Math.max(0, ...met.map((one) => one.fits.length));
    return {
      fitting: met.filter((one) => !one.against.length && one.fits.length === most), contradicted: met.filter((one) => one.against.length),
      ...together(measured, allowed), answers: answersFor(numbers),
    };
  }

  function meet(count, measured, allowed) {
    const off = Object.fromEntries(Object.keys(measured).filter((name) => name in count.figures)
      .map((name) => [name, Math.abs(measured[name] / count.figures[name] - 1)]));
    const fits = Object.keys(off).filter((name) => off[name] <= allowed[name]);
    const mean = fits.length ? fits.reduce((whole, name) => whole + off[name], 0) / fits.length : 0;
    return { count, fits, against: Object.keys(off).filter((name) => off[name] > allowed[name]), off: mean };
  }

  function together(measured, allowed) {
    const data = ClockRef.numbersData;
    if (!(data.pendulum in measured && data.ticks in measured)) { return { belong: true, together: "" }; }
    let length;
    try {
      length = plain(ClockRef.answer.answer(ClockRef.calculations[data.length], { beats: `${measured[data.ticks]} /min` }).values.length);
    } catch (error) {
      return { belong: true, together: "" };
    }
    /* A length follows the square of the beat, so a slip in the ticks counts twice. */
    const belong = Math.abs(measured[data.pendulum] / length - 1) <= allowed[data.pendulum] + 2 * allowed[data.ticks];
    const said = { ticks: measured[data.ticks], wanted: length, found: measured[data.pendulum] };
    return { belong, together: (belong ? data.belong : data.apart).replace(/\{(\w+)\}/g, (_, name) => said[name].toFixed(0)) };
  }

  /** The key's answers that the numbers stand for; what two numbers answer is left open. */
  function answersFor(numbers) {
    const found = ClockRef.numbersData.answers.filter((row) => row.measured in numbers &&
      Number(row.from) <= numbers[row.measured] && numbers[row.measured] <= Number(row.to));
    return found.filter((row) => found.filter((other) => other.question === row.question).length === 1);
  }

  ClockRef.numbers = { read, judge };
})(typeof window === "undefined" ? globalThis : window);
