import io
import re
import tempfile
import unicodedata
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from generators.plain_text import clean
from generators.press.binding import Pressed, bound_pdf, pressed
from generators.press.texts import one_line, quoted, spaced_words
from generators.sheets.document import Band, Document, Music
from generators.sheets.sheet import Sheet
from generators.studies.flow.study import FlowRequest
from tests.press.sheets import composed, printed

ONE_KEY = FlowRequest(keys=("C",))
ANY = st.text(st.characters(), max_size=60)
PAYLOADS = {
    "scheme in a closed string": '" #(system "touch {mark}") x = "',
    "bare scheme": '#(system "touch {mark}")',
    "scheme after a dollar": '$(system "touch {mark}")',
    "escaped quote": '\\" #(system "touch {mark}") \\"',
    "trailing backslash": "ends in a backslash \\",
    "comment": "half %{ open",
    "line comment": "100 % of it",
    "braces": "} } } \\bar { {",
    "include": '\\include "/etc/hostname"',
    "file": '\\markup \\verbatim-file "/etc/hostname"',
    "newlines": "one\ntwo\r\nthree\tfour",
    "template": "{{ page.title }} {% raw %}",
    "null": "before\0after",
    "surrogate": "before\udc80after",
    "controls": "bell\x07 escape\x1b[31m",
}

EUROPEAN = "Ünïcödé Ő ł ß Ελληνικά Кириллица"
SCRIPTS = ("عَرَبِيّ مرحبا", "אבג", EUROPEAN, "emoji 🎺🎺", "日本語", "♩ ♭ ♯ ♮", "\u202eright to left", "x" * 400)


class Shown(NamedTuple):
    """A document with a page for every text: what each page tells, and the files that payloads would make."""

    document: Document
    whole: Pressed
    texts: dict[str, str]
    pages: dict[str, str]
    marks: dict[str, Path]


def _read(literal: str) -> str:
    """Read a LilyPond string as its lexer does: a backslash escapes what follows, a quote ends."""
    assert literal[0] == literal[-1] == '"'
    parts = re.fullmatch(r'(?:[^"\\]|\\["\\])*', literal[1:-1])
    assert parts
    return re.sub(r"\\(.)", r"\1", parts[0])


def _bare(text: str) -> str:
    """Return text without spaces and ligatures, as a page may break and set it."""
    return "".join(unicodedata.normalize("NFKC", text).split())


@given(ANY)
def test_any_text_is_one_string(text: str) -> None:
    """Whatever a text holds, quoted it is one LilyPond string that reads back as the text, cleaned."""
    literal = quoted(text)

    assert clean(text) == _read(literal)


@given(ANY)
def test_cleaning_twice_is_cleaning_once(text: str) -> None:
    """A clean text is left as it is, can be written as UTF-8 and stands on one line."""
    once = clean(text)

    assert once == clean(once)
    assert once == once.encode().decode()
    assert len(once.splitlines()) <= 1


@pytest.mark.parametrize(
    ("plain", "text"),
    [
        ('a "quoted" \\ word', 'a "quoted" \\ word'),
        ("\u00e9", "e\u0301"),
        ("two lines", "two\nlines"),
        ("ab", "a\0b"),
        ("ab", "a\ud800b"),
        ("ab", "a\ufffeb"),
        ("B♭ 𝄞 日本", "B♭ 𝄞 日本"),
    ],
)
def test_only_what_cannot_be_printed_is_dropped(plain: str, text: str) -> None:
    """Quotes and backslashes stay, letters are composed, lines folded, controls and half characters dropped."""
    found = clean(text)

    assert plain == found


PRINTED_SIGNS = {"\\flatted": "♭", "\\sharped": "♯", "\\natured": "♮"}
LITERAL = r'"(?:[^"\\]|\\["\\])*"'


def _shown(markup: str) -> str:
    """Read a markup of strings and signs alone: what it prints."""
    pieces = re.findall(rf"{LITERAL}|\\\w+", markup.removeprefix("\\concat { ").removesuffix(" }"))
    assert markup in (" ".join(pieces), f"\\concat {{ {' '.join(pieces)} }}")
    return "".join(PRINTED_SIGNS.get(piece) or _read(piece) for piece in pieces)


