"""What a schema finds wrong with an entry, in the words of someone who writes entries."""

from __future__ import annotations

from decimal import Decimal
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any, Callable, Iterator

from build_tools.loaded import DataPath, Loaded, field_name
from build_tools.problem import Place, Problem, did_you_mean
from build_tools.schema import is_right

if TYPE_CHECKING:
    from jsonschema import ValidationError

_WANTED = {
    "string": "text",
    "integer": "a whole number without quotes",
    "boolean": "true or false",
    "array": "a list",
    "object": "a group of `field: value` lines",
}


def shape_problems(loaded: Loaded, kind: str) -> Iterator[Problem]:
    """Everything in which the data of `loaded` differs from the schema of its kind. A misspelled field is not reported as missing, too."""
    if is_right(kind)(loaded.data):
        return
    from build_tools.validate import validator  # jsonschema takes a tenth of a second to start, and right entries do without it

    errors = list(validator(kind).iter_errors(loaded.data))
    misspelled = {(tuple(error.absolute_path), _meant(error)) for error in errors if error.validator == "additionalProperties"}
    for error in errors:
        path: DataPath = tuple(error.absolute_path)
        if error.validator == "required" and (path, error.message) in misspelled:
            continue
        code, place, path, what, hint = _TRANSLATORS[str(error.validator)](error, loaded, path)
        yield Problem(code, place, field_name(path, loaded.data), what, hint)


def shown(value: Any) -> str:
    """A found value, short enough for one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, Decimal)):
        return f"the number {value}"
    if value is None:
        return "nothing"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, dict):
        return "a group of fields"
    line = " ".join(value.split())
    return f'"{line if len(line) <= 60 else line[:57] + "..."}"'


_Translated = tuple[str, Place, DataPath, str, str]


def _misplaced(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    name = error.message
    why = {
        "replaced_by": "only a retired entry is replaced by another",
        "steps": "a sum with a procedure has no steps",
    }.get(name, "an entry with rows has no single value")
    return "KB021", loaded.key_place(*path, name), path + (name,), why, f"take the field `{name}` away, or the one that it goes against"


def _missing(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    name = error.message
    about = _described(error.schema, name)
    return "KB015", loaded.place(*path), path + (name,), "this field is missing", f"add `{name}:`{about}"


def _described(schema: dict[str, Any], name: str) -> str:
    part = schema.get("properties", {}).get(name)
    description = part.get("description", "") if isinstance(part, dict) else ""
    return f" ({description})" if description else ""


def _meant(error: ValidationError) -> str:
    """The field that a misspelled one was meant to be, or ""."""
    free = [name for name in error.schema["properties"] if name not in error.instance]
    return next(iter(get_close_matches(error.message, free, n=1, cutoff=0.72)), "")


def _unknown(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    name, meant = error.message, _meant(error)
    known = ", ".join(error.schema["properties"])
    hint = f"did you mean {meant}?" if meant else f"take it away, or use one of: {known}"
    if set(name) & set("“”„‘’"):
        hint = "put straight quotes \" round the text in place of curly ones"
    return "KB014", loaded.key_place(*path, name), path + (name,), "there is no such field here", hint


def _wrong_sort(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    wanted = error.validator_value if isinstance(error.validator_value, list) else [error.validator_value]
    words = " or ".join(_WANTED[sort] for sort in wanted)
    return "KB016", loaded.place(*path), path, f"found {shown(error.instance)}; wanted {words}", _sort_hint(wanted[0], error)


def _sort_hint(wanted: str, error: ValidationError) -> str:
    found = error.instance
    if found is None:
        return "leave the field out when nothing is known"
    if wanted == "string" and isinstance(found, list) and found and isinstance(found[0], list):
        return "text that begins with [[ must stand below `>`"
    if wanted == "string" and isinstance(found, (bool, int, Decimal)):
        return f'put quotes round it: "{"true" if found is True else "false" if found is False else found}"'
    if wanted == "integer" and isinstance(found, str) and found.isdigit():
        return f"write it without quotes: {int(found)}"
    if wanted == "array" and not isinstance(found, dict):
        return "put [ ] round it, or begin each item with `- ` on a line of its own"
    if wanted == "array":
        return "begin each item of the list with `- `"
    return f"write {_WANTED[wanted]}"


def _not_a_choice(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    choices = [str(choice) for choice in error.validator_value]
    found = str(error.instance).lower() if isinstance(error.instance, bool) else str(error.instance)
    if found in choices:
        return "KB016", loaded.place(*path), path, f"found {shown(error.instance)}; wanted text", f'put quotes round it: "{found}"'
    hint = did_you_mean(found, choices, "choose one of those")
    return "KB017", loaded.place(*path), path, f"found {shown(error.instance)}; wanted one of: {', '.join(choices)}", hint


def _wrong_form(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    wanted = error.schema.get("x-wanted", "another form")
    if "propertyNames" in error.absolute_schema_path:
        path += (error.instance,)
        return (
            "KB018",
            loaded.key_place(*path),
            path,
            f"found {shown(error.instance)}; wanted {wanted}",
            "change the field's name to that form",
        )
    return "KB018", loaded.place(*path), path, f"found {shown(error.instance)}; wanted {wanted}", "write it in that form"


def _too_few(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    least = error.validator_value
    what = "there is nothing in it" if not error.instance else f"it has {len(error.instance)}; wanted at least {least}"
    return "KB019", loaded.place(*path), path, what, "leave the field out when nothing is known" if least == 1 else f"give at least {least}"


def _repeated(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    seen: list[Any] = []
    for index, item in enumerate(error.instance):
        if item in seen:
            return "KB019", loaded.place(*path, index), path, f"{shown(item)} is listed twice", "keep one of the two"
        seen.append(item)
    return "KB019", loaded.place(*path), path, "something is listed twice", "keep one of the two"


def _out_of_range(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    end = "least" if error.validator == "minimum" else "most"
    return (
        "KB020",
        loaded.place(*path),
        path,
        f"found {error.instance}; {error.validator_value} is the {end} here",
        "compare the number with the page it comes from",
    )


def _companion(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    field, partner = next(
        (field, partner)
        for field, partners in error.validator_value.items()
        if field in error.instance
        for partner in partners
        if partner not in error.instance
    )
    about = _described(error.schema, partner)
    return "KB021", loaded.key_place(*path, field), path + (field,), f"it needs `{partner}` beside it", f"add `{partner}:`{about}"


def _not_block(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    return (
        "KB012",
        loaded.place(*path),
        path,
        "sentences stand as a block, so that no sign in them is lost",
        "put `>` after the colon and the text below it, two spaces further in",
    )


def _wrong_kind(error: ValidationError, loaded: Loaded, path: DataPath) -> _Translated:
    return (
        "KB013",
        loaded.place(*path),
        path,
        f"found {shown(error.instance)}; wanted {error.validator_value}",
        f"write {error.validator_value}",
    )


_TRANSLATORS: dict[str, Callable[[ValidationError, Loaded, DataPath], _Translated]] = {
    "properties": _misplaced,
    "required": _missing,
    "additionalProperties": _unknown,
    "type": _wrong_sort,
    "enum": _not_a_choice,
    "const": _wrong_kind,
    "pattern": _wrong_form,
    "minItems": _too_few,
    "minProperties": _too_few,
    "minLength": _too_few,
    "uniqueItems": _repeated,
    "minimum": _out_of_range,
    "maximum": _out_of_range,
    "dependencies": _companion,
    "x-prose": _not_block,
}
