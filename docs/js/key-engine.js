/* The key's weighing and planning, the twin of build_tools/key_shares.py, key_weigh.py, key_plan.py and key.py.
   Pure: it touches no page. Facts come from ClockRef.keyData, which is written from the knowledge base. */
var ClockRef = this.ClockRef || {};
this.ClockRef = ClockRef;

ClockRef.key = (function () {
  "use strict";
  const CANT_TELL = "cant-tell";
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  const sum = (list) => list.reduce((a, b) => a + b, 0);
  const scaled = (shares) => { const whole = sum(shares); return shares.map((share) => share / whole); };
  /* To twelve decimals, so that sums taken in another order compare alike. */
  const exactly = (value) => Math.round(value * 1e12);
  /* Shares that sum to one from logarithms of weights. */
  const normal = (scores) => { const top = Math.max(...scores); return scaled(scores.map((score) => Math.exp(score - top))); };
  const leaderOf = (shares) => shares.reduce((best, share, index) => (exactly(share) > exactly(shares[best]) ? index : best), 0);

  /* Shares for the answers of a question from a code: one sign an answer, the number of its word or "." for none. */
  function namedShares(code, words, restLike) {
    const shares = [...code].map((sign) => (sign === "." ? 0 : words[sign].share));
    const unnamed = [...code].flatMap((sign, index) => (sign === "." ? [index] : []));
    if (unnamed.length) {
      const rest = Math.max(1 - sum(shares), Math.min(...words.map((word) => word.share)));
      const pattern = unnamed.map((index) => (restLike ? restLike[index] : 1));
      const whole = sum(pattern);
      unnamed.forEach((index, place) => { shares[index] = rest * (whole ? pattern[place] / whole : 1 / unnamed.length); });
    }
    return scaled(shares);
  }

  function average(rows, priors, length) {
    const there = rows.map((row, index) => [row, priors[index]]).filter((pair) => pair[0]);
    const whole = sum(there.map((pair) => pair[1]));
    return Array.from({ length }, (_, index) => sum(there.map((pair) => pair[0][index] * pair[1])) / whole);
  }

  /* Rows: outcomes; columns: answers; slips of the observer mixed in. */
  function questionShares(id, question, outcomes, priors, data) {
    const length = question.answers.length;
    const spoken = outcomes.map((outcome) => (outcome.told[id] ? namedShares(outcome.told[id], data.words) : null));
    let unspoken = average(spoken, priors, length);
    if (question.unless) { unspoken = namedShares(question.unless, data.words, unspoken); }
    const mistakes = data.settings.mistakes;
    const slip = mistakes / length;
    return spoken.map((row) => (row || unspoken).map((share) => (1 - mistakes) * share + slip));
  }

  class Key {
    constructor(data, facet) {
      this.data = data;
      this.needs = data.settings;
      this.name = facet;
      this.outcomes = data.outcomes[facet];
      this.priors = scaled(this.outcomes.map((outcome) => data.common[outcome.common]));
      this.questions = {};
      this.shares = {};
      this.parted = {};
      Object.keys(data.questions).forEach((id) => {
        if (this.outcomes.some((outcome) => outcome.told[id])) { this.questions[id] = data.questions[id]; }
      });
      Object.entries(this.questions).forEach(([id, question]) => {
        const rows = questionShares(id, question, this.outcomes, this.priors, data);
        this.shares[id] = {};
        question.answers.forEach(([answer], index) => { this.shares[id][answer] = rows.map((row) => row[index]); });
      });
      const place = Object.fromEntries(this.outcomes.map((outcome, index) => [outcome.ref, index]));
      this.alike = this.outcomes.map(() => new Set());
      this.outcomes.forEach((outcome, a) => outcome.alike.forEach((other) => {
        const b = place[other.with];
        if (b !== undefined) { this.alike[a].add(b); this.alike[b].add(a); }
      }));
    }

    odds(id, answer) {
      const here = this.shares[id][answer];
      const whole = sum(here.map((share, index) => share * this.priors[index]));
      return here.map((share, index) => {
        const prior = this.priors[index];
        return prior < 1 ? share * (1 - prior) / (whole - prior * share) : 1;
      });
    }

    /* Answers: question id → answer id or "cant-tell". */
    evidence(answers) {
      return Object.fromEntries(Object.entries(answers).filter(([id]) => id in this.questions));
    }

    weigh(evidence) {
      let state = { sums: {}, counts: {} };
      Object.keys(this.questions).forEach((id) => {
        if (id in evidence) { state = this.add(state, id, evidence[id]); }
      });
      return state;
    }

    add(state, id, answer) {
      if (answer === CANT_TELL) { return state; }
      const group = this.questions[id].group;
      const before = state.sums[group] || this.outcomes.map(() => 0);
      const logs = this.shares[id][answer].map((share, index) => before[index] + Math.log(share));
      return {
        sums: { ...state.sums, [group]: logs },
        counts: { ...state.counts, [group]: (state.counts[group] || 0) + 1 },
      };
    }

    /* Logarithms of the outcomes' weights; one group may be left out. */
    scores(state, without) {
      let scores = this.priors.map(Math.log);
      Object.keys(state.sums).sort().filter((group) => group !== without).forEach((group) => {
        const damp = 1 + this.needs.damping * (state.counts[group] - 1);
        scores = scores.map((score, index) => score + state.sums[group][index] / damp);
      });
      return scores;
    }

    posterior(state) {
      return normal(this.scores(state));
    }

    /* For each answer that a question could get, the shares after it. */
    afterwards(id, state) {
      const group = this.questions[id].group;
      const scores = this.scores(state, group);
      const before = state.sums[group] || this.outcomes.map(() => 0);
      const damp = 1 + this.needs.damping * (state.counts[group] || 0);
      return Object.entries(this.shares[id]).map(([answer, row]) =>
        [answer, row, normal(scores.map((score, index) => score + (before[index] + Math.log(row[index])) / damp))]);
    }

    witnesses(evidence, outcome) {
      const groups = Object.entries(evidence)
        .filter(([id, answer]) => answer !== CANT_TELL && this.odds(id, answer)[outcome] >= this.needs.telling)
        .map(([id]) => this.questions[id].group);
      return new Set(groups).size;
    }

    reach(viewpoint) {
      const place = this.data.viewpoints.find((row) => row.id === viewpoint);
      return Object.keys(this.questions).filter((id) => !place ||
        this.questions[id].from.some((from) => from === place.id || place.sees.includes(from)));
    }

    /* Whether two outcomes answer a question so differently that it parts them; worked out once. */
    parts(id, a, b) {
      const pair = `${id} ${a} ${b}`;
      if (!(pair in this.parted)) {
        const difference = 0.5 * sum(Object.values(this.shares[id]).map((row) => Math.abs(row[a] - row[b])));
        this.parted[pair] = difference >= this.needs.parting;
      }
      return this.parted[pair];
    }

    together(leader, evidence, reach) {
      const alike = [...this.alike[leader]].sort((a, b) => a - b).filter((other) => !this.mayPart(leader, other, evidence, reach));
      return [leader, ...alike];
    }

    /* Whether a question that is still open from here parts two outcomes. */
    mayPart(a, b, evidence, reach) {
      return reach.some((id) => this.parts(id, a, b) && this.open(id, evidence));
    }

    open(id, evidence) {
      return !(id in evidence) && !this.needless(id, evidence);
    }

    settled(shares, evidence, reach) {
      const leader = leaderOf(shares);
      if (sum([leader, ...this.alike[leader]].map((index) => shares[index])) < this.needs.settled) { return []; }
      for (const group of [[leader], this.together(leader, evidence, reach)]) {
        if (sum(group.map((index) => shares[index])) >= this.needs.settled) {
          return this.confirmed(group, shares, evidence, reach) ? group : [];
        }
      }
      return [];
    }

    /* Whether enough witnesses agree, and no look-alike with a chance worth a look waits for the question that parts it. */
    confirmed(group, shares, evidence, reach) {
      const leader = group[0];
      const near = [...this.alike[leader]].filter((other) => !group.includes(other) && shares[other] > this.needs.alikeLeft * shares[leader]);
      return this.witnesses(evidence, leader) >= this.needs.witnesses && !near.some((other) => this.mayPart(leader, other, evidence, reach));
    }

    candidate(id, evidence, state, shares, reach) {
      const leader = leaderOf(shares);
      const top = shares[leader];
      const found = { id, ends: 0, movement: 0 };
      const squares = (list) => sum(list.map((share) => share * share));
      let nearer = 0;
      this.afterwards(id, state).forEach(([answer, row, after]) => {
        const chance = sum(row.map((share, index) => shares[index] * share));
        found.movement += chance * Math.max(Math.abs(after[leader] - top), Math.abs(Math.max(...after) - top));
        nearer += chance * squares(after);
        if (this.settled(after, { ...evidence, [id]: answer }, reach).length) { found.ends += chance; }
      });
      const { group, mentioned, effort } = this.questions[id];
      const unsure = Object.keys(evidence).filter((asked) => evidence[asked] === CANT_TELL && this.questions[asked].group === group).length;
      const gain = Math.max(nearer - squares(shares), 0);
      found.worth = (found.ends + this.needs.nearness * gain) * mentioned * this.needs.unsureAgain ** unsure / Math.sqrt(effort);
      return found;
    }

    /* Whether another answer has told already what a question asks. */
    needless(id, evidence) {
      return Object.entries(this.questions[id].needless).some(([other, answers]) => answers.includes(evidence[other]));
    }

    useful(evidence, state, shares, reach) {
      const least = this.needs.worthAsking;
      return reach.filter((id) => this.open(id, evidence))
        .map((id) => this.candidate(id, evidence, state, shares, reach))
        .filter((one) => one.movement >= least || one.ends >= least);
    }

    whyStop(evidence, useful, firm) {
      if (firm.length) { return firm.length === 1 ? "settled" : "look-alikes"; }
      const told = Object.values(evidence).filter((answer) => answer !== CANT_TELL);
      if (told.length >= this.needs.mostAnswers || Object.keys(evidence).length >= this.needs.mostQuestions) { return "enough asked"; }
      return useful.length ? "open" : "no more from here";
    }

    /* Everything that is said after some answers. */
    find(answers, viewpoint) {
      const evidence = this.evidence(answers);
      const reach = this.reach(viewpoint);
      const state = this.weigh(evidence);
      const shares = this.posterior(state);
      const useful = this.useful(evidence, state, shares, reach);
      const firm = this.settled(shares, evidence, reach);
      const leader = leaderOf(shares);
      const stand = { shares, leader, why: this.whyStop(evidence, useful, firm) };
      stand.together = firm.length ? firm : this.together(leader, evidence, reach)
        .filter((index) => index === leader || shares[index] >= this.needs.possible);
      const lost = this.nothingFits(evidence, shares);
      const ranked = this.rank(evidence, stand, viewpoint);
      const best = useful.reduce((a, b) => (!a || exactly(b.worth) > exactly(a.worth) ? b : a), null);
      return {
        ranked, together: stand.together.map((index) => this.outcomes[index].ref),
        why: lost ? "nothing fits" : stand.why, finished: lost || stand.why !== "open",
        doubtful: ranked[0].against.filter((reason) => reason.word === this.leastWord()),
        next: best && best.id,
      };
    }

    /* The share as it is said: from outside a little is kept back, alike for all. */
    said(share, viewpoint) {
      const place = this.data.viewpoints.find((row) => row.id === viewpoint);
      const count = this.outcomes.length;
      const kept = (place && place.inside) || count < 2 ? 0 : (1 - this.needs.outsideMost) * count / (count - 1);
      return (1 - kept) * share + kept / count;
    }

    rank(evidence, stand, viewpoint) {
      const order = stand.shares.map((_, index) => index).sort((a, b) => exactly(stand.shares[b]) - exactly(stand.shares[a]));
      return order.map((index) => {
        const reasons = this.reasons(evidence, index);
        return {
          index, ref: this.outcomes[index].ref, share: this.said(stand.shares[index], viewpoint), words: this.wordsFor(stand, index),
          for: reasons.filter((reason) => reason.odds > 1), against: reasons.filter((reason) => reason.odds < 1),
        };
      });
    }

    wordsFor(stand, index) {
      const share = stand.shares[index];
      if (stand.why === "look-alikes" && stand.together.includes(index)) { return this.data.says.notApart; }
      if (stand.why === "settled" && index === stand.leader) { return this.data.says.veryLikely; }
      if (share >= this.needs.likely) { return this.data.says.likely; }
      return share >= this.needs.possible ? this.data.says.possible : this.data.says.unlikely;
    }

    reasons(evidence, index) {
      const size = (reason) => Math.abs(Math.log(reason.odds));
      return Object.entries(evidence).filter(([, answer]) => answer !== CANT_TELL)
        .map(([question, answer]) => ({
          question, answer, word: this.word(question, answer, index), odds: this.odds(question, answer)[index],
        }))
        .filter((reason) => size(reason) >= Math.log(this.needs.telling))
        .sort((a, b) => exactly(size(b)) - exactly(size(a)));
    }

    /* A reason in words, as the command line gives it. */
    sentence(reason) {
      const asked = this.questions[reason.question];
      const says = asked.answers.find(([answer]) => answer === reason.answer)[1];
      return `${asked.asks} ${says}: ${this.phrase(reason)}`;
    }

    phrase(reason) {
      const named = (name) => this.data.words.find((word) => word.name === name);
      const often = named(reason.word).share >= named("sometimes").share;
      const says = named(reason.word).says;
      if (reason.odds > 1 && !often) { return says + this.data.says.lessElsewhere; }
      return reason.odds < 1 && often ? says + this.data.says.moreElsewhere : says;
    }

    verdict(found) {
      const says = this.data.says;
      const first = found.ranked[0];
      if (found.why === "nothing fits") { return says.lookAgain; }
      if (found.why === "settled") { return `${capital(says.veryLikely)}: ${this.outcomes[first.index].name}.`; }
      const names = found.ranked.filter((one) => one.words === first.words).map((one) => this.outcomes[one.index].name).join("; ");
      if (found.why === "look-alikes") { return `${says.veryLikelyOneOf} ${names}.`; }
      const said = `${this.data.stopped[found.why]} ${capital(first.words)}: ${names}.`;
      const beside = found.ranked.filter((one) => found.together.includes(one.ref) && one.words !== first.words)
        .map((one) => this.outcomes[one.index].name).join("; ");
      return beside && found.finished ? `${said} ${says.notApartFrom} ${beside}.` : said;
    }

    word(id, answer, index) {
      const row = this.shares[id];
      const slips = this.needs.mistakes;
      const share = (row[answer][index] - slips / Object.keys(row).length) / (1 - slips);
      const far = (word) => Math.abs(Math.log(word.share / share));
      return this.data.words.reduce((a, b) => (far(b) < far(a) ? b : a)).name;
    }

    leastWord() {
      return this.data.words.reduce((a, b) => (b.share < a.share ? b : a)).name;
    }

    nothingFits(evidence, shares) {
      const contradicted = shares.filter((_, index) => {
        const groups = this.reasons(evidence, index)
          .filter((reason) => reason.odds < 1 && reason.word === this.leastWord())
          .map((reason) => this.questions[reason.question].group);
        return new Set(groups).size >= this.needs.witnesses;
      });
      return sum(contradicted) >= this.needs.settled;
    }
  }

  return { Key, CANT_TELL };
}());
