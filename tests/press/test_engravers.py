"""Engravers that are started before their texts are there, and tell which book part holds too much."""

import re
import tempfile
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from generators.errors import FailedRun
from generators.press import lilypond
from generators.press.complaints import complaints, overfull_parts
from generators.press.engraver import Engraved, engravers
from generators.press.laying import Laid, laid
from generators.press.pages import MusicPage
from generators.press.room import MIDDLE_WIDEST
from generators.press.source import Source
from generators.studies.scales import ScalesRequest
from tests.press.measures import measured
from tests.press.processes import awaited, ended_in, working_in
from tests.press.sheets import composed, engraved

VERSION = '[ "$1" = --version ] && echo "GNU LilyPond 2.24.3" && exit\n'
Fake = Callable[[str], Path]
MADE = "book part {}: {} of {} pages\n"
# Said of a page that is to end where its music ends, and holds too much: a guest trumpet's week, page 30.
RAGGED = """warning: ragged-bottom was specified, but page must be compressed
warning: page 30 has been compressed
"""
CROWDED = "warning: compressing over-full page by 9.0 staff-spaces\nwarning: page 2 has been compressed\n"


@pytest.fixture
def fake(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Fake]:
    """Return what puts a script in the engraver's place, and gives the folder of its temporary files."""
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(temporary))

    def put(script: str) -> Path:
        path = tmp_path / "lilypond"
        path.write_text(f"#!/bin/sh\n{VERSION}{script}\n", encoding="utf-8")
        path.chmod(0o755)
        monkeypatch.setenv(lilypond.ENGRAVER_VARIABLE, str(path))
        lilypond.engraver.cache_clear()
        return temporary

    yield put
    lilypond.engraver.cache_clear()


THREE = composed(ScalesRequest(keys=("C", "G", "D")))


def _page(times: int = 1) -> MusicPage:
    """Return a page of three strains, or of so many times as many."""
    page = laid(THREE, {})[0].page
    assert isinstance(page, MusicPage)
    return replace(page, sections=tuple(replace(section, scores=section.scores * times) for section in page.sections))


def _source(*printed: MusicPage) -> str:
    """Return a source with a book part for each page, numbered from 1."""
    return Source(THREE, tuple(Laid(page, number) for number, page in enumerate(printed, 1))).whole


def test_engravers_are_started_before_their_texts(fake: Fake) -> None:
    """All are running before the first is handed a text, and each engraves its own."""
    folder = fake("touch ready; cat > page.pdf")
    with engravers(3, ("pdf",)) as waiting:
        assert awaited(lambda: 3 == len(list(folder.glob("*/ready"))))
        results = [one.begin(text) for one, text in zip(waiting, ("a", "b", "c"), strict=True)]

        assert [b"a", b"b", b"c"] == [result().files["pdf"][0] for result in results]


