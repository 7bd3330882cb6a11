"""Data flows one way: a module imports only from layers above its own, and importing it does nothing else."""
from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from fnmatch import fnmatch
from pathlib import Path

import pytest

# From the top: what a layer may import stands above it, or beside it in the same line.
LAYERS = (
    ("lock", "environment"),
    ("problem", "load_errors", "loaded", "plain_text"),
    ("load_plain",),
    ("load",),
    ("model", "model_*"),
    ("accept", "schema", "validate", "wording"),
    ("number", "spelling", "units", "compass"),
    ("formula.*",),
    ("trainsearch", "count_pieces", "printing"),
    ("procedure*", "typed", "given", "calculate", "carried", "solve*", "answer", "counts", "published", "evidence"),
    ("key", "key_[!c]*", "key_chart"),
    ("library",),
    ("checks.*",),
    ("figures.*",),
    ("render.*",),
    ("report", "scaffold", "calc_output", "changes"), ("calc_catalogue",),
    ("icon", "offline_pack"),
    ("offline",),
    ("mkdocs_hook", "site_build", "live_server"),
    ("*_command",),
    ("commandline",),
    ("__main__",),
)
PACKAGES = {"formula", "checks", "figures", "render"}
STARTERS = ("__init__", "__main__", "commandline", "environment", "lock")  # they run before anything is installed
ONLY_THERE = {"mkdocs": {"mkdocs_hook"}, "pytest": {"test_command"}}  # the site builder, and the tests, may one day be others
INSTALLED_AS = {"yaml": "PyYAML", "py_mini_racer": "mini-racer", "axe_playwright_python": "axe-playwright-python", "pint": "Pint", "fontTools": "fonttools"}

FOLDER = Path(__file__).resolve().parent.parent / "build_tools"


def module_name(path: Path) -> str:
    """The name below build_tools: `load`, `formula.parse`; a package itself is `formula.`."""
    parts = path.relative_to(FOLDER).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__") + ("." if len(parts) > 1 and parts[-1] == "__init__" else "")


MODULES = {module_name(path): path for path in sorted(FOLDER.rglob("*.py")) if path.parent != FOLDER or path.stem != "__init__"}
TREES = {name: ast.parse(path.read_text(encoding="utf-8")) for name, path in MODULES.items()}


def imported(tree: ast.AST) -> Iterator[str]:
    """Every module that a tree imports, wherever it does so; what is only there for type hints does not count."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            continue
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        else:
            yield from imported(node)


def own_imports(name: str, tree: ast.AST) -> set[str]:
    """The names below build_tools that a module imports, apart from itself."""
    found = set()
    for target in imported(tree):
        words = target.split(".")[1:]
        if not target.startswith("build_tools.") or not words:
            continue
        if words[0] in PACKAGES:
            deeper = ".".join(words[:2])
            found.add(deeper if deeper in MODULES else f"{words[0]}.")
        else:
            found.add(words[0])
    return found - {name}


def layer(name: str) -> int:
    """The number of a module's layer, counted from the top."""
    found = [number for number, patterns in enumerate(LAYERS) if any(fnmatch(name, pattern) for pattern in patterns)]
    assert found, f"{name} stands in no layer: give it a place in LAYERS"
    return found[0]


def imports_from_below(name: str, tree: ast.AST) -> list[str]:
    return [other for other in own_imports(name, tree) if layer(other) > layer(name)]


def effects(tree: ast.Module) -> list[str]:
    """Statements that do something when the module is imported: anything but definitions, imports and values."""
    allowed = (ast.Import, ast.ImportFrom, ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Assign, ast.AnnAssign)
    found = []
    for node in tree.body:
        is_text = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        chooses = isinstance(node, ast.If) and ("TYPE_CHECKING" in ast.unparse(node.test) or "os.name" in ast.unparse(node.test))
        is_start = isinstance(node, ast.If) and "__main__" in ast.unparse(node.test)
        if not (isinstance(node, allowed) or is_text or chooses or is_start):
            found.append(ast.unparse(node).splitlines()[0])
    return found


