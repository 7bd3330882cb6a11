"""What every page needs: prose, links, cautions and notes, all as seen from one page of one library."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape as html

from build_tools.library import Library
from build_tools.model import Basis, Caution, Source
from build_tools.plain_text import plain
from build_tools.render.kinds import page_path, relative
from build_tools.render.prose import escape, prose

BASIS_WORDS = {
    "common practice": "common practice, no source",
    "memory": "from memory, waits for a source",
    "invented": "invented for this reference",
    "arithmetic": "worked out here",
}

FEW = 4  # links that stand in a line without getting in the way


@dataclass(frozen=True)
class View:
    """A library as seen from the page at ``path``, a path below the docs folder."""

    library: Library
    path: str

    def link(self, ref: str, words: str = "") -> str:
        """A Markdown link to the page of an entry, with its name or with other ``words``."""
        return f"[{escape(words or self.library[ref].name)}]({self.to(page_path(ref))})"

    def to(self, target: str) -> str:
        """The address of another page, given by its path below the docs folder."""
        return relative(target, self.path)

    def prose(self, text: str) -> str:
        """Markdown of a prose field, its references made into links."""
        return prose(text, self.link)

    def plain_line(self, text: str) -> str:
        """Prose in one line, its references as mere words."""
        return " ".join(prose(text, lambda ref, words: escape(words or self.library[ref].name)).split())

    def section(self, title: str, text: str) -> str:
        """A heading with prose below it; nothing when there is no text."""
        return f"## {title}\n\n{self.prose(text)}\n" if text else ""

    def items(self, title: str, texts: Iterable[str]) -> str:
        """A heading with a list of prose below it; nothing when the list is empty."""
        rows = [f"- {indented(self.prose(text))}" for text in texts]
        return f"## {title}\n\n" + "\n".join(rows) + "\n" if rows else ""

    def links(self, refs: Iterable[str]) -> str:
        """The entries as one line of links."""
        return ", ".join(self.link(ref) for ref in refs)

    def folded(self, refs: Sequence[str], summary: str) -> str:
        """A few links as one line; many as a line that unfolds them."""
        if len(refs) <= FEW:
            return f"{summary} {self.links(refs)}"
        return f"<details><summary>{summary} {len(refs)} kinds</summary> {self.links(refs)}</details>"

    def cautions(self, refs: Iterable[str]) -> str:
        """Each caution in full, for the place in front of what it concerns."""
        return "\n".join(self._caution(self.library[ref]) for ref in refs)

    def _caution(self, caution: Caution) -> str:
        words = f"**{escape(caution.name)}.** {self.prose(caution.text)}{_stop([caution])} {self.link(caution.ref, 'Why')}{{.why}}"
        return f'<div class="caution" role="note" markdown="1">\n\n{words}\n\n</div>\n'

    def folded_cautions(self, refs: Sequence[str]) -> str:
        """One caution by its first sentence, several by their names; the rest is folded below, and stands on paper."""
        listed = [self.library[ref] for ref in refs]
        if len(listed) != 1:
            names = " ".join(f"{html(caution.name)}." for caution in listed)
            text = "\n\n".join(f"**{escape(caution.name)}.** {self.prose(caution.text)}{_stop([caution])} {self.link(caution.ref, 'Why')}{{.why}}" for caution in listed)
            return _folded(f"<strong>{names}</strong>{_stop(listed)}", text, " several") if listed else ""
        first, _, rest = " ".join(listed[0].text.split()).partition(". ")
        short = f"<strong>{html(listed[0].name)}.</strong> {html(plain(first).removesuffix('.'))}.{_stop(listed)}"
        return _folded(short, f"{self.prose(rest)} {self.link(refs[0], 'Why')}{{.why}}")

    def basis(self, basis: Iterable[Basis]) -> str:
        """Where a fact comes from, in one line; empty when nothing is said."""
        return "; ".join(self._one_basis(item) for item in basis)

    def _one_basis(self, item: Basis) -> str:
        named = BASIS_WORDS.get(item.word) or self.cited(item.source, item.place)
        return f"{named} ({escape(item.for_)})" if item.for_ else named

    def cited(self, source: str, place: str) -> str:
        """A source by author and year, linked to its page, and the place in it."""
        named = self.link(source, short_name(self.library[source]))
        return f"{named}, {escape(place)}" if place else named

    def note(self, basis: Iterable[Basis], lead: str = "") -> str:
        """A paragraph of class ``basis``: beside the text on a wide page, below it on a narrow one."""
        words = self.basis(basis)
        return f"{lead}{words[:1].upper()}{words[1:]}.\n{{: .basis }}\n" if words else ""


def _stop(cautions: Iterable[Caution]) -> str:
    return " An owner stops here; the rest is for a qualified person." if any(caution.owner_stops for caution in cautions) else ""


def _folded(summary: str, text: str, more: str = "") -> str:
    return f'<details class="caution{more}" markdown="1"><summary>{summary}</summary>\n\n{text}\n\n</details>\n'


def short_name(source: Source) -> str:
    """The way a footnote names a book: last names and year; a body by its own name, an encyclopaedia by its title."""
    if source.type == "encyclopaedia" or not source.author:
        name = source.title.split(",")[0]
    elif source.type in ("guidance", "library", "standard"):
        name = source.author
    else:
        signed = re.sub(r" *\(.*?\)", "", source.author).split(",")[0]
        name = " and ".join(person if person == "others" else person.split()[-1] for person in signed.split(" and "))
    return f"{name} {source.year}" if source.year else name


def indented(text: str) -> str:
    """Markdown that goes on inside a list item."""
    return text.replace("\n", "\n    ")
