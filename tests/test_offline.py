"""What a built site needs to be kept on a device: packs that give back each file, a version, icons."""
from __future__ import annotations

import json
import lzma
import random
import re
import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from py_mini_racer import MiniRacer

from build_tools.icon import INK, PAPER, icon
from build_tools.offline import WORKER, add_offline
from build_tools.offline_pack import pack, small_pack

JS = Path(__file__).resolve().parent.parent / "docs" / "js"
TEXTS = {
    "a/index.html": "<html lang>\n<p>one <a href=\"x\">two</a> <b>three</b>\n\n</html>",
    "b/index.html": "<html lang>\n<p>four <a href=\"x\">two</a> five < six\n\n</html>\n",
    "__proto__": "a name that means something to the script\n",
    "empty.txt": "",
}


@pytest.fixture
def unpacked() -> object:
    with MiniRacer() as engine:
        for name in ("offline-pack.js", "lzma.js"):
            engine.eval((JS / name).read_text(encoding="utf-8"))
        yield engine


@pytest.mark.parametrize("packed", [pack, small_pack])
def test_a_page_comes_out_of_the_pack_as_it_went_in(packed: Callable[[dict[str, str]], bytes], unpacked: MiniRacer) -> None:
    unpacked.eval(f"var pack = ClockRef.pack.read({json.dumps(lzma.decompress(packed(TEXTS)).decode())})")
    for path, text in TEXTS.items():
        assert unpacked.eval(f"ClockRef.pack.textOf(pack, {json.dumps(path)})") == text
    assert unpacked.eval("ClockRef.pack.textOf(pack, 'toString')") is None


def test_the_same_texts_give_the_same_pack() -> None:
    for packed in (pack, small_pack):
        assert packed(TEXTS) == packed(dict(reversed(TEXTS.items())))


UNPACK = """(packed, step) => {
  const unpacking = new ClockRef.lzma.Unpacking(Uint8Array.from(packed));
  let steps = 1;
  while (!unpacking.step(step)) { steps += 1; }
  return JSON.stringify([steps, Array.from(unpacking.out)]);
}"""
CHANCE = random.Random(1658)
PLAIN = {
    "nothing": b"", "one": b"a", "rows": b"tick tock " * 900, "noise": CHANCE.randbytes(3000), "four-letters": bytes(CHANCE.choices(b"abcd", k=20_000)),
    "far": CHANCE.randbytes(60) + b"-" * 40_000 + CHANCE.randbytes(60), "prose": (JS / "key-engine.js").read_bytes(),
}


@pytest.mark.parametrize("settings", [{}, {"lc": 3, "pb": 0}, {"lc": 0, "lp": 2, "pb": 4}, {"lc": 1, "lp": 3, "pb": 1}], ids=str)
@pytest.mark.parametrize("name", PLAIN)
def test_what_the_standard_library_packs_is_unpacked(name: str, settings: dict[str, int], unpacked: MiniRacer) -> None:
    plain = PLAIN[name]
    made = lzma.compress(plain, format=lzma.FORMAT_ALONE, filters=[{"id": lzma.FILTER_LZMA1, "preset": 6, **settings}])
    packed = made[:5] + len(plain).to_bytes(8, "little") + made[13:]
    steps, out = json.loads(unpacked.eval(f"({UNPACK})({list(packed)}, 4096)"))
    assert bytes(out) == plain
    assert len(plain) / (4096 + 273) <= steps <= len(plain) / 4096 + 1, "a step ends with the copy that reaches its length; none is longer than 273"


def test_a_spoilt_pack_does_not_run_on(unpacked: MiniRacer) -> None:
    packed = bytearray(pack(TEXTS))
    packed[20:] = bytes(255 - byte for byte in packed[20:])
    said = unpacked.eval(f"(() => {{ try {{ return ({UNPACK})({list(packed)}, 4096); }} catch (error) {{ return error.message; }} }})()")
    assert said == "This is not what was packed."


@pytest.mark.parametrize(
    ("address", "file"),
    [
        ("", "index.html"), ("terms/wheel/", "terms/wheel/index.html"), ("?q=gear", "index.html"),
        ("terms/wheel/?h=a/b#where", "terms/wheel/index.html"), ("js/site.js", "js/site.js"), ("caf%C3%A9/", "café/index.html"),
    ],
)
def test_the_file_behind_an_address(address: str, file: str, unpacked: MiniRacer) -> None:
    scope = "https://circle.test/clocks/"
    assert unpacked.eval(f"ClockRef.pack.fileOf({json.dumps(scope + address)}, {json.dumps(scope)})") == file


def test_what_lies_outside_is_left_alone(unpacked: MiniRacer) -> None:
    assert unpacked.eval("ClockRef.pack.fileOf('https://circle.test/other/', 'https://circle.test/clocks/')") is None


def saved_by(site: Path) -> dict:
    """What the service worker of a site is told to save."""
    first_line = (site / WORKER).read_text(encoding="utf-8").splitlines()[0]
    return json.loads(first_line.removeprefix("const SAVED = ").rstrip(";"))


