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

  /** One train: its arbors, its controls, and the line that says what was touched. */
  function Train(figure) {
    this.drawing = figure.querySelector(".drawing.plan");
    this.arbors = Array.prototype.map.call(this.drawing.querySelectorAll(".arbor[data-rate]"), function (arbor) {
      return { shape: arbor, spin: arbor.querySelector(".spin"), rate: rate(arbor.dataset.rate), says: arbor.querySelector("title").textContent };
    });
    this.fastest = Math.max.apply(null, this.arbors.map(function (arbor) { return Math.abs(arbor.rate); }));
    this.turned = 0; /* turns of an arbor whose rate is 1 */
    this.running = false;
    this.controls(figure);
    this.naming();
  }

  Train.prototype.controls = function (figure) {
    var bar = document.createElement("div"), train = this;
    bar.className = "motion";
    this.button = make("button", "Set in motion", bar);
    this.button.type = "button";
    this.speed = slider(bar, "Speed");
    this.said = document.createElement("p");
    this.said.className = "said";
    this.said.textContent = "Touch a wheel to name it.";
    this.drawing.after(bar, this.said);
    this.button.addEventListener("click", function () { train.running ? train.pause() : train.start(); });
    if (window.matchMedia("(prefers-reduced-motion: reduce)").matches) { this.speed.value = "15"; }
  };

  Train.prototype.naming = function () {
    var train = this;
    this.arbors.forEach(function (arbor) {
      arbor.shape.addEventListener("click", function () { train.name(arbor); });
      arbor.shape.addEventListener("mouseenter", function () { train.name(arbor); });
    });
  };

  Train.prototype.name = function (named) {
    this.arbors.forEach(function (arbor) { arbor.shape.classList.toggle("named", arbor === named); });
    this.said.textContent = named.says.charAt(0).toUpperCase() + named.says.slice(1) + ".";
  };

  Train.prototype.start = function () {
    this.running = true;
    this.button.textContent = "Pause";
    this.before = performance.now();
    requestAnimationFrame(this.step.bind(this));
  };

  Train.prototype.pause = function () {
    this.running = false;
    this.button.textContent = "Set in motion";
  };

  /** Turns a second of the arbor whose rate is 1; at the middle setting the fastest turns once in six seconds. */
  Train.prototype.pace = function () {
    var power = LEAST + (MOST - LEAST) * Number(this.speed.value) / 100 - 0.5;
    return Math.pow(10, power) / 6 / this.fastest;
  };

  Train.prototype.step = function (now) {
    if (!this.running || !this.drawing.isConnected) { return; }
    this.turned += this.pace() * Math.max(0, Math.min(now - this.before, 100)) / 1000;
    this.before = now;
    var turned = this.turned;
    this.arbors.forEach(function (arbor) {
      arbor.spin.setAttribute("transform", "rotate(" + (360 * (turned * arbor.rate % 1)).toFixed(2) + ")");
    });
    requestAnimationFrame(this.step.bind(this));
  };

  var MOMENTS = { 0: "The entry pallet holds a tooth", 1: "Impulse on the entry pallet", 3: "The exit pallet holds a tooth", 4: "Impulse on the exit pallet" };
  var SLOWEST = 20; /* seconds for one swing to and fro */

  /** One escapement: its moments, and where wheel and pallets turn. */
  function Escapement(figure) {
    var beat = figure.querySelector(".beat");
    this.drawing = figure.querySelector(".drawing");
    this.wheel = beat.querySelector(".wheel");
    this.pallets = beat.querySelector(".pallets");
    this.about = { wheel: beat.dataset.wheel, pallets: beat.dataset.arbor };
    this.frames = beat.dataset.frames.split(";").map(function (frame) { return frame.split(",").map(Number); });
    this.tooth = Number(beat.dataset.tooth); /* degrees from tooth to tooth */
    this.swings = 0;
    this.running = false;
    Train.prototype.controls.call(this, figure);
    this.said.textContent = "One swing to and fro lets one tooth pass.";
  }

  Escapement.prototype.start = Train.prototype.start;
  Escapement.prototype.pause = Train.prototype.pause;

  Escapement.prototype.step = function (now) {
    if (!this.running || !this.drawing.isConnected) { return; }
    var seconds = SLOWEST * Math.pow(0.1, Number(this.speed.value) / 100);
    this.swings += Math.max(0, Math.min(now - this.before, 100)) / 1000 / seconds;
    this.before = now;
    this.show(this.frames[Math.floor(this.swings % 1 * this.frames.length)], Math.floor(this.swings));
    requestAnimationFrame(this.step.bind(this));
  };

  Escapement.prototype.show = function (frame, teeth) {
    this.pallets.setAttribute("transform", "rotate(" + frame[0] + " " + this.about.pallets + ")");
    this.wheel.setAttribute("transform", "rotate(" + (frame[1] + teeth * this.tooth) % 360 + " " + this.about.wheel + ")");
    if (this.said.textContent !== MOMENTS[frame[2]]) { this.said.textContent = MOMENTS[frame[2]]; }
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

  ClockRef.onPage(function (page) {
    var plays = page.querySelector(".plays");
    if (plays) { page.querySelectorAll("figure.pins").forEach(function (figure) { lightPins(figure, plays); }); }
    page.querySelectorAll("figure.beating").forEach(function (figure) { return new Escapement(figure); });
    page.querySelectorAll("figure.turning").forEach(function (figure) { return new Train(figure); });
  });
}());
