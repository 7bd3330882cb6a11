"""What the command line says to a person who mistypes, interrupts, pipes or meets a fault."""
from __future__ import annotations

import re
import shlex
import subprocess
import sys
import types
from pathlib import Path

import pytest

from build_tools import calc_command, check_command, commandline, key_command
from tests.knowledge import read_once

ROOT = Path(__file__).resolve().parent.parent

NOT_UNDERSTOOD = {
    "a command that does not exist": (["chekc"], "did you mean check?"),
    "an option before the command": (["--json", "check"], "A command comes first"),
    "an unknown option": (["check", "--jsn"], "did you mean --json?"),
    "a file that does not exist": (["check", "kb/terms/graet-wheel.yaml"], "graet-wheel"),
    "no calculation": (["calc"], "calc"),
    "an unknown calculation": (["calc", "beats-per-our", "meshes=84/7"], "beats-per-hour"),
    "an unknown input": (["calc", "beats-per-hour", "teeth=33"], "teeth"),
    "letters for a number": (["calc", "beats-per-hour", "meshes=84/7", "escape_teeth=many"], "escape_teeth"),
    "no value": (["calc", "beats-per-hour", "meshes"], "meshes"),
    "no facet": (["key"], "trains"),
    "an unknown facet": (["key", "train"], "trains"),
    "an unknown question": (["key", "trains", "winding-hole=two"], "winding-holes"),
    "an unknown answer": (["key", "trains", "winding-holes=tow"], "two"),
    "an unknown kind": (["new", "trem", "bell-crank"], "term"),
    "no id": (["new", "term"], "new needs ID"),
    "an unknown code": (["explain", "KB999"], "KB999"),
    "a port that is none": (["serve", "--port", "many"], "port"),
}


def run(root: Path, *arguments: str, **more: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "build_tools", *arguments]
    return subprocess.run(command, cwd=root, capture_output=True, text=True, check=False, timeout=120, **more)


@pytest.mark.parametrize(("arguments", "hint"), NOT_UNDERSTOOD.values(), ids=NOT_UNDERSTOOD)
def test_what_is_not_understood_gets_one_line_and_status_2(
    arguments: list[str], hint: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for command in (calc_command, key_command):
        monkeypatch.setattr(command, "read_library", read_once)
    status = commandline.main(arguments)
    said = capsys.readouterr()
    assert (status, said.out) == (2, "")
    assert said.err.count("\n") == 1 and hint in said.err


def test_the_status_and_the_line_reach_the_shell(root: Path) -> None:
    done = run(root, "chekc")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1 and "did you mean check?" in done.stderr


@pytest.mark.parametrize("command", commandline.COMMANDS)
def test_every_command_explains_itself(command: str, root: Path) -> None:
    done = run(root, command, "--help")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"usage: python3 -m build_tools {command}" if sys.platform != "win32" else "usage: py")


def test_the_help_lists_every_command(root: Path) -> None:
    done = run(root, "--help")
    assert done.returncode == 0 and all(f"  {name} " in done.stdout for name in commandline.COMMANDS)
    assert run(root).returncode == 2


def examples(path: Path) -> list[str]:
    """The command lines for calc, key and explain that a text shows, without their comments."""
    found = re.findall(r"(?m)^python3 -m build_tools ((?:calc|key|explain) [^#\n]+)", path.read_text(encoding="utf-8"))
    return [line.strip() for line in found]


@pytest.mark.parametrize("line", [line for name in ("README.md", "DEVELOPERS.md") for line in examples(ROOT / name)])
def test_every_example_in_the_texts_works(line: str, root: Path) -> None:
    done = run(root, *shlex.split(line))
    assert (done.returncode, done.stderr) == (0, "") and done.stdout


def test_the_readme_shows_examples(root: Path) -> None:
    assert len(examples(root / "README.md")) >= 3


def test_arguments_of_the_test_command_go_to_pytest(root: Path) -> None:
    done = run(root, "test", "--collect-only", "tests/test_commandline.py", "-k", "every_command_explains")
    assert done.returncode == 0
    assert "test_every_command_explains_itself[check]" in done.stdout and "test_the_help" not in done.stdout


def test_a_reader_that_stops_reading_is_no_fault(root: Path) -> None:
    shown = subprocess.Popen([sys.executable, "-m", "build_tools", "--help"], cwd=root, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert shown.stdout and shown.stderr
    shown.stdout.close()
    assert shown.stderr.read() == ""
    shown.wait(timeout=60)


def stand_in(monkeypatch: pytest.MonkeyPatch, fault: BaseException) -> None:
    """Put in place of `check` a command that fails in a certain way."""

    def fail(args: object) -> int:
        raise fault

    fake = types.SimpleNamespace(add_arguments=lambda parser: None, run=fail)
    monkeypatch.setitem(sys.modules, "build_tools.check_command", fake)


def test_an_unexpected_fault_is_one_sentence_that_says_how_to_see_more(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    stand_in(monkeypatch, KeyError("term:crutch"))
    assert commandline.main(["check"]) == 1
    told = capsys.readouterr().err
    assert told.count("\n") == 1 and "KeyError: 'term:crutch'" in told and commandline.DETAILS in told
    monkeypatch.setenv(commandline.DETAILS, "1")
    with pytest.raises(KeyError):
        commandline.main(["check"])


def test_a_fault_that_comes_from_a_wrong_entry_names_its_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    entry = tmp_path / "kb" / "terms" / "crutch.yaml"
    entry.parent.mkdir(parents=True)
    entry.write_text("# yaml-language-server: $schema=../schema/term.json\nkind: term\nid: crutch\nwrod: crutch\n", encoding="utf-8")
    fake = types.SimpleNamespace(add_arguments=lambda parser: None, run=lambda args: {}["term:crutch"])
    monkeypatch.setitem(sys.modules, "build_tools.calc_command", fake)
    monkeypatch.setattr(check_command, "PROJECT", tmp_path)
    assert commandline.main(["calc"]) == 1
    told = capsys.readouterr().err
    assert "kb/terms/crutch.yaml:4:1: KB014 wrod" in told and told.endswith("This can be answered once the entries are in order.\n")


FROM_ANYWHERE = (
    ["check", "kb/terms/great-wheel.yaml"], ["calc", "beats-per-hour", "meshes=84/7 78/7", "escape_teeth=33"], ["key", "trains", "winding-holes=two"],
    ["explain", "KB001"], ["site", "--pages", "pages"],
)


@pytest.mark.parametrize("arguments", FROM_ANYWHERE, ids=lambda arguments: arguments[0])
def test_a_command_works_from_any_folder(arguments: list[str], tmp_path: Path) -> None:
    done = run(tmp_path, *arguments)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout and (arguments[0] != "site" or (tmp_path / "pages" / "terms" / "great-wheel.md").is_file())


def test_an_interruption_is_silent(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    stand_in(monkeypatch, KeyboardInterrupt())
    assert commandline.main(["check"]) == 130
    assert capsys.readouterr().err == ""


def test_only_the_chosen_command_is_loaded(root: Path) -> None:
    ask = "import sys; from build_tools import commandline; commandline.main(['explain', 'KB001']); print(*(m for m in sys.modules if m.endswith('_command')))"
    done = subprocess.run([sys.executable, "-c", ask], cwd=root, capture_output=True, text=True, check=False)
    assert done.stdout.splitlines()[-1] == "build_tools.explain_command"
