/* What calculations name in place of steps: the twin of build_tools/procedure_*.py.
   A result is a number, words, a table (rows of such values), or null where it does not apply. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums, G = ClockRef.given;
  const MILLION = S.whole(1000000), HOURS_A_DAY = S.whole(24), SECONDS_A_DAY = S.whole(86400), ONE = S.whole(1);
  const MOST_LOST = 2, FITS = 1, NEAR = 3, ROWS = 24, NEAREST = 3, CIRCLE = 360, HOURS = 12;

  const given = (values, name) => values[name] !== undefined && values[name] !== null;
  const powerOf = (ratio, exponent) => S.pow(ratio, S.whole(exponent));

  /* The best train. */

  function bestTrain(values) {
    const byPeriod = given(values, "period");
    if (byPeriod === given(values, "ratio")) throw new N.NumberError("give the ratio or the period, one of the two");
    const drivers = G.readCounts(values.drivers), driven = G.readCounts(values.driven);
    const [over, under] = byPeriod ? [driven, drivers] : [drivers, driven];
    const bounds = { meshes: Number(values.meshes.n), over, under, coprime: values.coprime === "yes" };
    const first = S.div(N.settled(values.driver_hours), HOURS_A_DAY);
    const wanted = byPeriod ? S.div(N.settled(values.period), first) : N.settled(values.ratio);
    const best = ClockRef.trainsearch.search(wanted, bounds);
    if (!best.trains.length) throw new N.NumberError("every train within these limits has a mesh with a common factor: widen the limits");
    withinReach(wanted, bounds, values, byPeriod ? first : null);
    const rows = best.trains.map((each) => trainRow(each, wanted, byPeriod ? first : null));
    return { ...rows[0], equals: S.whole(best.equals), verdict: trainVerdict(best), answers: rows.map((row) => Object.values(row)) };
  }

  function trainRow(found, wanted, first) {
    const meshes = found.over.map((count, place) => (first ? [found.mates[place], count] : [count, found.mates[place]]));
    return {
      train: meshes.map((mesh) => mesh.join("/")).join(" "),
      teeth: S.whole(found.teeth),
      ratio_found: first ? S.div(ONE, found.ratio) : found.ratio,
      period_found: first ? S.mul(found.ratio, first) : null,
      error: S.mul(S.sub(S.div(found.ratio, wanted), ONE), MILLION),
      error_time: first ? S.mul(S.mul(S.sub(found.ratio, wanted), first), SECONDS_A_DAY) : null,
    };
  }

  /** Refuses what no train within the limits comes near: the nearest would be a table of trains that are all far off. */
  function withinReach(wanted, { over, under, meshes }, values, first) {
    const end = (top, bottom) => powerOf(N.rational(BigInt(top), BigInt(bottom)), meshes);
    const least = end(over[0], under[under.length - 1]), most = end(over[over.length - 1], under[0]);
    if (S.le(least, wanted) && S.le(wanted, most)) return;
    const [from, to] = [least, most].map((each) => N.compact(first ? S.mul(each, first) : each, 4));
    const turned = first && S.gt(wanted, most) && S.le(S.div(ONE, most), wanted) && S.le(wanted, S.div(ONE, least));
    const cure = turned ? `let the small counts drive, ${values.driven} as drivers and ${values.drivers} as driven` : "widen the limits, or allow more meshes";
    throw new N.NumberError(`out of reach: these limits give ${first ? "periods" : "ratios"} from ${from} to ${to}${first ? " d" : ""} only; ${cure}`);
  }

  function trainVerdict(best) {
    const several = best.equals > 1;
    if (best.trains[0].error.n === 0n) return several ? `${best.equals} trains give it exactly; those with the fewest teeth stand first.` : "One train gives it exactly.";
    return several ? `None gives it exactly; ${best.equals} come equally near.` : "None gives it exactly; one comes nearest.";
  }

  /* Lost wheels and pinions. The sums are made of the same + - * / of floats as in Python. */

  function lostWheel(values, trains) {
    const train = G.readLostTrain(values.meshes), gaps = [];
    train.forEach((mesh, place) => mesh.forEach((count, side) => { if (count === 0) gaps.push([place, side]); }));
    if (gaps.length < 1 || gaps.length > MOST_LOST) throw new N.NumberError("write ? for the lost count, such as 84/7 ?/7; two at most can be found");
    if (!given(values, "beats") && !given(values, "pendulum")) {
      throw new N.NumberError("give the beats an hour, or the length of the pendulum that belongs to it");
    }
    const witnesses = witnessesOf(values, [...new Set(gaps.map(([place]) => place))].sort((a, b) => a - b));
    const found = filled(train, gaps, values).map(([whole, lost]) => weigh(witnesses, whole, lost, trains)).sort(compareCandidates);
    if (!found.length) throw new N.NumberError("no counts are left to choose from: widen the limits");
    const fits = found.filter((each) => each.off <= FITS), close = found.filter((each) => each.off <= NEAR).slice(0, ROWS);
    const shown = close.length ? close : found.slice(0, NEAREST);
    return {
      lost: namesOf(fits.length ? fits.slice(0, 1) : found.slice(0, 1)), fitting: S.whole(fits.length),
      verdict: lostVerdict(fits, shown.filter((each) => each.off > FITS && each.off <= NEAR), found[0]), answers: shown.map(lostRow),
    };
  }

  function filled(train, gaps, values) {
    const ranges = gaps.map(([, side]) => G.readCounts(side ? values.pinions : values.wheels));
    const choices = ranges.reduce((lists, range) => lists.flatMap((list) => range.map((count) => [...list, count])), [[]]);
    return choices.map((lost) => {
      const whole = train.map((mesh) => [...mesh]);
      gaps.forEach(([place, side], index) => { whole[place][side] = lost[index]; });
      return [whole, lost];
    });
  }

  function witnessesOf(values, places) {
    const read = (name) => (given(values, name) ? N.toFloat(values[name]) : null);
    const distances = (values.distances || []).map(N.toFloat);
    let modules = (values.modules || []).map(N.toFloat);
    if (distances.length && modules.length === 1) modules = distances.map(() => modules[0]);
    if (distances.length && distances.length !== places.length) throw new N.NumberError(`give one centre distance for each mesh with a gap: ${places.length} here`);
    if (distances.length && modules.length !== distances.length) throw new N.NumberError("a centre distance needs the module too: take it from the surviving mate");
    return {
      places, distances, modules, escape: Number(values.escape_teeth.n), hours: read("hours_per_turn"), gravity: read("gravity"),
      beats: read("beats"), pendulum: read("pendulum"), beatsPercent: read("beats_uncertainty"),
      pendulumAllowed: read("pendulum_uncertainty"), distanceAllowed: read("distance_uncertainty"),
    };
  }

  const same = (a, b) => a[0] === b[0] && a[1] === b[1];
  const inOrder = (train) => train.map((mesh) => mesh.join("/")).sort().join(" ");

  function weigh(given, train, lost, trains) {
    let beats = (2 * given.escape) / given.hours;
    for (const [driver, driven] of train) beats = (beats * driver) / driven;
    const time = 3600 / beats, pendulum = (1000 * given.gravity * time * time) / (Math.PI * Math.PI);
    const distances = given.distances.map((measured, index) => (given.modules[index] * (train[given.places[index]][0] + train[given.places[index]][1])) / 2);
    const misses = distances.map((mine, index) => Math.abs(mine - given.distances[index]) / given.distanceAllowed);
    if (given.beats !== null) misses.push(Math.abs(beats - given.beats) / ((given.beats * given.beatsPercent) / 100));
    if (given.pendulum !== null) misses.push(Math.abs(pendulum - given.pendulum) / given.pendulumAllowed);
    const known = Math.min(...given.places.map((place) => trains.filter(([each]) => each.some((mesh) => same(mesh, train[place]))).length));
    const sameTrain = trains.some(([each, teeth]) => teeth === given.escape && inOrder(each) === inOrder(train));
    return { train, lost, beats, pendulum, distances, off: Math.max(...misses), known, sameTrain, usual: sameTrain ? 2 : Number(known > 0) };
  }

  function compareCandidates(a, b) {
    const total = (counts) => counts.reduce((all, count) => all + count, 0);
    return a.off - b.off || total(a.lost) - total(b.lost) || a.lost[0] - b.lost[0] || (a.lost[1] || 0) - (b.lost[1] || 0);
  }

  function lostRow(each) {
    const usual = each.sameTrain ? "the whole train" : each.known ? `the pair, ${each.known} times` : "";
    return [each.train.map((mesh) => mesh.join("/")).join(" "), each.beats, each.pendulum, each.distances.map((distance) => N.fixed(distance, 2)).join(", ") || null,
      each.off, each.off <= FITS ? "yes" : "no", usual];
  }

  const namesOf = (found) => found.map((each) => each.lost.join(" and ")).join(", ");

  function lostVerdict(fits, near, nearest) {
    if (!fits.length) return `Nothing fits; ${namesOf([nearest])} comes nearest. Check the counts that you have and measure again.`;
    if (fits.length === 1) {
      const rivals = near.filter((each) => each.usual > fits[0].usual).slice(0, MOST_LOST);
      return `Only ${namesOf(fits)} fits.` + (rivals.length ? ` But ${namesOf(rivals)} is better known from standard counts and lies just outside: measure again.` : "");
    }
    const usual = fits.filter((each) => each.usual);
    const end = usual.length === 1 ? ` Of these only ${namesOf(usual)} is met in standard counts.` : "";
    const listed = namesOf(fits.slice(0, 6)) + (fits.length > 6 ? " and more" : "");
    return `${fits.length} answers fit (${listed}): it cannot be decided between them from this alone.${end} A ${end ? "further" : "second"} witness is needed.`;
  }

  /* Dividing a circle. */

  function dividing(values) {
    const turns = S.div(values.worm, values.teeth), whole = N.floorRational(turns), part = S.sub(turns, S.whole(whole));
    const holding = part.n ? G.readCounts(values.circles).filter((circle) => BigInt(circle) % part.d === 0n) : [];
    return {
      turns: [whole || !part.n ? String(whole) : "", part.n ? `${part.n}/${part.d}` : ""].filter(Boolean).join(" "),
      angle: S.div(S.whole(CIRCLE), values.teeth),
      verdict: dividingVerdict(part, holding),
      answers: holding.length ? holding.map((circle) => [S.whole(circle), S.whole(whole), S.mul(part, S.whole(circle))]) : null,
    };
  }

  function dividingVerdict(part, holding) {
    if (!part.n) return "Whole turns: any hole will do.";
    if (!holding.length) return `No circle in the list holds ${part.d}: another plate, another worm or a compound movement is needed.`;
    return `Any circle that ${part.d} divides will do.`;
  }

  function countWheel(values) {
    const first = Number(values.first_half.n), last = Number(values.last_half.n), divisions = (HOURS * (HOURS + 1)) / 2 + last - first + 1;
    const step = N.rational(BigInt(CIRCLE), BigInt(divisions)), rows = [];
    let passed = 0;
    for (let hour = 1; hour <= HOURS; hour += 1) {
      const start = passed;
      passed += hour;
      rows.push([S.whole(hour), ...[start, passed, hour].map((count) => S.mul(S.whole(count), step))]);
      if (hour >= first && hour <= last) passed += 1;
    }
    return { divisions: S.whole(divisions), step, answers: rows };
  }

  /* Pins, locking wheels and count wheel. */

  const ratioOf = (meshes) => meshes.reduce((ratio, [driver, driven]) => N.times(ratio, N.rational(BigInt(driver), BigInt(driven))), ONE);
  const isWhole = (value) => value.d === 1n;

  /** A fraction as people write it: 9 3/4. */
  function mixed(value) {
    const whole = N.floorRational(value), part = S.sub(value, N.rational(whole));
    return [whole || !part.n ? String(whole) : "", part.n ? `${part.n}/${part.d}` : ""].filter(Boolean).join(" ");
  }

  function pinsAndCountWheel(values) {
    const aTurn = S.mul(values.pins, given(values, "meshes") ? ratioOf(values.meshes) : ONE), needed = S.div(values.blows, aTurn), report = reportOf(values);
    const passes = report && report[0] && report[1] ? N.rational(BigInt(report[1]), BigInt(report[0])) : null;
    const lock = given(values, "lock") ? S.div(ratioOf(values.lock), values.pins) : null;
    if (!lock && given(values, "warning")) throw new N.NumberError("give the wheels to the locking wheel too; from there the warning wheel is counted");
    const warning = lock && given(values, "warning") ? S.mul(lock, ratioOf(values.warning)) : null, pairs = reportPairs(needed, report, values);
    return {
      a_turn: aTurn, needed, given: passes, drift: passes && S.sub(S.mul(aTurn, passes), values.blows), lock_turns: lock, warning_turns: warning,
      verdict: strikeVerdict(needed, passes, values, aTurn, pairs, lock, warning).join(" "),
      answers: pairs.length ? pairs.slice(0, ROWS).map(([pinion, wheel]) => [`${pinion}/${wheel}`, S.whole(pinion + wheel)]) : null,
    };
  }

  /** Pinion of report and count wheel, 0 for what is not known; null where none is given. */
  function reportOf(values) {
    if (!given(values, "report")) return null;
    const meshes = G.readLostTrain(values.report);
    if (meshes.length === 1) return meshes[0];
    if (meshes.some((mesh) => mesh.includes(0))) throw new N.NumberError("of the wheels to the count wheel only a single pair may have a ?");
    const whole = S.div(ONE, ratioOf(meshes));
    return [Number(whole.d), Number(whole.n)];
  }

  /** Every pinion of report with its count wheel that agree, within the limits and with what is known of the pair. */
  function reportPairs(needed, report, values) {
    const wheels = new Set(G.readCounts(values.wheels)), known = report && report.includes(0) ? report : [0, 0];
    return G.readCounts(values.pinions).map((pinion) => [pinion, S.mul(needed, S.whole(pinion))]).filter(([, wheel]) => isWhole(wheel)).map(([pinion, wheel]) => [pinion, Number(wheel.n)])
      .filter(([pinion, wheel]) => (wheels.has(wheel) || wheel === known[1]) && [0, pinion].includes(known[0]) && [0, wheel].includes(known[1]));
  }

  function strikeVerdict(needed, passes, values, aTurn, pairs, lock, warning) {
    const said = [], agrees = passes && S.eq(passes, needed), carries = S.eq(needed, ONE);
    if (agrees) said.push("The count wheel agrees with the pins.");
    else if (passes) {
      const passed = S.mul(aTurn, passes);
      said.push(`The count wheel does not agree: ${mixed(passed)} blows go by in its turn in place of ${mixed(values.blows)}, so each time round it is ${mixed(S.abs(S.sub(passed, values.blows)))} out.`);
    } else if (carries) said.push("The count wheel may sit on that arbor itself.");
    if (!agrees && !carries) said.push(pairs.length ? `Pairs that agree: ${pairs.length}.` : "No pinion of report and count wheel within the limits agree.");
    if (lock) said.push(isWhole(S.mul(lock, values.hoop)) ? "The locking wheel comes round to its place at each blow." : `The locking wheel does not come round to its place: it makes ${mixed(lock)} turns a blow.`);
    if (warning) said.push(isWhole(warning) ? "The warning wheel does, too." : `The warning pin wanders: its wheel makes ${mixed(warning)} turns a blow.`);
    return said;
  }

  /* The equation of time through a year. */

  const DAY_MS = 86400000, radians = (degrees) => degrees * (Math.PI / 180);

  function equationYear(values) {
    const year = String(Number(values.year.n)).padStart(4, "0"), first = Date.parse(`${year}-01-01T00:00:00Z`), found = [];
    for (let step = 0; step < 366; step += 1) {
      const day = new Date(first + step * DAY_MS).toISOString().slice(0, 10);
      if (day.startsWith(year)) found.push([day, equationOn(day, values)]);
    }
    const ahead = found.reduce((a, b) => (b[1] > a[1] ? b : a)), behind = found.reduce((a, b) => (b[1] < a[1] ? b : a)), nothing = [];
    for (let place = 1; place < found.length; place += 1) {
      const [day, seconds] = found[place - 1], [following, then] = found[place];
      if (seconds * then <= 0) nothing.push(Math.abs(seconds) <= Math.abs(then) ? day : following);
    }
    const rows = found.filter((each, place) => place % Number(values.every.n) === 0).map(([day, seconds]) => [day, seconds, spokenSeconds(seconds), clockShows(seconds)]);
    return { ahead: `${ahead[0]}, ${spokenSeconds(ahead[1])}`, behind: `${behind[0]}, ${spokenSeconds(behind[1])}`, nothing: nothing.join(", "), answers: rows };
  }

  /** Sun less clock in seconds at noon of the day. */
  function equationOn(day, values) {
    const since = S.sub(S.day_number(day), values.J_0), grown = (start, daily) => N.toFloat(S.add(values[start], S.mul(values[daily], since)));
    const longitude = grown("l_0", "l_1"), anomaly = grown("m_0", "m_1"), tilt = radians(N.toFloat(values.tilt));
    const seen = radians(longitude + N.toFloat(values.c_1) * Math.sin(radians(anomaly)) + N.toFloat(values.c_2) * Math.sin(radians(2 * anomaly)));
    const ascension = Math.atan2(Math.cos(tilt) * Math.sin(seen), Math.cos(seen)) * (180 / Math.PI), turned = (longitude - ascension + 180) % 360;
    return ((turned < 0 ? turned + 360 : turned) - 180) * 240;
  }

  const wholeSeconds = (seconds) => Math.floor(Math.abs(seconds) + 0.5);
  const spokenSeconds = (seconds) => `${Math.floor(wholeSeconds(seconds) / 60)} min ${wholeSeconds(seconds) % 60} s ${seconds < 0 && wholeSeconds(seconds) ? "behind" : "ahead"}`;

  function clockShows(seconds) {
    const shown = 43200 - (seconds < 0 ? -1 : 1) * wholeSeconds(seconds), two = (number) => String(number).padStart(2, "0");
    return `${Math.floor(shown / 3600)}:${two(Math.floor(shown / 60) % 60)}:${two(shown % 60)}`;
  }

  /* A scale of degrees. */

  const MOST_MARKS = 90;

  function arcScale(values) {
    const distance = N.toFloat(values.distance), every = N.settled(values.every), number = Number(N.floorRational(S.div(N.settled(values.most), every)));
    if (number < 1) throw new N.NumberError("the last mark must not come before the first");
    if (number > MOST_MARKS) throw new N.NumberError(`${number} marks to a side are too many: ${MOST_MARKS} are the most`);
    const rows = Array.from({ length: number }, (_, place) => {
      const degrees = S.mul(S.whole(place + 1), every), angle = radians(N.toFloat(degrees));
      return [degrees, distance * Math.tan(angle), distance * angle];
    });
    const half = rows[rows.length - 1][1];
    return { half, width: 2 * half, degree: distance * Math.tan(radians(1)), answers: rows };
  }

  ClockRef.procedures = {
    "best-train": bestTrain, "lost-wheel": lostWheel, dividing, "count-wheel": countWheel, "pins-and-count-wheel": pinsAndCountWheel, "equation-year": equationYear, "arc-scale": arcScale,
  };
})(typeof window === "undefined" ? globalThis : window);
