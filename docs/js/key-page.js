/* The live key on its page. What was answered stands in the address, so that Back, reload and a sent link keep it. */
(function () {
  "use strict";
  const view = ClockRef.keyView;

  /** The viewpoint and the answers in an address such as #from=back&hammers=two; what the key doesn't know is left out. */
  function read(text, key) {
    const given = new URLSearchParams(text.replace(/^#/, ""));
    const from = key.data.viewpoints.some((row) => row.id === given.get("from")) ? given.get("from") : "";
    const answers = {};
    given.forEach((answer, id) => {
      const asked = key.questions[id];
      if (asked && (answer === ClockRef.key.CANT_TELL || asked.answers.some(([known]) => known === answer))) { answers[id] = answer; }
    });
    return { from, answers };
  }

  function write(state) {
    return new URLSearchParams({ ...(state.from ? { from: state.from } : {}), ...state.answers }).toString();
  }

  function keep(facet, text) {
    try {
      if (text === undefined) { return sessionStorage.getItem(`key-${facet}`) || ""; }
      sessionStorage.setItem(`key-${facet}`, text);
    } catch (refused) {
      return ""; /* a browser may refuse to keep anything; the address still holds it */
    }
    return text;
  }

  class Page {
    constructor(place) {
      this.place = place;
      this.root = place.dataset.root;
      this.facet = place.dataset.facet;
      this.key = new ClockRef.key.Key(ClockRef.keyData, this.facet);
      this.wanted = "";
      window.addEventListener("hashchange", () => { this.wanted = ""; this.load(); this.show(true); });
      if (!location.hash && keep(this.facet)) { history.replaceState(null, "", `#${keep(this.facet)}`); }
      this.load();
      this.show(false);
    }

    load() {
      this.state = read(location.hash, this.key);
      keep(this.facet, write(this.state));
    }

    go(state) {
      const text = write(state);
      if (text === write(this.state)) { this.show(true); } else { location.hash = text; }
    }

    answer(id, answer) {
      const answers = { ...this.state.answers };
      if (answer) { answers[id] = answer; } else { delete answers[id]; }
      this.go({ ...this.state, answers });
    }

    show(focus) {
      this.place.replaceChildren(...(this.state.from ? this.asking() : this.choosing()).filter(Boolean));
      if (focus) {
        const head = this.place.querySelector("h2, .verdict");
        head.scrollIntoView({ block: "nearest" });
        head.focus({ preventScroll: true });
      }
      this.place.dispatchEvent(new CustomEvent("key-shown", { bubbles: true, detail: { facet: this.facet, state: this.state, key: this.key } }));
    }

    choosing() {
      return [view.viewpoints(this.key.data.viewpoints.filter((row) => this.key.reach(row.id).length),
        (from) => this.go({ ...this.state, from }))];
    }

    asking() {
      const { from, answers } = this.state;
      const found = this.key.find(answers, from);
      const started = Object.keys(answers).length > 0;
      const next = this.wanted || found.next;
      const asked = next ? view.question(this.root, this.key.data, this.key.questions[next], (answer) => this.answer(next, answer), (ClockRef.keyPictures || {})[next]) : null;
      const told = started ? view.standing(this.root, this.key, found) : null;
      const others = this.otherQuestions(next);
      const order = found.finished && !this.wanted ? [told, view.ending(this.root, this.key, found), this.goingOn(asked), others] : [asked, others, told];
      return [view.stands(this.key.data.viewpoints.find((row) => row.id === from), () => this.go({ ...this.state, from: "" })),
        ...order, view.hidden(this.root, this.key, from), view.given(this.key, answers, (id, answer) => this.answer(id, answer)), this.fresh(started)];
    }

    goingOn(asked) {
      return asked && view.el("div", {}, view.el("p", {}, "That is where the key stops of itself. One may go on:"), asked);
    }

    otherQuestions(next) {
      const ease = (id) => this.key.questions[id].mentioned / this.key.questions[id].effort;
      const left = this.key.reach(this.state.from).filter((id) => id !== next && this.key.open(id, this.state.answers))
        .sort((a, b) => ease(b) - ease(a));
      return view.others(this.key, left, (id) => { this.wanted = id; this.show(true); });
    }

    fresh(started) {
      return started && view.el("p", {}, view.el("button",
        { type: "button", className: "plain", onclick: () => this.go({ from: this.state.from, answers: {} }) }, "Start again with another clock"));
    }
  }

  ClockRef.onPage(function (page) {
    const place = page.querySelector(".live-key");
    if (place) { ClockRef.liveKey = new Page(place); }
  });
}());
