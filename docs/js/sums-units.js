/* Units, and what is typed into a field: the twin of build_tools/units.py and build_tools/given.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums, P = ClockRef.spellings;
  const PINION_FIRST = /(\d+|\?)\s*\)\s*(\d+|\?)/g; // "8) 80", as Derham and the encyclopaedias write a wheel of 80 on a pinion of 8
  const ALL_OVER_ALL = /^\s*((?:\d+|\?)(?:[\s,;×·*x]+(?:\d+|\?))+)\s*[/:]\s*((?:\d+|\?)(?:[\s,;×·*x]+(?:\d+|\?))+)\s*$/;
  const BETWEEN_MESHES = /(?:[\s,;·]|\band\b|(?<=[\d?\s])[xX×*](?=[\s\d?]))+/;
  const MOST_MESHES = 12, MOST_TEETH = 3000, MOST_VALUES = 200;
  const VULGAR = "½¼¾⅓⅔⅛⅜⅝⅞";
  const NUMBER = `[+\\-\\u2212]?\\s*(?:\\d+[ -]\\d+ ?/ ?\\d+(?![A-Za-z])|\\d+ ?/ ?\\d+|\\d{1,3}(?: \\d{3})+(?:[.,·]\\d+)?|[\\d.,·]+(?:[eE][+\\-]?\\d+)?\\s?[${VULGAR}]?|[${VULGAR}])`;
  const UNIT = "1?/°?[A-Za-z]+|[^\\d\\s+\\-\\u2212.,/:](?:[^\\s\\d]*[A-Za-z^][23](?![\\dA-Za-z.,])|[^\\s\\d]*)(?: [A-Za-z][^\\s\\d]*)*";
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

  const piecesOf = (text, unit) => time(text, unit) || splitQuantity(text);

  /** The last number of a typed quantity, whose last digit says how fine the whole is, and the unit that follows it. */
  const lastPiece = (text, unit) => piecesOf(P.plainly(text, unit), unit).pop();

  /** Reads "39.14", "39.14 in" or "1 h 30 min" for a field counted in `unit`. */
  function readQuantity(text, unit) {
    text = P.plainly(text, unit);
    const pieces = piecesOf(text, unit);
    if (pieces.length === 1 && !pieces[0][1]) return N.read(text);
    if (!unit) throw new N.NumberError(`a plain number is wanted here, without '${pieces[0][1] || pieces[pieces.length - 1][1]}'`);
    let total = S.whole(0);
    for (const [number, spelling] of pieces) {
      if (!spelling) throw new N.NumberError(`'${text.trim()}' leaves the unit of ${number} open`);
      const found = findUnit(spelling, unit);
      total = S.add(total, S.abs(convert(N.read(number), found.name, unit)));
    }
    return /^[-\u2212]/.test(text.trim()) ? S.neg(total) : total;
  }

  /** A number without its direction or word for a gain, and whether these turn its sign. */
  function figureText(field, text) {
    let back = false;
    if (field.unit === "deg") [text, back] = P.turned(text, field.compass);
    else if (P.isRate(field.unit)) [text, back] = P.signed(text, field.gains);
    else if (field.of_day) text = P.hourOfDay(text);
    return [decided(field, text), back];
  }

  /** "18,000" in the one way that lies within the limits of the input; anything else as it is. */
  function decided(field, text) {
    const match = /(?<![\d,.])[1-9]\d{0,2},\d{3}(?![\d,.])/.exec(text);
    if (!match || !field.minimum || !field.maximum) return text;
    const fitting = ["", "."].map((point) => text.replaceAll(match[0], match[0].replace(",", point))).filter((way) => fits(field, way));
    return fitting.length === 1 ? fitting[0] : text;
  }

  function fits(field, text) {
    try {
      const value = readQuantity(text, field.unit);
      return S.le(N.of(field.minimum), value) && S.le(value, N.of(field.maximum));
    } catch (error) {
      if (error instanceof N.NumberError) return false;
      throw error;
    }
  }

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
    text = text.replace(PINION_FIRST, "$2/$1").replace(/[()]/g, " ");
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
  const DATES = [/^(?<year>\d{4})[-/. ](?<month>\d{1,2})[-/. ](?<day>\d{1,2})$/, /^(?<day>\d{1,2})(?:\.|st|nd|rd|th)? (?:of )?(?<month>[A-Za-z]{3,9})\.?,? (?<year>\d{4})$/, /^(?<month>[A-Za-z]{3,9})\.? (?<day>\d{1,2})(?:st|nd|rd|th)?,? (?<year>\d{4})$/, /^(?<day>1[3-9]|2\d|3[01])[-/.](?<month>\d{1,2})[-/.](?<year>\d{4})$/];

  /** The text as year-month-day where it can be read in one way only; anything else as it is. */
  function yearFirst(text) {
    const match = DATES.map((pattern) => pattern.exec(text)).find(Boolean);
    if (!match) return text;
    const { day, month, year } = match.groups, place = MONTHS.findIndex((name) => month.length > 2 && name.startsWith(month.toLowerCase())) + 1;
    return place || /^\d+$/.test(month) ? `${year}-${String(place || month).padStart(2, "0")}-${day.padStart(2, "0")}` : text;
  }

  /** The numbers of a list as they were typed; those with units, such as "1 min 47 s, 1:52", in the unit of the field. */
  function listPieces(field, text) {
    if (field.unit && /[A-Za-z°′″'":]/.test(text)) {
      const pieces = text.split(text.includes(";") ? ";" : ",").map((piece) => piece.trim()).filter(Boolean);
      return pieces.map((piece) => (piece === "?" ? piece : N.inWorking(readQuantity(piece, field.unit))));
    }
    const onlyCommas = /^[^,;\s]+(?:,[^,;\s]+){2,}$/.test(text) && !/^[+-]?\d{1,3}(?:,\d{3})+$/.test(text);
    return text.trim().split(onlyCommas ? "," : /(?:[;\s]|,\s)+/).filter(Boolean);
  }

  const readers = {
    counts(field, text) {
      for (const count of readCounts(text)) within(field, S.whole(count));
      return text.trim().replace(/\s+/g, " ");
    },
    "lost-train": (field, text) => readLostTrain(text).map((mesh) => mesh.map((count) => count || "?").join("/")).join(" "),
    number(field, text) {
      const [figure, back] = figureText(field, text), value = readQuantity(figure, field.unit);
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
      const pieces = listPieces(field, text);
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
    const direction = field.compass ? `, or with ${P.letters(field.compass)} beside it` : "";
    return kind + limits + (field.unit ? `${field.type === "list" ? ", in" : ""} ${symbol(field.unit)}` : "") + direction + (field.also ? `; units: ${[field.unit, ...field.also].map(named).join(", ")}` : "");
  }

  /** A value as it is typed: "84/7 78/7", "29.5". */
  function written(value) {
    if (typeof value === "string") return value;
    if (Array.isArray(value)) return value.map((each) => (Array.isArray(each) ? each.join("/") : N.inWorking(each))).join(" ");
    return N.inWorking(value);
  }

  ClockRef.given = { MOST_TEETH, GivenError, listPieces, readGiven, figureText, readQuantity, lastPiece, splitQuantity, readTrain, readLostTrain, readCounts, accepted, written, convert, symbol, unitNamed, findUnit };
})(typeof window === "undefined" ? globalThis : window);