def files_in(site: Path, name: str) -> set[str]:
    """The paths that a pack of a site holds."""
    packed = (site / saved_by(site)["packs"][name]["path"]).read_bytes()
    return set(json.loads(lzma.decompress(packed).decode().partition("\n")[0]))


def small_site(folder: Path, page: str) -> Path:
    (folder / "search").mkdir(parents=True)
    (folder / "css").mkdir()
    (folder / "calculations" / "x").mkdir(parents=True)
    files = {
        "index.html": '<html lang="en"><link href="css/a.css">', "404.html": "<html >", "page.html": page, "css/a.css": "a{}", "css/a.css.map": "{}",
        "calculations/x/index.html": '<html ><article><form></form><h2 id="how-the-sum-goes">Why</h2><script src="x.js"></script></article>',
        "search/names.json": "{}", "search/text.json": "[]", "service-worker.js": "work()\n", "picture.png": "png",
    }
    for path, text in files.items():
        (folder / path).write_text(text, encoding="utf-8")
    return folder


def test_any_change_makes_another_version_and_the_pages_carry_it(tmp_path: Path) -> None:
    versions = [add_offline(small_site(tmp_path / name, page)) for name, page in (("a", "<html >one"), ("b", "<html >one"), ("c", "<html >two"))]
    assert versions[0] == versions[1] != versions[2]
    assert (tmp_path / "c" / "index.html").read_text(encoding="utf-8").startswith(f'<html data-version="{versions[2]}" ')


def test_each_file_is_saved_once_and_maps_are_not(tmp_path: Path) -> None:
    site = small_site(tmp_path / "a", "<html >")
    add_offline(site)
    saved = saved_by(site)
    assert set(saved["files"]) == {"css/a.css"}
    assert set(saved["later"]) == {"picture.png"}
    assert files_in(site, "whole") == {"index.html", "404.html", "page.html", "calculations/x/index.html", "search/names.json", "search/text.json"}


def test_the_first_pack_holds_a_sum_with_its_form_and_scripts_but_not_yet_its_explanation(tmp_path: Path) -> None:
    site = small_site(tmp_path / "a", "<html >")
    add_offline(site)
    first = lzma.decompress((site / saved_by(site)["packs"]["first"]["path"]).read_bytes()).decode()
    assert "<form></form>" in first and "x.js" in first and "how-the-sum-goes" not in first


@pytest.mark.parametrize("script", sorted(JS.glob("*.js")), ids=lambda path: path.name)
def test_a_script_in_the_site_has_lost_nothing_but_comments(script: Path, tmp_path: Path) -> None:
    site = small_site(tmp_path / "a", "<html >")
    (site / "js").mkdir()
    (site / "js" / "x.js").write_text(script.read_text(encoding="utf-8"), encoding="utf-8")
    add_offline(site)
    kept = (site / "js" / "x.js").read_text(encoding="utf-8")
    stays, left_out = kept.splitlines()[::-1], []
    for line in script.read_text(encoding="utf-8").splitlines():
        left_out.append(line) if not stays or line != stays[-1] else stays.pop()
    assert left_out and not stays
    with MiniRacer() as engine:
        assert engine.eval(f"typeof Function({json.dumps(kept)})") == "function", "it can be read"
        assert engine.eval(f"typeof eval({json.dumps(chr(10).join(left_out))})") == "undefined", "to the language itself, what is left out says nothing"


def test_the_built_site_saves_every_file(built_site: Path) -> None:
    saved = saved_by(built_site)
    kept = {*saved["files"], *saved["later"], *files_in(built_site, "whole")}
    files = {path.relative_to(built_site).as_posix() for path in built_site.rglob("*") if path.is_file()}
    missing = {path for path in files - kept if not re.fullmatch(r".*\.map|.*/lunr/.*|sitemap\.xml(\.gz)?|service-worker\.js|offline/.*\.pack", path)}
    assert missing == set()
    assert {"key/trains/index.html", "calculations/beats-per-hour/index.html", "js/key-engine.js", "404.html"} <= files_in(built_site, "first")


def dots(png: bytes, size: int) -> list[tuple[int, int, int]]:
    """The dots of a picture as written by `icon`: one chunk of data, no filter."""
    start = png.index(b"IDAT")
    length = struct.unpack(">I", png[start - 4 : start])[0]
    rows = zlib.decompress(png[start + 4 : start + 4 + length])
    return [tuple(rows[row * (3 * size + 1) + 1 + 3 * column :][:3]) for row in range(size) for column in range(size)]


def test_the_icon_is_a_dial_and_the_masked_one_keeps_clear_of_the_edge() -> None:
    assert struct.unpack(">II", icon(64)[16:24]) == (64, 64)
    plain, masked = dots(icon(64), 64), dots(icon(64, 0.75), 64)
    assert plain[0] == PAPER and INK in plain
    reach = [max(max(abs(at % 64 - 31.5), abs(at // 64 - 31.5)) for at, dot in enumerate(picture) if dot == INK) for picture in (plain, masked)]
    assert reach[0] > 26 and reach[1] < 32 * 0.8  # a mask may cut away all but the inner 80 % of the width
