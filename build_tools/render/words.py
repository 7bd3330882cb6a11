"""Links from the trade words of a page to their entries: the first use on each page, and nothing that is code, heading or link."""

from __future__ import annotations

import html
import posixpath
import re
from collections.abc import Iterator

from build_tools.library import Library
from build_tools.model import Term
from build_tools.plain_text import plain
from build_tools.render.kinds import page_path

_TOKEN = re.compile(r"<!--.*?-->|<(?:[^<>\"']|\"[^\"]*\"|'[^']*')*>|[^<]+", re.DOTALL)
_TAG = re.compile(r"<(/?)([a-zA-Z][a-zA-Z0-9-]*)")
_HREF = re.compile(r'href="([^"]*)"')
_WORD = re.compile(r"&[#\w]+;|[^\W\d_]+")
_SILENT = frozenset("a abbr button code dt form h1 h2 h3 h4 h5 h6 kbd label math nav option pre script select style summary svg textarea th".split())
_VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
_NOT_THE_PART = frozenset("to will would can could may might must shall should cannot not by your my his her their our".split())
_LONGEST = 5  # words in the longest name that is looked for


class Words:
    """The names of all terms, ready to be found in the HTML of a page."""

    def __init__(self, library: Library) -> None:
        meant = {_key(name): _meant(name, refs, library) for name, refs in library.names.items()}
        self._names = {name: term for name, term in meant.items() if term.linked}
        self._first = {name.split()[0] for name in self._names}
        self._by_page = {_url(term): term for term in library.of_kind("term")}

    def linked(self, page: str, url: str) -> str:
        """The HTML ``page``, found at ``url`` below the site's root, with its trade words linked.

        Links that stand there already bring the definition along as a preview, too.
        """
        done = {term.ref for href in _HREF.findall(page) if (term := self._target(href, url))}
        if url in self._by_page:
            done.add(self._by_page[url].ref)
        return "".join(self._tokens(page, url, done))

    def _tokens(self, page: str, url: str, done: set[str]) -> Iterator[str]:
        inside: list[str] = []
        for token in _TOKEN.findall(page):
            tag = _TAG.match(token)
            if tag:
                yield self._previewed(token, url) if tag[2] == "a" and not _SILENT.intersection(inside) else token
                _follow(inside, tag, token)
            elif token.startswith("<") or _SILENT.intersection(inside):
                yield token
            else:
                yield self._text(token, url, done)

    def _previewed(self, tag: str, url: str) -> str:
        """A link to a term with the term's definition; any other tag as it is."""
        href = _HREF.search(tag)
        term = self._target(href[1], url) if href and "class=" not in tag and "title=" not in tag else None
        return tag if term is None or term is self._by_page.get(url) else f'<a class="word"{_title(term)}{tag[2:]}'

    def _target(self, href: str, url: str) -> Term | None:
        return self._by_page.get(posixpath.normpath(posixpath.join(url, href)) + "/")

    def _text(self, text: str, url: str, done: set[str]) -> str:
        found, parts, at, i = list(_WORD.finditer(text)), [], 0, 0
        while i < len(found):
            count, term = self._longest(text, found, i)
            if term and term.ref not in done:
                start, end = found[i].start(), found[i + count - 1].end()
                target = posixpath.relpath(_url(term), url or ".") + "/"
                parts += [text[at:start], f'<a class="word"{_title(term)} href="{target}">{text[start:end]}</a>']
                at = end
                done.add(term.ref)
            i += count
        return "".join(parts) + text[at:]

    def _longest(self, text: str, found: list[re.Match[str]], i: int) -> tuple[int, Term | None]:
        """How many words from ``i`` on belong together, and the term that they name.

        A single word is no part of a clock after "to" or "will" (to lock), nor after "by" or "your" (your hand).
        """
        if found[i][0].lower() not in self._first:
            return 1, None
        for count in range(min(_LONGEST, len(found) - i), 0, -1):
            term = self._names.get(_key(text[found[i].start() : found[i + count - 1].end()]))
            if term and not (count == 1 and i and found[i - 1][0].lower() in _NOT_THE_PART):
                return count, term
        return 1, None


def _follow(inside: list[str], tag: re.Match[str], token: str) -> None:
    """Keep the list of open elements in step with one tag."""
    name = tag[2].lower()
    if name in _VOID or token.endswith("/>"):
        return
    if not tag[1]:
        inside.append(name)
    elif name in inside:
        while inside.pop() != name:
            pass


def _meant(name: str, refs: list[str], library: Library) -> Term:
    """Of several terms with one name the one whose own word it is, else the first."""
    own = [ref for ref in refs if library[ref].name.lower() == name]
    return library[(own or refs)[0]]


def _key(name: str) -> str:
    return re.sub(r"[\s-]+", " ", name.lower())


def _url(term: Term) -> str:
    return page_path(term.ref).removesuffix(".md") + "/"


def _title(term: Term) -> str:
    return f' title="{html.escape(" ".join(plain(term.definition).split()))}"'
