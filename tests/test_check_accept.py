"""The quick yes never contradicts jsonschema: every entry, and every entry spoilt in many small ways, is judged by both."""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft7Validator, ValidationError, validators

from build_tools.accept import acceptor
from build_tools.library import PROJECT
from build_tools.load import load_file
from build_tools.loaded import Block
from build_tools.schema import FOLDERS, is_right, schema
from build_tools.validate import validator

SPOILT = (None, 7, -1, 10**6, "", "No Such:", "x", Block("Some words."), [], ["x", "x"], {}, {"x": "y"}, True, [[]])


def block(_: Any, wanted: bool, value: Any, __: Any) -> Iterator[ValidationError]:
    if isinstance(value, str) and not isinstance(value, Block):
        yield ValidationError("not a block")


SLOW = validators.extend(Draft7Validator, {"x-prose": block})


def spots(data: Any, path: tuple = ()) -> Iterator[tuple]:
    """The paths of all values inside `data`."""
    for key, value in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield path + (key,)
        yield from spots(value, path + (key,))


def spoilt(data: dict, chance: random.Random) -> dict:
    """A copy of `data` with one value replaced, removed, or a field added."""
    other = copy.deepcopy(data)
    *way, last = chance.choice(list(spots(other)))
    around: Any = other
    for step in way:
        around = around[step]
    act = chance.randrange(3)
    if act == 0:
        around[last] = chance.choice(SPOILT)
    elif act == 1:
        del around[last]
    elif isinstance(around, dict):
        around["added"] = chance.choice(SPOILT)
    else:
        around.append(around[last])
    return other


def examples(kind: str) -> list[dict]:
    return [load_file(path, PROJECT).data for path in sorted((PROJECT / "kb" / FOLDERS[kind]).glob("*.yaml"))[:6]]


@pytest.mark.parametrize("kind", FOLDERS)
def test_what_is_accepted_is_right(kind: str) -> None:
    chance, parts, agreed = random.Random(1905), schema(kind)["properties"], 0
    quick = {name: acceptor(part) for name, part in parts.items()}
    slow, whole = {name: SLOW(part) for name, part in parts.items()}, SLOW(schema(kind))
    for data in [spoilt(data, chance) for data in examples(kind) for _ in range(40)]:
        assert whole.is_valid(data) or not is_right(kind)(data), data
        for name in data.keys() & parts.keys():
            if quick[name](data[name]):
                assert slow[name].is_valid(data[name]), (name, data[name])
                agreed += 1
    assert agreed > 100


@pytest.mark.parametrize("kind", FOLDERS)
def test_whole_entries_are_accepted(kind: str) -> None:
    """Else every check waits for jsonschema."""
    assert [data["id"] for data in examples(kind) if not is_right(kind)(data)] == []


@pytest.mark.parametrize("kind", FOLDERS)
def test_the_quick_and_the_slow_way_find_the_same_entries_wrong(kind: str) -> None:
    chance, slow = random.Random(1906), SLOW(schema(kind))
    verdicts = [
        (slow.is_valid(data), validator(kind).is_valid(data))
        for data in (spoilt(data, chance) for data in examples(kind) for _ in range(25))
    ]
    assert not all(thorough for thorough, _ in verdicts)
    assert [ours for _, ours in verdicts] == [thorough for thorough, _ in verdicts]
