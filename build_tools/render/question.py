"""The page of something to look for: how to look, from where, and what each answer points to."""

from __future__ import annotations

from build_tools.figures.answer import picture
from build_tools.model import Answer, Question
from build_tools.render.prose import escape
from build_tools.render.view import View

EFFORT = {1: "A glance.", 2: "A closer look, with a light or a minute of listening.", 3: "A glass, a torch held aslant, or a touch.",
          4: "Needs leave, time or some dismantling.", 5: "For a repairer."}


def question(entry: Question, view: View) -> list[str]:
    """Cautions stand in front of how to look; below that the answers, each with the outcomes that usually show it."""
    return [
        view.cautions(entry.cautions),
        "Ask the owner's leave before you do this.\n" if entry.ask_leave else "",
        f"{view.prose(entry.how)}\n{{: .lead }}\n",
        view.note(entry.basis),
        f"{EFFORT[entry.effort]} {_from_where(entry, view)}\n",
        "## What the answers point to\n\n" + "\n".join(_answer(entry, answer, view) for answer in entry.answers),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def _from_where(entry: Question, view: View) -> str:
    says = {row.name: row.says for row in view.library.table("viewpoints")}
    return "It can be answered " + "; or ".join(escape(says[name]) for name in entry.viewpoints) + "."


def _answer(entry: Question, answer: Answer, view: View) -> str:
    """One answer and what it speaks for; nothing to say is said, too."""
    found = {word: [] for word in ("always", "usually")}
    for kind in ("train", "addon", "feature", "symptom"):
        for outcome in view.library.of_kind(kind):
            word = outcome.told_by.get(entry.ref, {}).get(answer.id)
            if word in found:
                found[word].append(outcome.ref)
    said = " ".join(view.folded(refs, f"<em>{word}</em>") for word, refs in found.items() if refs)
    drawn = f"{picture(answer.picture)} " if answer.picture else ""
    return f"{drawn}{escape(answer.says)}\n:   {said or 'nothing that usually shows it'}\n"
