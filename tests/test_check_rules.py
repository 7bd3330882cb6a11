"""Every rule has been seen to fail: each folder in rules/bad yields exactly what its file `expected` says, and rules/good yields nothing."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from build_tools.checks import run_checks
from build_tools.commandline import main
from build_tools.library import read_library
from build_tools.problem import codes

RULES = Path(__file__).parent / "rules"
BAD = sorted(path for path in (RULES / "bad").iterdir() if path.is_dir())


def found(root: Path) -> list[str]:
    """The problems below `root` as lines `CODE path line column`."""
    problems = run_checks(*read_library(root))
    return [f"{problem.code} {problem.place.path} {problem.place.line} {problem.place.column}" for problem in problems]


def command(*arguments: str) -> tuple[int, str, str]:
    """Exit status, output and errors of the command line."""
    with redirect_stdout(io.StringIO()) as output, redirect_stderr(io.StringIO()) as errors:
        status = main([str(argument) for argument in arguments])
    return status, output.getvalue(), errors.getvalue()


@pytest.mark.parametrize("folder", BAD, ids=lambda folder: folder.name)
def test_bad_example(folder: Path) -> None:
    expected = (folder / "expected").read_text(encoding="utf-8").splitlines()
    assert expected and found(folder) == expected


@pytest.mark.parametrize("folder", BAD, ids=lambda folder: folder.name)
def test_bad_example_is_called_after_its_code(folder: Path) -> None:
    expected = (folder / "expected").read_text(encoding="utf-8").splitlines()
    assert folder.name.partition("-")[0] in {line.split()[0] for line in expected}


@pytest.mark.parametrize("code", codes())
def test_every_code_has_a_bad_example(code: str) -> None:
    assert any(folder.name.startswith(f"{code}-") for folder in BAD)


def test_the_good_example_has_no_problem() -> None:
    assert found(RULES / "good") == []


@pytest.mark.parametrize("folder", BAD, ids=lambda folder: folder.name)
def test_messages_are_for_people(folder: Path) -> None:
    status, output, errors = command("check", "--root", folder)
    assert status == 1 and errors == ""
    lines = output.splitlines()
    assert [line[:10] for line in lines[1:-1:2]] == ["    hint: "] * (len(lines) // 2)
    for word in ("Traceback", "None", " dict", "NoneType", "{'", "['", "schema'", "is not of type", "Decimal"):
        assert word not in output


def test_json_says_the_same_as_the_text() -> None:
    status, output, _ = command("check", "--json", "--root", RULES / "bad" / "KB030-no-such-entry")
    report = json.loads(output)
    assert status == 1 and report["checked"] == 1
    assert [(row["code"], row["line"], row["column"], row["field"]) for row in report["problems"]] == [
        ("KB030", 8, 3, "text"),
        ("KB030", 8, 40, "text"),
        ("KB030", 14, 7, "see.1"),
    ]
    assert report["problems"][2]["hint"] == "did you mean caution:dial-water?"


def test_annotations_escape_what_has_a_meaning_in_them() -> None:
    _, output, _ = command("check", "--ci", "--root", RULES / "bad" / "KB034-file-name")
    assert output.splitlines()[0] == (
        "::error file=kb/cautions/dial.yaml,line=3,col=5,title=KB034"
        "::id: the entry is called dial-water, its file dial.yaml (hint: rename the file to dial-water.yaml, or correct the id)"
    )


def test_no_problems_is_status_0() -> None:
    status, output, _ = command("check", "--root", RULES / "good")
    assert status == 0 and output.startswith("no problems; ")


@pytest.mark.parametrize("arguments", [("--root", "/no/such/folder"), ("kb/terms/no-such-entry.yaml",), ("--wrong",)])
def test_what_cannot_be_understood_is_one_line_and_status_2(arguments: tuple[str, ...]) -> None:
    status, output, errors = command("check", *arguments)
    assert status == 2 and output == "" and len(errors.strip().splitlines()) == 1


def test_a_path_lists_only_its_own_problems() -> None:
    root = RULES / "bad" / "KB036-same-word"
    assert command("check", "--root", root, "kb/terms/fly.yaml")[0] == 0
    assert command("check", "--root", root, "kb/terms")[0] == 1


def test_explain_says_what_a_code_means() -> None:
    status, output, _ = command("explain", "kb030")
    assert status == 0 and output.startswith("KB030  There is no such entry") and "wrong:" in output and "right:" in output
    assert command("explain", "KB999")[0] == 2
    assert [line[:5] for line in command("explain")[1].splitlines()] == list(codes())
    assert set(json.loads(command("explain", "--json")[1])["KB030"]) == {"title", "explanation", "wrong", "right"}
