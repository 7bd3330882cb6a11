/* Previews of trade words: a link of class "word" carries the definition in its title.
   It opens on hover and on keyboard focus; on a touch screen the first tap opens it and offers the page. */
ClockRef.onPage(function (page) {
  "use strict";
  var box = page.createElement("div");
  box.id = "preview";
  box.className = "preview";
  box.hidden = true;
  var text = page.createElement("p");
  var more = page.createElement("a");
  box.append(text, more);

  var spoken = page.createElement("div");
  spoken.className = "spoken";
  spoken.setAttribute("role", "status");

  var current = null;
  var closing = 0;

  function place(link) {
    var at = link.getClientRects()[0] || link.getBoundingClientRect();
    var width = Math.min(320, page.documentElement.clientWidth - 24);
    box.style.width = width + "px";
    var left = Math.max(12, Math.min(at.left, page.documentElement.clientWidth - width - 12));
    box.style.left = left + window.scrollX + "px";
    var below = at.bottom + 6 + box.offsetHeight < window.innerHeight || at.top < box.offsetHeight + 12;
    box.style.top = (below ? at.bottom + 6 : at.top - box.offsetHeight - 6) + window.scrollY + "px";
  }

  function open(link) {
    clearTimeout(closing);
    if (current && current !== link) { current.removeAttribute("aria-describedby"); }
    current = link;
    text.textContent = link.dataset.says;
    more.href = link.href;
    more.textContent = "Open: " + link.textContent;
    box.hidden = false;
    text.id = "preview-text";
    link.setAttribute("aria-describedby", "preview-text");
    place(link);
  }

  function close() {
    clearTimeout(closing);
    box.hidden = true;
    spoken.textContent = "";
    if (current) { current.removeAttribute("aria-describedby"); }
    current = null;
  }

  function closeSoon() {
    clearTimeout(closing);
    closing = setTimeout(close, 250);
  }

  function wordOf(event) {
    return event.target instanceof Element ? event.target.closest("a.word[data-says]") : null;
  }

  page.querySelectorAll("a.word[title]").forEach(function (link) {
    link.dataset.says = link.title;
    link.removeAttribute("title");
  });
  (page.querySelector("main") || page.body).append(box, spoken);

  page.addEventListener("pointerover", function (event) {
    if (event.pointerType === "touch") { return; }
    var link = wordOf(event);
    if (link) { open(link); } else if (box.contains(event.target)) { clearTimeout(closing); }
  });
  page.addEventListener("pointerout", function (event) {
    if (event.pointerType !== "touch" && (wordOf(event) || box.contains(event.target))) { closeSoon(); }
  });
  page.addEventListener("focusin", function (event) {
    var link = wordOf(event);
    if (link && link.matches(":focus-visible")) { open(link); } else if (!box.contains(event.target)) { closeSoon(); }
  });

  var byTouch = false;
  page.addEventListener("pointerdown", function (event) { byTouch = event.pointerType === "touch"; }, true);
  page.addEventListener("click", function (event) {
    var link = wordOf(event);
    if (link && byTouch && !(current === link && !box.hidden)) {
      event.preventDefault();
      open(link);
      spoken.textContent = link.textContent + ": " + link.dataset.says;
    } else if (!link && !box.contains(event.target)) {
      close();
    }
  });
  page.addEventListener("keydown", function (event) {
    if (event.key === "Escape" && !box.hidden) { close(); }
  });
});
