"""The tables of scales and chords: no doubles, intervals rise, every row is complete."""

from collections.abc import Mapping

import pytest

from generators.theory.interval import Interval, parse_interval, transpose
from generators.theory.key import MODES, Key, all_keys
from generators.theory.pitch import parse_pitch
from generators.theory.scales import CHORDS, DESCENDING, SCALES, Row

ROWS = [
    pytest.param(row, id=f"{kind}-{row.name}")
    for kind, table in (("scale", SCALES), ("chord", CHORDS))
    for row in table.values()
]
TABLES = [pytest.param(SCALES, id="scales"), pytest.param(CHORDS, id="chords")]


@pytest.mark.parametrize("row", ROWS)
def test_a_row_is_complete(row: Row) -> None:
    """A row has a name without spaces, a label, a mode that exists or none, and at least three intervals from the root."""
    assert (True, False, True) == (bool(row.name), " " in row.name, bool(row.label))
    assert row.mode in (*MODES, "")
    assert Interval(0, 0) == row.intervals[0]
    assert len(row.intervals) >= 3


@pytest.mark.parametrize("row", ROWS)
def test_intervals_rise(row: Row) -> None:
    """The intervals of a row rise in sound, never fall on the staff, and stay within the octave."""
    sizes, steps = [i.half_steps for i in row.intervals], [i.steps for i in row.intervals]

    assert sorted(set(sizes)) == sizes
    assert sorted(steps) == steps
    assert sizes[-1] < 12


@pytest.mark.parametrize("table", TABLES)
def test_no_doubles(table: Mapping[str, Row]) -> None:
    """No two rows of a table share a label or, spelling included, their intervals."""
    rows = list(table.values())

    assert len(rows) == len({row.label for row in rows})
    assert len(rows) == len({row.intervals for row in rows})


@pytest.mark.parametrize("table", TABLES)
def test_rows_stand_under_their_names(table: Mapping[str, Row]) -> None:
    """Each row is found under its own name, so no name stands twice in the table."""
    assert list(table) == [row.name for row in table.values()]


def test_sizes() -> None:
    """Scales have seven notes, whole tone six and chromatic twelve; chords have three, sevenths four."""
    scales = {name: len(row.intervals) for name, row in SCALES.items()}
    chords = {name: len(row.intervals) for name, row in CHORDS.items()}

    assert {name: {"whole-tone": 6, "chromatic": 12}.get(name, 7) for name in SCALES} == scales
    assert {name: 4 if "seventh" in row.label or name == "half-diminished" else 3 for name, row in CHORDS.items()} == chords


def test_the_way_down() -> None:
    """Melodic minor alone comes down another way, by natural minor."""
    assert {"melodic-minor": SCALES["natural-minor"]} == DESCENDING


@pytest.mark.parametrize("mode", MODES)
def test_scale_and_signature_agree(mode: str) -> None:
    """The scale of a mode on every tonic has the very notes of the mode's key."""
    row = SCALES["natural-minor" if mode == "minor" else mode]
    built = {key: [transpose(key.degree(0), i) for i in row.intervals] for key in all_keys(mode)}

    assert {key: [key.degree(i) for i in range(7)] for key in all_keys(mode)} == built


@pytest.mark.parametrize("row", ROWS)
def test_every_row_can_be_written_in_all_its_keys(row: Row) -> None:
    """On each tonic of its mode a row needs no more than two accidentals before a note."""
    tonics = [key.degree(0) for key in all_keys(row.mode or "major")]

    assert 15 == len([[transpose(tonic, i) for i in row.intervals] for tonic in tonics])


@pytest.mark.parametrize(
    ("row", "notes"),
    [
        (SCALES["harmonic-minor"], "C4 D4 Eb4 F4 G4 Ab4 B4"),
        (SCALES["melodic-minor"], "C4 D4 Eb4 F4 G4 A4 B4"),
        (SCALES["lydian"], "C4 D4 E4 F#4 G4 A4 B4"),
        (SCALES["locrian"], "C4 Db4 Eb4 F4 Gb4 Ab4 Bb4"),
        (SCALES["whole-tone"], "C4 D4 E4 F#4 G#4 Bb4"),
        (SCALES["chromatic"], "C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4"),
        (CHORDS["half-diminished"], "C4 Eb4 Gb4 Bb4"),
        (CHORDS["diminished-seventh"], "C4 Eb4 Gb4 Bbb4"),
    ],
    ids=lambda value: value.name if isinstance(value, Row) else "",
)
def test_rows_on_c(row: Row, notes: str) -> None:
    """Rows built on C are spelled as the textbooks spell them."""
    built = [transpose(Key("C", 0).degree(0), i) for i in row.intervals]

    assert [parse_pitch(note) for note in notes.split()] == built


def test_interval_names_of_a_row() -> None:
    """A row holds intervals, not half-steps: the augmented fourth of lydian is not a diminished fifth."""
    assert parse_interval("A4") == SCALES["lydian"].intervals[3]
    assert parse_interval("d5") == SCALES["locrian"].intervals[4]
