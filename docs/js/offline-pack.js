/* Where a page stands among the files of the site, and how it is put together from a pack (build_tools/offline_pack.py writes them).
   Pure: the service worker and the tests load it. */
var ClockRef = this.ClockRef || {};
this.ClockRef = ClockRef;

ClockRef.pack = (function () {
  "use strict";

  /** The file behind an address below the scope, whatever is asked or pointed to in it: "terms/great-wheel/?q=x#y" is "terms/great-wheel/index.html". */
  function fileOf(address, scope) {
    if (!address.startsWith(scope)) { return null; }
    const path = decodeURIComponent(address.slice(scope.length).split(/[?#]/)[0]);
    return path === "" || path.endsWith("/") ? `${path}index.html` : path;
  }

  /** A pack as it was written: a line that says what each file is made of, and the pieces. */
  function read(text) {
    const end = text.indexOf("\n");
    return { pages: JSON.parse(text.slice(0, end)), pieces: text.slice(end + 1).split("\0") };
  }

  /** "0-2 7" is 0, 1, 2, 7. */
  function numbers(written) {
    return written.split(" ").flatMap((run) => {
      const [first, last = first] = run.split("-").map(Number);
      return Array.from({ length: last - first + 1 }, (_, step) => first + step);
    });
  }

  /** The text of a file in a pack, or null when the pack doesn't hold it. */
  function textOf(pack, path) {
    const written = Object.hasOwn(pack.pages, path) ? pack.pages[path] : null;
    return written ? numbers(written).map((number) => pack.pieces[number]).join("") : written;
  }

  return { fileOf, read, textOf };
}());
