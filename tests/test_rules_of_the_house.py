"""Rules for every file of the project, each a small function that lists its offences, each seen to find some."""
from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest

from build_tools.commandline import COMMANDS

ROOT = Path(__file__).resolve().parent.parent
LONGEST_MODULE, LONGEST_FUNCTION, LARGEST_FILE = 300, 45, 600_000  # lines, lines, bytes
NO_TEXT = {".png", ".woff2", ".ico"}
THIS = Path(__file__).name


def files() -> list[Path]:
    """Every file that is, or is about to be, in the repository."""
    listed = subprocess.run(["git", "ls-files", "-co", "--exclude-standard", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return [ROOT / name for name in sorted(set(listed.split("\0")) - {""}) if (ROOT / name).is_file()]


TEXTS = [path for path in files() if path.suffix not in NO_TEXT]
PYTHON = [path for path in TEXTS if path.suffix == ".py"]


def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8", errors="replace")  # one bad example is not UTF-8, and is there to be refused


def relative(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def machine_paths(text: str) -> list[str]:
    return re.findall(r"(?<![\w./:<-])(?:/(?:home|root|Users|work|tmp|opt)/|[A-Z]:\\)[\w.-]*", text)


def unfinished(text: str) -> list[str]:
    return re.findall(r"\b(?:TO" r"DO|FIX" r"ME|X" r"XX)\b", text)


def registry_hosts(text: str) -> list[str]:
    return re.findall(r"(?i)\b(?:[\w-]+\.)*(?:pypi|pythonhosted|npmjs|debian)\.(?:org|com)\b|--(?:extra-)?index-" r"url|--find-" r"links", text)


def loose_pins(constraints: str) -> list[str]:
    lines = [line for line in constraints.splitlines() if line and not line.startswith("#")]
    return [line for line in lines if not re.fullmatch(r"[\w.-]+==[\w.]+", line)]


def functions(text: str) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (node for node in ast.walk(ast.parse(text)) if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)))


def long_functions(text: str) -> list[str]:
    return [f"{node.name}: {length} lines" for node in functions(text) if (length := node.end_lineno - node.lineno + 1) > LONGEST_FUNCTION]


def long_module(text: str) -> list[str]:
    return [f"{length} lines"] if (length := len(text.splitlines())) > LONGEST_MODULE else []


def without_hints(text: str) -> list[str]:
    """Functions with an argument or a result that has no type hint; `self` and `cls` need none."""
    found = []
    for node in functions(text):
        arguments = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
        bare = [one.arg for one in arguments if one.annotation is None and one.arg not in ("self", "cls")]
        if bare or node.returns is None:
            found.append(f"{node.name}({', '.join(bare)})")
    return found


def without_docstring(text: str) -> list[str]:
    return [] if ast.get_docstring(ast.parse(text)) else ["says nothing about itself"]


def unknown_commands(text: str) -> list[str]:
    named = re.findall(r"python(?:3(?:\.\d+)?)? -m build_tools ([a-z][a-z-]*)", text)
    return [name for name in named if name not in COMMANDS]


def missing_places(text: str) -> list[str]:
    """Files and folders that a text names in backquotes and that do not exist; names in capitals stand for any."""
    named = re.findall(r"`((?:\.ci|build_tools|docs|kb|tests)/[\w./*-]*)`", text)
    return [name for name in named if not re.search(r"[A-Z]{2}", name) and not list(ROOT.glob(name.rstrip("/")))]


EVERY_TEXT = {machine_paths: "see /" + "home/someone/x", unfinished: "# TO" + "DO later", registry_hosts: "from files.python" + "hosted.org"}
EVERY_MODULE = {
    long_module: '"""Long."""\n' + "a = 1\n" * LONGEST_MODULE,
    long_functions: "def f() -> None:\n" + "    a = 1\n" * LONGEST_FUNCTION,
    without_docstring: "a = 1\n",
}


@pytest.mark.parametrize("rule", EVERY_TEXT, ids=lambda rule: rule.__name__)
def test_every_text(rule) -> None:
    offences = {relative(path): found for path in TEXTS if path.name != "LICENSE-CONTENT" and (found := rule(text_of(path)))}
    assert offences == {}


@pytest.mark.parametrize("rule", EVERY_MODULE, ids=lambda rule: rule.__name__)
def test_every_module(rule) -> None:
    offences = {relative(path): found for path in PYTHON if text_of(path).strip() and (found := rule(text_of(path)))}
    assert offences == {}


def test_the_code_has_type_hints_throughout() -> None:
    code = [path for path in PYTHON if "build_tools" in path.parts and path.name != "__main__.py"]  # that one must stay readable for Python 2.7
    assert {relative(path): found for path in code if (found := without_hints(text_of(path)))} == {}


def test_the_pins_are_exact() -> None:
    assert loose_pins(text_of(ROOT / ".ci" / "constraints.txt")) == []


def test_every_command_that_a_text_names_exists() -> None:
    assert {relative(path): found for path in TEXTS if path.name != THIS and (found := unknown_commands(text_of(path)))} == {}


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "CONTRIBUTING.md"])
def test_every_place_that_a_text_names_exists(name: str) -> None:
    assert missing_places(text_of(ROOT / name)) == []


