"""What a change does, told from a small knowledge base under version control."""
from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from build_tools import diff_command
from build_tools.commandline import main


@pytest.fixture
def checkout(tmp_path: Path, root: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The real entries, committed once."""
    shutil.copytree(root / "kb", tmp_path / "kb")
    shutil.copytree(root / "tests" / "evidence", tmp_path / "tests" / "evidence")
    for arguments in (["init", "-q"], ["add", "."], ["-c", "user.name=Tern", "-c", "user.email=tern@example.org", "commit", "-q", "-m", "as it was"]):
        subprocess.run(["git", *arguments], cwd=tmp_path, check=True)
    monkeypatch.setattr(diff_command, "ROOT", tmp_path)
    return tmp_path


def differences(capsys: pytest.CaptureFixture[str]) -> dict[str, list[dict[str, str]]]:
    assert main(["diff", "HEAD", "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def spoil(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_a_changed_wheel_changes_its_figures_and_pages(checkout: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(checkout / "kb/counts/wall-80-64-30.yaml", "escape: 30", "escape: 32")
    found = differences(capsys)
    assert found["entries"] == [{"what": "count:wall-80-64-30", "how": "changed", "fields": ["arbors"]}]
    assert {"what": "counts/wall-80-64-30.md", "how": "changed"} in found["pages"] and "terms/fly.md" not in {change["what"] for change in found["pages"]}
    assert {change["what"].partition(",")[0] for change in found["figures"]} == {"count:wall-80-64-30"} and found["not_compared"] == []
    beats = next(change for change in found["figures"] if change["what"] == "count:wall-80-64-30, Beats an hour")
    assert float(beats["now"].split()[0]) / float(beats["before"].split()[0]) == pytest.approx(32 / 30, rel=1e-3)


def test_what_does_not_pass_the_check_is_compared_as_entries_only(checkout: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(checkout / "kb/terms/great-wheel.yaml", "see: [term:barrel,", "see: [term:barrle,")
    found = differences(capsys)
    assert found["entries"] == [{"what": "term:great-wheel", "how": "changed", "fields": ["see"]}]
    assert found["not_compared"] == ["this folder does not pass today's check (problems: 1)"] and "pages" not in found


def test_a_state_that_is_not_known_is_one_line_and_status_2(checkout: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diff", "no-such-state"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and "no-such-state" in err and len(err.strip().splitlines()) == 1
