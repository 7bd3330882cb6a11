"""How the project makes, refreshes and enters its own environment."""
from __future__ import annotations

import ast
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from build_tools import environment, lock
from build_tools.environment import Environment, SetupFailed

STARTERS = ("__init__.py", "__main__.py", "commandline.py", "environment.py", "lock.py")
FAKE_COMMAND = '''
import json, os, sys
import tiny

def add_arguments(parser):
    parser.add_argument("--wait", action="store_true")

def run(args):
    print(json.dumps([sys.prefix, os.environ.get("PYTHONPATH"), tiny.VERSION]), flush=True)
    if args.wait:
        sys.stdin.read()
    return 0
'''


def write_wheel(folder: Path, version: str) -> Path:
    """A package of one line, so that an installation needs no network."""
    wheel = folder / f"tiny-{version}-py3-none-any.whl"
    info = f"tiny-{version}.dist-info"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("tiny.py", f"VERSION = {version!r}\n")
        archive.writestr(f"{info}/METADATA", f"Metadata-Version: 2.1\nName: tiny\nVersion: {version}\n")
        archive.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nGenerator: test\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        archive.writestr(f"{info}/RECORD", "")
    return wheel


def pin(folder: Path, version: str) -> None:
    """Make a checkout want one version of the tiny package."""
    wheel = write_wheel(folder, version)
    (folder / "pyproject.toml").write_text(f'[project.optional-dependencies]\nsite = ["tiny @ {wheel.as_uri()}"]\ntest = []\n', encoding="utf-8")


@pytest.fixture
def checkout(tmp_path: Path, root: Path) -> Environment:
    """A small checkout of its own: the real starting modules and one invented command."""
    folder = tmp_path / "café checkout"  # a blank and a letter beyond ASCII, as people's folders have
    (folder / "build_tools").mkdir(parents=True)
    for name in STARTERS:
        shutil.copy(root / "build_tools" / name, folder / "build_tools" / name)
    (folder / "build_tools" / "check_command.py").write_text(FAKE_COMMAND, encoding="utf-8")
    (folder / ".ci").mkdir()
    (folder / ".ci" / "constraints.txt").write_text("# none\n", encoding="utf-8")
    pin(folder, "1.0")
    return Environment(folder)


def start(checkout: Environment, *arguments: str, python: Path | str = sys.executable) -> subprocess.Popen[str]:
    """Start the checkout's `check`, with a PYTHONPATH that must not get through."""
    surroundings = {**os.environ, "PYTHONPATH": str(checkout.root / "elsewhere")}
    command = [str(python), "-m", "build_tools", "check", *arguments]
    return subprocess.Popen(
        command, cwd=checkout.root, env=surroundings, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )


def stand_in(checkout: Environment) -> Environment:
    """Give the checkout a .venv that only looks real, with fresh stamps."""
    checkout.python.parent.mkdir(parents=True)
    checkout.python.touch()
    for extra in environment.EXTRAS:
        checkout.stamp(extra).write_text(json.dumps(checkout.wanted(extra)), encoding="utf-8")
    return checkout


def test_two_starts_at_once_make_one_environment_and_both_carry_on_inside(checkout: Environment) -> None:
    starts = [start(checkout), start(checkout)]
    told = [one.communicate(timeout=120) for one in starts]
    assert [one.returncode for one in starts] == [0, 0], told
    for out, _ in told:
        prefix, python_path, version = json.loads(out)
        assert Path(prefix).resolve() == checkout.folder.resolve()
        assert python_path is None
        assert version == "1.0"
    assert sum(errors.count("Making .venv") for _, errors in told) == 1

    again = start(checkout)
    out, errors = again.communicate(timeout=60)
    assert (again.returncode, errors) == (0, "")

    # While one command runs, nothing is taken from under it; once it has ended, the new pins are installed.
    running = start(checkout, "--wait")
    assert running.stdout and json.loads(running.stdout.readline())
    pin(checkout.root, "2.0")
    refused = start(checkout)
    _, errors = refused.communicate(timeout=60)
    assert refused.returncode == 1
    assert errors.count("\n") == 1 and "another command is still using" in errors
    running.communicate("", timeout=60)
    renewed = start(checkout)
    out, errors = renewed.communicate(timeout=120)
    assert json.loads(out)[2] == "2.0" and "Making" not in errors

    # From inside, the same refresh happens in place.
    pin(checkout.root, "3.0")
    inside = start(checkout, python=checkout.python)
    out, _ = inside.communicate(timeout=120)
    assert json.loads(out)[2] == "3.0"

    # What an interruption left half done is not used again.
    assert environment._is_usable(checkout)
    checkout.unfinished.touch()
    assert not environment._is_usable(checkout)


