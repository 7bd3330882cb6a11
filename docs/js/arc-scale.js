/* Below the sum of a scale of degrees: the straight scale to size, for printing, with a line to try the printer by. */
(function () {
  "use strict";
  const WIDEST = 85, HEIGHT = 44, TRIAL = 100; // mm: half of what a sheet takes, the drawing, the line to measure
  const line = (x1, y1, x2, y2) => `<line x1="${x1.toFixed(3)}" y1="${y1}" x2="${x2.toFixed(3)}" y2="${y2}"/>`;
  const text = (x, y, words) => `<text x="${x.toFixed(3)}" y="${y}" fill="currentColor" stroke="none">${words}</text>`;

  /** The drawing in mm, from rows of degrees and places; marks that the paper does not hold are left out. */
  function drawing(rows) {
    const marks = rows.map(([angle, place]) => [ClockRef.number.toFloat(angle), ClockRef.number.toFloat(place)]).filter(([, place]) => place <= WIDEST);
    const half = Math.max(TRIAL / 2, marks.length ? marks[marks.length - 1][1] : 0) + 4;
    const parts = [line(-half, 12, half, 12), line(0, 2, 0, 12), text(0, 17, "0")];
    for (const [angle, place] of marks) {
      const whole = Number.isInteger(angle), top = whole ? 5 : 8;
      for (const side of [-1, 1]) {
        parts.push(line(side * place, top, side * place, 12));
        if (whole) parts.push(text(side * place, 17, String(angle)));
      }
    }
    parts.push(line(-TRIAL / 2, 30, TRIAL / 2, 30), line(-TRIAL / 2, 27, -TRIAL / 2, 33), line(TRIAL / 2, 27, TRIAL / 2, 33), text(0, 38, `This line must measure ${TRIAL} mm; print at 100 per cent`));
    const left = rows.length > marks.length ? `<p class="hint">${rows.length - marks.length} marks to a side are left out: the sheet is too narrow.</p>` : "";
    return `<svg role="img" stroke="currentColor" stroke-width="0.25" font-size="3.4" text-anchor="middle" aria-label="The scale to size" width="${2 * half}mm" height="${HEIGHT}mm" viewBox="${-half} 0 ${2 * half} ${HEIGHT}">${parts.join("")}</svg>${left}`;
  }

  ClockRef.onPage((page) => page.querySelectorAll('form[data-sum="arc-scale"]').forEach((form) => {
    const place = document.createElement("div");
    place.className = "to-size";
    place.tabIndex = 0;
    place.setAttribute("role", "region");
    place.setAttribute("aria-label", "The scale to size, for printing");
    form.querySelector(".answer").after(place);
    form.addEventListener("answered", ({ detail }) => { place.innerHTML = detail ? drawing(detail.values.answers) : ""; });
  }));
})();