def test_no_file_is_huge_and_none_is_a_drawer_for_everything() -> None:
    assert [relative(path) for path in files() if path.stat().st_size > LARGEST_FILE] == []
    assert [relative(path) for path in files() if path.stem in ("utils", "helpers", "misc")] == []


def test_each_rule_finds_its_offence() -> None:
    for rule, offence in {**EVERY_TEXT, **EVERY_MODULE}.items():
        assert rule(offence), rule.__name__
    assert without_hints("def f(a, b: int): pass") == ["f(a)"]
    assert loose_pins("mkdocs>=1\n--no-index\nok==1.2\n") == ["mkdocs>=1", "--no-index"]
    assert missing_places("see `kb/nowhere` and `tests/browser/`") == ["kb/nowhere"]
    assert unknown_commands("run python3 -m build_tools " + "serv now") == ["serv"]


class Loader(HTMLParser):
    """Collects what a page makes the browser fetch from another place: scripts, styles, pictures, frames, forms, hints."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attributes}
        wanted = [given.get(name, "") for name in ("src", "srcset", "poster", "data", "action")]
        if tag in ("link", "use", "image") and given.get("rel") not in ("canonical", "license"):
            wanted.append(given.get("href", ""))
        wanted += re.findall(r"url\(['\"]?([^'\")]+)", given.get("style", ""))
        self.found += [f"{tag} {address}" for address in wanted if re.match(r"(?i)(https?:)?//", address)]


def fetched_from_elsewhere(page: str) -> list[str]:
    loader = Loader()
    loader.feed(page)
    return loader.found


def styles_from_elsewhere(css: str) -> list[str]:
    return re.findall(r"(?i)(?:url\(\s*['\"]?|@import\s+['\"])((?:https?:)?//[^'\")\s]+)", css)


def test_no_page_or_style_of_the_site_fetches_from_elsewhere(built_site: Path) -> None:
    pages = {path: found for path in built_site.rglob("*.html") if (found := fetched_from_elsewhere(text_of(path)))}
    styles = {path: found for path in built_site.rglob("*.css") if (found := styles_from_elsewhere(text_of(path)))}
    assert (pages, styles) == ({}, {})


@pytest.mark.parametrize("page", ['<script src="https://x.org/a.js"></script>', '<link rel="preconnect" href="//x.org">', '<p style="background:url(http://x.org/a.png)">'])
def test_a_page_that_fetches_from_elsewhere_would_be_noticed(page: str) -> None:
    assert fetched_from_elsewhere(page)
    assert not fetched_from_elsewhere('<a href="https://x.org">a source</a><img src="a.png">')


def test_a_style_that_fetches_from_elsewhere_would_be_noticed() -> None:
    assert styles_from_elsewhere("@import 'https://x.org/a.css'; a { background: url(//x.org/b.png) }") == ["https://x.org/a.css", "//x.org/b.png"]
