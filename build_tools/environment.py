"""The project's own environment in ``.venv``: made, kept up to date, and entered. Standard library only.

Two extras of pyproject.toml can be asked for, ``site`` and ``test`` (which holds ``site``). Each has a stamp in ``.venv`` that says which
Python, folder and pins it was made for; a stamp that says just what would be written now means that nothing is to do.
"""
from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import platform
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

from build_tools import lock

ROOT = Path(__file__).resolve().parent.parent
EXTRAS = {"site": ("site",), "test": ("site", "test")}  # what is asked for → the extras of pyproject.toml that it takes
NOT_INHERITED = ("PYTHONPATH", "PYTHONHOME")  # they would put other packages before the pinned ones


class SetupFailed(Exception):
    """The environment cannot be made; the text says why and what to do, in one sentence or two."""


@dataclass(frozen=True)
class Environment:
    """Where the environment of the checkout at `root` lives and what it should hold."""

    root: Path

    @property
    def folder(self) -> Path:
        return self.root / ".venv"

    @property
    def python(self) -> Path:
        return self.folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

    @property
    def setup_lock(self) -> Path:
        """Held by the one process that changes the environment."""
        return self.root / ".venv-setup.lock"

    @property
    def use_lock(self) -> Path:
        """Shared by all commands that run from the environment."""
        return self.root / ".venv-use.lock"

    @property
    def constraints(self) -> Path:
        return self.root / ".ci" / "constraints.txt"

    @property
    def unfinished(self) -> Path:
        """A marker that stands while packages are installed; found later, it tells of an interruption."""
        return self.folder / "setup-unfinished"

    def stamp(self, extra: str) -> Path:
        return self.folder / f"stamp-{extra}.json"

    def requirements(self, extra: str) -> list[str]:
        """The requirements that pyproject.toml lists for what is asked for."""
        project = tomllib.loads((self.root / "pyproject.toml").read_text(encoding="utf-8"))["project"]
        return [line for name in EXTRAS[extra] for line in project["optional-dependencies"][name]]

    def wanted(self, extra: str) -> dict[str, str]:
        """What the stamp says when everything is as it should be."""
        pins = "\n".join([*self.requirements(extra), self.constraints.read_text(encoding="utf-8")])
        return {
            "python": f"{sys.implementation.name} {platform.python_version()}",
            "folder": str(self.folder),
            "pins": hashlib.sha256(pins.encode()).hexdigest(),
        }

    def found(self, extra: str) -> dict[str, str] | None:
        """What the stamp says, or None when there is no readable one."""
        try:
            return json.loads(self.stamp(extra).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return None

    def is_fresh(self, extra: str) -> bool:
        return self.found(extra) == self.wanted(extra) and self.python.exists()

    def is_inside(self) -> bool:
        """Whether this very process runs from the environment (the interpreter is a link, so its own path does not tell)."""
        return Path(sys.prefix).resolve() == self.folder.resolve()


def enter(environment: Environment, extra: str, arguments: list[str]) -> int | None:
    """Make sure of the environment and carry on in it.

    Returns None when this process is already inside. Otherwise the command goes on in the environment's own Python: on POSIX this process
    becomes it, on Windows it is a child whose exit status is returned.
    """
    try:
        _settle(environment, extra)
        return None if environment.is_inside() else _carry_on(environment, arguments)
    except SetupFailed as failure:
        return _give_up(str(failure))
    except OSError as error:
        return _give_up(f"Could not use {environment.folder.name}: {error.strerror or error} ({error.filename or environment.folder}).")
    except KeyboardInterrupt:
        return 130


def _give_up(sentence: str) -> int:
    print(sentence, file=sys.stderr)
    return 1


def _settle(environment: Environment, extra: str) -> None:
    """Have a fresh environment and a share in its use, which lasts until the process ends since the handle stays open.

    A share is only taken in what looks fresh: a start that must renew things never finds another new start in its way.
    """
    while True:
        if not environment.is_fresh(extra):
            _prepare(environment, extra)
        share = lock.wait_for(environment.use_lock, shared=True, when_busy=lambda: _say("Waiting: another start is renewing .venv."))
        if environment.is_fresh(extra):
            os.set_inheritable(share, True)  # the share survives the change of interpreter
            return
        os.close(share)


def _prepare(environment: Environment, extra: str) -> None:
    """Make or refresh the environment, one process at a time."""
    busy = lock.wait_for(environment.setup_lock, shared=False, when_busy=lambda: _say("Waiting: another start is setting up .venv."))
    with lock.held(busy):
        if environment.is_fresh(extra):
            return
        if any(environment.is_fresh(other) for other in EXTRAS):
            return _install(environment, extra)  # the same pins, so this only adds packages: nobody is disturbed
        alone = lock.try_lock(environment.use_lock, shared=False)
        if alone is None:
            raise SetupFailed("The packages in .venv must change, but another command is still using them: end it (Ctrl-C), then start again.")
        with lock.held(alone):
            if not environment.is_inside():
                _make(environment)
            _install(environment, extra)


def _make(environment: Environment) -> None:
    """Create the environment unless one of the same Python is there; what is left of an interrupted or moved one goes."""
    if _is_usable(environment):
        return
    for module in ("venv", "ensurepip"):
        if importlib.util.find_spec(module) is None:
            raise SetupFailed(f"This Python comes without {module}: on Debian or Ubuntu run 'sudo apt install python3-venv', elsewhere install Python from python.org, then start again.")
    for extra in EXTRAS:
        environment.stamp(extra).unlink(missing_ok=True)
    _say(f"Making .venv with Python {platform.python_version()}.")
    _run([sys.executable, "-m", "venv", "--clear", str(environment.folder)], "Could not make .venv")


def _is_usable(environment: Environment) -> bool:
    """Whether .venv has a working Python of this version, was made in this folder, and was not left half done."""
    if environment.unfinished.exists() or not environment.python.exists():
        return False
    stamps = [stamp for extra in EXTRAS if (stamp := environment.found(extra))]
    if any(stamp.get("folder") != str(environment.folder) for stamp in stamps):
        return False
    probe = [str(environment.python), "-c", "import pip, platform; print(platform.python_version())"]
    try:
        answer = subprocess.run(probe, capture_output=True, text=True, env=_surroundings(), check=False)
    except OSError:
        return False
    return answer.stdout.strip() == platform.python_version()


def _install(environment: Environment, extra: str) -> None:
    """Install the pinned packages and write the stamps, last of all."""
    _say(f"Installing the packages for '{extra}' into .venv, as pinned in .ci/constraints.txt. This happens once and takes about a minute.")
    names = [name for name in EXTRAS if set(EXTRAS[name]) <= set(EXTRAS[extra]) and not environment.is_fresh(name)]
    for name in names:
        environment.stamp(name).unlink(missing_ok=True)
    environment.unfinished.touch()
    pip = [str(environment.python), "-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check"]
    try:
        _run([*pip, "--constraint", str(environment.constraints), *environment.requirements(extra)], "Could not install the packages (is there a network?)")
    except SetupFailed:
        environment.unfinished.unlink()  # pip ended in good order: what was there before is whole
        raise
    _put_root_on_path(environment)
    environment.unfinished.unlink()
    for name in names:
        environment.stamp(name).write_text(json.dumps(environment.wanted(name)), encoding="utf-8")


def _put_root_on_path(environment: Environment) -> None:
    """Make `build_tools` importable from any folder by a relative path, whatever letters the folder's name has."""
    ask = [str(environment.python), "-c", "import os, sys, sysconfig; print(os.path.relpath(sysconfig.get_path('purelib'), sys.prefix))"]
    within = subprocess.run(ask, capture_output=True, text=True, env=_surroundings(), check=True).stdout.strip()  # plain letters, which any console can print
    packages = environment.folder / within
    (packages / "clock_movement_reference.pth").write_text(os.path.relpath(environment.root.resolve(), packages.resolve()) + "\n", encoding="ascii")


def _carry_on(environment: Environment, arguments: list[str]) -> int:
    command = [str(environment.python), "-m", "build_tools", *arguments]
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name != "nt":
        os.execve(command[0], command, _surroundings())
    child = subprocess.Popen(command, env=_surroundings())
    while True:
        try:
            return child.wait()
        except KeyboardInterrupt:
            continue  # the child got it, too, and ends in its own way


def _surroundings() -> dict[str, str]:
    """The environment variables for the Python inside."""
    return {name: value for name, value in os.environ.items() if name not in NOT_INHERITED}


def _run(command: list[str], failure: str) -> None:
    """Run a command silently; when it fails, say so with the last thing that it said."""
    done = subprocess.run(command, capture_output=True, text=True, errors="replace", env=_surroundings(), check=False)
    if done.returncode:
        lines = [line.strip() for line in (done.stderr + done.stdout).splitlines() if line.strip()]
        told = next((line for line in lines if line.startswith("ERROR:")), lines[-1] if lines else f"exit status {done.returncode}")
        raise SetupFailed(f"{failure}: {told.removeprefix('ERROR:').strip()}")


def _say(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)
