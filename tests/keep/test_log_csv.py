"""The log as CSV: what goes out comes in again the same, once; a bad line is named, and then nothing comes in."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.brass.horn import HORNS
from generators.errors import BadRequest
from generators.keep import log
from generators.keep.log_csv import as_csv, from_csv, is_export
from generators.routine.logbook import FELT, Entry
from generators.studies.catalogue import DAY_PARTS
from generators.studies.kit.kind import DAY_KINDS
from generators.theory.pitch import parse_pitch

LATEST = date(2026, 12, 31)
briefly = settings(max_examples=40)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
NOTES = TEXTS | st.sampled_from(['a;b,"c"', "\r\n x", " ", "=1+1", "\ufeff"])
entries = st.builds(
    Entry,
    day=st.dates(date(2025, 1, 1), LATEST),
    minutes=st.integers(1, 600),
    felt=st.sampled_from(list(FELT)),
    top=st.none() | st.sampled_from(["A5", "Bb5"]).map(parse_pitch),
    kind=st.sampled_from(DAY_KINDS),
    notes=NOTES,
    code=st.sampled_from(["", "K3F7-Q2MD"]),
    horn=st.sampled_from(["", "trumpet", "cornet"]),
    keys=st.lists(st.sampled_from(["Eb", "Cm", "F#"]), max_size=3).map(tuple),
    parts=st.lists(st.sampled_from(list(DAY_PARTS)), max_size=3).map(tuple),
)
logs = st.lists(entries, max_size=6).flatmap(lambda few: st.permutations([*few, *few[:2]]))


def bare(kept: Iterable[Entry]) -> Counter[Entry]:
    """Return entries without their numbers."""
    return Counter(replace(entry, id=0) for entry in kept)


@given(logs)
def test_what_goes_out_comes_in_the_same(kept: list[Entry]) -> None:
    """Entries written and read are the same, whatever the notes hold, and written again the same to the byte."""
    numbered = [replace(entry, id=place) for place, entry in enumerate(kept, 1)]
    content = as_csv(numbered)

    assert tuple(numbered) == from_csv(content.decode(), "x", LATEST)
    assert is_export(content)


@briefly
@given(logs, st.integers(0, 6))
def test_taking_in_twice_doubles_nothing(kept: list[Entry], there: int) -> None:
    """However much of it is there already, the log holds the whole export once, and its bytes do not change by it again."""
    with TemporaryDirectory() as folder:
        first, second = Path(folder) / "a.sqlite", Path(folder) / "b.sqlite"
        for entry in kept:
            log.add(entry, first)
        exported = from_csv(as_csv(log.entries(first)).decode(), "x", LATEST)
        log.take_in(exported[:there], second)

        assert len(exported[there:]) == log.take_in(exported, second)
        assert 0 == log.take_in(exported, second) == log.take_in(exported, first)
        assert log.entries(first) == log.entries(second)


def test_what_differs_is_added_under_a_number_of_its_own(tmp_path: Path) -> None:
    """Entries of another log whose numbers are taken are new ones, and nothing that is there changes."""
    one, other = Entry(day=LATEST, minutes=10), Entry(day=LATEST, minutes=20)
    place = tmp_path / "log.sqlite"
    kept = log.add(one, place)

    assert 1 == log.take_in([replace(other, id=kept.id)], place)
    assert [(1, 10), (2, 20)] == [(entry.id, entry.minutes) for entry in log.entries(place)]


@pytest.mark.parametrize(
    "text",
    [
        "date,minutes\n2026-11-03,25\n",
        "\ufeffDate;Minutes;felt\r\n2026-11-03;25;\r\n;;\r\n",
        "minutes\tdate\n25\t2026-11-03",
        '\n"id","date","minutes","felt","top","kind","notes"\n"","2026-11-03"," 25 ","good","","normal",""\n\n',
    ],
)
def test_other_programs_files_are_understood(text: str) -> None:
    """Semicolons, tabs, a mark at the beginning, other line ends and orders, fewer columns, blank lines are no trouble."""
    assert [Entry(day=date(2026, 11, 3), minutes=25)] == list(from_csv(text.removeprefix("\ufeff"), "x", LATEST))


HEAD = "date,minutes,felt,top,horn,keys,parts,code,kind,id,notes\n2026-11-03,25,,,,,,,,,\n"
BAD = {
    "2026-11-31,25,,,,,,,,,": 'x.csv, line 3: date "2026-11-31" is not a date',
    "2027-01-01,25,,,,,,,,,": "x.csv, line 3: date 2027-01-01 is still to come",
    "2026-11-03,ten,,,,,,,,,": 'x.csv, line 3: minutes "ten" is not a whole number',
    "2026-11-03,0,,,,,,,,,": "x.csv, line 3: minutes 0 is out of reach; allowed: 1 to 600",
    "2026-11-03,-5,,,,,,,,,": 'x.csv, line 3: minutes "-5" is not a whole number',
    "2026-11-03,25,great,,,,,,,,": 'x.csv, line 3: felt "great" is not known',
    "2026-11-03,25,,H9,,,,,,,": 'x.csv, line 3: note "H9" is not a written pitch',
    "2026-11-03,25,,C9,cornet,,,,,,": "x.csv, line 3: top C9 is out of reach on the cornet",
    "2026-11-03,25,,,kazoo,,,,,,": 'x.csv, line 3: horn "kazoo" is not known',
    '2026-11-03,25,,,,"Eb,H",,,,,': 'x.csv, line 3: key "H" is not known',
    "2026-11-03,25,,,,,juggling,,,,": 'x.csv, line 3: parts "juggling" is not known',
    "2026-11-03,25,,,,,,abc,,,": 'x.csv, line 3: code "abc" is the code of no page',
    "2026-11-03,25,,,,,,,gig,,": 'x.csv, line 3: kind "gig" is not known',
    "2026-11-03,25,,,,,,,,x,": 'x.csv, line 3: id "x" is not a whole number',
    "2026-11-03,25": "x.csv, line 3: the line has 2 cells; allowed: 11, as the heading",
    '2026-11-03,25,,,,,,,,,"open': "x.csv, line 3: the text is not CSV",
    '2026-11-03,25,,,,,,,,,"two\nlines"\n2026-11-03,,,,,,,,,,': 'x.csv, line 5: minutes "" is not a whole number',
}


@pytest.mark.parametrize("line", BAD)
def test_a_bad_line_is_named(line: str) -> None:
    """A line that is no entry is refused with file, line, value and what is allowed."""
    with pytest.raises(BadRequest) as refusal:
        from_csv(f"{HEAD}{line}\n", "x.csv", LATEST)

    assert BAD[line] in str(refusal.value)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "x.csv: the file has no heading; allowed: id, date"),
        ("\n \n", "x.csv: the file has no heading"),
        ("date,felt\n", 'x.csv, line 1: column "minutes" is missing'),
        ("date,minutes,mood\n", 'x.csv, line 1: column "mood" is not known'),
        ("date,minutes,date\n", 'x.csv, line 1: column "date" is there twice'),
    ],
)
def test_a_bad_heading_is_named(text: str, message: str) -> None:
    """A file without the columns of a log is refused."""
    with pytest.raises(BadRequest) as refusal:
        from_csv(text, "x.csv", LATEST)

    assert message in str(refusal.value)


@pytest.mark.parametrize(
    ("ours", "content"),
    [
        (True, b"id,date,minutes,felt,top,kind,notes\r\n1,2026-11-03,25,good,,normal,\r\n"),
        (True, b"\xef\xbb\xbfdate,minutes\n"),
        (False, b"my notes"),
        (False, b"date,minutes,mood\n"),
        (False, b""),
    ],
)
def test_an_export_is_known_by_its_heading(ours: bool, content: bytes) -> None:
    """A file is a log's export if its heading has the columns of one, those of an earlier Waterkey too."""
    assert ours == is_export(content)


def test_every_horn_may_stand_in_a_line() -> None:
    """Whatever horn there is can be logged and comes back."""
    kept = tuple(Entry(day=LATEST, minutes=5, horn=name, id=place) for place, name in enumerate(HORNS, 1))

    assert kept == from_csv(as_csv(kept).decode(), "x", LATEST)
