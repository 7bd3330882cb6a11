/* Exact numbers in the page: the twin of build_tools/number.py, tested against it on the same vectors.
   A number is a rational {n, d} of BigInts while it comes from counts and typed decimals, a plain number from the first root on. */
(function (root) {
  "use strict";
  const ClockRef = (root.ClockRef = root.ClockRef || {});
  const FIGURES = 12, LONGEST = 40, LARGEST_EXPONENT = 30, LARGEST_BITS = 4096;
  const OUT_OF_RANGE = "the sum runs out of the range of numbers";
  const VULGAR = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };

  /** One sentence that says what is wrong with a number and what to write instead. */
  class NumberError extends Error {}

  function rational(n, d = 1n) {
    if (d < 0n) { n = -n; d = -d; }
    const shared = gcd(n < 0n ? -n : n, d);
    return { n: n / shared, d: d / shared };
  }

  function gcd(a, b) {
    while (b) [a, b] = [b, a % b];
    return a || 1n;
  }

  const exact = (value) => typeof value === "object" && value !== null && "n" in value;
  const size = (n) => (n < 0n ? -n : n);
  const tens = (power) => (power >= 0 ? rational(10n ** BigInt(power)) : rational(1n, 10n ** BigInt(-power)));
  const times = (a, b) => rational(a.n * b.n, a.d * b.d);
  const over = (a, b) => rational(a.n * b.d, a.d * b.n);

  /** Reads "29.5", "7 1/2", "39-1/8", "39,14", "39·14", "18 000", "366.24/365.24" or "3.1e-6"; throws NumberError in one sentence. */
  function read(text) {
    const plain = plainText(text);
    if (!plain) throw new NumberError("a number is missing here");
    if (plain.length > LONGEST) throw new NumberError(`a number of ${plain.length} characters is too long: write at most ${LONGEST}`);
    const signed = "+-".includes(plain[0]) && !"+-".includes(plain[1] || " ");
    const value = readUnsigned(signed ? plain.slice(1) : plain, text.trim());
    return plain[0] === "-" ? { n: -value.n, d: value.d } : value;
  }

  function plainText(text) {
    text = text.replace(/[\u2212\u2013]/g, "-").replace(/·(?=\d)/g, ".").replace(/[½¼¾⅓⅔⅛⅜⅝⅞]/g, (sign) => " " + VULGAR[sign]);
    return text.replace(/[\s\u00a0\u2009\u202f]+/g, " ").trim().replace(/^([+-]) /, "$1");
  }

  function readUnsigned(plain, typed) {
    const mixed = /^(?:(\d+)[ -])?(\d+) ?\/ ?(\d+)$/.exec(plain);
    if (mixed) return readMixed(mixed, typed);
    const quotient = /^(\d+(?:\.\d+)?) ?\/ ?(\d+(?:\.\d+)?)$/.exec(plain);
    if (quotient) return over(fromDecimal(quotient[1], 0), notNothing(fromDecimal(quotient[2], 0), typed));
    if (/^\d{1,3}(?: \d{3})+(?:[.,]\d*)?$/.test(plain)) return fromDecimal(plain.replace(/ /g, "").replace(",", "."), 0);
    const decimal = /^(\d+(?:\.\d*)?|\.\d+)(?:[eE]([+-]?\d{1,3}))?$/.exec(withoutCommas(plain, typed));
    if (!decimal) throw new NumberError(`'${typed.slice(0, LONGEST)}' is not a number: write it like 29.5, 7 1/2 or 39,14`);
    const exponent = Number(decimal[2] || 0);
    if (Math.abs(exponent) > LARGEST_EXPONENT) throw new NumberError(`${typed} is out of range: powers of ten go from -${LARGEST_EXPONENT} to ${LARGEST_EXPONENT}`);
    return fromDecimal(decimal[1], exponent);
  }

  function readMixed(mixed, typed) {
    const [whole, top, bottom] = [mixed[1] || "0", mixed[2], mixed[3]].map(BigInt);
    return over(rational(whole * bottom + top), notNothing(rational(bottom), typed));
  }

  function notNothing(divisor, typed) {
    if (divisor.n === 0n) throw new NumberError(`${typed} divides by nothing: the lower number must not be 0`);
    return divisor;
  }

  function withoutCommas(plain, typed) {
    if (!plain.includes(",")) return plain;
    const single = plain.split(",").length === 2 && !plain.includes(".");
    const grouped = /^\d{1,3}(?:,\d{3})+(?:\.\d*)?$/.test(plain);
    if (single && grouped && !plain.startsWith("0")) {
      throw new NumberError(`${typed} can be read in two ways: write ${plain.replace(/,/g, "")} or ${plain.replace(",", ".")}`);
    }
    if (single && /^\d*,\d+(?:[eE][+-]?\d{1,3})?$/.test(plain)) return plain.replace(",", ".");
    return grouped ? plain.replace(/,/g, "") : plain;
  }

  function fromDecimal(digits, exponent) {
    const [whole, rest = ""] = digits.split(".");
    return times(rational(BigInt(whole + rest || "0")), tens(exponent - rest.length));
  }

  /** The size of the last digit of a number as it stands: 0.01 for "8825.14", 1/8 for "39 1/8", 1 for "3600". */
  function lastDigit(text) {
    const plain = plainText(text).replace(/,/g, ".");
    const mixed = /\/ ?(\d+)$/.exec(plain);
    if (mixed) return rational(1n, BigInt(mixed[1]) || 1n);
    const decimals = /\.(\d*)/.exec(plain), exponent = /[eE]([+-]?\d+)$/.exec(plain);
    return tens((exponent ? Number(exponent[1]) : 0) - (decimals ? decimals[1].length : 0));
  }

  /** The number that rounding, comparing and printing see: a float is first cut to twelve figures. */
  function settled(value) {
    if (exact(value)) return value;
    if (typeof value !== "number") throw new NumberError("a number is wanted where a word or a list stands");
    if (!Number.isFinite(value)) throw new NumberError(OUT_OF_RANGE);
    const [mantissa, exponent] = value.toExponential(FIGURES - 1).split("e");
    const negative = mantissa.startsWith("-");
    const found = fromDecimal(negative ? mantissa.slice(1) : mantissa, Number(exponent));
    return negative ? { n: -found.n, d: found.d } : found;
  }

  function bits(n) {
    const hex = size(n).toString(16);
    return n === 0n ? 0 : hex.length * 4 - (Math.clz32(parseInt(hex[0], 16)) - 28);
  }

  /** The exact number, or its float when numerator or denominator has grown past LARGEST_BITS. */
  const bounded = (value) => (Math.max(bits(value.n), bits(value.d)) <= LARGEST_BITS ? value : toFloat(value));

  /** The nearest float, correctly rounded; throws when there is none. */
  function toFloat(value) {
    if (typeof value === "number") return finite(value);
    if (!exact(value)) throw new NumberError("a number is wanted where a word or a list stands");
    if (value.n === 0n) return 0;
    const shift = 66 - (bits(value.n) - bits(value.d));
    const top = shift >= 0 ? size(value.n) << BigInt(shift) : size(value.n);
    const bottom = shift >= 0 ? value.d : value.d << BigInt(-shift);
    const quotient = (top / bottom) | (top % bottom ? 1n : 0n);
    const half = Math.trunc(shift / 2);
    const float = Number(quotient) * 2 ** -half * 2 ** -(shift - half);
    return finite(value.n < 0n ? -float : float);
  }

  function finite(value) {
    if (!Number.isFinite(value)) throw new NumberError(OUT_OF_RANGE);
    return value;
  }

  function floorRational(value) {
    const whole = value.n / value.d;
    return value.n % value.d < 0n ? whole - 1n : whole;
  }

  /** Rounds to so many decimals, halves away from zero. */
  function roundHalfAway(value, decimals = 0) {
    const scaled = times(settled(value), tens(decimals));
    const whole = (size(scaled.n) * 2n + scaled.d) / (scaled.d * 2n);
    return over(rational(scaled.n < 0n ? -whole : whole), tens(decimals));
  }

  /** Prints with so many decimals: fixed(8825.142857, 2) is "8825.14". */
  function fixed(value, decimals) {
    const rounded = roundHalfAway(value, decimals);
    let text = (size(rounded.n) / rounded.d).toString();
    if (decimals > 0) text += "." + (((size(rounded.n) % rounded.d) * 10n ** BigInt(decimals)) / rounded.d).toString().padStart(decimals, "0");
    return rounded.n < 0n ? "-" + text : text;
  }

  /** The power of ten of the first figure: 3 for 8825, -3 for 0.00123. The value is not 0. */
  function magnitude(value) {
    const power = size(value.n).toString().length - value.d.toString().length;
    const reached = power >= 0 ? size(value.n) >= 10n ** BigInt(power) * value.d : size(value.n) * 10n ** BigInt(-power) >= value.d;
    return reached ? power : power - 1;
  }

  /** Prints with so many figures: significant(0.00123456, 3) is "0.00123". */
  function significant(value, figures) {
    const whole = settled(value);
    if (whole.n === 0n) return "0";
    let decimals = figures - 1 - magnitude(whole);
    if (magnitude(roundHalfAway(whole, decimals)) !== magnitude(whole)) decimals -= 1;
    return fixed(whole, decimals);
  }

  /** Prints as short as the working wants it: "33", "0.125", "8825.143", "3.086e-6". */
  function compact(value, figures = 7) {
    const whole = settled(value);
    if (whole.n === 0n) return "0";
    const power = magnitude(roundHalfAway(whole, figures - 1 - magnitude(whole)));
    if (power < -5 || power >= FIGURES) return `${trimmed(significant(over(whole, tens(power)), figures))}e${power}`;
    if (whole.d === 1n) return whole.n.toString();
    return trimmed(significant(whole, Math.max(figures, power + 1)));
  }

  const trimmed = (text) => (text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text);

  /** Prints a number as the working shows it: all of a plain decimal, seven figures of anything else. */
  const inWorking = (value) => compact(value, exact(value) && 10n ** BigInt(FIGURES) % value.d === 0n ? FIGURES : 7);

  /** A printed number as pages show it: a true minus, narrow blanks in long whole parts, powers of ten raised. */
  function forPage(text) {
    const [mantissa, exponent] = text.split("e");
    const negative = mantissa.startsWith("-");
    let [whole, rest] = (negative ? mantissa.slice(1) : mantissa).split(".");
    if (whole.length > 4) whole = whole.replace(/\B(?=(\d{3})+$)/g, "\u202f");
    const raised = exponent ? "\u00a0×\u00a010" + exponent.replace(/[0-9-]/g, (sign) => "⁰¹²³⁴⁵⁶⁷⁸⁹⁻"["0123456789-".indexOf(sign)]) : "";
    return (negative ? "\u2212" : "") + whole + (rest === undefined ? "" : "." + rest) + raised;
  }

  const known = new Map();
  /** A number that stands in a formula, read once. */
  function of(text) {
    if (!known.has(text)) known.set(text, read(text));
    return known.get(text);
  }

  ClockRef.number = {
    NumberError, rational, exact, read, of, lastDigit, settled, bounded, toFloat, finite, floorRational, roundHalfAway, fixed,
    significant, magnitude, compact, trimmed, inWorking, forPage, bits, times, over, size, plainText,
    plainDecimal: (value) => compact(value, FIGURES), OUT_OF_RANGE, LARGEST_BITS,
  };
})(typeof window === "undefined" ? globalThis : window);
