"""The built site: nothing is missing, no link leads nowhere, and a failed build leaves the old one standing."""
from __future__ import annotations

import re
import shutil
import stat
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit

import pytest

from build_tools import mkdocs_hook, render, site_build, site_command
from build_tools.commandline import main
from build_tools.library import Library
from build_tools.render.kinds import page_path
from build_tools.site_build import build_site

_LINK = re.compile(r'<(?:a|link|script|img)\b[^>]*?\b(?:href|src)="([^"]*)"')
_HERE = "http://here.test/"


def page_files(site: Path) -> Iterator[tuple[str, str]]:
    """Address and HTML of every page."""
    for file in site.rglob("index.html"):
        folder = file.parent.relative_to(site).as_posix()
        yield _HERE + ("" if folder == "." else folder + "/"), file.read_text(encoding="utf-8")


def test_every_entry_has_its_built_page(built_site: Path, library: Library) -> None:
    missing = [entry.ref for entry in library if not (built_site / page_path(entry.ref).removesuffix(".md") / "index.html").is_file()]
    assert missing == []


def test_no_link_leads_nowhere(built_site: Path) -> None:
    """Those too that the builder doesn't check: trade words, the head, the foot, and HTML written by hand."""
    files = {file.relative_to(built_site).as_posix() for file in built_site.rglob("*") if file.is_file()}
    ids: dict[str, set[str]] = {address: set(re.findall(r'\bid="?([^"\s>]+)', html)) for address, html in page_files(built_site)}
    lost = []
    for address, html in page_files(built_site):
        for link in set(_LINK.findall(html)):
            target = urlsplit(urljoin(address, link))
            path = unquote(target.path).lstrip("/")
            page = f"{_HERE}{path}"
            if target.netloc != "here.test":
                continue
            if (path + "index.html" if not path or path.endswith("/") else path) not in files or (page in ids and target.fragment not in ids[page] | {""}):
                lost.append(f"{address} -> {link}")
    assert lost[:20] == []


def test_nothing_is_fetched_from_elsewhere(built_site: Path) -> None:
    fetched = re.compile(r'<(?:script|img|iframe|source|video|audio|embed)\b[^>]*?\bsrc="((?:https?:)?//[^"]*)"|<link\b[^>]*?\bhref="((?:https?:)?//[^"]*)"[^>]*?>')
    found = [
        f"{address}: {match[0]}"
        for address, html in page_files(built_site)
        for match in fetched.finditer(html)
        if 'rel="canonical"' not in match[0]
    ]
    assert found == []
    assert not re.search(r"url\(\s*['\"]?(?:https?:)?//|@import", (built_site / "css" / "handbook.css").read_text(encoding="utf-8"))


@pytest.fixture
def project(root: Path, tmp_path: Path) -> Path:
    """A copy of what a build reads, with an old site that holds one page."""
    for name in ("kb", "docs"):
        shutil.copytree(root / name, tmp_path / name)
    shutil.copy(root / "mkdocs.yml", tmp_path)
    (tmp_path / "build_tools").mkdir()
    shutil.copy(root / "build_tools" / "mkdocs_hook.py", tmp_path / "build_tools")
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "index.html").write_text("the old site", encoding="utf-8")
    return tmp_path


def stands(project: Path) -> bool:
    """Whether the old site stands untouched, with nothing left over beside it."""
    left = [path.name for path in project.iterdir() if path.name.startswith(".site-")]
    files = [path.name for path in (project / "site").iterdir()]
    return not left and files == ["index.html"] and (project / "site" / "index.html").read_text(encoding="utf-8") == "the old site"


def test_a_broken_entry_leaves_the_old_site(project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    entry = project / "kb" / "terms" / "great-wheel.yaml"
    entry.write_text(entry.read_text(encoding="utf-8").replace("topic: ", "subject: ", 1), encoding="utf-8")
    monkeypatch.setattr(site_command, "ROOT", project)
    assert main(["site"]) == 1
    said = capsys.readouterr()
    assert re.search(r"kb/terms/great-wheel\.yaml:\d+:\d+: KB\d{3} ", said.err)
    assert "Traceback" not in said.err + said.out
    assert stands(project)


def test_a_link_that_leads_nowhere_or_a_foreign_picture_leaves_the_old_site(
    project: Path, made: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a page written by hand, so that of those made from entries the headings will do."""
    monkeypatch.setattr(render, "pages", lambda library: {path: text.partition("\n")[0] for path, text in made.items()})
    page = project / "docs" / "method.md"
    page.write_text(page.read_text(encoding="utf-8") + "\n[nowhere](terms/no-such-word.md) [nor here](#no-such-part) ![dial](https://pictures.test/dial.png)\n", encoding="utf-8")
    lines = "\n".join(build_site(project))
    assert "terms/no-such-word.md" in lines and "#no-such-part" in lines and "method.md" in lines
    assert "https://pictures.test/dial.png" in lines
    assert stands(project)


def test_whatever_breaks_inside_is_said_in_a_sentence(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise KeyError("term:gone")

    monkeypatch.setattr(mkdocs_hook, "mkdocs_build", broken)
    lines = build_site(project)
    assert len(lines) == 1 and "term:gone" in lines[0] and "Traceback" not in lines[0]
    assert stands(project)


def test_a_good_build_takes_the_place_of_the_old(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def built(root: Path, destination: Path, site_url: str, offline: bool) -> list[str]:
        destination.mkdir()
        (destination / "index.html").write_text("the new site", encoding="utf-8")
        return []

    monkeypatch.setattr(site_build.mkdocs_hook, "build", built)
    assert build_site(project) == []
    assert (project / "site" / "index.html").read_text(encoding="utf-8") == "the new site"
    assert stat.S_IMODE((project / "site").stat().st_mode) == 0o755
    assert not [path for path in project.iterdir() if path.name.startswith(".site-")]


def test_the_pages_can_be_had_as_markdown(project: Path, monkeypatch: pytest.MonkeyPatch, library: Library) -> None:
    monkeypatch.setattr(site_command, "ROOT", project)
    elsewhere = project / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    assert main(["site", "--pages", "out"]) == 0
    assert (elsewhere / "out" / "terms" / "great-wheel.md").read_text(encoding="utf-8").count("# Great wheel") == 1
    assert len(list((elsewhere / "out" / "terms").glob("*.md"))) == len(library.of_kind("term")) + 2
    assert stands(project)
