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

  /** Slope, sum of squares across, and sum of squared residues; exact, in whole numbers of the finest parts, since fractions would be shortened at every addition. */
  function sums(across, up) {
    if (across.length !== up.length) throw new N.NumberError(`the lists must be equally long: ${across.length} numbers stand against ${up.length}`);
    if (across.length < 2) throw new N.NumberError("one reading gives no rate: take at least two");
    const size = BigInt(across.length), [xs, xParts] = inParts(across), [ys, yParts] = inParts(up);
    const total = (values) => values.reduce((sum, value) => sum + value, 0n);
    const [xx, xy, yy] = [[xs, xs], [xs, ys], [ys, ys]].map(([one, other]) => size * total(one.map((value, place) => value * other[place])) - total(one) * total(other));
    if (xx === 0n) throw new N.NumberError("all readings stand at one time: leave time between them");
    return { steepness: N.rational(xy * xParts, xx * yParts), spread: N.rational(xx, size * xParts ** 2n), residues: N.rational(yy * xx - xy ** 2n, xx * size * yParts ** 2n) };
  }

  /** The values as whole numbers of a part that all of them share, and how many such parts make one. */
  function inParts(values) {
    const exact = values.map(N.settled), parts = exact.reduce((shared, { d }) => shared * N.rational(shared, d).d, 1n);
    return [exact.map(({ n, d }) => n * (parts / d)), parts];
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
