"""The pages as text: each entry has one, the same library gives the same pages, and nothing of an entry gets lost on the way."""
from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from build_tools.library import Library, read_library
from build_tools.model import Basis, Source
from build_tools.plain_text import plain
from build_tools.render import key, pages, source_file
from build_tools.render.export import exports
from build_tools.render.indexes import index_pages
from build_tools.render.kinds import page_path
from build_tools.render.prose import escape, prose
from build_tools.render.view import BASIS_WORDS, short_name


def test_every_entry_has_its_page(library: Library, made: dict[str, str]) -> None:
    assert [entry.ref for entry in library if page_path(entry.ref) not in made] == []


def test_no_two_pages_have_the_same_path(library: Library) -> None:
    of_entries = {page_path(entry.ref) for entry in library}
    assert of_entries.isdisjoint(index_pages(library)) and of_entries.isdisjoint(key.pages(library))


def test_the_same_files_give_the_same_pages(root: Path, made: dict[str, str]) -> None:
    assert pages(read_library(root)[0]) == made


def test_an_entry_is_corrected_in_its_own_file(library: Library, root: Path) -> None:
    wrong = [entry.ref for entry in library if not (root / str(source_file(page_path(entry.ref)))).is_file()]
    assert wrong == []
    assert source_file("terms/index.md") is None
    assert source_file("key/trains.md") is None


def test_every_page_says_what_it_rests_on(library: Library, made: dict[str, str]) -> None:
    silent = []
    for entry in library:
        page = made[page_path(entry.ref)].lower()
        words = [BASIS_WORDS.get(one.word) or short_name(library[one.source]) for one in entry.basis]
        silent += [f"{entry.ref}: {one}" for one in words if escape(one).lower() not in page]
    assert silent == []


def test_a_draft_says_so(library: Library, made: dict[str, str]) -> None:
    said = {entry.ref for entry in library if "Draft:" in made[page_path(entry.ref)]}
    assert said == {entry.ref for entry in library if entry.status == "draft"}


def test_cautions_stand_before_anything_that_is_done(library: Library, made: dict[str, str]) -> None:
    late = []
    for entry in library:
        page = made[page_path(entry.ref)]
        doing = [page.find(f"\n## {title}") for title in ("Setting it right", "What goes wrong", "Check before you pay", "What the answers point to", "How the sum goes")]
        first = min((place for place in doing if place >= 0), default=len(page))
        late += [f"{entry.ref}: {ref}" for ref in entry.cautions if not 0 <= page.find(escape(library[ref].name)) < first]
    assert late == []


def test_every_name_of_a_term_stands_on_its_page(library: Library, made: dict[str, str]) -> None:
    missing = [
        f"{term.ref}: {name}"
        for term in library.of_kind("term")
        for name in (*term.also, *term.american, *term.plain)
        if escape(name) not in made[page_path(term.ref)]
    ]
    assert missing == []


def test_back_links_lead_back(library: Library, made: dict[str, str]) -> None:
    missing = []
    for entry in library:
        page = made[page_path(entry.ref)]
        missing += [f"{entry.ref} from {ref}" for ref in library.used_by(entry.ref) if f"{page_path(ref).split('/')[1]})" not in page]
    assert missing == []


def test_downloads_hold_every_entry_and_every_arbor(library: Library) -> None:
    files = exports(library)
    assert set(json.loads(files["download/entries.json"])["entries"]) == {entry.ref for entry in library}
    rows = list(csv.DictReader(io.StringIO(files["download/counts.csv"])))
    assert len(rows) == sum(len(count.arbors) for count in library.of_kind("count"))
    assert {row["count"] for row in rows} == {count.id for count in library.of_kind("count")}
    listed = list(csv.DictReader(io.StringIO(files["download/entries.csv"])))
    assert [row["id"] for row in listed] == [ref for ref in json.loads(files["download/entries.json"])["entries"]]
    assert {row["licence"] for row in rows + listed} == {"CC-BY-4.0"}


def test_words_are_a_concept_scheme(library: Library) -> None:
    """Conditions S9 and S13 of the SKOS Reference, and every link leads to something that is there."""
    graph = json.loads(exports(library)["download/words.jsonld"])["@graph"]
    concepts = {node["@id"]: node for node in graph if node["@type"] == "skos:Concept"}
    words = [node for node in concepts.values() if "broader" in node]
    assert len(words) == sum(term.status != "retired" for term in library.of_kind("term"))
    assert all(node["broader"] in concepts and set(node.get("related", ())) <= set(concepts) for node in words)
    assert not any(set(node.get("altLabel", {}).get(code, ())) & {word} for node in words for code, word in node["prefLabel"].items())
    wheel = concepts["../terms/great-wheel/"]
    assert wheel["prefLabel"]["en"] == "great wheel" and wheel["prefLabel"]["de"] and "[[" not in wheel["definition"]["en"]


@pytest.mark.parametrize(
    ("text", "markdown"),
    [
        ("2 * 3 _x_ <b>", r"2 \* 3 \_x\_ &lt;b&gt;"),
        ("[not](a link)", r"\[not\](a link)"),
        ("# no heading", r"\# no heading"),
        ("- a list", "- a list"),
        ("see [[term:beat]]", "see (term:beat)"),
        ("the [[term:beat|loud * tick]]", r"the (term:beat loud * tick)"),
    ],
)
def test_prose_is_plain_text_but_for_its_links(text: str, markdown: str) -> None:
    assert prose(text, lambda ref, words: f"({ref} {words})".replace(" )", ")")) == markdown


def test_plain_text_keeps_the_words_of_links() -> None:
    assert plain("a [[term:great-wheel]] and [[term:x|the other]]") == "a great wheel and the other"


@pytest.mark.parametrize(
    ("author", "kind", "short"),
    [
        ("Ward L. Goodrich", "book", "Goodrich 1905"),
        ("Edmund Beckett (Lord Grimthorpe)", "book", "Beckett 1905"),
        ("Henry Kater and Dionysius Lardner", "book", "Kater and Lardner 1905"),
        ("Fedoruk and others", "article", "Fedoruk and others 1905"),
        ("John Smith, with a method of William Oughtred", "book", "Smith 1905"),
        ("Health and Safety Executive, United Kingdom", "guidance", "Health and Safety Executive, United Kingdom 1905"),
        ("British Standards Institution", "standard", "British Standards Institution 1905"),
        ("H. H. Cunynghame", "encyclopaedia", "A Great Work 1905"),
    ],
)
def test_a_source_is_cited_by_its_last_names(author: str, kind: str, short: str) -> None:
    shared = {"kind": "source", "id": "x", "status": "draft", "basis": (Basis(word="memory"),)}
    source = Source(**shared, author=author, title="A Great Work, article Clock", edition="", year=1905, type=kind, rights="", read="", took="", places="")
    assert short_name(source) == short
