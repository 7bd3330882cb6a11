/* Below the live key: note this lot in the lot book. What has been answered is also kept, in words, for the sheet for an expert. */
(function () {
  "use strict";
  const ROOT = new URL("../", document.currentScript.src);
  const book = ClockRef.lots.here(ROOT);
  const TYPED = "typed into the key";
  let form = null;
  let shown = null;

  /** What the key makes of the answers so far, in words. */
  function part({ facet, state, key }) {
    const found = key.find(state.answers, state.from);
    const place = key.data.viewpoints.find((row) => row.id === state.from);
    const says = (id, answer) => (key.questions[id].answers.find(([known]) => known === answer) || ["", "can’t tell"])[1];
    return {
      label: key.data.facets.find((row) => row.id === facet).label, from: place ? place.says : "", where: location.hash.slice(1), verdict: key.verdict(found),
      ranking: found.ranked.slice(0, 5).filter((one, at) => !at || one.share > key.needs.notRuledOut).map((one) => [key.outcomes[one.index].name, one.words]),
      answers: Object.entries(state.answers).map(([id, answer]) => [id, key.questions[id].asks, says(id, answer)]),
    };
  }

  function make() {
    const made = document.createElement("form");
    made.className = "note-lot";
    made.innerHTML = '<h2>Note this lot</h2><p><label for="lot-number">Lot number</label> <input id="lot-number" name="lot" autocomplete="off" maxlength="20"></p>'
      + '<p><label for="lot-remarks">Remarks</label> <textarea id="lot-remarks" name="remarks" rows="2" maxlength="2000"></textarea></p>'
      + '<p><button type="submit">Note it</button> <a class="book">Open the lot book</a></p><p role="status"></p><p><a class="sheet">Fill in the sheet for an expert</a></p>';
    made.querySelector("a.book").href = new URL("lots/", ROOT).href;
    made.querySelector("a.sheet").href = new URL("sheets/for-an-expert/", ROOT).href;
    made.addEventListener("submit", note);
    return made;
  }

  function note(event) {
    event.preventDefault();
    const status = form.querySelector("[role=status]");
    try {
      const noted = book.note(form.elements.lot.value, shown.facet, part(shown), form.elements.remarks.value, new Date().toISOString());
      form.elements.remarks.value = "";
      ClockRef.lots.remember(TYPED, JSON.stringify([noted.lot]));  /* what is noted next is likely to be of the same lot */
      status.textContent = `Lot ${noted.lot} is noted on this device.`;
    } catch (error) {
      if (!(error instanceof ClockRef.lots.BookError)) { throw error; }
      status.textContent = error.message;
      form.elements.lot.focus();
    }
  }

  /** Keep the answers of each facet in words until the window is closed. */
  function describe() {
    const described = JSON.parse(ClockRef.lots.remember("described") || "{}");
    if (Object.keys(shown.state.answers).length) { described[shown.facet] = part(shown); } else { delete described[shown.facet]; }
    ClockRef.lots.remember("described", JSON.stringify(described));
  }

  document.addEventListener("key-shown", (event) => {
    shown = event.detail;
    if (!form) {
      form = make();
      ClockRef.lots.keepTyped(TYPED, form.elements.lot, form.elements.remarks);
      event.target.after(form);
    }
    form.hidden = !Object.keys(shown.state.answers).length;
    if (shown.state.from) { describe(); }
  });
}());
