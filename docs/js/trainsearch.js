/* Finds the wheels and pinions whose ratio comes nearest to a wanted one: the twin of build_tools/trainsearch.py.
   Every answer within the bounds is weighed. Floats only say where to look; what is kept is compared in whole numbers. */
(function (root) {
  "use strict";
  const ClockRef = root.ClockRef, N = ClockRef.number;
  const MOST_MESHES = 4, MARKED = 3, LARGEST_PRODUCT = 64000000, MOST_WORK = 5000000, ROWS = 12;

  const sum = (counts) => counts.reduce((all, count) => all + count, 0);

  function compareCounts(a, b) {
    for (let place = 0; place < a.length; place += 1) if (a[place] !== b[place]) return a[place] - b[place];
    return 0;
  }

  function compareRatios(a, b) {
    const left = a.n * b.d, right = b.n * a.d;
    return left < right ? -1 : left > right ? 1 : 0;
  }

  const compareTrains = (a, b) =>
    compareRatios(a.error, b.error) || a.teeth - b.teeth || compareCounts(a.over, b.over) || compareCounts(a.under, b.under);

  /** Puts an item into a sorted list. */
  function insort(list, item, compare) {
    let low = 0, high = list.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (compare(item, list[middle]) < 0) high = middle;
      else low = middle + 1;
    }
    list.splice(low, 0, item);
  }

  /** The best trains for a wanted ratio: by error, then fewest teeth, then the counts. Throws NumberError. */
  function search(wanted, bounds, rows = ROWS) {
    refuse(bounds);
    const pairs = nearest(wanted, bounds, rows), found = [];
    let equals = 0;
    for (const { error, over, under } of pairs) {
      const ways = waysOf(over, under, bounds), last = found[found.length - 1];
      if (!compareRatios(error, pairs[0].error)) equals += ways.number();
      if (found.length >= rows && (compareRatios(error, last.error) || ways.fewest - last.teeth) > 0) continue;
      for (const train of ways.first(rows)) insort(found, { error, ...train }, compareTrains);
      found.splice(rows);
    }
    return { trains: found, equals };
  }

  function refuse(bounds) {
    const { meshes, over, under } = bounds;
    if (!(meshes >= 1 && meshes <= MOST_MESHES)) throw new N.NumberError(`${meshes} meshes can't be searched: write 1 to ${MOST_MESHES}`);
    if (!over.length || !under.length) throw new N.NumberError("no counts are left to choose from: widen the limits");
    const marked = Math.min(meshes, MARKED);
    if (Math.max(...over) ** marked > LARGEST_PRODUCT) {
      const most = Math.floor(LARGEST_PRODUCT ** (1 / marked) + 1e-9);
      throw new N.NumberError(`with ${meshes} meshes the largest count that can be searched is ${most}: lower the upper limit or take fewer meshes`);
    }
    if (choices(under.length, meshes) * (meshes > MARKED ? over.length : 1) > MOST_WORK) {
      throw new N.NumberError("so many counts can't be searched to the end: narrow the limits of the wheels or pinions, or take fewer meshes");
    }
  }

  /** How many ways there are to choose so many of n counts, each as often as one likes. */
  function choices(n, number) {
    let found = 1;
    for (let step = 1; step <= number; step += 1) found = (found * (n + step - 1)) / step;
    return found;
  }

  function products(counts, number) {
    let found = new Set([1]);
    for (let step = 0; step < number; step += 1) {
      const longer = new Set();
      for (const product of found) for (const count of counts) longer.add(product * count);
      found = longer;
    }
    return Float64Array.from(found).sort();
  }

  /** A table with a 1 at every product of so many counts. */
  function marks(counts, number) {
    const table = new Uint8Array(counts[counts.length - 1] ** number + 1);
    for (const product of products(counts, number - 1)) for (const count of counts) table[product * count] = 1;
    return table;
  }

  function nearest(wanted, bounds, rows) {
    const marked = Math.min(bounds.meshes, MARKED), kept = new Kept(wanted, bounds, rows);
    const table = marks(bounds.over, marked), further = bounds.meshes > MARKED ? bounds.over : [1];
    for (const under of products(bounds.under, bounds.meshes).reverse()) for (const count of further) kept.weigh(table, under, count);
    return kept.pairs;
  }

  /** The nearest pairs of products so far. */
  class Kept {
    constructor(wanted, bounds, rows) {
      Object.assign(this, { wanted, bounds, rows, pairs: [], seen: new Set(), limit: null });
      this.float = N.toFloat(wanted);
    }

    weigh(table, under, count) {
      const middle = (this.float * under) / count;
      let least = 0, most = table.length - 1;
      if (this.limit) {
        const reach = (this.limitFloat * under) / count + middle * 1e-14;
        least = Math.max(least, Math.ceil(middle - reach));
        most = Math.min(most, Math.floor(middle + reach));
        if (least > most) return;
      }
      const start = Math.min(Math.floor(middle), most);
      let place = start >= 0 ? table.lastIndexOf(1, start) : -1;
      while (place >= least && this.take(place * count, under)) place = table.lastIndexOf(1, place - 1);
      place = start + 1 < table.length ? table.indexOf(1, Math.max(start + 1, least)) : -1;
      while (place >= 0 && place <= most && this.take(place * count, under)) place = table.indexOf(1, place + 1);
    }

    /** Keeps a pair; false when it is too far off, as then is everything beyond it. */
    take(over, under) {
      const off = N.size(BigInt(over) * this.wanted.d - this.wanted.n * BigInt(under));
      const error = { n: off, d: BigInt(under) * this.wanted.d };
      if (this.limit && compareRatios(error, this.limit) > 0) return false;
      const name = `${over}/${under}`;
      if (this.seen.has(name)) return true;
      this.seen.add(name);
      if (this.bounds.coprime && !waysOf(over, under, this.bounds).any()) return true;
      insort(this.pairs, { error, over, under }, (a, b) => compareRatios(a.error, b.error) || a.over - b.over || a.under - b.under);
      if (this.pairs.length >= this.rows) this.narrow();
      return true;
    }

    narrow() {
      this.limit = this.pairs[this.rows - 1].error;
      this.limitFloat = N.toFloat(N.rational(this.limit.n, this.limit.d));
      while (compareRatios(this.pairs[this.pairs.length - 1].error, this.limit) > 0) this.pairs.pop();
    }
  }

  /** The ways to make one product above the line and one below of single counts. */
  function waysOf(over, under, bounds) {
    const overs = factorisations(over, bounds.over, bounds.meshes), unders = factorisations(under, bounds.under, bounds.meshes);
    const ratio = N.rational(BigInt(over), BigInt(under));
    const paired = (above, below) => (bounds.coprime ? pairing(above, below) : below);
    const row = (above, below, mates) => ({ teeth: sum(above) + sum(below), over: above, under: below, mates, ratio });

    function number() {
      if (!bounds.coprime) return overs.length * unders.length;
      return sum(overs.map((above) => unders.filter((below) => pairing(above, below)).length));
    }

    function* first(rows) {
      for (const [place, above] of overs.entries()) {
        let enough = bounds.coprime ? rows : Math.floor(rows / (place + 1));
        for (const below of unders) {
          if (enough <= 0) break;
          const mates = paired(above, below);
          if (!mates) continue;
          enough -= 1;
          yield row(above, below, mates);
        }
      }
    }

    return {
      number, first, fewest: sum(overs[0]) + sum(unders[0]),
      any: () => overs.some((above) => unders.some((below) => pairing(above, below))),
    };
  }

  /** Every way to write a product as so many counts, each from the largest down; fewest teeth first. */
  function factorisations(product, counts, number) {
    const found = [], dividing = counts.filter((count) => product % count === 0);
    split(product, dividing, 0, number, [], found);
    return found.map((each) => [sum(each), each]).sort((a, b) => a[0] - b[0] || compareCounts(a[1], b[1])).map((each) => each[1]);
  }

  function split(product, counts, from, number, chosen, found) {
    if (number === 1) {
      if (counts.includes(product, from)) found.push([product, ...chosen]);
      return;
    }
    for (let place = from; place < counts.length; place += 1) {
      const count = counts[place], rest = product / count;
      if (number === 2 ? count > rest : count ** number > product) return;
      if (!Number.isInteger(rest)) continue;
      if (number > 2) split(rest, counts, place, number - 1, [count, ...chosen], found);
      else if (counts.includes(rest, place)) found.push([rest, count, ...chosen]);
    }
  }

  function commonFactor(a, b) {
    while (b) [a, b] = [b, a % b];
    return a;
  }

  /** The counts below the line in an order in which none shares a factor with the one above it, or null. */
  function pairing(over, under) {
    if (!over.length) return [];
    for (const [place, count] of under.entries()) {
      if (commonFactor(over[0], count) !== 1) continue;
      const rest = pairing(over.slice(1), [...under.slice(0, place), ...under.slice(place + 1)]);
      if (rest) return [count, ...rest];
    }
    return null;
  }

  ClockRef.trainsearch = { search, products, factorisations, pairing, ROWS };
})(typeof window === "undefined" ? globalThis : window);