@given(ANY | st.text(st.sampled_from('♭♯♮ab" \\#{}%'), max_size=20))
def test_a_line_is_strings_and_signs(text: str) -> None:
    """Whatever a text holds, its line is one markup of strings and drawn accidentals that reads as the text, cleaned."""
    assert clean(text).replace("'", "’") == _shown(one_line(text))


@given(ANY | st.text(st.sampled_from('♭♯♮ab" \\#{}%'), max_size=20))
def test_words_are_strings_and_signs(text: str) -> None:
    """The words of a text, one markup each, are those of the text."""
    found = spaced_words(text)
    parts = re.findall(rf"\\concat \{{ (?:(?:{LITERAL}|\\\w+) )*\}}|{LITERAL}", found)

    assert " ".join(parts) == found
    assert clean(text).replace("'", "’").split() == list(map(_shown, parts))


@pytest.mark.parametrize(
    ("markup", "text"),
    [
        ('"Listen"', "Listen"),
        ('"the player’s"', "the player's"),
        ('\\concat { "B" \\flatted }', "B♭"),
        ('\\concat { "F" \\sharped " minor" }', "F♯ minor"),
        ('\\concat { "C" \\natured }', "C♮"),
        ('\\concat { "\\"" \\flatted "\\\\" }', '"♭\\'),
    ],
)
def test_accidentals_are_drawn(markup: str, text: str) -> None:
    """Sharps, flats and naturals come from the music font; all else stays in quotes."""
    assert markup == one_line(text)


def _titled(text: str) -> Music:
    """Return a chapter of one strain with a text as its title and its player's name."""
    (chapter,) = composed(ONE_KEY).chapters
    assert isinstance(chapter, Music)
    return replace(chapter, title=text, band=Band("Trumpet", text))


@pytest.fixture(scope="module")
def shown() -> Iterator[Shown]:
    """Return a page for every text, all engraved in one document."""
    with tempfile.TemporaryDirectory(prefix="w") as folder:
        marks = {name: Path(folder, str(place)) for place, name in enumerate(PAYLOADS)}
        texts = {name: text.replace("{mark}", str(marks[name])) for name, text in PAYLOADS.items()}
        texts |= {text: text for text in SCRIPTS}
        document = replace(composed(ONE_KEY), chapters=tuple(map(_titled, texts.values())))
        whole = pressed(document, ("pdf",))
        pages = [page.extract_text() for page in PdfReader(io.BytesIO(bound_pdf(document, whole))).pages]
        assert len(texts) == len(pages)
        yield Shown(document, whole, texts, dict(zip(texts, pages, strict=True)), marks)


@pytest.mark.parametrize("name", PAYLOADS)
def test_a_payload_is_printed_and_not_run(name: str, shown: Shown) -> None:
    """A title and a player's name that are LilyPond code stand on the page as text, and run nothing."""
    assert not shown.marks[name].exists()
    assert 2 <= _bare(shown.pages[name]).count(_bare(clean(shown.texts[name])))


@pytest.mark.parametrize("text", SCRIPTS)
def test_a_text_of_any_script_is_printed(text: str, shown: Shown) -> None:
    """A title in any script is engraved and is the title that the PDF tells."""
    metadata = PdfReader(io.BytesIO(bound_pdf(replace(shown.document, title=text), shown.whole))).metadata

    assert "page" in shown.pages[text]
    assert metadata
    assert text == metadata.title


def test_what_no_font_has_is_told(shown: Shown) -> None:
    """What is told to be printed as a box was in a text, and in none of plain Latin, Greek or Cyrillic letters."""
    told = {chr(int(point.removeprefix("U+"), 16)) for point in shown.whole.boxes}

    assert told <= set("".join(shown.texts.values()))
    assert not any(char.isascii() or char in EUROPEAN for char in told)


@pytest.mark.parametrize("text", ["null\0", "half\udc80", "two\nlines"])
def test_a_title_that_no_file_can_hold_is_printed(text: str) -> None:
    """A title with half characters and controls makes a page; the PDF tells as much of it as a PDF can hold."""
    sheet = Sheet(title=text, player=text, date="none", fingerings="none")
    reader = PdfReader(io.BytesIO(printed(ONE_KEY, ("pdf",), sheet).contents["pdf"][0]))

    assert _bare(clean(text)) in _bare(reader.pages[0].extract_text())
    assert reader.metadata
    assert text.replace("\udc80", "?") == reader.metadata.title
