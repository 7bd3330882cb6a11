/* The search box of every page: opens by button, finds while one types. The names come first; the texts follow where they can be had. */
(function () {
  "use strict";
  const ROOT = new URL("../", document.currentScript.src);
  const WAIT = 60; /* milliseconds between the last letter and the looking */
  let index = null;

  async function read(path) {
    const answer = await fetch(new URL(path, ROOT));
    if (!answer.ok) { throw new TypeError(path); }
    return answer.json();
  }

  /** The names, ready to be looked through; the texts are put in when they come, and nobody waits for them. */
  function load(renewed) {
    index = index || read("search/names.json").then((names) => {
      const made = new ClockRef.search.Index(names);
      read("search/text.json").then((texts) => { made.addTexts(texts); renewed(); }).catch(() => {});
      return made;
    });
    index.catch(() => { index = null; });
    return index;
  }

  function piece(name, className, text) {
    const made = document.createElement(name);
    made.className = className;
    made.textContent = text;
    return made;
  }

  /** One page found: its title, what kind of page it is, the other name that was asked for, and its first sentence. */
  function hit(found) {
    const item = document.createElement("li"), link = piece("a", "", "");
    link.href = new URL(found.address, ROOT).href;
    link.append(piece("span", "hit-title", found.title), " ", piece("span", "hit-kind", found.kind));
    if (found.name) { link.append(" ", piece("span", "hit-name", found.name)); }
    if (found.says) { link.append(piece("span", "hit-says", found.says)); }
    item.append(link);
    return item;
  }

  const counted = (number) => (number ? `${number} page${number > 1 ? "s" : ""} found, best first` : "");
  const NOTHING = "Nothing goes by that here. Try a plainer word, or one word alone.";
  const FAILED = "The names could not be fetched. Try again where there is a network, or leaf through the words.";

  class Search {
    constructor(dialog) {
      this.dialog = dialog;
      this.input = dialog.querySelector("input");
      this.said = dialog.querySelector(".search-said");
      this.hits = dialog.querySelector(".hits");
      this.input.addEventListener("input", () => { clearTimeout(this.timer); this.timer = setTimeout(() => this.look(), WAIT); });
      dialog.querySelector("form").addEventListener("submit", (event) => { event.preventDefault(); this.enter(); });
      dialog.querySelector("button.close").addEventListener("click", () => dialog.close());
      dialog.addEventListener("keydown", (event) => this.move(event));
      dialog.addEventListener("click", (event) => { if (event.target === dialog) { dialog.close(); } });
    }

    open() {
      this.dialog.showModal();
      this.input.select();
      load(() => this.look()).then(() => this.look(), () => { this.said.textContent = FAILED; });
    }

    async look() {
      const text = this.input.value.trim();
      try {
        const found = text ? ClockRef.search.find(await load(() => this.look()), text) : [];
        if (text !== this.input.value.trim()) { return; }
        this.hits.replaceChildren(...found.map(hit));
        this.said.textContent = text ? counted(found.length) || NOTHING : "";
      } catch (error) {
        this.said.textContent = FAILED;
      }
    }

    /** Enter goes down to the first page found, and with that puts a phone's keyboard away. */
    async enter() {
      await this.look();
      const first = this.hits.querySelector("a");
      if (first) { first.focus(); } else { this.input.blur(); }
    }

    /** The arrow keys go up and down between the words and the pages found. */
    move(event) {
      const step = { ArrowDown: 1, ArrowUp: -1 }[event.key], places = [this.input, ...this.hits.querySelectorAll("a")];
      const next = step && places[places.indexOf(document.activeElement) + step];
      if (next) {
        event.preventDefault();
        next.focus();
      }
    }
  }

  ClockRef.onPage(function (page) {
    const dialog = page.querySelector("dialog.search");
    if (!dialog || !dialog.showModal) { return; }
    const search = new Search(dialog);
    page.querySelectorAll("button.open-search").forEach((button) => {
      button.hidden = false;
      button.addEventListener("click", () => search.open());
    });
  });
}());
