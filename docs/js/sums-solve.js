/* Finds the field that was left blank: the twin of build_tools/solve.py and build_tools/solve_open.py. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums, G = ClockRef.given;
  const STEPS = 1000, HALVINGS = 100, GOLDEN = (Math.sqrt(5) - 1) / 2, CLOSE = 1e-9, MOST_ANSWERS = 20;
  const USUAL_TEETH = 400, LONGEST_RANGE = 20000, WIDER = 10, UNKNOWN = "?", WITH_SIGN = ["train", "list", "date"], DAY_MS = 86400000;

  /** Tries every value: those within `allowed` of the wanted result fit, by error; the others are nearest. Of very many, the exact ones stand for all. */
  function among(values, gives, wanted, allowed) {
    const tried = values.map((value) => attempt(value, gives, wanted)).filter(Boolean);
    tried.sort((a, b) => S.order(S.abs(a.error), S.abs(b.error)));
    let fits = tried.filter((candidate) => S.le(S.abs(candidate.error), allowed));
    if (fits.length > 1 && fits.length === tried.length) return { fits: [], nearest: [], idle: true };
    const exact = fits.filter((candidate) => !N.settled(candidate.error).n);
    if (fits.length > MOST_ANSWERS && exact.length && exact.length <= MOST_ANSWERS) fits = exact;
    if (fits.length > MOST_ANSWERS && N.exact(fits[0].value)) {
      const inOrder = fits.map((candidate) => candidate.value).sort(S.order);
      return { fits: [], nearest: [], many: [inOrder[0], inOrder[inOrder.length - 1]] };
    }
    return { fits: fits.slice(0, MOST_ANSWERS), nearest: tried.slice(fits.length, fits.length + 5) };
  }

  function attempt(value, gives, wanted) {
    try {
      const result = gives(value);
      return typeof result === "string" ? null : { value, gives: result, error: S.sub(result, wanted) };
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
        const result = gives(value);
        return typeof result === "string" ? null : N.toFloat(result) - aim;
      } catch (error) {
        if (error instanceof N.NumberError) return null;
        throw error;
      }
    };
    const points = grid(N.toFloat(least), N.toFloat(most)).map((x) => [x, off(x)]);
    const many = stretch(points, scale);
    if (many) return { fits: [], nearest: [], many, idle: points.every(([, miss]) => miss === null || Math.abs(miss) <= scale) };
    if (level(points.map(([, miss]) => miss), aim)) return { fits: [], nearest: [], idle: true };
    const fits = distinct(roots(points, off).filter(([x, allowed]) => size(off(x)) <= Math.max(scale, allowed)).map(([x]) => polished(x, off)));
    const flat = fits.findIndex((x, place) => place && size(off((fits[place - 1] + x) / 2)) <= scale); // a step of whole numbers, narrower than the grid
    if (flat > 0) return { fits: [], nearest: [], many: [N.settled(fits[flat - 1]), N.settled(fits[flat])] };
    const candidates = fits.slice(0, MOST_ANSWERS).map((x) => ({ value: N.settled(x), gives: gives(x), error: off(x) }));
    return { fits: candidates, nearest: fits.length ? [] : nearest(points, off, gives) };
  }

  const size = (miss) => (miss === null ? Infinity : Math.abs(miss));

  /** Whether every point gives the same; what looks like a nearest value would be chance in the last digit of a float. */
  const level = (misses, aim) => !misses.includes(null) && Math.max(...misses) - Math.min(...misses) <= CLOSE * Math.abs(misses[0] + aim);

  function stretch(points, scale) {
    const fitting = points.filter(([, miss]) => size(miss) <= scale);
    const three = points.some((_, place) => place + 2 < points.length && points.slice(place, place + 3).every(([, miss]) => size(miss) <= scale));
    return three ? [N.settled(fitting[0][0]), N.settled(fitting[fitting.length - 1][0])] : null;
  }

  /** Where the result may be the wanted one, and how far off it may be there for want of digits: a pole is much further off. */
  function roots(points, off) {
    const found = points.filter(([, miss]) => miss === 0).map(([x]) => [x, 0]);
    for (let place = 1; place < points.length; place += 1) {
      const [a, atA] = points[place - 1], [b, atB] = points[place];
      if (atA !== null && atB !== null && atA * atB < 0) found.push([bisected(a, b, atA, off), CLOSE * Math.min(Math.abs(atA), Math.abs(atB))]);
    }
    for (let place = 2; place < points.length; place += 1) {
      const [before, here, after] = points.slice(place - 2, place + 1);
      if ([before[1], here[1], after[1]].includes(null)) continue;
      const lower = size(here[1]) < Math.min(size(before[1]), size(after[1]));
      if (lower && before[1] * here[1] > 0 && here[1] * after[1] > 0) found.push([lowest(before[0], after[0], off), 0]);
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

  /* The field that is open. */

  const WRITE = {
    train: "a whole train can't be solved for; write it with ? for the one count that is lost, such as 84/7 ?/7",
    list: "a whole list can't be solved for; write it with ? for the one number that is lost, such as 0 4.2 ? 12.4",
    date: "no date can be found without its year; write ? for the month or the day, such as 2026-?-?",
  };

  /** What fits; a candidate's value is what stands in the place of the "?". */
  function searched(field, text, gives, aim) {
    if (WITH_SIGN.includes(field.type) && !text.includes(UNKNOWN)) throw new G.GivenError(field.name, WRITE[field.type]);
    if (field.type === "train") {
      const usual = among(trains(field, text, USUAL_TEETH), gives, aim.value, aim.allowed);
      return usual.fits.length || usual.idle ? usual : among(trains(field, text, G.MOST_TEETH), gives, aim.value, aim.allowed);
    }
    const values = { date: days, whole: wholeNumbers, choice: () => field.choices.map((choice) => choice.value) }[field.type];
    if (values) return among(values(field, text), gives, aim.value, aim.allowed);
    if (field.type === "list") {
      const { others, filled } = openList(field, text);
      return between(...limits(field, others), (value) => gives(filled(value)), aim.value);
    }
    if (field.type === "number") return between(N.read(field.minimum), N.read(field.maximum), gives, aim.value);
    throw new G.GivenError(field.name, `${field.label} can't be solved for; accepted: ${G.accepted(field)}`);
  }

  /** The value of the whole field when this stands in the place of the "?". */
  function filledIn(field, text, value) {
    return field.type === "list" ? openList(field, text).filled(value) : value;
  }

  /** The train with every count in the place of the "?"; a driver may have a single tooth, a pinion may not. */
  function trains(field, text, most) {
    if (text.split(UNKNOWN).length > 2) throw new G.GivenError(field.name, "only one count can be solved for; write ? once");
    const least = /[/:]\s*\?/.test(text) ? 2 : 1;
    try {
      const train = G.readLostTrain(text);
      return Array.from({ length: most - least + 1 }, (_, step) => train.map((mesh) => mesh.map((count) => count || step + least)));
    } catch (error) {
      if (!(error instanceof N.NumberError)) throw error;
      throw new G.GivenError(field.name, error.message);
    }
  }

  /** Every day of the year that the date leaves open. */
  function days(field, text) {
    const match = /^(\d{4})-(\?+|\d{1,2})-(\?+|\d{1,2})$/.exec(text.trim());
    if (!match || match[1] === "0000") throw new G.GivenError(field.name, WRITE.date);
    const [, year, month, day] = match, first = Date.parse(`${year}-01-01T00:00:00Z`);
    const mayBe = (written, number) => written.includes(UNKNOWN) || Number(written) === number;
    const all = Array.from({ length: 366 }, (_, step) => new Date(first + step * DAY_MS).toISOString().slice(0, 10)).filter((each) => each.startsWith(year));
    const found = all.filter((each) => mayBe(month, Number(each.slice(5, 7))) && mayBe(day, Number(each.slice(8))));
    if (!found.length) throw new G.GivenError(field.name, `'${text.trim().slice(0, 40)}' leaves no day open`);
    return found;
  }

  function wholeNumbers(field) {
    const least = Number(field.minimum), most = Math.min(Number(field.maximum), least + LONGEST_RANGE);
    return Array.from({ length: most - least + 1 }, (_, step) => S.whole(least + step));
  }

  /** A list with one "?": its other numbers, and the whole of it when a number stands in the place of the "?". */
  function openList(field, text) {
    const pieces = piecesOf(field, text), place = pieces.indexOf(UNKNOWN), rest = pieces.filter((piece) => piece !== UNKNOWN);
    if (rest.length !== pieces.length - 1) throw new G.GivenError(field.name, "only one number can be solved for; write ? once, by itself");
    if (!rest.length) throw new G.GivenError(field.name, WRITE.list);
    const others = G.readGiven(field, rest.join(" "));
    return { others, filled: (value) => [...others.slice(0, place), value, ...others.slice(place)] };
  }

  function piecesOf(field, text) {
    try {
      return G.listPieces(field, text.trim());
    } catch (error) {
      if (!(error instanceof N.NumberError)) throw error;
      throw new G.GivenError(field.name, `${error.message}; accepted: ${G.accepted(field)}`);
    }
  }

  /** From well below the other numbers of the list to well above them, within the limits of the field. */
  function limits(field, others) {
    const rest = others.map(N.settled), least = N.read(field.minimum), most = N.read(field.maximum);
    const low = S.min(...rest), high = S.max(...rest), spread = S.mul(S.whole(WIDER), S.sub(high, low)), reach = spread.n ? spread : S.sub(most, least);
    return [S.max(least, S.sub(low, reach)), S.min(most, S.add(high, reach))];
  }

  ClockRef.solve = { among, between, searched, filledIn, WITH_SIGN };
})(typeof window === "undefined" ? globalThis : window);
