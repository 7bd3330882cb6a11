/* A sheet that takes up what was answered in the key: of the lot in the address (#lot=112), or of the clock that was last walked through the key. */
(function () {
  "use strict";
  const ROOT = new URL("../", document.currentScript.src);
  const lots = ClockRef.lots;

  /** {title, parts}: what is known of the clock, or null. */
  function known() {
    const number = new URLSearchParams(location.hash.slice(1)).get("lot");
    if (number) {
      const lot = lots.here(ROOT).find(number);
      return lot ? { title: `lot ${lot.lot}`, parts: Object.values(lot.parts), remarks: lot.remarks } : null;
    }
    const parts = Object.values(JSON.parse(lots.remember("described") || "{}"));
    return parts.length ? { title: "what you last answered in the key", parts, remarks: "" } : null;
  }

  /** Put each answer where the sheet asks for it; what it doesn't ask for goes to the last place. */
  function fill(places, answers) {
    const last = places[places.length - 1];
    const left = new Map(answers.filter(([, , said]) => said !== "can’t tell").map((one) => [one[0], one]));
    places.forEach((place) => {
      const wanted = place === last ? [...left.keys()] : place.dataset.questions.split(" ").filter((id) => left.has(id));
      place.replaceChildren(...wanted.map((id) => {
        const [, asked, said] = left.get(id);
        left.delete(id);
        return item(asked, said);
      }));
      place.hidden = !wanted.length;
    });
  }

  function item(asked, said) {
    const made = document.createElement("li");
    const words = document.createElement("b");
    words.textContent = said;
    made.append(`${asked} `, words);
    return made;
  }

  function head(clock, blank) {
    const made = document.createElement("div");
    made.className = "filled";
    const says = document.createElement("p");
    says.textContent = `Filled in from ${clock.title}. The key: ${clock.parts.map((part) => part.verdict).join(" ")}`;
    const remarks = document.createElement("p");
    remarks.textContent = clock.remarks;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Leave it blank";
    button.onclick = () => { made.remove(); blank(); };
    made.append(says, ...(clock.remarks ? [remarks] : []), button);
    return made;
  }

  ClockRef.onPage(function (page) {
    const places = [...page.querySelectorAll(".from-key")];
    const paper = page.querySelector(".on-paper");
    if (!places.length) { return; }
    try {
      const clock = known();
      if (!clock) { return; }
      fill(places, clock.parts.flatMap((part) => part.answers));
      paper.before(head(clock, () => places.forEach((place) => { place.hidden = true; })));
    } catch (error) {
      if (!(error instanceof lots.BookError)) { throw error; }
      const says = document.createElement("p");
      says.textContent = error.message;
      paper.before(says);
    }
  });
}());
