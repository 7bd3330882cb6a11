/* The parts of the live key as elements; what they do on a tap is handed in. */
var ClockRef = window.ClockRef || {};
window.ClockRef = ClockRef;

ClockRef.keyView = (function () {
  "use strict";
  const SHOWN = 5;

  /** An element with properties and children (elements or text). */
  function el(tag, properties, ...children) {
    const made = document.createElement(tag);
    Object.assign(made, properties);
    made.append(...children.filter((child) => child !== null && child !== ""));
    return made;
  }

  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  const link = (root, entry) => el("a", { href: root + entry.url }, entry.name);
  const choice = (text, act, style) => el("li", {}, el("button", { type: "button", className: style || "", onclick: act }, text));
  /** A choice with the small drawing of what would be seen in front of its words. */
  function pictured(row, svg) {
    if (svg) { row.firstChild.insertAdjacentHTML("afterbegin", svg); }
    return row;
  }

  const heading = (text) => el("h2", { tabIndex: -1 }, text);
  const list = (items) => el("ul", {}, ...items.map((item) => el("li", {}, item)));

  /** Where do you stand? */
  function viewpoints(rows, choose) {
    return el("section", {}, heading("Where do you stand?"),
      el("ul", { className: "choices" }, ...rows.map((row) => choice(capital(row.says), () => choose(row.id)))));
  }

  function stands(row, change) {
    return el("p", { className: "stands" }, `You stand: ${row.says}.`,
      el("button", { type: "button", className: "plain", onclick: change }, "Change"));
  }

  function caution(root, entry) {
    return el("div", { className: "caution" }, el("p", {}, el("strong", {}, `${entry.name}. `), `${entry.text} `,
      el("a", { href: root + entry.url }, "Why")));
  }

  /** One question with its answers as buttons. */
  function question(root, data, asked, answer, pictures = {}) {
    const cautions = asked.cautions.filter((ref) => data.cautions[ref]).map((ref) => caution(root, data.cautions[ref]));
    return el("section", { className: "asked" }, heading(asked.asks),
      asked.leave ? el("p", { className: "leave" }, "Ask the owner first.") : null,
      ...cautions,
      el("ul", { className: "choices" },
        ...asked.answers.map(([id, says]) => pictured(choice(capital(says), () => answer(id)), pictures[id])),
        choice("Can’t tell", () => answer(ClockRef.key.CANT_TELL), "unsure")),
      el("p", { className: "how" }, asked.how));
  }

  function reasons(key, title, found) {
    return found.length ? el("div", {}, `${title}:`, list(found.map((reason) => key.sentence(reason)))) : null;
  }

  function ranked(root, key, one, open) {
    return el("li", {}, el("span", { className: "sure" }, capital(one.words)), link(root, key.outcomes[one.index]),
      one.for.length + one.against.length ? el("details", { open },
        el("summary", {}, "Why"), reasons(key, "For", one.for), reasons(key, "Against", one.against)) : null);
  }

  /** The verdict and the outcomes, the likeliest first, with what speaks for and against them. */
  function standing(root, key, found) {
    const left = found.ranked.filter((one, place) => !place || one.share > key.needs.notRuledOut);
    const more = left.slice(SHOWN).map((one) => link(root, key.outcomes[one.index]));
    return el("section", { className: "standing" },
      el("p", { className: "verdict", role: "status", tabIndex: -1 }, key.verdict(found)),
      found.doubtful.length ? el("p", {}, "Look again at: ", found.doubtful.map((reason) => key.questions[reason.question].asks).join(" ")) : null,
      el("ol", { className: "ranking" }, ...left.slice(0, SHOWN).map((one, place) => ranked(root, key, one, place === 0))),
      more.length ? el("details", {}, el("summary", {}, `Not ruled out: ${more.length} more`), list(more)) : null);
  }

  function entries(root, key, refs) {
    return refs.filter((ref) => key.data.entries[ref]).map((ref) => link(root, key.data.entries[ref]));
  }

  /** What follows from the likeliest outcome: what to expect, look-alikes, what to check, sums and counts that fit, cautions. */
  function ending(root, key, found) {
    const outcome = key.outcomes[found.ranked[0].index];
    const names = Object.fromEntries(key.outcomes.map((one) => [one.ref, one]));
    const alike = outcome.alike.filter((other) => names[other.with])
      .map((other) => el("span", {}, link(root, names[other.with]), `: ${other.why}`));
    const part = (title, items) => (items.length ? [el("h2", {}, title), list(items)] : []);
    return el("section", { className: "ending" }, el("h2", {}, "What to expect inside"), el("p", {}, outcome.what),
      ...part("What to check before paying", outcome.check), ...part("Easily taken for", alike), ...part("What deceives", outcome.traps),
      ...part("Sums that fit", entries(root, key, outcome.sums)), ...part("Standard counts", entries(root, key, outcome.counts)),
      el("p", {}, "What you counted or measured goes in under ", el("a", { href: `${root}key/by-number/` }, "numbers as evidence"), "."),
      ...outcome.cautions.filter((ref) => key.data.cautions[ref]).map((ref) => caution(root, key.data.cautions[ref])));
  }

  function option(value, text, selected) {
    return el("option", { value, selected }, text);
  }

  /** The answers given, each to be changed or taken back. */
  function given(key, answers, change) {
    const rows = Object.entries(answers).map(([id, answer]) => {
      const asked = key.questions[id];
      const options = asked.answers.map(([value, says]) => option(value, says, value === answer));
      const select = el("select", { onchange: (event) => change(id, event.target.value) }, ...options,
        option(ClockRef.key.CANT_TELL, "can’t tell", answer === ClockRef.key.CANT_TELL), option("", "take this answer back", false));
      return el("label", { className: "given" }, asked.asks, select);
    });
    return rows.length ? el("section", {}, el("h2", {}, "Your answers"), ...rows) : null;
  }

  /** The other questions that can be answered from here, in any order. */
  function others(key, ids, ask) {
    const buttons = ids.map((id) => choice(key.questions[id].asks, () => ask(id)));
    return ids.length ? el("details", {}, el("summary", {}, "Say something else first: what you noticed"), el("ul", { className: "choices" }, ...buttons)) : null;
  }

  /** What can't be told from here, whatever is answered. */
  function hidden(root, key, from) {
    const rows = (key.data.hidden[key.name][from] || []).map((index) => link(root, key.outcomes[index]));
    return rows.length ? el("details", {}, el("summary", {}, `What stays hidden from here: ${rows.length}`), list(rows)) : null;
  }

  return { el, hidden, viewpoints, stands, question, standing, ending, given, others };
}());
