"""The server for writing: the last good site stays up, and browsers learn of a new one."""
from __future__ import annotations

import argparse
import socket
import threading
from collections.abc import Iterator
from http.client import HTTPConnection
from pathlib import Path

import pytest

from build_tools import serve_command
from build_tools.live_server import Server, Site, stamps


@pytest.fixture
def site(tmp_path: Path) -> Site:
    """A site with nothing built yet."""
    return Site(tmp_path / "site")


@pytest.fixture
def port(site: Site) -> Iterator[int]:
    """The port at which the site is served."""
    with Server(site, 0) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server.server_port
        server.shutdown()


def get(port: int, path: str) -> tuple[int, str, dict[str, str]]:
    """Status, text and headers of an answer."""
    connection = HTTPConnection("127.0.0.1", port, timeout=5)
    connection.request("GET", path)
    answer = connection.getresponse()
    text = answer.read().decode("utf-8")
    connection.close()
    return answer.status, text, {name.lower(): value for name, value in answer.getheaders()}


def write(site: Site, path: str, text: str) -> None:
    """A file of the served folder."""
    file = site.folder / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")


def test_without_a_site_it_shows_what_is_wrong(site: Site, port: int) -> None:
    site.rebuild(lambda: ["kb/terms/x.yaml:1:1: KB001 this file: <broken>"])
    status, text, _ = get(port, "/")
    assert status == 503 and "KB001 this file: &lt;broken>" in text


def test_a_failed_build_leaves_the_last_good_site_up(site: Site, port: int) -> None:
    write(site, "terms/beat/index.html", "<p>beat</p>")
    site.rebuild(lambda: ["something is wrong"])
    status, text, headers = get(port, "/terms/beat/")
    assert (status, text.startswith("<p>beat</p>")) == (200, True)
    assert headers["cache-control"] == "no-store"


def test_pages_files_and_what_is_missing(site: Site, port: int) -> None:
    write(site, "terms/index.html", "all words")
    write(site, "css/a.css", "p { color: inherit }")
    write(site, "404.html", "not here")
    assert get(port, "/css/a.css")[:2] == (200, "p { color: inherit }")
    assert get(port, "/terms")[0] == 301
    status, text, _ = get(port, "/terms/gone/")
    assert status == 404 and text.startswith("not here")
    assert get(port, "/../../etc/hostname")[0] == 404


def test_a_waiting_browser_hears_of_the_next_build(site: Site, port: int) -> None:
    before = get(port, "/-/changes?version=")[1]
    heard: list[str] = []
    waiting = threading.Thread(target=lambda: heard.append(get(port, f"/-/changes?version={before}")[1]))
    waiting.start()
    waiting.join(0.3)
    assert waiting.is_alive() and heard == []
    site.rebuild(lambda: [])
    waiting.join(5)
    assert heard and heard[0] != before


def test_a_change_is_noticed_and_a_failed_build_is_printed(tmp_path: Path, site: Site, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Three looks: the first build, an edit that breaks it, an edit that mends it; then the keyboard interrupts."""
    (tmp_path / "kb").mkdir()
    (tmp_path / "build_tools").mkdir()
    entry = tmp_path / "kb" / "a.yaml"
    entry.write_text("good", encoding="utf-8")
    edits = iter(["bad", "good again"])

    def build(root: Path, address: str, offline: bool) -> list[str]:
        text = (root / "kb" / "a.yaml").read_text(encoding="utf-8")
        return ["kb/a.yaml:1:1: KB001 this file: bad"] if text == "bad" else []

    def pause(_: float) -> None:
        text = next(edits, None)
        if text is None:
            raise KeyboardInterrupt
        entry.write_text(text, encoding="utf-8")

    monkeypatch.setattr(serve_command, "build_site", build)
    monkeypatch.setattr(serve_command.time, "sleep", pause)
    serve_command._watch(tmp_path, site, "http://127.0.0.1:1/")
    said = capsys.readouterr()
    assert said.out.count("Built in") == 2 and said.out.count("Not built.") == 1
    assert said.err.strip() == "kb/a.yaml:1:1: KB001 this file: bad"
    assert site.version == 3


def test_only_written_files_count_as_changes(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("a", encoding="utf-8")
    (tmp_path / ".a.yaml.swp").write_text("a", encoding="utf-8")
    assert [Path(name).name for name in stamps([tmp_path])] == ["a.yaml"]


def test_a_port_in_use_is_one_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        number = taken.getsockname()[1]
        assert serve_command.run(argparse.Namespace(port=number)) == 1
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and f"--port {number + 1}" in said


def test_a_port_that_does_not_exist_is_a_usage_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert serve_command.run(argparse.Namespace(port=70000)) == 2
    assert "70000" in capsys.readouterr().err
