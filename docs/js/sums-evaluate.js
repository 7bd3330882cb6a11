/* What the formulas in the generated script call: the twin of build_tools/formula/evaluate.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef;
  const N = ClockRef.number;
  const LARGEST_POWER = 1000;
  const NEGATIVE_ROOT = "a root of a negative number is asked for";
  const BY_NOTHING = "the sum divides by nothing (0)";

  const whole = (n) => N.rational(BigInt(n));
  const bothExact = (a, b) => N.exact(a) && N.exact(b);
  const isZero = (value) => (N.exact(value) ? value.n === 0n : value === 0);

  function add(a, b) {
    if (bothExact(a, b)) return N.bounded(N.rational(a.n * b.d + b.n * a.d, a.d * b.d));
    return N.finite(N.toFloat(a) + N.toFloat(b));
  }
  function sub(a, b) {
    if (bothExact(a, b)) return N.bounded(N.rational(a.n * b.d - b.n * a.d, a.d * b.d));
    return N.finite(N.toFloat(a) - N.toFloat(b));
  }
  function mul(a, b) {
    if (bothExact(a, b)) return N.bounded(N.times(a, b));
    return N.finite(N.toFloat(a) * N.toFloat(b));
  }
  function div(a, b) {
    if (isZero(b)) throw new N.NumberError(BY_NOTHING);
    if (bothExact(a, b)) return N.bounded(N.over(a, b));
    return N.finite(N.toFloat(a) / N.toFloat(b));
  }

  /** What is left over after whole divisions, with the sign of the divisor. */
  function mod(a, b) {
    const divisor = N.settled(b), value = N.settled(a);
    if (divisor.n === 0n) throw new N.NumberError(BY_NOTHING);
    return sub(value, mul(N.rational(N.floorRational(N.over(value, divisor))), divisor));
  }

  /** base ** exponent: exact for whole exponents of moderate size, a float otherwise. */
  function pow(base, exponent) {
    const power = N.toFloat(exponent);
    if (isZero(base) && power < 0) throw new N.NumberError(BY_NOTHING);
    if (Math.abs(power) > LARGEST_POWER) throw new N.NumberError(`a power of ${N.compact(exponent, 3)} is too large: ${LARGEST_POWER} is the most`);
    const isWhole = N.exact(exponent) && exponent.d === 1n;
    if (isWhole && N.exact(base) && Math.max(N.bits(base.n), N.bits(base.d)) * Math.abs(power) <= N.LARGEST_BITS) {
      const raise = BigInt(Math.abs(power));
      return power < 0 ? N.rational(base.d ** raise, base.n ** raise) : N.rational(base.n ** raise, base.d ** raise);
    }
    if (N.toFloat(base) < 0 && !isWhole) throw new N.NumberError(NEGATIVE_ROOT);
    return N.finite(Math.pow(N.toFloat(base), power));
  }

  const neg = (value) => (N.exact(value) ? { n: -value.n, d: value.d } : -N.toFloat(value));
  const negative = (value) => (N.exact(value) ? value.n < 0n : value < 0);
  const abs = (value) => (negative(value) ? neg(value) : value);

  /** -1, 0 or 1; numbers are compared at twelve figures. */
  function order(a, b) {
    const left = N.settled(a), right = N.settled(b), difference = left.n * right.d - right.n * left.d;
    return difference < 0n ? -1 : difference > 0n ? 1 : 0;
  }
  const same = (a, b) => (typeof a === "string" || typeof b === "string" ? a === b : order(a, b) === 0);

  /** A float function whose domain errors become a sentence. */
  function real(calculate, asks) {
    return (...values) => {
      const result = calculate(...values.map(N.toFloat));
      if (Number.isNaN(result)) throw new N.NumberError(asks);
      return N.finite(result);
    };
  }

  function wholes(calculate) {
    return (...values) => {
      const settled = values.map(N.settled);
      if (settled.some((value) => value.d !== 1n)) throw new N.NumberError("common factors are asked of a number that is not whole");
      return N.rational(calculate(...settled.map((value) => N.size(value.n))));
    };
  }

  const gcd = (a, b) => (b ? gcd(b, a % b) : a);
  const logarithm = (value) => (value > 0 ? Math.log(value) : NaN);

  ClockRef.sums = {
    add, sub, mul, div, mod, pow, neg, abs, order, same, whole,
    lt: (a, b) => order(a, b) < 0, le: (a, b) => order(a, b) <= 0, eq: same, ne: (a, b) => !same(a, b),
    gt: (a, b) => order(a, b) > 0, ge: (a, b) => order(a, b) >= 0,
    min: (...values) => values.reduce((a, b) => (order(b, a) < 0 ? b : a)),
    max: (...values) => values.reduce((a, b) => (order(b, a) > 0 ? b : a)),
    floor: (value) => N.rational(N.floorRational(N.settled(value))),
    ceil: (value) => neg(N.rational(N.floorRational(neg(N.settled(value))))),
    round: (value, decimals) => N.roundHalfAway(value, decimals === undefined ? 0 : N.toFloat(decimals)),
    sqrt: real(Math.sqrt, NEGATIVE_ROOT),
    cbrt: real((value) => Math.sign(value) * Math.abs(value) ** (1 / 3), "no such root"),
    root: real((value, degree) => Math.pow(value, 1 / degree), NEGATIVE_ROOT),
    sin: real(Math.sin, ""), cos: real(Math.cos, ""), tan: real(Math.tan, ""),
    asin: real(Math.asin, "no angle has this sine: the number must lie between -1 and 1"),
    acos: real(Math.acos, "no angle has this cosine: the number must lie between -1 and 1"),
    atan: real(Math.atan, ""), atan2: real(Math.atan2, ""),
    radians: real((degrees) => degrees * (Math.PI / 180), ""), degrees: real((radians) => radians * (180 / Math.PI), ""),
    exp: real(Math.exp, ""), log: real(logarithm, "a logarithm wants a number above 0"),
    len: (values) => whole(values.length),
    ratio: (train) => train.reduce((ratio, [driver, driven]) => N.times(ratio, N.rational(BigInt(driver), BigInt(driven))), whole(1)),
    spread(train) {
      const sums = train.map(([driver, driven]) => driver + driven);
      return whole(Math.max(...sums) - Math.min(...sums));
    },
    lcm: wholes((a, b) => (a && b ? (a / gcd(a, b)) * b : 0n)), gcd: wholes(gcd),
    sum: (v, name, values, body) => values.reduce((total, value) => add(total, body({ ...v, [name]: value })), whole(0)),
    product: (v, name, values, body) => values.reduce((total, value) => mul(total, body({ ...v, [name]: value })), whole(1)),
  };
})(typeof window === "undefined" ? globalThis : window);
