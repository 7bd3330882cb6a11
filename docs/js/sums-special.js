/* Functions of the formulas that take more than a line: the twin of build_tools/formula/special.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums;
  const HALVINGS = 60, LONGEST_MEAN = 60, LEAST_DRIVER = 6, FEWEST_TRIED = 4, FROM_YEAR_ONE_TO_JULIAN = 1721425, DAY_MS = 86400000;

  /** The arithmetic-geometric mean of two positive numbers. */
  function agm(first, second) {
    let a = N.toFloat(first), b = N.toFloat(second);
    if (a <= 0 || b <= 0) throw new N.NumberError("a mean of two positive numbers is asked for");
    for (let round = 0; round < LONGEST_MEAN && Math.abs(a - b) > 1e-15 * a; round += 1) [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
    return (a + b) / 2;
  }

  /** Height of the full tooth above the pitch circle, in modules. */
  function epicycloid(teeth, leaves) {
    const wheel = N.toFloat(teeth) / 2, rolling = N.toFloat(leaves) / 4;
    if (wheel <= 0 || rolling <= 0) throw new N.NumberError("a wheel and a pinion have at least one tooth each");
    const rolled = rolledToPoint(wheel, rolling);
    return Math.hypot(rolling * Math.sin(rolled), wheel + rolling - rolling * Math.cos(rolled)) - wheel;
  }

  /** The fewest leaves of a pinion that a wheel drives after the line of centres alone. */
  function fewestLeaves(teeth) {
    const wheel = N.toFloat(teeth) / 2;
    let leaves = FEWEST_TRIED;
    if (wheel < LEAST_DRIVER / 2) throw new N.NumberError("a wheel of fewer than six teeth drives nothing after the line of centres alone");
    while (leaves * rolledToPoint(wheel, leaves / 4) < 4 * Math.PI) leaves += 1;
    return S.whole(leaves);
  }

  /** How far the rolling circle turns from the foot of the tooth to its point. */
  function rolledToPoint(wheel, rolling) {
    const swept = (rolled) => (rolling * rolled) / wheel - Math.atan2(rolling * Math.sin(rolled), wheel + rolling - rolling * Math.cos(rolled));
    let least = 0, most = Math.PI;
    for (let round = 0; round < HALVINGS; round += 1) {
      const middle = (least + most) / 2;
      if (swept(middle) < Math.PI / (4 * wheel)) least = middle;
      else most = middle;
    }
    return least;
  }

  /** Slope, sum of squares across, and sum of squared residues. */
  function sums(across, up) {
    const xs = across.map(N.settled), ys = up.map(N.settled), count = S.whole(xs.length), zero = S.whole(0);
    if (xs.length !== ys.length) throw new N.NumberError(`the lists must be equally long: ${xs.length} numbers stand against ${ys.length}`);
    if (xs.length < 2) throw new N.NumberError("one reading gives no rate: take at least two");
    const total = (values) => values.reduce((sum, value) => N.rational(sum.n * value.d + value.n * sum.d, sum.d * value.d), zero);
    const less = (a, b) => N.rational(a.n * b.d - b.n * a.d, a.d * b.d);
    const middleX = N.over(total(xs), count), middleY = N.over(total(ys), count);
    const dx = xs.map((x) => less(x, middleX)), dy = ys.map((y) => less(y, middleY));
    const spread = total(dx.map((x) => N.times(x, x)));
    if (spread.n === 0n) throw new N.NumberError("all readings stand at one time: leave time between them");
    const steepness = N.over(total(dx.map((x, place) => N.times(x, dy[place]))), spread);
    const residues = total(dx.map((x, place) => { const off = less(dy[place], N.times(steepness, x)); return N.times(off, off); }));
    return { steepness, spread, residues };
  }

  /** The standard error of the slope from the scatter of the points. */
  function slopeError(across, up) {
    const { spread, residues } = sums(across, up);
    if (across.length < 3) throw new N.NumberError("the scatter of fewer than three readings says nothing: take more");
    return Math.sqrt(Math.max(0, N.toFloat(residues) / (across.length - 2) / N.toFloat(spread)));
  }

  /** One value of a list: 1 is the first, -1 the last. */
  function nth(values, place) {
    const index = Math.trunc(N.toFloat(N.settled(place)));
    if (index === 0 || Math.abs(index) > values.length) throw new N.NumberError(`there is no value number ${index} in a list of ${values.length}`);
    return values[index > 0 ? index - 1 : values.length + index];
  }

  /** The text of a date if there is such a day, else "". */
  function isoDate(text) {
    if (!/^\d{4}-\d{2}-\d{2}$/.test(text) || text < "0001-01-01") return "";
    const time = Date.parse(`${text}T00:00:00Z`);
    return !Number.isNaN(time) && new Date(time).toISOString().slice(0, 10) === text ? text : "";
  }

  /** The Julian day number at noon of a date such as "2026-11-25". */
  function dayNumber(day) {
    if (!isoDate(day)) throw new N.NumberError(`'${day.slice(0, 40)}' is not a date`);
    const sinceYearOne = (Date.parse(`${day}T00:00:00Z`) - Date.parse("0001-01-01T00:00:00Z")) / DAY_MS;
    return S.whole(sinceYearOne + 1 + FROM_YEAR_ONE_TO_JULIAN);
  }

  Object.assign(S, { agm, epicycloid, fewest_leaves: fewestLeaves, slope: (across, up) => N.bounded(sums(across, up).steepness), slope_error: slopeError, nth, day_number: dayNumber, isoDate });
})(typeof window === "undefined" ? globalThis : window);
