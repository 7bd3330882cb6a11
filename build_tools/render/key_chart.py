"""The key without script: question cards, one shown at a time, and the same tree as a ladder for one sheet."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from build_tools.figures.ladder import Rung, ladder
from build_tools.key import Key
from build_tools.key_chart import Box
from build_tools.library import Library
from build_tools.model import Row
from build_tools.plain_text import plain
from build_tools.render.kinds import page_path
from build_tools.render.view import View

ANY_OTHER = "any other answer"


def chart_path(facet: str, viewpoint: str) -> str:
    """Where the chart of a facet and viewpoint stands below the docs folder."""
    return f"key/{facet}-{viewpoint}.md"


def chart_page(key: Key, row: Row, place: Row, boxes: Sequence[Box], library: Library) -> str:
    """Markdown of the page with the cards and the ladder."""
    return Chart(key, row, place, boxes, View(library, chart_path(row.name, place.name))).page()


class Chart:
    """One facet from one viewpoint on paper."""

    def __init__(self, key: Key, row: Row, place: Row, boxes: Sequence[Box], view: View) -> None:
        self.key, self.row, self.place, self.boxes, self.view = key, row, place, boxes, view

    def page(self) -> str:
        title = f"{self.row.says.rstrip('?')}? {self.place.says[:1].upper()}{self.place.says[1:]}"
        cards = "\n".join(self._card(box) for box in self.boxes)
        return f"""# {title}

<div class="cards">
{cards}
</div>

If you can’t tell, follow the first answer and see whether what comes next agrees; if it does not, come back and follow the second.
{{: .rule }}

## The whole chart

{ladder([self._rung(box) for box in self.boxes], f"Chart: {title}")}

The chart leaves rare branches out and knows no second look. [The key that asks and weighs]({self.view.to(f'key/{self.row.name}.md')}) knows more.
"""

    def _card(self, box: Box) -> str:
        return self._asking(box) if box.question else self._ending(box)

    def _asking(self, box: Box) -> str:
        question = self.key.questions[box.question]
        leave = '<p class="leave">Ask the owner first.</p>' if question.ask_leave else ""
        answers = "".join(f'<li><a href="#card-{below.number}">{escape(self._answers(below))}</a></li>'
                          for below in self.boxes if below.above == box.number)
        return (f'<section class="card" id="card-{box.number}"><h2>{escape(question.asks)}</h2>'
                f'{leave}<ul>{answers}</ul><p class="how">{escape(plain(question.how))}</p>{self._again(box)}</section>')

    def _ending(self, box: Box) -> str:
        links = "".join(f'<li><a href="{self._address(index)}">{escape(self.key.facet.outcomes[index].name)}</a></li>' for index in box.outcomes)
        rarer = f"<p>{escape(self._rarer(box))}</p>" if box.rarer else ""
        return (f'<section class="card end" id="card-{box.number}"><h2>{escape(self._heading(box))}</h2>'
                f"<ul>{links}</ul>{rarer}{self._again(box)}</section>")

    def _again(self, box: Box) -> str:
        if not box.above:
            return ""
        return f'<p class="again"><a href="#card-{box.above}">One question back</a> <a href="#card-1">Start again</a></p>'

    def _heading(self, box: Box) -> str:
        if not box.by:
            return "Rarer: use the key. It may be"
        word = box.words[:1].upper() + box.words[1:]
        return word if len(box.outcomes) == 1 else f"{word}, in this order"

    def _rarer(self, box: Box) -> str:
        names = "; ".join(self.key.facet.outcomes[index].name for index in box.rarer)
        return f"Rarer, and not ruled out: {names}."

    def _rung(self, box: Box) -> Rung:
        href = f"#card-{box.number}" if box.question else self._address(box.outcomes[0])
        return Rung(f"box-{box.number}", self._answers(box), self._text(box), href, box.depth, box.above - 1, not box.question)

    def _text(self, box: Box) -> str:
        if box.question:
            return self.key.questions[box.question].asks
        names = "; ".join(self.key.facet.outcomes[index].name for index in box.outcomes)
        rarer = f". {self._rarer(box)}" if box.rarer else ""
        return f"Rarer, use the key: {names}{rarer}" if not box.by else f"{box.words[:1].upper()}{box.words[1:]}: {names}{rarer}"

    def _answers(self, box: Box) -> str:
        """The answers that lead to a box, in words."""
        if not box.above:
            return ""
        says = {answer.id: answer.says for answer in self.key.questions[self.boxes[box.above - 1].question].answers}
        return " / ".join(says[answer] for answer in box.by) if box.by else ANY_OTHER

    def _address(self, index: int) -> str:
        """The address of an outcome's page, for plain HTML."""
        target = page_path(self.key.facet.outcomes[index].ref).removesuffix(".md")
        return f"../../{target}/"
