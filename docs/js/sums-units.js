/* Units, and what is typed into a field: the twin of build_tools/units.py and build_tools/given.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums;
  const ALL_OVER_ALL = /^\s*((?:\d+|\?)(?:[\s,;×·*x]+(?:\d+|\?))+)\s*[/:]\s*((?:\d+|\?)(?:[\s,;×·*x]+(?:\d+|\?))+)\s*$/;
  const BETWEEN_MESHES = /(?:[\s,;·]|\band\b|(?<=[\d?\s])[xX×*](?=[\s\d?]))+/;
  const MOST_MESHES = 12, MOST_TEETH = 3000, MOST_VALUES = 200;
  const VULGAR = "½¼¾⅓⅔⅛⅜⅝⅞";
  const NUMBER = `[+\\-\\u2212]?\\s*(?:\\d+[ -]\\d+ ?/ ?\\d+(?![A-Za-z])|\\d+ ?/ ?\\d+|\\d{1,3}(?: \\d{3})+(?:[.,·]\\d+)?|[\\d.,·]+(?:[eE][+\\-]?\\d+)?\\s?[${VULGAR}]?|[${VULGAR}])`;
  const UNIT = "1?/°?[A-Za-z]+|[^\\d\\s+\\-\\u2212.,/:](?:[^\\s\\d]*[A-Za-z^][23](?![\\dA-Za-z.,])|[^\\s\\d]*)(?: [A-Za-z][^\\s\\d]*)*";
  const WAYS = { N: "north", S: "south", E: "east", W: "west" }, OTHER = { N: "S", S: "N", E: "W", W: "E" };
  const LETTERED = [
    /^(?<way>[Nn]orth|[Ss]outh|[Ee]ast|[Ww]est|[NSEWnew])\.?\s*(?<angle>[+\-\u2212]?\s*[\d.,·].*)$/, /^(?<angle>.*\d(?:.*[^A-Z])?)(?<way>[NSEW])\.?$/,
    /^(?<angle>.*\d(?:.*[\s°′″'"])?)(?<way>[Nn]orth|[Ss]outh|[Ee]ast|[Ww]est|[new])\.?$/,
  ];
  const SIXTIETHS = /^([+\-\u2212]?)\s*(\d{1,3})(?:\s+|\s*:\s*)([0-5]?\d(?:[.,]\d+)?)(?:(?:\s+|\s*:\s*)([0-5]?\d(?:[.,]\d+)?))?$/;
  const PROPORTION = /^\s*([+\-\u2212]?)(\d+) ?(in|:) ?(\d+)\s*$/;
  const part = (words) => `(?:([\\d.,·]+)\\s*(?:${words}))?\\s*`;
  const RATE = new RegExp(`^\\s*([+\\-\\u2212]?)\\s*${part("h|hrs?|hours?")}${part("m|mins?|minutes?|′|'")}(?:and )?${part("s|secs?|seconds?|″|\"|''")}(?:(?:/|(?:in )?an? |per |in )\\s*(h|hour|d|day|week|month|year))?\\s*$`);
  const PERIODS = { hour: "h", d: "day" };
  const TIME = /^(\d{1,4}):(\d\d)(?::(\d\d(?:\.\d+)?))?$/, TIME_PARTS = { h: ["h", "min", "s"], min: ["min", "s"], s: ["min", "s"] };
  const PIECE = new RegExp(`\\s*(${NUMBER})\\s*(${UNIT})?`, "y");

  /** One sentence about one field: what is wrong and what is accepted. */
  class GivenError extends Error {
    constructor(field, sentence) {
      super(sentence);
      this.field = field;
      this.others = []; // the same for further fields
    }
  }

  const unitNamed = (name) => ClockRef.units.find((unit) => unit.name === name);
  const symbol = (name) => (unitNamed(name) ? unitNamed(name).symbol : name || "");
  const spellings = (unit) => [...unit.also, unit.says, unit.symbol, unit.name].map((text) => text.toLowerCase());

  /** The unit so named or spelt, one that measures what `like` does before any other. */
  function findUnit(spelling, like) {
    const own = unitNamed(like).base;
    for (const written of [spelling, spelling.toLowerCase().trim().replace(/\.+$/, "")]) {
      const found = ClockRef.units.filter((unit) => spellings(unit).includes(written));
      const bases = found.map((unit) => unit.base);
      if (found.length) return found[bases.lastIndexOf(bases.includes(own) ? own : bases[0])];
    }
    throw new N.NumberError(`there is no unit called ${spelling}`);
  }

  /** The value, counted in old units, in new ones. */
  function convert(value, old, wanted) {
    if (old === wanted) return value;
    const first = unitNamed(old), second = unitNamed(wanted);
    if (first.base === second.base) return S.mul(value, N.over(N.of(first.worth), N.of(second.worth)));
    if (`1/${first.base}` !== second.base && `1/${second.base}` !== first.base) throw new N.NumberError(`${first.name} can't be turned into ${second.name}`);
    if (S.order(value, S.whole(0)) === 0) throw new N.NumberError(`0 ${first.name} can't be turned into ${second.name}`);
    return S.div(S.whole(1), S.mul(value, N.times(N.of(first.worth), N.of(second.worth))));
  }

  /** The numbers of a typed quantity, each with the unit that follows it. */
  function splitQuantity(text) {
    text = text.trim().replace(/(\d)-(?=[A-Za-z])/g, "$1 "); // an 8-day clock
    const pieces = [];
    PIECE.lastIndex = 0;
    while (PIECE.lastIndex < text.length) {
      const match = PIECE.exec(text);
      if (!match) return [[text, ""]];
      pieces.push([match[1].trim(), match[2] || ""]);
    }
    return pieces.length ? pieces : [[text, ""]];
  }

  /** The pieces of "12:30", hours and minutes for a field in hours, minutes and seconds for one in less; null for anything else. */
  function time(text, unit) {
    const match = TIME.exec(text.trim()), parts = match && TIME_PARTS[unit] && TIME_PARTS[match[3] ? "h" : unit];
    return parts ? parts.map((part, place) => [match[place + 1], part]).filter(([number]) => number) : null;
  }

  /** A typed quantity as a number and its unit: "1/400" for "1:400", "148 s/day" for "2 min 28 s" in a field of rates. */
  function plainly(text, unit = "") {
    const rated = /^(s|min)\//.test(unit), proportion = PROPORTION.exec(text);
    if (proportion && rated && proportion[3] === "in") return `${proportion[1]}${BigInt(proportion[2]) * 1000000n}/${proportion[4]} ppm`;
    if (proportion && !unit && (proportion[3] === "in" || [proportion[2], proportion[4]].includes("1"))) return `${proportion[1]}${proportion[2]}/${proportion[4]}`;
    const match = rated && RATE.exec(text), parts = match ? [[2, 3600], [3, 60], [4, 1]].filter(([place]) => match[place]) : [];
    if (!parts.length || (parts.length === 1 && match[5])) return text;
    const period = match[5] || unit.split("/")[1];
    const total = parts.reduce((sum, [place, worth]) => S.add(sum, N.times(S.whole(worth), N.read(match[place]))), S.whole(0));
    return `${match[1]}${N.inWorking(total)} s/${PERIODS[period] || period}`;
  }

  const piecesOf = (text, unit) => time(text, unit) || splitQuantity(text);

  /** The last number of a typed quantity, whose last digit says how fine the whole is, and the unit that follows it. */
  const lastPiece = (text, unit) => piecesOf(plainly(text, unit), unit).pop();

  /** Reads "39.14", "39.14 in" or "1 h 30 min" for a field counted in `unit`. */
  function readQuantity(text, unit) {
    text = plainly(text, unit);
    const pieces = piecesOf(text, unit);
    if (pieces.length === 1 && !pieces[0][1]) return N.read(text);
    if (!unit) throw new N.NumberError(`a plain number is wanted here, without '${pieces[0][1] || pieces[pieces.length - 1][1]}'`);
    let total = S.whole(0);
    for (const [number, spelling] of pieces) {
      if (!spelling) throw new N.NumberError(`'${text.trim()}' leaves the unit of ${number} open`);
      total = S.add(total, S.abs(convert(N.read(number), findUnit(spelling, unit).name, unit)));
    }
    return /^[-\u2212]/.test(text.trim()) ? S.neg(total) : total;
  }

  /** An angle without its direction of the compass, and that as a capital letter ("" for none): the twin of build_tools/compass.py. */
  function splitDirection(text) {
    const match = LETTERED.map((pattern) => pattern.exec(text.trim())).find(Boolean);
    return match ? [match.groups.angle.trim(), match.groups.way[0].toUpperCase()] : [text.trim(), ""];
  }

  /** An angle without its letter, in degrees, minutes and seconds, and whether the letter turns its sign; `compass` is the way that counts as plus. */
  function turned(text, compass = "") {
    const [angle, way] = splitDirection(text), plus = compass.slice(0, 1).toUpperCase(), quoted = `'${text.trim().slice(0, 40)}'`;
    if (way && !compass) throw new N.NumberError(`${quoted} gives a direction of the compass, and a plain angle is wanted`);
    if (way && way !== plus && way !== OTHER[plus]) throw new N.NumberError(`${quoted} says ${WAYS[way]}, where only ${compass} or ${WAYS[OTHER[plus]]} makes sense`);
    if (way && /^[+\-\u2212]/.test(angle)) throw new N.NumberError(`${quoted} has both a sign and a letter: write one of them`);
    if (compass && /^[+\-\u2212]?[\d.,\s]+s$/.test(angle)) throw new N.NumberError(`${quoted} can be read in two ways: write S for south, or ″ for seconds`);
    return [compass || angle.includes(":") ? inParts(angle) : angle, Boolean(way) && way !== plus];
  }

  /** "51 30 15" and "51:30:15" with their units; anything else as it is. */
  function inParts(angle) {
    const match = SIXTIETHS.exec(angle);
    return match ? match[1] + ["deg", "arcmin", "arcsec"].map((unit, place) => match[place + 2] && `${match[place + 2]} ${unit}`).filter(Boolean).join(" ") : angle;
  }

  /** The text of an input without its direction of the compass. */
  const withoutDirection = (field, text) => (field.unit === "deg" ? turned(text, field.compass)[0] : text);

  /** The value itself; throws when it lies outside the limits of the input. */
  function within(field, value) {
    const unit = field.unit ? ` ${symbol(field.unit)}` : "";
    if (field.minimum && S.lt(value, N.of(field.minimum))) throw new N.NumberError(`${N.inWorking(value)}${unit} is too small`);
    if (field.maximum && S.gt(value, N.of(field.maximum))) throw new N.NumberError(`${N.inWorking(value)}${unit} is too large`);
    return value;
  }

  /** The meshes of "84 × 78 / 7 × 7", all wheels over all pinions; null for anything else. */
  function pairedMeshes(text) {
    const match = ALL_OVER_ALL.exec(text);
    if (!match) return null;
    const [wheels, pinions] = [match[1], match[2]].map((side) => side.match(/\d+|\?/g));
    return wheels.length === pinions.length ? wheels.map((wheel, place) => `${wheel}/${pinions[place]}`) : null;
  }

  /** Reads "84/7 78/7", driver over driven; a "?" stands for `unknown` when that is given. */
  function readTrain(text, unknown = 0) {
    const pieces = pairedMeshes(text) || text.replace(/\s*([/:])\s*/g, "$1").split(BETWEEN_MESHES).filter(Boolean);
    if (!pieces.length) throw new N.NumberError("write at least one wheel and the pinion it drives, such as 84/7");
    if (pieces.length > MOST_MESHES) throw new N.NumberError(`a train of ${pieces.length} meshes is too long: ${MOST_MESHES} are the most`);
    return pieces.map((piece) => readMesh(piece, unknown));
  }

  function readMesh(piece, unknown) {
    const match = /^(\d+|\?)\s*[/:]\s*(\d+|\?)$/.exec(piece);
    if (!match) throw new N.NumberError(`'${piece.slice(0, 40)}' is not a wheel over the pinion that it drives`);
    if (!unknown && piece.includes("?")) throw new N.NumberError(`'${piece}' leaves a count open`);
    const [driver, driven] = [match[1], match[2]].map((count) => (count === "?" ? unknown : Number(count.slice(0, 9))));
    if (Math.max(driver, driven) > MOST_TEETH) throw new N.NumberError(`'${piece.slice(0, 40)}' has too many teeth: ${MOST_TEETH} are the most`);
    if (driver < 1) throw new N.NumberError(`'${piece}': a driver without teeth drives nothing`);
    if (driven < 1) throw new N.NumberError(`'${piece}': a pinion of ${driven} leaves can't be driven`);
    if (driven === 1 && driver > 1 && match[2] !== "?") throw new N.NumberError(`'${piece}': a pinion of one leaf can't be driven; count the leaves again, or write a quotient with more, such as 50/10 for 5`);
    return [driver, driven];
  }

  /** Reads counts and ranges of counts, "6-12 14 16", in rising order, each once. */
  function readCounts(text) {
    const pieces = text.trim().replace(/\s*(?:[-–—]|\bto\b)\s*/g, "-").split(/[\s,;]+/).filter(Boolean), counts = new Set();
    for (const piece of pieces) {
      const match = /^(\d{1,9})(?:-(\d{1,9}))?$/.exec(piece);
      if (!match) throw new N.NumberError(`'${piece.slice(0, 40)}' is neither a count nor a range of counts`);
      const first = Number(match[1]), last = Number(match[2] || match[1]);
      if (first > last) throw new N.NumberError(`'${piece.slice(0, 40)}' runs backwards: write the smaller count first`);
      if (first < 1 || last > MOST_TEETH) throw new N.NumberError(`'${piece.slice(0, 40)}' is out of range: counts go from 1 to ${MOST_TEETH}`);
      for (let count = first; count <= last; count += 1) counts.add(count);
    }
    if (!counts.size) throw new N.NumberError("write at least one count");
    return [...counts].sort((a, b) => a - b);
  }

  /** Reads a train in which lost counts are written as ?; those come out as 0. */
  function readLostTrain(text) {
    const other = readTrain(text, MOST_TEETH - 1);
    return readTrain(text, MOST_TEETH).map((mesh, place) => mesh.map((count, side) => (count === other[place][side] ? count : 0)));
  }

  const MONTHS = ["january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"];
  const DATES = [/^(?<year>\d{4})[-/. ](?<month>\d{1,2})[-/. ](?<day>\d{1,2})$/, /^(?<day>\d{1,2})(?:\.|st|nd|rd|th)? (?<month>[A-Za-z]{3,9})\.?,? (?<year>\d{4})$/, /^(?<month>[A-Za-z]{3,9})\.? (?<day>\d{1,2})(?:st|nd|rd|th)?,? (?<year>\d{4})$/, /^(?<day>1[3-9]|2\d|3[01])[-/.](?<month>\d{1,2})[-/.](?<year>\d{4})$/];

  /** The text as year-month-day where it can be read in one way only; anything else as it is. */
  function yearFirst(text) {
    const match = DATES.map((pattern) => pattern.exec(text)).find(Boolean);
    if (!match) return text;
    const { day, month, year } = match.groups, place = MONTHS.findIndex((name) => month.length > 2 && name.startsWith(month.toLowerCase())) + 1;
    return place || /^\d+$/.test(month) ? `${year}-${String(place || month).padStart(2, "0")}-${day.padStart(2, "0")}` : text;
  }

  /** The numbers of a list as they were typed. */
  function listPieces(text) {
    const onlyCommas = /^[^,;\s]+(?:,[^,;\s]+){2,}$/.test(text) && !/^[+-]?\d{1,3}(?:,\d{3})+$/.test(text);
    return text.split(onlyCommas ? "," : /(?:[;\s]|,\s)+/).filter(Boolean);
  }

  const readers = {
    counts(field, text) {
      for (const count of readCounts(text)) within(field, S.whole(count));
      return text.trim().replace(/\s+/g, " ");
    },
    "lost-train": (field, text) => readLostTrain(text).map((mesh) => mesh.map((count) => count || "?").join("/")).join(" "),
    number(field, text) {
      const [angle, back] = field.unit === "deg" ? turned(text, field.compass) : [text, false], value = readQuantity(angle, field.unit);
      return within(field, back ? S.neg(value) : value);
    },
    whole(field, text) {
      const value = readers.number(field, text);
      if (value.d !== 1n) throw new N.NumberError(`${text} is not a whole number`);
      return value;
    },
    train: (field, text) => readTrain(text),
    choice(field, text) {
      const letters = (each) => each.replace(/[^\p{L}\p{N}+]/gu, "").toLowerCase(), wanted = letters(text); // without blanks, hyphens and points
      const named = (fits) => field.choices.filter((choice) => [choice.value, choice.label].some((name) => fits(letters(name)))).map((choice) => choice.value);
      const same = named((name) => name === wanted), meant = same.length || !wanted ? same : named((name) => name.startsWith(wanted));
      if (meant.length === 1) return meant[0];
      throw new N.NumberError(meant.length ? `'${text.slice(0, 40)}' may be ${meant.join(" or ")}` : `'${text.slice(0, 40)}' is not among the choices`);
    },
    date(field, text) {
      const found = yearFirst(text);
      if (!S.isoDate(found)) throw new N.NumberError(`'${found.slice(0, 40)}' is not a date`);
      return found;
    },
    list(field, text) {
      const pieces = listPieces(text);
      if (!pieces.length) throw new N.NumberError("write at least one number");
      if (pieces.length > MOST_VALUES) throw new N.NumberError(`${pieces.length} numbers are too many: ${MOST_VALUES} are the most`);
      return pieces.map((piece) => within(field, N.read(piece)));
    },
  };

  /** The value of an input, in the input's own unit; throws GivenError. */
  function readGiven(field, text) {
    try {
      return readers[field.type](field, text.trim());
    } catch (error) {
      if (!(error instanceof N.NumberError)) throw error;
      throw new GivenError(field.name, `${error.message}; accepted: ${accepted(field)}`);
    }
  }

  /** What an input takes, in words: "a whole number from 2 to 400". */
  function accepted(field) {
    if (field.type === "train") return "driver/driven for each mesh, such as 84/7 78/7";
    if (field.type === "lost-train") return "driver/driven for each mesh, with ? for a lost count, such as 84/7 ?/7";
    if (field.type === "counts") return "counts and ranges of counts, such as 6-12 14 16";
    if (field.type === "choice") return field.choices.map((choice) => choice.value).join(" or ");
    if (field.type === "date") return "a date such as 2026-11-25 or 25 November 2026";
    const kind = { whole: "a whole number", list: "numbers with blanks between them" }[field.type] || "a number";
    const limits = field.minimum && field.maximum ? ` from ${field.minimum} to ${field.maximum}` : "";
    const named = (unit) => (symbol(unit) === unit ? unit : `${unit} (${symbol(unit)})`);
    const plus = (field.compass || "").slice(0, 1).toUpperCase(), direction = plus && `, or with ${plus} or ${OTHER[plus]} beside it`;
    return kind + limits + (field.unit ? ` ${symbol(field.unit)}` : "") + direction + (field.also ? `; units: ${[field.unit, ...field.also].map(named).join(", ")}` : "");
  }

  /** A value as it is typed: "84/7 78/7", "29.5". */
  function written(value) {
    if (typeof value === "string") return value;
    if (Array.isArray(value)) return value.map((each) => (Array.isArray(each) ? each.join("/") : N.inWorking(each))).join(" ");
    return N.inWorking(value);
  }

  ClockRef.given = { MOST_TEETH, GivenError, listPieces, readGiven, splitDirection, withoutDirection, readQuantity, lastPiece, splitQuantity, readTrain, readLostTrain, readCounts, accepted, written, convert, symbol, unitNamed, findUnit };
})(typeof window === "undefined" ? globalThis : window);
