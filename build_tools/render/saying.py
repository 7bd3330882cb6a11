"""The page of a saying, and the list of them all."""

from __future__ import annotations

from collections.abc import Sequence

from build_tools.model import Saying
from build_tools.render.prose import escape
from build_tools.render.view import View

VERDICTS = {"right": "Right, within limits.", "wrong": "Wrong.", "depends": "It depends."}
GROUPS = {"wrong": "Wrong, and still repeated", "depends": "True of some clocks, wrong of others", "right": "Right, within limits"}


def saying(entry: Saying, view: View) -> list[str]:
    """The verdict first, then how far it holds, and the reason."""
    return [
        f"**{VERDICTS[entry.verdict]}** {view.prose(entry.why)}\n{{: .lead }}\n",
        view.note(entry.basis),
        view.cautions(entry.cautions),
        view.section("Where it holds", entry.holds),
        view.section("Where it doesn't", entry.fails),
        view.prose(entry.note) + "\n" if entry.note else "",
        f"Also heard as: {escape('; '.join(entry.also))}\n" if entry.also else "",
        view.items("The sums", [f"[[{ref}]]" for ref in entry.calculations]),
    ]


def saying_list(entries: Sequence[Saying], view: View) -> str:
    """The sayings by verdict, each with its reason."""
    parts = []
    for verdict, title in GROUPS.items():
        rows = [f"{view.link(entry.ref)}\n:   {view.plain_line(entry.why)}\n" for entry in entries if entry.verdict == verdict]
        if rows:
            parts.append(f"## {title}\n\n" + "\n".join(rows))
    return "\n".join(parts)
