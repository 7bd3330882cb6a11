/* By ear: a tap plays a score with tones made on the device; another tap, or a tap elsewhere, ends it. Nothing sounds by itself. */
(function () {
  "use strict";
  const AHEAD = 0.1;  /* seconds between the tap and the first note, so that it isn't cut off */
  const LOUDNESS = 0.22;
  let device = null;
  let playing = null;

  /** One stroke on a bell: each note within it begins at once and dies away. */
  function stroke(frequency, at, into) {
    return ClockRef.earData.partials.map(({ ratio, loudness, fades }) => {
      const tone = device.createOscillator();
      const level = device.createGain();
      tone.frequency.value = frequency * ratio;
      level.gain.setValueAtTime(0, at);
      level.gain.linearRampToValueAtTime(loudness, at + 0.004);
      level.gain.setTargetAtTime(0, at + 0.004, fades);
      tone.connect(level).connect(into);
      tone.start(at);
      tone.stop(at + 5 * fades);
      return tone;
    });
  }

  function play(button) {
    device = device || new AudioContext();
    device.resume();
    const notes = scoreOf(button);
    const level = device.createGain();
    level.gain.value = LOUDNESS;
    level.connect(device.destination);
    const start = device.currentTime + AHEAD;
    const tones = notes.flatMap(({ at, note }) => stroke(ClockRef.score.frequency(note, ClockRef.earData.pitch), start + at, level));
    playing = { button, tones, level, words: button.textContent, timers: notes.map(({ at }, place) => setTimeout(() => show(notes, place), 1000 * (AHEAD + at))) };
    playing.timers.push(setTimeout(stop, 1000 * (notes[notes.length - 1].at + 3)));
    button.textContent = "Stop";
    button.classList.add("sounding");
  }

  function stop() {
    if (!playing) { return; }
    const { button, tones, level, words, timers } = playing;
    playing = null;
    timers.forEach(clearTimeout);
    level.gain.setTargetAtTime(0, device.currentTime, 0.03);
    tones.forEach((tone) => tone.stop(device.currentTime + 0.2));
    button.textContent = words;
    button.classList.remove("sounding");
    place(button).textContent = "";
  }

  /** Where the notes appear as they sound, for whoever can't hear them or has the sound off. */
  const place = (button) => button.closest(".plays").querySelector(".notes");

  function show(notes, at) {
    place(playing.button).textContent = notes.slice(0, at + 1).map(({ note }) => shown(note)).join(" ");
  }

  const shown = (note) => note.replace("#", "♯").replace("b", "♭");

  function scoreOf(button) {
    const hour = document.querySelector("select.hour");
    const { low, high } = button.closest(".plays").dataset;
    return ClockRef.score.schedule(button.dataset.score, hour ? Number(hour.value) : 3, { low, high }, ClockRef.earData.pace);
  }

  ClockRef.onPage(function (page) {
    if (!("AudioContext" in window)) { return; }
    page.querySelectorAll(".plays, .which-hour").forEach((one) => { one.hidden = false; });
    page.querySelectorAll(".plays button").forEach((button) => {
      button.addEventListener("click", () => {
        const again = playing && playing.button === button;
        stop();
        if (!again) { play(button); }
      });
    });
    page.addEventListener("visibilitychange", () => { if (page.hidden) { stop(); } });
  });
}());
