"""The page of anything that the key can tell apart: a train type, an add-on or a feature."""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.model import Outcome
from build_tools.render.figure import elevation_of, plan_of
from build_tools.render.pictures import pictures_of
from build_tools.render.prose import escape
from build_tools.render.view import View, indented

DRIVEN_BY = {
    "extension": "It is an extension of the going train and needs no winding of its own.",
    "own-spring": "It has a spring of its own.",
    "own-weight": "It has a weight of its own.",
    "shared": "It shares the power of another train.",
}
FREQUENCY = ("always", "usually", "sometimes", "rarely", "never")


def outcome(entry: Outcome, view: View) -> list[str]:
    """What it is, how it is told and what it is taken for; cautions before anything is checked, set or mended."""
    return [
        f"{view.prose(entry.what)}\n{{: .lead }}\n",
        view.note(entry.basis, f"{commonness(entry, view)} " if entry.commonness else ""),
        pictures_of(entry.ref, view),
        telling(entry, view),
        view.items("What deceives", entry.traps),
        look_alikes(entry, view),
        _driven(entry, view),
        view.cautions(entry.cautions),
        view.items("Check before you pay", entry.check),
        view.section("Setting it right", entry.set),
        view.section("What goes wrong", entry.goes_wrong),
        view.section("What rate to hope for", entry.rate),
        _wheels(entry, view),
        _further(entry, view),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def commonness(entry: Outcome, view: View) -> str:
    """How often it comes to a sale room, as a sentence."""
    says = {row.name: row.says for row in view.library.table("commonness")}
    words = says.get(entry.commonness, entry.commonness)
    return f"{words[:1].upper()}{words[1:]}."


def telling(entry: Outcome, view: View) -> str:
    """What an expert says of it; folded up below, each question with its answers from the usual to the excluded."""
    rows = [f"{view.link(ref)}\n:   {_answers(ref, shares, view)}\n" for ref, shares in entry.told_by.items()]
    if not rows:
        return view.section("How it is told", entry.telling)
    signs = f'<details class="signs" markdown="1"><summary>All {len(rows)} signs, as the key weighs them</summary>\n\n' + "\n".join(rows) + "\n</details>\n"
    words = view.prose(entry.telling) + "\n\n" if entry.telling else ""
    return "## How it is told\n\n" + words + _key_link(entry, view) + "\n" + (signs if len(rows) > 1 else "\n".join(rows))


def _answers(question: str, shares: Mapping[str, str], view: View) -> str:
    says = {answer.id: answer.says for answer in view.library[question].answers}
    named = {word: [answer for answer, given in shares.items() if given == word] for word in FREQUENCY}
    rest = [answer for answer in says if answer not in shares or shares[answer] == "never"]
    parts = []
    for word, answers in named.items():
        if word == "never" and len(answers) > 1 and len(answers) == len(rest):
            parts.append("*never* any other")
        elif answers:
            parts.append(f"*{word}* {escape(' or '.join(says[answer] for answer in answers))}")
    return "; ".join(parts)


def _key_link(entry: Outcome, view: View) -> str:
    return f"[Go through the key]({view.to(f'key/{entry.facet}.md')}) with what you see.\n"


def _driven(entry: Outcome, view: View) -> str:
    by = DRIVEN_BY.get(getattr(entry, "driven_by", ""), "")
    text = " ".join(filter(None, (by, view.prose(entry.driven))))
    return f"## What drives it\n\n{text}\n" if text else ""


def look_alikes(entry: Outcome, view: View) -> str:
    rows = [f"{view.link(row.with_)}\n:   {indented(view.prose(row.why))}\n" for row in entry.look_alikes]
    return "## Easily taken for\n\n" + "\n".join(rows) if rows else ""


def _wheels(entry: Outcome, view: View) -> str:
    """One count of each train in it, as an example, in plan and from the side."""
    if not entry.counts:
        return ""
    firsts = {count.of: count for count in reversed([view.library[ref] for ref in entry.counts])}
    shown = [count for count in (view.library[ref] for ref in entry.counts) if firsts[count.of] is count]
    drawn = [f"{plan_of(count, view)}\n{elevation_of(count, view)}" for count in sorted(shown, key=lambda count: count.of != "going")]
    links = "\n".join(f"- {view.link(ref)}" for ref in entry.counts)
    return f"## The wheels\n\n{links}\n\nCounts that such a movement may have, as examples; other makers chose others.\n\n" + "\n".join(drawn)


def _further(entry: Outcome, view: View) -> str:
    rows = [f"- {view.link(ref)}" for ref in entry.calculations]
    return "## Sums\n\n" + "\n".join(rows) + "\n" if rows else ""
