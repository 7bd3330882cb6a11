/* Finds pages by what people type: whole words above beginnings, names above the text, small words left aside, one slip forgiven.
   Pure: no page is touched, so that the tests run it as it is. build_tools/render/search.py writes what it looks through. */
var ClockRef = this.ClockRef || {};
this.ClockRef = ClockRef;

ClockRef.search = (function () {
  "use strict";
  const SMALL = new Set(("a about after again all am an and any are as at be been before but by can could did do does dont few for from get gets got had has have he how i if in into is it its ive just " +
    "like many me mine much my no not of on one or our out s she should so some t than that the their them then there they thing this to too up us very was way we were what when where " +
    "which while who why will with would you your clock").split(" "));
  const SMALL_WEIGHT = 0.15, NUMBER_WEIGHT = 1.5, WHOLE = 1, LONGER = 0.6, DOUBLED = 0.85, SLIP = 0.7, TWO_SLIPS = 0.45, IN_TEXT = 0.4, UNKNOWN = 4, LEAST = 0.12;

  /** Small letters without accents. */
  function folded(text) {
    return text.toLowerCase().replace(/ß/g, "ss").replace(/œ/g, "oe").replace(/æ/g, "ae").normalize("NFKD").replace(/[\u0300-\u036f'’]/g, "");
  }

  const words = (text) => folded(text).match(/[a-z0-9]+/g) || [];

  const stems = new Map();

  /** The part of a word that its plural, -ing and -ed forms share. */
  function stem(word) {
    if (!stems.has(word)) { stems.set(word, cut(word)); }
    return stems.get(word);
  }

  function cut(word) {
    if (word.length < 4 || /\d/.test(word)) { return word; }
    let base = word.replace(/ies$/, "y").replace(/(ss|x|ch|sh)es$/, "$1").replace(/([^suiy])s$/, "$1");
    const verb = /^(.*[aeiouy].*?)(?:ing|ed)$/.exec(base);
    if (verb && verb[1].length > 2) { base = verb[1].replace(/([^aeiousl])\1$/, "$1"); }
    return base.length > 3 ? base.replace(/e$/, "") : base;
  }

  /** How many slips lie between two words, up to a limit: a letter wrong, missing, too many, or two in the wrong order. */
  function slips(a, b, most) {
    if (Math.abs(a.length - b.length) > most) { return most + 1; }
    let before = null, last = Array.from({ length: b.length + 1 }, (_, at) => at);
    for (let i = 1; i <= a.length; i += 1) {
      const row = [i];
      for (let j = 1; j <= b.length; j += 1) {
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (before && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) { row[j] = Math.min(row[j], before[j - 2] + 1); }
      }
      if (Math.min(...row) > most) { return most + 1; }
      [before, last] = [last, row];
    }
    return last[b.length];
  }

  const parts = (text) => (text ? text.split("|") : []);
  const slug = (title) => words(title).join("-");

  /** All names and texts, ready to be looked through. */
  class Index {
    constructor(names) {
      this.kinds = names.kinds;
      this.edition = names.edition;
      this.pages = [];
      this.found = new Map(); /* stem → where it stands: [page, name, first word, how many words] */
      this.holders = new Map(); /* stem → the pages that have it anywhere */
      this.texts = new Map(); /* stem → the pages that have it in their text */
      this.known = new Map(); /* each word of the names → its forms */
      names.pages.forEach((row) => this.addPage(row));
    }

    addPage([kind, title, others = "", asked = "", id = slug(title)]) {
      const { name, folder, weight } = this.kinds[kind], names = [title, ...parts(others), ...parts(asked)];
      const page = { kind: name, address: `${folder}${id}/`, title, says: "", weight, names, known: 1 + parts(others).length };
      this.pages.push(page);
      page.words = names.map((each, place) => this.addName(this.pages.length - 1, place, words(each)));
    }

    /** Notes where the words of a name stand, and two together as one, as in "countwheel". */
    addName(page, name, said) {
      said.forEach((part, at) => {
        const next = said[at + 1];
        this.addWord(part, page, [page, name, at, 1]);
        if (next && !SMALL.has(part) && !SMALL.has(next)) { this.addWord(part + next, page, [page, name, at, 2]); }
      });
      return said.map(stem);
    }

    addWord(word, page, place) {
      if (!this.known.has(word)) { this.known.set(word, formOf(word)); }
      const part = stem(word);
      if (!this.found.has(part)) { this.found.set(part, []); }
      this.found.get(part).push(place);
      this.hold(part, page);
    }

    hold(part, page) {
      if (!this.holders.has(part)) { this.holders.set(part, new Set()); }
      this.holders.get(part).add(page);
    }

    /** Takes in the texts and the pages seldom asked for, which may come later than the names; those of another edition are left alone. */
    addTexts(texts) {
      if (texts.edition !== this.edition) { return; }
      texts.more.forEach((row) => this.addPage(row));
      texts.pages.forEach(([says, more], page) => {
        this.pages[page].says = says;
        for (const part of new Set(words(`${says} ${more}`).map(stem))) {
          if (!this.texts.has(part)) { this.texts.set(part, []); }
          this.texts.get(part).push(page);
          this.hold(part, page);
        }
      });
    }

    weight(part) {
      const holders = this.holders.get(part);
      if (SMALL.has(part)) { return SMALL_WEIGHT; }
      const telling = holders ? Math.log(1 + this.pages.length / holders.size) : UNKNOWN;
      return /^\d\d?$/.test(part) ? Math.min(telling, NUMBER_WEIGHT) : telling; /* the names of counts are full of numbers */
    }

    /** Which stems a typed word may mean, and how well each fits. */
    meanings(word) {
      const found = new Map(), known = this.holders.has(stem(word));
      if (known) { found.set(stem(word), WHOLE); }
      const form = formOf(word);
      for (const other of this.known.values()) {
        const fit = fits(form, other, known);
        if (fit > (found.get(other.part) || 0)) { found.set(other.part, fit); }
      }
      return found;
    }
  }

  /** A word with its doubled letters made single: whether a letter is doubled is the commonest doubt. */
  const single = (word) => word.replace(/(.)\1/g, "$1");

  /** What of a word is compared: its stem, both with doubled letters single, and which letters it has as bits. */
  function formOf(word) {
    let letters = 0;
    for (let at = 0; at < word.length; at += 1) { letters |= 1 << (word.charCodeAt(at) & 31); }
    return { word, part: stem(word), whole: single(word), root: single(stem(word)), letters };
  }

  function bits(number) {
    let count = 0;
    for (let rest = number; rest; rest &= rest - 1) { count += 1; }
    return count;
  }

  /** How well a word of the names answers a typed one that may be unfinished, longer, or, where nobody knows it, misspelt. */
  function fits(typed, other, known) {
    const word = typed.word, more = other.word.length - word.length;
    if (more > 0 && word.length > 2 && other.word.startsWith(word)) { return 0.5 + 0.4 * word.length / other.word.length; }
    if (more > -4 && other.word.length > 3 && word.startsWith(other.word)) { return LONGER; }
    return known || word.length < 4 || SMALL.has(word) ? 0 : nearness(typed, other, word.length > 5 ? 2 : 1);
  }

  /** Each slip changes at most two of the letters that a word has, and an ending two more: that alone rules most words out. */
  function nearness(typed, other, most) {
    if (bits(typed.letters ^ other.letters) > 2 * most + 2) { return 0; }
    const off = Math.min(slips(typed.whole, other.whole, most), slips(typed.root, other.root, most));
    return off > most ? 0 : [DOUBLED, SLIP, TWO_SLIPS][off];
  }

  /** What is asked: the words with their meanings and weights. Two words may stand for one, as in "count wheel" and "countwheel". */
  function asked(index, text) {
    const typed = words(text), telling = typed.filter((word) => !SMALL.has(word)), kept = telling.length ? typed : [];
    const query = (kept.length ? kept : typed).map((word) => ({ meanings: index.meanings(word), weight: SMALL.has(word) && telling.length ? SMALL_WEIGHT : 0, word }));
    query.forEach((each) => {
      const best = [...each.meanings].sort((a, b) => b[1] - a[1])[0];
      if (!each.weight) { each.weight = best ? index.weight(best[0]) || 1 : UNKNOWN; }
      if (best && SMALL.has(each.word)) { each.meanings = new Map([[stem(each.word), WHOLE]]); }
    });
    return query;
  }

  /** For each name that has one of the words: how well it answers each word, and which of its own words are asked for. */
  function matches(index, query) {
    const found = new Map();
    const note = (place, from, number, fit) => {
      const [page, name, at, length] = place, key = page * 100 + name;
      if (!found.has(key)) { found.set(key, { page, name, asked: new Float64Array(query.length), own: new Map() }); }
      const match = found.get(key);
      for (let step = 0; step < number; step += 1) { match.asked[from + step] = Math.max(match.asked[from + step], fit); }
      for (let step = 0; step < length; step += 1) { match.own.set(at + step, Math.max(match.own.get(at + step) || 0, fit)); }
    };
    query.forEach((each, at) => {
      each.meanings.forEach((fit, part) => (index.found.get(part) || []).forEach((place) => note(place, at, 1, fit)));
      if (at + 1 < query.length && !SMALL.has(each.word) && !SMALL.has(query[at + 1].word)) { (index.found.get(stem(each.word + query[at + 1].word)) || []).forEach((place) => note(place, at, 2, WHOLE)); }
    });
    return [...found.values()];
  }

  /** Adds up, page by page, how well its best name and all it says answer the words. */
  function scores(index, query) {
    const all = query.reduce((sum, each) => sum + each.weight, 0), pages = new Map();
    const of = (page) => {
      if (!pages.has(page)) { pages.set(page, { page, name: 0, best: 0, all: new Float64Array(query.length) }); }
      return pages.get(page);
    };
    for (const match of matches(index, query)) {
      const score = of(match.page), worth = nameWorth(index, query, match, all);
      if (worth > score.best) { Object.assign(score, { best: worth, name: match.name }); }
      match.asked.forEach((fit, at) => { score.all[at] = Math.max(score.all[at], fit); });
    }
    query.forEach((each, at) => each.meanings.forEach((fit, part) => {
      (index.texts.get(part) || []).forEach((page) => { const score = of(page); score.all[at] = Math.max(score.all[at], IN_TEXT * fit); });
    }));
    return [...pages.values()].map((score) => ({ ...score, worth: (0.6 * score.best + 0.4 * covered(query, score.all, all)) * index.pages[score.page].weight }));
  }

  const covered = (query, fits, all) => query.reduce((sum, each, at) => sum + each.weight * fits[at], 0) / all;

  function nameWorth(index, query, match, all) {
    const said = index.pages[match.page].words[match.name];
    let own = 0, whole = 0;
    said.forEach((part, at) => {
      const weight = index.weight(part);
      whole += weight;
      own += weight * (match.own.get(at) || 0);
    });
    const answered = covered(query, match.asked, all), filled = own / whole;
    return answered * (0.45 + 0.55 * filled) + (answered > 0.97 && filled > 0.97 ? 0.3 : 0) + (match.name ? 0 : 0.02);
  }

  /** The pages that answer best: [{title, kind, address, says, name}], the name being the one that fitted, where it is neither the title nor a mere phrase. */
  function find(index, text, most = 12) {
    const query = asked(index, text);
    if (!query.length) { return []; }
    const found = scores(index, query).sort((a, b) => b.worth - a.worth || a.page - b.page);
    return found.filter((score) => score.worth > LEAST * found[0].worth).slice(0, most).map((score) => {
      const { title, kind, address, says, names, known } = index.pages[score.page];
      return { title, kind, address, says, name: score.name && score.name < known ? names[score.name] : "", worth: score.worth };
    });
  }

  return { Index, find, words, stem, slips };
}());
