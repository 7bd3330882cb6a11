/* When each note of a score sounds. Pure: the page and the tests load it.
   A score is notes in order ("E5 C5"), n, m and p for counts, | for a pause and / for a long wait; twelve scores between semicolons
   are for one to twelve o'clock. kb/constants/striking-schemes.yaml says what the signs mean. */
var ClockRef = this.ClockRef || {};
this.ClockRef = ClockRef;

ClockRef.score = (function () {
  "use strict";
  const NAMES = { C: -9, D: -7, E: -5, F: -4, G: -2, A: 0, B: 2 };  /* half-tones from A */

  /** Vibrations a second of a note such as "G#4", in equal temperament; pitch is that of A4. */
  function frequency(note, pitch) {
    const [, name, sign, octave] = /^([A-G])(#|b)?(\d)$/.exec(note);
    const steps = NAMES[name] + ({ "#": 1, b: -1 }[sign] || 0) + 12 * (Number(octave) - 4);
    return pitch * 2 ** (steps / 12);
  }

  const times = (count, ...notes) => Array.from({ length: count }, () => notes);

  /** Groups of blows for one sign of a score; within a group the notes follow fast. */
  function groups(sign, hour, bells) {
    if (sign === "n") { return times(hour, bells.low); }
    if (sign === "m") { return times(hour % 12 + 1, bells.high); }
    if (sign === "p") { return times(hour, bells.high, bells.low); }
    return null;
  }

  /** [{at, note}] in seconds from the first; pace: {note, blow, pause, wait}. */
  function schedule(score, hour, bells, pace) {
    const all = score.split(";");
    const signs = (all.length === 12 ? all[hour - 1] : score).trim().split(/\s+/).filter(Boolean);
    const found = [];
    let now = 0;
    let gap = 0;
    const sound = (note, after) => { now += gap; found.push({ at: now, note }); gap = after; };
    signs.forEach((sign) => {
      const counted = groups(sign, hour, bells);
      if (sign === "|" || sign === "/") {
        gap = sign === "|" ? pace.pause : pace.wait;
      } else if (counted) {
        counted.forEach((group) => group.forEach((note, at) => sound(note, at === group.length - 1 ? pace.blow : pace.note)));
      } else {
        sound(sign, pace.note);
      }
    });
    return found;
  }

  return { frequency, schedule };
}());
