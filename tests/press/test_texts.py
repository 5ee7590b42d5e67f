import io
import re
import tempfile
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from generators.jobs.printing import print_pages
from generators.press.texts import clean, quoted
from generators.sheets.sheet import Sheet
from generators.studies.flow.study import FlowRequest

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


@pytest.mark.parametrize("name", PAYLOADS)
def test_a_payload_is_printed_and_not_run(name: str, tmp_path: Path) -> None:
    """A title and a player's name that are LilyPond code stand on the page as text, and run nothing."""
    with tempfile.TemporaryDirectory(prefix="w") as short:
        mark = Path(short, "touched")
        text = PAYLOADS[name].replace("{mark}", str(mark))
        report = print_pages(FlowRequest(keys=("C",)), tmp_path / "page", ("pdf",), Sheet(title=text, player=text, date="none"))
        touched = mark.exists()
    shown = PdfReader(report.files[0]).pages[0].extract_text()

    assert not touched
    assert 2 <= _bare(shown).count(_bare(clean(text)))


@pytest.mark.parametrize(
    "text",
    [
        "عَرَبِيّ مرحبا",
        "אבג",
        "Ünïcödé Ő ł ß Ελληνικά Кириллица",
        "emoji 🎺🎺",
        "日本語",
        "♩ ♭ ♯ ♮",
        "\u202eright to left",
        "x" * 400,
    ],
)
def test_a_text_of_any_script_is_printed(text: str, tmp_path: Path) -> None:
    """A title in any script is engraved and is the title that the PDF tells; at most a font lacks it, and that is said."""
    report = print_pages(FlowRequest(keys=("C",)), tmp_path / "page", ("pdf",), Sheet(title=text, player=text))
    reader = PdfReader(io.BytesIO(report.files[0].read_bytes()))

    assert 1 == len(reader.pages)
    assert reader.metadata
    assert text == reader.metadata.title
    assert [] == [remark for remark in report.remarks if "printed as a box" not in remark]