def test_no_more_work_at_once_than_there_are_cores(fake: Fake, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On one core the next engraver is handed its text when the one before it has ended."""
    monkeypatch.setattr("os.cpu_count", lambda: 1)
    diary = tmp_path / "diary"
    fake(f"cat > page.pdf; echo begun >> {diary}; sleep 0.1; echo ended >> {diary}")
    engraved(["a", "b", "c"], ("pdf",))

    assert ["begun", "ended"] * 3 == diary.read_text(encoding="utf-8").split()


def test_texts_are_written_while_others_are_engraved(fake: Fake, tmp_path: Path) -> None:
    """The second text is asked for while the first is at work already."""
    diary = tmp_path / "diary"
    fake(f"cat > page.pdf; echo begun >> {diary}")

    def texts() -> Iterator[str]:
        yield "a"
        assert awaited(diary.exists)
        yield "b"

    assert [b"a", b"b"] == [part.files["pdf"][0] for part in engraved(texts(), ("pdf",), count=2)]


def _broken_off(begun: int, folder: Path) -> None:
    """Hand a text to so many of two engravers, and fail."""
    with engravers(2, ("pdf",)) as waiting:
        for one in waiting[:begun]:
            one.begin("text")
        assert 2 <= len(working_in(folder))
        raise ZeroDivisionError


@pytest.mark.parametrize("begun", [0, 1, 2])
def test_none_is_left_when_something_goes_wrong(begun: int, fake: Fake) -> None:
    """However many were handed a text, none is running and no folder is left after an error in between."""
    folder = fake("cat > page.pdf; sleep 600")
    with pytest.raises(ZeroDivisionError):
        _broken_off(begun, folder)

    assert ended_in(folder)
    assert [] == list(folder.iterdir())


def test_a_long_text_is_not_waited_for_for_ever(fake: Fake, monkeypatch: pytest.MonkeyPatch) -> None:
    """An engraver that reads nothing of a long text is stopped like any that hangs."""
    monkeypatch.setenv(lilypond.TIMEOUT_VARIABLE, "1")
    fake("sleep 600")
    with pytest.raises(FailedRun, match="stopped after 1 s"):
        engraved(["%" * 1_000_000], ("pdf",))


def test_a_page_is_not_torn_apart() -> None:
    """Whatever room is left at its foot, the middle two staves of a page stand no farther apart than they may."""
    made = engraved([_source(_page(), _page(4))], ("png",))[0]

    assert all(measured(page, 150).pitch <= MIDDLE_WIDEST[False] + 0.2 for page in made.files["png"])


def test_keys_are_set_apart_where_the_foot_is_free() -> None:
    """Of three keys of two lines each the lines of one stand nearer than two keys, all within the page."""
    pair = replace(THREE, chapters=composed(ScalesRequest(keys=("A", "Am", "F#m"), pattern="thirds", high="C6")).chapters)
    page = measured(engraved([Source(pair, laid(pair, {})).whole], ("png",))[0].files["png"][0], 150)
    within, between = page.pitches[::2], page.pitches[1::2]

    assert (3, 2) == (len(within), len(between))
    assert max(within) + 2 < min(between)
    assert page.pitch <= MIDDLE_WIDEST[False] + 0.2


def test_the_overfull_book_part_is_named() -> None:
    """Of three book parts the one that holds too much is told; the pages of the others are what they are without it."""
    page, crowded = _page(), _page(4)
    good, bad = (engraved([_source(page, middle, page)], ("svg",))[0] for middle in (page, crowded))

    assert ((), (2,)) == (good.overfull, bad.overfull)
    assert [good.files["svg"][i] for i in (0, 2)] == [bad.files["svg"][i] for i in (0, 2)]
    assert good.files["svg"][1] != bad.files["svg"][1]


def test_every_overfull_book_part_is_named() -> None:
    """The first and the last are told as well as the middle one."""
    page, crowded = _page(), _page(4)
    found = engraved([_source(crowded, page, crowded)], ("pdf",))[0]

    assert (1, 3) == found.overfull


@pytest.mark.parametrize(
    ("expected", "log"),
    [
        ((), ""),
        ((0,), CROWDED),
        ((), MADE.format(0, 1, 1)),
        ((30,), RAGGED + MADE.format(30, 1, 1) + MADE.format(31, 1, 1)),
        ((1,), MADE.format(0, 1, 1) + CROWDED + MADE.format(1, 1, 1) + MADE.format(2, 1, 1)),
        ((1,), MADE.format(0, 1, 1) + MADE.format(1, 2, 1)),
        ((0, 2), CROWDED + MADE.format(0, 1, 1) + MADE.format(1, 1, 1) + CROWDED),
    ],
)
def test_the_log_tells_what_is_overfull(expected: tuple[int, ...], log: str) -> None:
    """What is said before a book part is made is said of it; more pages than it was given are too much as well."""
    assert expected == overfull_parts(log)
    assert [] == complaints(log)


def test_another_complaint_is_a_failure_all_the_same(fake: Fake) -> None:
    """A page that is wrong is not excused by one that is overfull."""
    fake(f"cat > page.pdf; echo '{CROWDED}warning: unterminated slur' >&2")
    with pytest.raises(FailedRun, match="says warning: unterminated slur"):
        engraved(["text"], ("pdf",))


def test_a_letter_without_a_glyph_is_no_failure(fake: Fake) -> None:
    """It is printed as a box, and the log is handed on for telling so."""
    fake("cat > page.pdf; echo 'warning: no glyph for character U+65E5 in font' >&2")
    found = engraved(["text"], ("pdf",))

    assert [Engraved({"pdf": (b"text",)}, "warning: no glyph for character U+65E5 in font\n")] == found


def test_a_font_is_lent_without_a_copy(fake: Fake) -> None:
    """The engraver is told where a font for other scripts and signs lies, in a package that we require."""
    fake('case "$*" in *include-settings=fonts.ily*) cat fonts.ily > page.pdf;; esac')
    told = engraved(["text"], ("pdf",))[0].files["pdf"][0].decode()
    font = re.fullmatch(r'#\(ly:font-config-add-font "(.*/DejaVuSans\.ttf)"\)\n', told)
    declared = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8"))["project"]

    assert font
    assert Path(font[1]).is_file()
    assert any(line.startswith("matplotlib") for line in declared["dependencies"])