def test_fresh_means_same_pins_python_and_folder(checkout: Environment, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not checkout.is_fresh("site")
    stand_in(checkout)
    assert checkout.is_fresh("site") and checkout.is_fresh("test")

    moved = Environment(checkout.root.rename(checkout.root.parent / "moved"))
    assert not moved.is_fresh("site")
    checkout = Environment(moved.root.rename(checkout.root))
    assert checkout.is_fresh("site")

    with monkeypatch.context() as other:
        other.setattr(environment.platform, "python_version", lambda: "3.99.0")
        assert not checkout.is_fresh("site")
    checkout.constraints.write_text("tiny==1.1\n", encoding="utf-8")
    assert not checkout.is_fresh("site")


def test_a_new_requirement_of_the_tests_leaves_the_site_fresh(checkout: Environment) -> None:
    stand_in(checkout)
    project = checkout.root / "pyproject.toml"
    project.write_text(project.read_text(encoding="utf-8").replace("test = []", 'test = ["tiny"]'), encoding="utf-8")
    assert checkout.is_fresh("site") and not checkout.is_fresh("test")


def interrupted(command: list[str], failure: str) -> None:
    raise KeyboardInterrupt


def test_an_interrupted_making_leaves_no_stamp(checkout: Environment, monkeypatch: pytest.MonkeyPatch) -> None:
    stand_in(checkout)
    checkout.constraints.write_text("tiny==1.1\n", encoding="utf-8")
    monkeypatch.setattr(environment, "_run", interrupted)
    assert environment.enter(checkout, "test", ["test"]) == 130
    assert not any(checkout.stamp(extra).exists() for extra in environment.EXTRAS)


def test_an_interrupted_installation_leaves_no_stamp_and_is_made_anew(checkout: Environment, monkeypatch: pytest.MonkeyPatch) -> None:
    stand_in(checkout)
    checkout.constraints.write_text("tiny==1.1\n", encoding="utf-8")
    monkeypatch.setattr(environment, "_make", lambda made: None)
    monkeypatch.setattr(environment, "_run", interrupted)
    assert environment.enter(checkout, "test", ["test"]) == 130
    assert not any(checkout.stamp(extra).exists() for extra in environment.EXTRAS)
    assert checkout.unfinished.exists()


def test_a_failed_installation_is_one_sentence_and_leaves_no_stamp(
    checkout: Environment, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def failing(command: list[str], failure: str) -> None:
        raise SetupFailed(f"{failure}: no route")

    stand_in(checkout)
    checkout.stamp("test").unlink()
    monkeypatch.setattr(environment, "_run", failing)
    assert environment.enter(checkout, "test", ["test"]) == 1
    assert "is there a network?): no route\n" in capsys.readouterr().err
    assert checkout.is_fresh("site"), "what was whole stays in use"
    assert not checkout.stamp("test").exists() and not checkout.unfinished.exists()


@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_a_python_without_venv_says_what_to_install(
    missing: str, checkout: Environment, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    find = environment.importlib.util.find_spec
    monkeypatch.setattr(environment.importlib.util, "find_spec", lambda name: None if name == missing else find(name))
    assert environment.enter(checkout, "site", ["check"]) == 1
    told = capsys.readouterr().err
    assert "python3-venv" in told and told.count("\n") == 1
    assert not checkout.folder.exists()


def test_an_old_python_says_which_one_is_needed(root: Path) -> None:
    pretend = "import sys, runpy; sys.version_info = (3, 8, 1, 'final', 0); sys.argv[1:] = ['serve']; runpy.run_module('build_tools', run_name='__main__')"
    done = subprocess.run([sys.executable, "-c", pretend], cwd=root, capture_output=True, text=True, check=False)
    assert done.returncode == 1 and done.stdout == ""
    assert done.stderr.startswith("This needs Python 3.11 or newer; you started it with Python 3.8.")
    assert done.stderr.count("\n") == 1


def newer_than_python_2(source: str) -> list[str]:
    """What Python 2.7 could not read in a source text: letters beyond ASCII, and each newer piece of syntax by its name."""
    found = [] if source.isascii() else ["letters beyond ASCII"]
    newer = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.Nonlocal, ast.YieldFrom, ast.AsyncFunctionDef, ast.Await, ast.Starred, ast.Match, ast.TryStar)
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, newer):
            found.append(type(node).__name__)
        if isinstance(node, ast.FunctionDef) and (node.returns or node.args.kwonlyargs or any(a.annotation for a in node.args.args)):
            found.append("annotated or keyword-only arguments")
        if isinstance(node, ast.ImportFrom) and node.module == "__future__":
            found.append("import from the future")
        if isinstance(node, ast.Raise) and node.cause:
            found.append("raise from")
    return found


@pytest.mark.parametrize("name", ["__init__.py", "__main__.py"])
def test_an_old_python_can_read_the_first_files(name: str, root: Path) -> None:
    assert newer_than_python_2((root / "build_tools" / name).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("source", ["f'{1}'", "x: int = 1", "def f(a: int): pass", "from __future__ import annotations", "'é'", "def f(*, a): pass"])
def test_newer_syntax_would_be_noticed(source: str) -> None:
    assert newer_than_python_2(source)


def test_sharers_do_not_disturb_one_another_but_keep_out_whoever_wants_to_be_alone(tmp_path: Path) -> None:
    path = tmp_path / "lock"
    first, second = lock.try_lock(path, shared=True), lock.try_lock(path, shared=True)
    assert first is not None and second is not None
    assert lock.try_lock(path, shared=False) is None
    os.close(first)
    assert lock.try_lock(path, shared=False) is None
    os.close(second)
    alone = lock.try_lock(path, shared=False)
    assert alone is not None
    assert lock.try_lock(path, shared=True) is None
    os.close(alone)


def test_a_lock_ends_with_the_process_that_holds_it(tmp_path: Path, root: Path) -> None:
    path = tmp_path / "lock"
    hold = "import sys; from pathlib import Path; from build_tools import lock; print(lock.try_lock(Path(sys.argv[1]), shared=False), flush=True); sys.stdin.read()"
    holder = subprocess.Popen([sys.executable, "-c", hold, str(path)], cwd=root, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    assert holder.stdout and holder.stdout.readline().strip().isdigit()
    assert lock.try_lock(path, shared=True) is None
    holder.kill()
    holder.communicate()
    handle = lock.try_lock(path, shared=True)
    assert handle is not None
    os.close(handle)


def test_waiting_says_so_once_and_ends_with_the_lock(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path, said = tmp_path / "lock", []
    held = lock.try_lock(path, shared=False)
    assert held is not None
    pauses = iter([lambda: None, lambda: os.close(held)])
    monkeypatch.setattr(lock.time, "sleep", lambda seconds: next(pauses)())
    os.close(lock.wait_for(path, shared=True, when_busy=lambda: said.append("busy")))
    assert said == ["busy"]


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere a browser is found without PATH")
@pytest.mark.parametrize(("ci", "status", "told"), [("", 0, "BROWSER TESTS WERE SKIPPED"), ("true", 1, "no Chromium")])
def test_without_a_browser_its_tests_are_skipped_loudly_and_fail_in_ci(ci: str, status: int, told: str, root: Path) -> None:
    command = [sys.executable, "-m", "pytest", "tests/browser/test_key.py", "-k", "back_takes", "-p", "no:cacheprovider"]
    done = subprocess.run(command, cwd=root, env={**os.environ, "PATH": "", "CI": ci}, capture_output=True, text=True, check=False)
    assert done.returncode == status, done.stdout
    assert told in done.stdout
