/* How people and books write a quantity, turned into a number and its unit before it is read: the twin of build_tools/spelling.py and compass.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums;
  const POWER = /([\d.,]+)\s*[x×X·*]\s*10\s*(?:(?:\^|\*\*)\s*\(?([+\-\u2212]?\d+)\)?|([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)|([+\-\u2212]\d+))/g;
  const RESPELT = [
    [/^\s*(?:about|approx\.?|circa|ca?\.|≈|~)\s*(?=\d)/g, ""], [/(\d)\s*\+\s*(\d+\s*\/\s*\d+)/g, "$1 $2"], [/(\d+)\s*([°′″'"])\.(\d+)/g, "$1.$3$2"], [/°\s+([CcFfKk])\b/g, "°$1"],
    [/\bdeg(?:rees?|s)?\.?\s+([CFcf])\b\.?/g, "°$1"], [/\bper\s+°/g, "/°"], [/(?<=[A-Za-z°′″'".]),\s+(?=\d)/g, " "], [/(?<=[A-Za-z°′″'".])\s+and\s+(?=\d)/g, " "],
  ];
  const PROPORTION = /^\s*([+\-\u2212]?)(\d+) ?(in|:) ?(\d+)\s*$/;
  const part = (words) => `(?:([\\d.,·]+)\\s*(?:${words}))?\\s*`;
  const RATE = new RegExp(`^\\s*([+\\-\\u2212]?)\\s*${part("h|hrs?|hours?")}${part("m|mins?|minutes?|′|'")}${part("s|secs?|seconds?|″|\"|''")}(?:(?:/|(?:in )?an? |per |in |every |each )\\s*(?:([1-9]\\d*)\\s*)?(h|hour|d|day|week|month|year)s?)?\\s*$`);
  const PERIODS = { hour: "h", d: "day" }, RATES = ["s/h", "s/day", "s/week", "s/month", "s/year", "min/day", "min/week", "min/month"];
  const GAINS = /\b(?:gain(?:s|ing|ed)?|fast|ahead)\b/g, LOSES = /\b(?:los(?:es?|ing|t)|slow|behind)\b/g, FILLERS = /\b(?:it|is|too|by|of)\b/g;
  const NAMED_HOURS = { noon: "12 h", midday: "12 h", midnight: "0 h", "12 noon": "12 h", "12 midnight": "0 h" };
  const WAYS = { N: "north", S: "south", E: "east", W: "west" }, OTHER = { N: "S", S: "N", E: "W", W: "E" };
  const LETTERED = [
    /^(?<way>[Nn]orth|[Ss]outh|[Ee]ast|[Ww]est|[NSEWnew])\.?\s*(?<angle>[+\-\u2212]?\s*[\d.,·].*)$/, /^(?<angle>.*\d(?:.*[^A-Z])?)(?<way>[NSEW])\.?$/,
    /^(?<angle>.*\d(?:.*[\s°′″'"])?)(?<way>[Nn]orth|[Ss]outh|[Ee]ast|[Ww]est|[new])\.?$/,
  ];
  const SIXTIETHS = /^([+\-\u2212]?)\s*(\d{1,3})(?:\s+|\s*:\s*)([0-5]?\d(?:[.,]\d+)?)(?:(?:\s+|\s*:\s*)([0-5]?\d(?:[.,]\d+)?))?$/, POINTED = /^([+\-\u2212]?)\s*(\d{1,3})\.([0-5]?\d)\.([0-5]?\d)$/;
  const quoted = (text) => `'${text.trim().slice(0, 40)}'`;
  const exponent = (text) => text.replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺\u2212]/g, (sign) => "0123456789-+-"["⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺\u2212".indexOf(sign)]);

  /** Whether a unit counts how much a clock gains in a time. */
  const isRate = (unit = "") => /^(s|min)\//.test(unit);

  /** A typed quantity as a number and its unit: "1/400" for "1:400", "148 s/day" for "2 min 28 s" in a field of rates. */
  function plainly(text, unit = "") {
    text = text.replace(POWER, (_, number, ...powers) => `${number}e${exponent(powers.slice(0, 3).find(Boolean))}`);
    for (const [pattern, plain] of RESPELT) text = text.replace(pattern, plain);
    const proportion = PROPORTION.exec(text);
    if (proportion && isRate(unit) && proportion[3] === "in") return `${proportion[1]}${BigInt(proportion[2]) * 1000000n}/${proportion[4]} ppm`;
    if (proportion && !unit && (proportion[3] === "in" || [proportion[2], proportion[4]].includes("1"))) return `${proportion[1]}${proportion[2]}/${proportion[4]}`;
    return isRate(unit) ? rate(text, unit) : text;
  }

  /** "2 min 28 s" in the time of the field's unit, or in a time of its own, in seconds; one part alone keeps its unit. */
  function rate(text, unit) {
    const match = RATE.exec(text), parts = match ? [[match[2], "h", 3600], [match[3], "min", 60], [match[4], "s", 1]].filter(([number]) => number) : [];
    if (!parts.length) return text;
    const period = PERIODS[match[6] || unit.split("/")[1]] || match[6] || unit.split("/")[1];
    if (parts.length === 1 && !match[5] && RATES.includes(`${parts[0][1]}/${period}`)) return `${match[1]}${parts[0][0]} ${parts[0][1]}/${period}`;
    const total = parts.reduce((sum, [number, , worth]) => S.add(sum, N.times(S.whole(worth), N.read(number))), S.whole(0));
    const shared = match[5] ? S.div(total, N.read(match[5])) : null;
    return `${match[1]}${shared ? (shared.d === 1n ? shared.n : `${shared.n}/${shared.d}`) : N.inWorking(total)} s/${period}`;
  }

  /** A rate without "gains", "loses", "fast" or "slow", and whether the word turns its sign. */
  function signed(text, signedByWords) {
    const losing = text.match(LOSES) || [], words = [...(text.match(GAINS) || []), ...losing];
    if (!words.length) return [text, false];
    const plain = text.replace(GAINS, " ").replace(LOSES, " ").replace(FILLERS, " ").trim().replace(/\s+/g, " ");
    if (words.length > 1 || !signedByWords || /^[+\-\u2212]/.test(plain)) throw new N.NumberError(`${quoted(text)} says which way in words: write a number, with a minus where the field asks for one`);
    return [plain, losing.length > 0];
  }

  /** "3 pm", "9:16 p.m." and "noon" in hours and minutes from midnight; anything else as it is. */
  function hourOfDay(text) {
    const match = /^(\d{1,2})(.*?)\s*([ap])\.?m\.?$/i.exec(text.trim());
    if (!match || Number(match[1]) > 12) return NAMED_HOURS[text.trim().toLowerCase()] || text;
    const rest = match[2].trim().replace(/^[:.](\d\d)$/, " h $1 min") || "h";
    return `${match[3].toLowerCase() === "p" ? 12 : 0} h ${Number(match[1]) % 12} ${rest.trim()}`;
  }

  /** An angle without its direction of the compass, and that as a capital letter ("" for none). */
  function splitDirection(text) {
    const match = LETTERED.map((pattern) => pattern.exec(text.trim())).find(Boolean);
    return match ? [match.groups.angle.trim(), match.groups.way[0].toUpperCase()] : [text.trim(), ""];
  }

  /** An angle without its letter, in degrees, minutes and seconds, and whether the letter turns its sign; `compass` is the way that counts as plus. */
  function turned(text, compass = "") {
    const [angle, way] = splitDirection(text), plus = compass.slice(0, 1).toUpperCase();
    if (way && !compass) throw new N.NumberError(`${quoted(text)} gives a direction of the compass, and a plain angle is wanted`);
    if (way && way !== plus && way !== OTHER[plus]) throw new N.NumberError(`${quoted(text)} says ${WAYS[way]}, where only ${compass} or ${WAYS[OTHER[plus]]} makes sense`);
    if (way && /^[+\-\u2212]/.test(angle)) throw new N.NumberError(`${quoted(text)} has both a sign and a letter: write one of them`);
    if (compass && /^[+\-\u2212]?[\d.,\s]+s$/.test(angle)) throw new N.NumberError(`${quoted(text)} can be read in two ways: write S for south, or ″ for seconds`);
    return [compass || angle.includes(":") ? inParts(angle) : angle, Boolean(way) && way !== plus];
  }

  /** "51 30 15", "51:30:15" and "51.30.15" with their units; anything else as it is. */
  function inParts(angle) {
    const match = SIXTIETHS.exec(angle) || POINTED.exec(angle);
    return match ? match[1] + ["deg", "arcmin", "arcsec"].map((unit, place) => match[place + 2] && `${match[place + 2]} ${unit}`).filter(Boolean).join(" ") : angle;
  }

  /** The letters that a field takes: "N or S". */
  const letters = (compass) => `${compass[0].toUpperCase()} or ${OTHER[compass[0].toUpperCase()]}`;

  ClockRef.spellings = { plainly, isRate, signed, hourOfDay, splitDirection, turned, letters };
})(typeof window === "undefined" ? globalThis : window);
