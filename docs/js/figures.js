/* Wheel trains that turn: every arbor at its true relative speed and direction, named when it is touched. */
(function () {
  "use strict";

  var LEAST = -2, MOST = 3; /* powers of ten: turns a minute of the slowest and the fastest setting */

  function rate(text) {
    var parts = text.split("/");
    return Number(parts[0]) / Number(parts[1]);
  }

  function make(tag, words, parent) {
    var made = document.createElement(tag);
    made.textContent = words;
    parent.appendChild(made);
    return made;
  }

  function shape(tag, attributes, parent) {
    var made = document.createElementNS("http://www.w3.org/2000/svg", tag);
    Object.keys(attributes).forEach(function (name) { made.setAttribute(name, attributes[name]); });
    parent.appendChild(made);
    return made;
  }

  function slider(parent, name) {
    var label = make("label", name + " ", parent);
    var input = document.createElement("input");
    input.type = "range";
    input.min = "0";
    input.max = "100";
    input.value = "50";
    label.appendChild(input);
    return input;
  }

  /** The controls below a drawing: a button, a speed, and the line that says what is seen. */
  function controls(moving, figure, says) {
    var bar = document.createElement("div");
    bar.className = "motion";
    moving.button = make("button", "Set in motion", bar);
    moving.button.type = "button";
    moving.speed = slider(bar, "Speed");
    moving.said = document.createElement("p");
    moving.said.className = "said";
    moving.said.setAttribute("aria-live", "polite");
    moving.said.textContent = says;
    moving.drawing.after(bar, moving.said);
    moving.running = false;
    moving.button.addEventListener("click", function () { moving.running ? pause(moving) : start(moving); });
    if (window.matchMedia("(prefers-reduced-motion: reduce)").matches) { moving.speed.value = "15"; }
    return bar;
  }

  function start(moving) {
    moving.running = true;
    moving.button.textContent = "Pause";
    moving.before = performance.now();
    requestAnimationFrame(function step(now) {
      if (!moving.running || !moving.drawing.isConnected) { return; }
      moving.step(Math.max(0, Math.min(now - moving.before, 100)) / 1000);
      moving.before = now;
      requestAnimationFrame(step);
    });
  }

  function pause(moving) {
    moving.running = false;
    moving.button.textContent = "Set in motion";
  }

  /** One train: its arbors, its controls, and the line that says what was touched. */
  function Train(figure) {
    this.drawing = figure.querySelector(".drawing.plan");
    this.arbors = Array.prototype.map.call(this.drawing.querySelectorAll(".arbor[data-rate]"), function (shape) {
      return { shape: shape, spin: shape.querySelector(".spin"), edges: shape.querySelectorAll(".edge"), rate: rate(shape.dataset.rate), says: shape.querySelector("title").textContent };
    });
    this.fastest = Math.max.apply(null, this.arbors.map(function (arbor) { return Math.abs(arbor.rate); }));
    this.turned = 0; /* turns of an arbor whose rate is 1 */
    controls(this, figure, "Touch or point at a wheel to name it.");
    this.naming();
  }

  /** Above the drawing a place to touch for each arbor, the small ones on top; keys reach them one after another. */
  Train.prototype.naming = function () {
    var train = this, layer = shape("g", { "class": "touched" }, this.drawing);
    this.arbors.slice().sort(function (a, b) { return b.shape.dataset.reach - a.shape.dataset.reach; }).forEach(function (arbor) {
      var data = arbor.shape.dataset;
      var place = shape("circle", {
        "class": "hit", r: data.reach, cy: -(data.away || 0), transform: arbor.shape.getAttribute("transform"), tabindex: "0", role: "button", "aria-label": arbor.says,
      }, layer);
      place.addEventListener("click", function () { train.name(arbor, true); });
      place.addEventListener("mouseenter", function () { if (!train.held) { train.name(arbor, false); } });
      place.addEventListener("focus", function () { train.name(arbor, train.held); });
      place.addEventListener("keydown", function (event) {
        if (event.key !== "Enter" && event.key !== " ") { return; }
        event.preventDefault();
        train.name(arbor, true);
        var link = train.said.querySelector("a");
        if (link) { link.focus(); }
      });
    });
  };

  /** Says what an arbor carries; held, the line stays until another is chosen, so that its link can be reached. */
  Train.prototype.name = function (named, held) {
    this.held = held;
    this.arbors.forEach(function (arbor) { arbor.shape.classList.toggle("named", arbor === named); });
    this.said.textContent = named.says + " ";
    if (named.shape.dataset.word) { make("a", "What it is", this.said).href = named.shape.dataset.word; }
  };

  /** Turns a second of the arbor whose rate is 1; at the middle setting the fastest turns once in six seconds. */
  Train.prototype.pace = function () {
    var power = LEAST + (MOST - LEAST) * Number(this.speed.value) / 100 - 0.5;
    return Math.pow(10, power) / 6 / this.fastest;
  };

  Train.prototype.step = function (seconds) {
    var turned = this.turned += this.pace() * seconds;
    this.arbors.forEach(function (arbor) {
      var part = turned * arbor.rate % 1;
      if (arbor.spin) { arbor.spin.setAttribute("transform", "rotate(" + (360 * part).toFixed(2) + ")"); }
      arbor.edges.forEach(function (edge) { turnEdge(edge.dataset, edge, part); });
    });
  };

  /** A wheel seen from its edge: the teeth of the near side wander across. */
  function turnEdge(data, edge, part) {
    var d = "";
    for (var tooth = 0; tooth < Number(data.teeth); tooth += 1) {
      var angle = 2 * Math.PI * (tooth / data.teeth + part);
      if (Math.cos(angle) > 0) { d += "M" + (data.half * Math.sin(angle)).toFixed(2) + " " + data.top + "v" + data.high; }
    }
    edge.setAttribute("d", d);
  }

  var SLOWEST = 20; /* seconds for one swing to and fro */

  /** One escapement: its moments, and where wheel and pallets turn. */
  function Escapement(figure) {
    var beat = figure.querySelector(".beat"), escapement = this;
    this.drawing = figure.querySelector(".drawing");
    this.wheel = beat.querySelector(".wheel");
    this.pallets = beat.querySelector(".pallets");
    this.about = { wheel: beat.dataset.wheel, pallets: beat.dataset.arbor };
    this.frames = beat.dataset.frames.split(";").map(function (frame) { return frame.split(",").map(Number); });
    this.says = beat.dataset.says.split("|");
    this.tooth = Number(beat.dataset.tooth); /* degrees from tooth to tooth */
    this.swings = 0;
    var next = make("button", "Next moment", controls(this, figure, "One swing to and fro lets one tooth pass."));
    next.type = "button";
    next.addEventListener("click", function () { pause(escapement); escapement.next(); });
  }

  Escapement.prototype.step = function (seconds) {
    this.swings += seconds / (SLOWEST * Math.pow(0.1, Number(this.speed.value) / 100));
    this.show();
  };

  /** On to the middle of the next lock, impulse or drop, without moving by itself. */
  Escapement.prototype.next = function () {
    var all = this.frames.length, here = Math.floor(this.swings % 1 * all), at = here, last, frames = this.frames;
    function moment(place) { return frames[place % all][2]; }
    while (moment(at) === moment(here)) { at += 1; }
    last = at;
    while (moment(last + 1) === moment(at)) { last += 1; }
    this.swings = Math.floor(this.swings) + (Math.floor((at + last) / 2) + 0.5) / all;
    this.show();
  };

  Escapement.prototype.show = function () {
    var frame = this.frames[Math.floor(this.swings % 1 * this.frames.length)], teeth = Math.floor(this.swings);
    this.pallets.setAttribute("transform", "rotate(" + frame[0] + " " + this.about.pallets + ")");
    this.wheel.setAttribute("transform", "rotate(" + (frame[1] + teeth * this.tooth) % 360 + " " + this.about.wheel + ")");
    if (this.said.textContent !== this.says[frame[2]]) { this.said.textContent = this.says[frame[2]]; }
  };

  /** The pins of a melody light up while the page plays it: the n-th button plays the n-th strip. */
  function lightPins(figure, plays) {
    var strips = {}, notes = plays.querySelector(".notes"), buttons = Array.prototype.slice.call(plays.querySelectorAll("button"));
    figure.querySelectorAll(".pin").forEach(function (pin) { (strips[pin.dataset.quarter] = strips[pin.dataset.quarter] || []).push(pin); });
    new MutationObserver(function () {
      var heard = notes.textContent.split(" ").filter(Boolean).length;
      var strip = Object.values(strips)[buttons.indexOf(plays.querySelector(".sounding"))] || [];
      figure.querySelectorAll(".struck").forEach(function (pin) { pin.classList.remove("struck"); });
      if (strip[heard - 1]) { strip[heard - 1].classList.add("struck"); }
    }).observe(notes, { childList: true, characterData: true, subtree: true });
  }

  function heading(list) {
    while (list.tagName !== "H2") { list = list.previousElementSibling || list.parentNode; }
    return list;
  }

  /** A box above the parts: only those stay of which every typed word is said. */
  function narrow(lists) {
    var box = document.createElement("p"), label = make("label", "What does it look like, or what does it do? ", box), input = document.createElement("input"), told = make("span", "", box);
    input.type = "search";
    label.appendChild(input);
    box.className = "narrow";
    told.setAttribute("role", "status");
    lists[0].parentNode.insertBefore(box, heading(lists[0]));
    input.addEventListener("input", function () {
      var words = input.value.toLowerCase().split(/\s+/).filter(Boolean), left = 0;
      lists.forEach(function (list) {
        var here = 0;
        list.querySelectorAll("li").forEach(function (part) {
          var said = (part.textContent + " " + (part.dataset.words || "")).toLowerCase();
          part.hidden = !words.every(function (word) { return said.indexOf(word) >= 0; });
          here += part.hidden ? 0 : 1;
        });
        list.hidden = heading(list).hidden = !here;
        left += here;
      });
      told.textContent = words.length ? " " + (left || "No") + (left === 1 ? " part" : " parts") : "";
    });
  }

  ClockRef.onPage(function (page) {
    var parts = Array.prototype.slice.call(page.querySelectorAll("ul.looks.parts"));
    if (parts.length) { narrow(parts); }
    var plays = page.querySelector(".plays");
    if (plays) { page.querySelectorAll("figure.pins").forEach(function (figure) { lightPins(figure, plays); }); }
    page.querySelectorAll("figure.beating").forEach(function (figure) { return new Escapement(figure); });
    page.querySelectorAll("figure.turning").forEach(function (figure) { return new Train(figure); });
  });
}());