@pytest.mark.parametrize("name", MODULES)
def test_a_module_imports_only_from_above(name: str) -> None:
    assert imports_from_below(name, TREES[name]) == []


def test_every_module_stands_in_the_developers_table(root: Path) -> None:
    named = re.findall(r"`([\w*]+)/?`", (root / "DEVELOPERS.md").read_text(encoding="utf-8"))
    missing = {name for name in MODULES if not any(fnmatch(name.split(".")[0], pattern) for pattern in named)}
    assert missing == set(), "give it a word in the table of layers in DEVELOPERS.md"


def test_an_import_from_below_would_be_noticed() -> None:
    assert imports_from_below("load", ast.parse("from build_tools.library import Library")) == ["library"]
    assert imports_from_below("number", ast.parse("def f():\n    from build_tools import render")) == ["render."]
    assert imports_from_below("library", ast.parse("from build_tools.load import load_file")) == []
    assert imports_from_below("key_plan", ast.parse("if TYPE_CHECKING:\n    from build_tools.library import Library")) == []


def cycle(imports: dict[str, set[str]]) -> list[str]:
    """One round of modules that import one another, or an empty list."""
    done: set[str] = set()

    def walk(name: str, way: list[str]) -> list[str]:
        if name in way:
            return way[way.index(name) :]
        if name in done:
            return []
        for other in sorted(imports.get(name, ())):
            if found := walk(other, [*way, name]):
                return found
        done.add(name)
        return []

    return next((found for name in imports if (found := walk(name, []))), [])


def test_no_modules_import_one_another_in_a_round() -> None:
    without_packages = {name: {other for other in own_imports(name, tree) if not other.endswith(".")} for name, tree in TREES.items()}
    assert cycle(without_packages) == []


def test_a_round_would_be_noticed() -> None:
    assert cycle({"a": {"b"}, "b": {"c"}, "c": {"b"}}) == ["b", "c"]


@pytest.mark.parametrize("name", MODULES)
def test_importing_a_module_has_no_effects(name: str) -> None:
    assert effects(TREES[name]) == []


def test_an_effect_would_be_noticed() -> None:
    assert effects(ast.parse("import os\nos.chdir('x')\nfor a in b: pass")) == ["os.chdir('x')", "for a in b:"]


@pytest.mark.parametrize("name", STARTERS)
def test_the_start_needs_the_standard_library_alone(name: str) -> None:
    tree = ast.parse((FOLDER / f"{name}.py").read_text(encoding="utf-8"))
    outside = {target for target in imported(tree) if target.split(".")[0] not in sys.stdlib_module_names | {"build_tools"}}
    assert outside == set()
    assert own_imports(name, tree) <= set(STARTERS)


@pytest.mark.parametrize("package", ONLY_THERE)
def test_one_place_knows_the_package(package: str) -> None:
    assert {name for name, tree in TREES.items() if package in {target.split(".")[0] for target in imported(tree)}} == ONLY_THERE[package]


def requirement_names(root: Path, extra: str) -> set[str]:
    extras = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["project"]["optional-dependencies"]
    return {line.split(">")[0].split("=")[0].strip() for line in extras[extra]}


def packages_used(folder: Path) -> set[str]:
    """The names, as installed, of all packages that the Python files below a folder import."""
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in folder.rglob("*.py")]
    names = {target.split(".")[0] for tree in trees for target in imported(tree)}
    here = {path.stem for path in folder.rglob("*.py")}
    return {INSTALLED_AS.get(name, name) for name in names - sys.stdlib_module_names - here - {"build_tools", "tests", "tiny"}}


def test_every_package_used_is_required_and_every_one_required_is_used(root: Path) -> None:
    site, test = requirement_names(root, "site"), requirement_names(root, "test")
    in_code, in_tests = packages_used(FOLDER) - {"pytest"}, packages_used(root / "tests")
    assert in_code <= site and in_tests <= site | test
    used_without_import = {"mkdocs-material", "pytest-xdist", "brotli", "ziamath"}  # named in mkdocs.yml; an option of pytest; packs WOFF2; brings a font
    assert site - in_code <= used_without_import and test - in_tests <= used_without_import
