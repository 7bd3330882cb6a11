/* Finds the field that was left blank: the twin of build_tools/solve.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums;
  const STEPS = 1000, HALVINGS = 100, GOLDEN = (Math.sqrt(5) - 1) / 2, CLOSE = 1e-9, MOST_ANSWERS = 20;

  /** Tries every value: those within `allowed` of the wanted result fit, by error; the others are nearest. */
  function among(values, gives, wanted, allowed) {
    const tried = values.map((value) => attempt(value, gives, wanted)).filter(Boolean);
    tried.sort((a, b) => S.order(S.abs(a.error), S.abs(b.error)));
    const fits = tried.filter((candidate) => S.le(S.abs(candidate.error), allowed));
    if (fits.length > MOST_ANSWERS && N.exact(fits[0].value)) {
      const inOrder = fits.map((candidate) => candidate.value).sort(S.order);
      return { fits: [], nearest: [], many: [inOrder[0], inOrder[inOrder.length - 1]] };
    }
    return { fits: fits.slice(0, MOST_ANSWERS), nearest: tried.slice(fits.length, fits.length + 5) };
  }

  function attempt(value, gives, wanted) {
    try {
      const result = gives(value);
      return { value, gives: result, error: S.sub(result, wanted) };
    } catch (error) {
      if (error instanceof N.NumberError) return null;
      throw error;
    }
  }

  /** The points that are tried first: evenly spread, by ratio where the range spans more than a thousandfold. */
  function grid(least, most) {
    const growth = least > 0 && most / least > 1000 ? Math.log(most / least) / STEPS : 0;
    const points = Array.from({ length: STEPS }, (_, step) => (growth ? least * Math.exp(growth * step) : least + ((most - least) * step) / STEPS));
    return [...points, most];
  }

  /** Every value from least to most that gives the wanted result: sign changes bisected, near misses refined. */
  function between(least, most, gives, wanted) {
    const aim = N.toFloat(wanted), scale = CLOSE * Math.max(Math.abs(aim), 1e-12);
    const off = (value) => {
      try {
        return N.toFloat(gives(value)) - aim;
      } catch (error) {
        if (error instanceof N.NumberError) return null;
        throw error;
      }
    };
    const points = grid(N.toFloat(least), N.toFloat(most)).map((x) => [x, off(x)]);
    const many = stretch(points, scale);
    if (many) return { fits: [], nearest: [], many };
    const fits = distinct(roots(points, off).map((x) => polished(x, off))).filter((x) => size(off(x)) <= scale);
    const candidates = fits.slice(0, MOST_ANSWERS).map((x) => ({ value: N.settled(x), gives: gives(x), error: off(x) }));
    return { fits: candidates, nearest: fits.length ? [] : nearest(points, off, gives) };
  }

  const size = (miss) => (miss === null ? Infinity : Math.abs(miss));

  function stretch(points, scale) {
    const fitting = points.filter(([, miss]) => size(miss) <= scale);
    const three = points.some((_, place) => place + 2 < points.length && points.slice(place, place + 3).every(([, miss]) => size(miss) <= scale));
    return three ? [N.settled(fitting[0][0]), N.settled(fitting[fitting.length - 1][0])] : null;
  }

  function roots(points, off) {
    const found = points.filter(([, miss]) => miss === 0).map(([x]) => x);
    for (let place = 1; place < points.length; place += 1) {
      const [a, atA] = points[place - 1], [b, atB] = points[place];
      if (atA !== null && atB !== null && atA * atB < 0) found.push(bisected(a, b, atA, off));
    }
    for (let place = 2; place < points.length; place += 1) {
      const [before, here, after] = points.slice(place - 2, place + 1);
      if ([before[1], here[1], after[1]].includes(null)) continue;
      const lower = size(here[1]) < Math.min(size(before[1]), size(after[1]));
      if (lower && before[1] * here[1] > 0 && here[1] * after[1] > 0) found.push(lowest(before[0], after[0], off));
    }
    return found;
  }

  function bisected(a, b, atA, off) {
    for (let round = 0; round < HALVINGS; round += 1) {
      const middle = (a + b) / 2, miss = off(middle);
      if (miss === null || miss === 0 || middle === a || middle === b) return middle;
      if (miss * atA > 0) [a, atA] = [middle, miss];
      else b = middle;
    }
    return (a + b) / 2;
  }

  /** The point between a and b where the miss is smallest, by golden section. */
  function lowest(a, b, off) {
    for (let round = 0; round < HALVINGS; round += 1) {
      const left = b - GOLDEN * (b - a), right = a + GOLDEN * (b - a);
      if (size(off(left)) < size(off(right))) b = right;
      else a = left;
    }
    return (a + b) / 2;
  }

  /** The same root with few figures when that fits at least as well. */
  function polished(x, off) {
    const short = N.toFloat(N.settled(x));
    return size(off(short)) <= size(off(x)) + CLOSE * size(off(x)) ? short : x;
  }

  function distinct(found) {
    const kept = [];
    for (const x of [...found].sort((a, b) => a - b)) {
      if (!kept.length || Math.abs(x - kept[kept.length - 1]) > CLOSE * Math.max(Math.abs(x), 1e-12)) kept.push(x);
    }
    return kept;
  }

  function nearest(points, off, gives) {
    const sound = points.filter(([, miss]) => miss !== null);
    if (!sound.length) return [];
    let place = 0;
    sound.forEach(([, miss], index) => { if (size(miss) < size(sound[place][1])) place = index; });
    const a = sound[Math.max(place - 1, 0)][0], b = sound[Math.min(place + 1, sound.length - 1)][0];
    const refined = lowest(a, b, off);
    const best = size(off(refined)) <= size(sound[place][1]) ? refined : sound[place][0];
    return [{ value: N.settled(best), gives: gives(best), error: off(best) }];
  }

  ClockRef.solve = { among, between };
})(typeof window === "undefined" ? globalThis : window);
