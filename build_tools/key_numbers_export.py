"""What the page with numbers as evidence needs of the knowledge base, as one script."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from build_tools.key_answers import facets
from build_tools.key_measured import LENGTH, PENDULUM, TICKS, sentence, standard_figures
from build_tools.schema import FOLDERS

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model_parts import Row

DATA = "js/key-numbers-data.js"


def numbers_script(library: Library) -> dict[str, str]:
    """The script with the figures of the standard counts, worked out by the calculations."""
    text = json.dumps(numbers_data(library), ensure_ascii=False, separators=(",", ":"))
    return {DATA: f"var ClockRef=this.ClockRef||{{}};this.ClockRef=ClockRef;ClockRef.numbersData={text};\n"}


def numbers_data(library: Library) -> dict[str, Any]:
    """What the page's twin of build_tools.key_measured needs."""
    rows = [{"name": row.name, "says": row.says, "unit": row.unit, "allowed": float(row.value or 0), "times": row.cells.get("times", "1")}
            for row in library.table("measured")]
    answers = [_answer(row, library) for row in library.table("measured-answers")]
    counts = [{"ref": count.ref, "name": count.name, "url": f"{FOLDERS['count']}/{count.id}/", "figures": dict(figures)} for count, figures in standard_figures(library)]
    return {"measures": rows, "answers": answers, "counts": counts, "pendulum": PENDULUM, "ticks": TICKS, "length": LENGTH,
            "belong": sentence("{ticks}", "{wanted}", "{found}", True), "apart": sentence("{ticks}", "{wanted}", "{found}", False),
            "facets": [{"id": row.name, "label": row.cells["label"]} for row in facets(library)]}


def _answer(row: Row, library: Library) -> dict[str, str]:
    question = library[f"question:{row.cells['question']}"]
    says = next(answer.says for answer in question.answers if answer.id == row.cells["answer"])
    return {"measured": row.cells["measured"], "question": question.id, "answer": row.cells["answer"], "from": row.cells["from"], "to": row.cells["to"],
            "says": f"{question.asks} {says}"}
