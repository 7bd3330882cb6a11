/* Readings with their dates: how they become the two lists of a sum, a CSV file and a drawing. Touches no page. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef;
  const DAY = 86400000, WIDE = 328, HIGH = 180, EDGE = 24;

  /** The readings that can be told: those with a moment and a number, in the order of time. */
  const sorted = (rows) =>
    rows.filter((row) => !Number.isNaN(Date.parse(row.at)) && Number.isFinite(Number(row.error))).sort((a, b) => Date.parse(a.at) - Date.parse(b.at));

  /** Days since the first reading and the errors, each as the text of a list field. */
  function asLists(rows) {
    const told = sorted(rows);
    const days = told.map((row) => String(Number(((Date.parse(row.at) - Date.parse(told[0].at)) / DAY).toFixed(5))));
    return { days: days.join(" "), errors: told.map((row) => String(Number(row.error))).join(" ") };
  }

  /** A CSV file of the readings, with a heading. */
  function asCsv(rows) {
    const { days } = asLists(rows), each = days.split(" ");
    return ["time,days,seconds ahead", ...sorted(rows).map((row, place) => `${row.at},${each[place]},${Number(row.error)}`)].join("\r\n") + "\r\n";
  }

  /** The straight line nearest to the points: where it begins and how it climbs. */
  function line(points, slope) {
    const mean = (place) => points.reduce((sum, point) => sum + point[place], 0) / points.length;
    return { start: mean(1) - slope * mean(0), slope };
  }

  const span = (values) => {
    const least = Math.min(...values), most = Math.max(...values);
    return least === most ? [least - 1, most + 1] : [least, most];
  };

  /** The points and their line as SVG, with what it shows in words. */
  function drawing(points, slope) {
    const fitted = line(points, slope), at = (x) => fitted.start + fitted.slope * x;
    const [left, right] = span(points.map((point) => point[0]));
    const [low, high] = span([...points.map((point) => point[1]), at(left), at(right)]);
    const across = (x) => (EDGE + ((x - left) / (right - left)) * (WIDE - 2 * EDGE)).toFixed(1);
    const up = (y) => (HIGH - EDGE - ((y - low) / (high - low)) * (HIGH - 2 * EDGE)).toFixed(1);
    const dots = points.map(([x, y]) => `<circle cx="${across(x)}" cy="${up(y)}" r="3.5" fill="currentColor"/>`).join("");
    const says = `${points.length} readings from day ${left} to day ${right}, between ${low.toFixed(1)} and ${high.toFixed(1)} seconds ahead, and the straight line nearest to them`;
    return `<svg viewBox="0 0 ${WIDE} ${HIGH}" role="img" aria-label="${says}"><path d="M${EDGE} ${HIGH - EDGE}H${WIDE - EDGE}M${EDGE} ${EDGE}V${HIGH - EDGE}" fill="none" stroke="currentColor" stroke-width="1"/>` +
      `<path d="M${across(left)} ${up(at(left))}L${across(right)} ${up(at(right))}" fill="none" stroke="currentColor" stroke-width="1.5" stroke-dasharray="5 3"/>${dots}` +
      `<text x="${EDGE}" y="${EDGE - 8}" fill="currentColor" font-size="12">seconds ahead, ${low.toFixed(1)} to ${high.toFixed(1)}</text><text x="${WIDE - EDGE}" y="${HIGH - 8}" text-anchor="end" fill="currentColor" font-size="12">days, ${left} to ${right}</text></svg>`;
  }

  ClockRef.readings = { asLists, asCsv, line, drawing };
})(typeof window === "undefined" ? globalThis : window);
