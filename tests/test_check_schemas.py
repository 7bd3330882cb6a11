"""The schemas serve editors as well: draft 7, every field described, none unknown, every folder mapped."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator

from build_tools.model import KINDS
from build_tools.scaffold import path_of, skeleton
from build_tools.schema import FOLDERS, SCHEMA_FOLDER, schema

from .test_check_rules import command, found


def groups(part: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every part of a schema that names fields, with the way to it."""
    if isinstance(part, dict):
        if "properties" in part and "type" in part:
            yield path, part
        for key, inner in part.items():
            yield from groups(inner, f"{path}/{key}")


@pytest.mark.parametrize("kind", FOLDERS)
def test_schema_is_draft_7(kind: str) -> None:
    Draft7Validator.check_schema(schema(kind))
    assert json.loads((SCHEMA_FOLDER / f"{kind}.json").read_text(encoding="utf-8"))["$schema"] == "http://json-schema.org/draft-07/schema#"


@pytest.mark.parametrize("kind", FOLDERS)
def test_every_field_is_described_and_none_is_unknown(kind: str) -> None:
    for path, part in groups(schema(kind)):
        assert "additionalProperties" in part, path
        for name, field in part["properties"].items():
            assert field is False or field.get("description"), f"{path}/{name}"


def test_kinds_schemas_model_and_folders_are_the_same() -> None:
    assert set(FOLDERS) == set(KINDS) == {path.stem for path in SCHEMA_FOLDER.glob("*.json")} - {"common"}


def test_editors_know_the_schema_of_every_folder(root: Path) -> None:
    settings = json.loads((root / ".vscode" / "settings.json").read_text(encoding="utf-8"))
    assert settings["yaml.schemas"] == {f"kb/schema/{kind}.json": f"kb/{folder}/*.yaml" for kind, folder in FOLDERS.items()}


NOT_YET_THERE = {
    "KB030",
    "KB038",
    "KB039",
    "KB040",
}  # made-up references, rows of absent tables, a train of one arbor, a source not cited yet


@pytest.mark.parametrize("kind", FOLDERS)
def test_a_new_entry_lacks_nothing_but_its_facts(kind: str, tmp_path: Path) -> None:
    (tmp_path / "kb").mkdir()
    assert command("new", kind, "new-entry", "--root", str(tmp_path))[0] == 0
    assert (tmp_path / path_of(kind, "new-entry")).read_text(encoding="utf-8") == skeleton(kind, "new-entry")
    assert {line.split()[0] for line in found(tmp_path)} - NOT_YET_THERE == {"KB028"}


@pytest.mark.parametrize("kind", FOLDERS)
def test_a_new_entry_keeps_its_shape_when_the_dots_are_filled(kind: str, tmp_path: Path) -> None:
    entry = tmp_path / path_of(kind, "new-entry")
    entry.parent.mkdir(parents=True)
    entry.write_text(skeleton(kind, "new-entry").replace("...", "Something."), encoding="utf-8")
    assert [line for line in found(tmp_path) if line < "KB030"] == []  # the codes below are those of files and shape


def test_new_overwrites_nothing(tmp_path: Path) -> None:
    (tmp_path / "kb").mkdir()
    assert command("new", "term", "great-wheel", "--root", str(tmp_path))[0] == 0
    status, output, errors = command("new", "term", "great-wheel", "--root", str(tmp_path))
    assert status == 2 and output == "" and errors.startswith("kb/terms/great-wheel.yaml is there already")


@pytest.mark.parametrize(
    ("kind", "id", "word"),
    [("trem", "x", "did you mean term?"), ("term", "Great Wheel", "small letters"), ("term", "../x", "small letters")],
)
def test_new_refuses_in_one_line(kind: str, id: str, word: str, tmp_path: Path) -> None:
    status, _, errors = command("new", kind, id, "--root", str(tmp_path))
    assert status == 2 and word in errors and len(errors.strip().splitlines()) == 1
