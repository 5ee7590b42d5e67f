"""Scales and arpeggios: right notes by music21, full bars, groups on the pulse, and the articulation set exact."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import harmony, scale
from music21.pitch import Pitch as OraclePitch

from generators.brass.grade import GRADES, grade
from generators.brass.horn import HORNS
from generators.errors import BadRequest, Refusal
from generators.phrase.articulation import SETS
from generators.phrase.label import Label
from generators.phrase.note import Note, Rest
from generators.phrase.remark import Advice, Shortened
from generators.phrase.study import Strain, Study
from generators.proof.prove import ERROR, prove
from generators.studies.arpeggios import CHORD_PATTERNS, ArpeggiosRequest
from generators.studies.catalogue import make
from generators.studies.kit.climb import RHYTHMS, Pattern
from generators.studies.kit.fit import needed
from generators.studies.kit.rungs import chord
from generators.studies.scales import SCALE_PATTERNS, ScalesRequest
from generators.theory.key import all_keys, parse_key
from generators.theory.pitch import Pitch
from generators.theory.scales import CHORDS, SCALES
from tests.studies.phrasing import LAWS
from tests.studies.requests import studies

Asked = tuple[Any, Study]
Timed = list[tuple[Fraction, Note[Pitch]]]
CLIMBS = studies("scales") | studies("arpeggios")
ORACLE_SCALES = {
    "major": scale.MajorScale,
    "natural-minor": scale.MinorScale,
    "harmonic-minor": scale.HarmonicMinorScale,
    "melodic-minor": scale.MelodicMinorScale,
    "dorian": scale.DorianScale,
    "phrygian": scale.PhrygianScale,
    "lydian": scale.LydianScale,
    "mixolydian": scale.MixolydianScale,
    "locrian": scale.LocrianScale,
    "whole-tone": scale.WholeToneScale,
    "chromatic": scale.ChromaticScale,
}
ORACLE_CHORDS = {
    "major": "",
    "minor": "m",
    "augmented": "aug",
    "diminished": "dim",
    "dominant-seventh": "7",
    "major-seventh": "maj7",
    "minor-seventh": "m7",
    "half-diminished": "m7b5",
    "diminished-seventh": "dim7",
}
KEYLESS = ("chromatic", "whole-tone")
# By hand: slots in a group; pairs of first and last slot under a slur; slots tongued short; the mark on all others; syllables.
BY_HAND: dict[str, tuple[int, list[tuple[int, int]], list[int], str, str]] = {
    "tongued": (1, [], [], "", ""),
    "tenuto": (1, [], [], "tenuto", ""),
    "staccato": (1, [], [], "staccato", ""),
    "accented": (1, [], [], "accent", ""),
    "slurred-pairs": (4, [(0, 1), (2, 3)], [], "", ""),
    "slur-two-tongue-two": (4, [(0, 1)], [2, 3], "", ""),
    "tongue-two-slur-two": (4, [(2, 3)], [0, 1], "", ""),
    "slur-three-tongue-one": (4, [(0, 2)], [3], "", ""),
    "tongue-one-slur-three": (4, [(1, 3)], [0], "", ""),
    "middle-pair-slurred": (4, [(1, 2)], [0, 3], "", ""),
    "slur-two-tongue-one": (3, [(0, 1)], [2], "", ""),
    "tongue-one-slur-two": (3, [(1, 2)], [0], "", ""),
    "double": (2, [], [], "", "tk"),
    "triple": (3, [], [], "", "ttk"),
    "k-tongue": (1, [], [], "", "k"),
}


def ways(strain: Strain) -> Iterator[Timed]:
    """Yield the ways of a strain, up and down, each note with its onset from the start of the strain."""
    way: Timed = []
    now = Fraction(0)
    for event in strain.music:
        if isinstance(event, Note):
            way.append((now, event))
        now += event.length
        if isinstance(event, Rest):
            if way:
                yield way
            way = []


def in_the_chord(way: Timed, strain: Strain) -> Timed:
    """Return a way up to its last root, without the notes by which a chord on another degree is led home from there."""
    root = strain.label.root or (strain.key.degree(0) if strain.label.scale == "minor seventh" else None)
    if not root or way[-1][1] is not strain.notes[-1]:
        return way
    return way[: max(i for i, (_, note) in enumerate(way) if note.pitch.name[:-1] == root.name[:-1]) + 1]


def oracle(name: str) -> OraclePitch:
    """Return a pitch name in music21's spelling."""
    return OraclePitch(name.replace("b", "-"))


def by_class(pitches: list[OraclePitch]) -> dict[int, str]:
    """Return the names of music21's pitches by pitch class."""
    return {pitch.pitchClass: pitch.name.replace("-", "b") for pitch in pitches}


def classes(notes: list[Pitch]) -> set[int]:
    """Return the pitch classes of some notes."""
    return {pitch.midi % 12 for pitch in notes}


@pytest.mark.parametrize("kind", SCALES)
def test_scales_are_music21s(kind: str) -> None:
    """On every tonic a scale holds the pitch classes of music21's, and its spelling unless it belongs to no key."""
    mode = SCALES[kind].mode if SCALES[kind].mode in ("major", "minor") else "major"
    for key in all_keys(mode):
        strain = make(ScalesRequest(keys=(key.name,), kind=kind, octaves="1", high="C6")).strains[0]
        up, down = ([note.pitch for _, note in way] for way in ways(strain))
        theirs = ORACLE_SCALES[kind](oracle(strain.notes[0].pitch.name[:-1]))
        rising = {
            p.pitchClass: p.name.replace("-", "b") for p in theirs.getPitches("C4", "C6", direction=scale.Direction.ASCENDING)
        }
        falling = {
            p.pitchClass: p.name.replace("-", "b") for p in theirs.getPitches("C4", "C6", direction=scale.Direction.DESCENDING)
        }

        assert set(rising) == classes(up)
        assert set(falling) == classes([p for p in down if p.midi >= down[-1].midi])
        if kind not in KEYLESS:
            assert [rising[p.midi % 12] for p in up] == [p.name[:-1] for p in up]


@pytest.mark.parametrize("kind", CHORDS)
def test_chords_are_music21s(kind: str) -> None:
    """On every tonic an arpeggio holds the pitch classes of music21's chord, spelled alike."""
    mode = CHORDS[kind].mode or "major"
    for key in all_keys(mode):
        strain = make(ArpeggiosRequest(keys=(key.name,), kind=kind, high="C6")).strains[0]
        notes = [note for way in ways(strain) for _, note in in_the_chord(way, strain)]
        theirs = harmony.ChordSymbol(notes[0].pitch.name[:-1].replace("b", "-") + ORACLE_CHORDS[kind])

        assert {p.pitchClass for p in theirs.pitches} == classes([note.pitch for note in notes])
        if kind != "diminished-seventh":
            assert {p.name.replace("-", "b") for p in theirs.pitches} == {note.pitch.name[:-1] for note in notes}


@LAWS
@given(CLIMBS)
def test_no_double_accidental_without_need(asked: Asked) -> None:
    """A double sharp stands only where the signature already has the sharp, a double flat only where it has the flat."""
    _, study = asked
    for strain in study.strains:
        doubles = [note.pitch for note in strain.notes if abs(note.pitch.alter) == 2]

        assert all(strain.key.alteration(pitch.step) * 2 == pitch.alter for pitch in doubles)


@LAWS
@given(studies("scales", kind="melodic-minor"))
def test_melodic_minor_has_no_augmented_second(asked: Asked) -> None:
    """In melodic minor no step is wider than a whole tone, in any pattern."""
    _, study = asked
    for strain in study.strains:
        steps = [(a.pitch, b.pitch) for a, b in pairwise(strain.notes) if abs(a.pitch.place - b.pitch.place) == 1]

        assert [] == [(a.name, b.name) for a, b in steps if abs(a.midi - b.midi) > 2]


@LAWS
@given(CLIMBS)
def test_starts_and_ends_at_home(asked: Asked) -> None:
    """A strain starts on its root and ends on its tonic, on the third beat or the first, on a note of two beats or more."""
    _, study = asked
    for strain in study.strains:
        *_, last = ways(strain)
        root = strain.label.root or strain.notes[-1].pitch

        assert strain.label.key is not None
        assert strain.label.key.tonic == strain.notes[-1].pitch.name[:-1]
        assert root.name[:-1] == strain.notes[0].pitch.name[:-1]
        assert 0 == last[-1][0] % Fraction(1, 2)
        assert Fraction(1, 2) <= last[-1][1].length


@LAWS
@given(CLIMBS)
def test_ways_land_on_strong_beats(asked: Asked) -> None:
    """Every way lands on a strong beat, where a breath is taken; nothing is tied, no pitch comes twice but a goal."""
    request, study = asked
    for strain in study.strains:
        for way in ways(strain):
            line = [note.pitch for _, note in in_the_chord(way, strain)]
            struck = line[:-1] if pattern_of(request, study).full else line

            assert 0 == way[-1][0] % Fraction(1, 2)
            assert way[-1][1].breath
            assert not any(note.tie for _, note in way)
            assert [] == [a.name for a, b in pairwise(struck) if a.midi == b.midi]


@LAWS
@given(CLIMBS)
def test_articulation_is_the_set(asked: Asked) -> None:
    """Slurs, dots and syllables are those of the set, begun anew at every pulse, as a list made by hand has them."""
    request, study = asked
    for strain in study.strains:
        for way in ways(strain):
            name, whole = articulation(study), in_the_chord(way, strain)
            run = whole[:-1]
            again = len(whole) == len(way) and whole[-1][1].pitch.midi == run[-1][1].pitch.midi
            heard = way[: len(way) - again] if name == "slurred" else run
            opened = [i for i, (_, note) in enumerate(heard) if note.slur_open]
            closed = [i for i, (_, note) in enumerate(heard) if note.slur_close]
            if name == "slurred":
                assert ([0], [len(heard) - 1]) == (opened, closed)
                continue
            expected = by_hand(run, name, rhythm(request, name, strain))

            assert expected == list(zip(opened, closed, strict=True))
            told = [marks(name, slot) for slot in slots(run, name, rhythm(request, name, strain))]
            if places(run, rhythm(request, name, strain))[0][0] < 0:
                told[0] = plain(name)
            assert told == [(note.articulations, note.syllable) for _, note in run]


def articulation(study: Study) -> str:
    """Return the set that the title of a study names; a beginner's that names none is tongued."""
    return next((row.name for row in SETS.values() if row.words == study.what.split(", ")[-1]), "tongued")


def rhythm(request: Any, name: str, strain: Strain) -> str:
    """Return the rhythm that a strain is told by, the one a request names, or what its pattern and set bring along."""
    if (told := strain.label.detail.split(", ")[-1]) in RHYTHMS:
        return told
    pattern = (SCALE_PATTERNS | CHORD_PATTERNS)[request.pattern or "rolling"]
    threes = len(pattern.cell) == 3 or name in ("slur-two-tongue-one", "tongue-one-slur-two", "triple")
    return request.rhythm.replace("turning", "") or ("triplets" if threes else "eighths")


def places(way: Timed, name: str) -> list[tuple[int, int]]:
    """Return pulse and slot of each note; a dotted pair counts as two even notes.

    Pulses are counted from the first note, or the one after a longer one, if that begins on a beat; else from the bar line.
    """
    unit, pulse, lean = RHYTHMS[name].unit, RHYTHMS[name].pulse, RHYTHMS[name].lean
    start = way[1][0] if way[0][1].length > unit and not lean and len(way) > 1 else way[0][0]
    origin = start if start % Fraction(1, 4) == 0 else 0
    return [(int((now - origin) // pulse), int((now - origin) % pulse / unit)) for now, _ in way]


def slots(way: Timed, name: str, beat: str) -> list[int]:
    """Return the slot of the set that each note falls on."""
    return [slot % BY_HAND[name][0] for _, slot in places(way, beat)]


def by_hand(way: Timed, name: str, beat: str) -> list[tuple[int, int]]:
    """Return the slurs that a set makes of a way."""
    size, pairs, _, _, _ = BY_HAND[name]
    groups: dict[tuple[int, int, int], list[int]] = {}
    for i, (pulse, slot) in enumerate(places(way, beat)):
        for first, last in pairs:
            if first <= slot % size <= last:
                groups.setdefault((pulse, slot // size, first), []).append(i)
    return [(members[0], members[-1]) for members in groups.values() if len(members) > 1]


def marks(name: str, slot: int) -> tuple[tuple[str, ...], str]:
    """Return the articulation and the syllable of a slot."""
    _, _, short, mark, syllables = BY_HAND[name]
    mark = "staccato" if slot in short else mark
    return (mark,) if mark else (), syllables[slot] if syllables else ""


def plain(name: str) -> tuple[tuple[str, ...], str]:
    """Return the articulation and the syllable of a longer note before the first group."""
    _, _, _, mark, syllables = BY_HAND[name]
    return (mark,) if mark else (), syllables[:1]


def test_every_set_is_written_by_hand() -> None:
    """No set lacks its answer in this file."""
    assert set(SETS) == {"slurred", *BY_HAND}


@LAWS
@given(CLIMBS)
def test_even_notes(asked: Asked) -> None:
    """All notes before the long one, a half at the least, have the value of the rhythm; one of them, or both, is longer."""
    request, study = asked
    for strain in study.strains:
        row = RHYTHMS[rhythm(request, articulation(study), strain)]
        values = {row.unit * Fraction(3, 2), row.unit / 2} if row.lean else {row.unit}
        for way in ways(strain):
            *run, last = in_the_chord(way, strain)
            other = [note.length for _, note in run if note.length not in values]

            assert len(other) <= (2 if len(run) == 2 else 1)
            assert all(row.unit < length <= max(Fraction(1, 2), 2 * row.unit) for length in other)
            assert last[1].length > row.unit or last[1].length == row.unit == Fraction(1, 2)


@LAWS
@given(
    studies("arpeggios") | studies("arpeggios", kind="dominant-seventh"), st.sampled_from(["broken", "inversions", "crossed"])
)
def test_the_cells_of_a_chord_are_even(asked: Asked, pattern: str) -> None:
    """Within a way of a chord in cells all notes but the goal have one length."""
    request, _ = asked
    tried = replace(request, pattern=pattern, articulation="", rhythm="")
    if refused(tried):
        return
    for strain in make(tried).strains:
        for way in ways(strain):
            lengths = [note.length for _, note in in_the_chord(way, strain)[:-1]]

            assert 1 == len(set(lengths))


@pytest.mark.parametrize(
    ("keys", "kind", "pattern", "high", "sounded"),
    [
        (("Eb", "Cm", "Ab"), "", "inversions", "C6", [13, 13, 13]),
        (("F", "Bb", "G"), "dominant-seventh", "broken", "", [13, 10, 13]),
        (("C",), "", "broken", "G5", [10]),
        (("C",), "", "broken", "C5", [7]),
        (("F",), "", "inversions", "A5", [9]),
    ],
)
def test_a_chord_turns_where_whole_cells_come_to(
    keys: tuple[str, ...], kind: str, pattern: str, high: str, sounded: list[int]
) -> None:
    """A way up has all whole cells where there is room, the last to its end, else those that end below its goal, or two."""
    study = make(ArpeggiosRequest(keys=keys, kind=kind, pattern=pattern, high=high))

    assert sounded == [len(next(ways(strain))) for strain in study.strains]


@LAWS
@given(CLIMBS)
def test_a_pattern_is_itself(asked: Asked) -> None:
    """Every note is the next of its pattern from first to last, up, at the top, down and home: none is put in or left out."""
    request, study = asked
    pattern = pattern_of(request, study)
    for strain in study.strains:
        lines = [rungs(in_the_chord(way, strain), strain, request) for way in ways(strain)]
        if not pattern.stops:
            assert [lines[0]] == lines
            assert runs_home(lines[0][lines[0].index(max(lines[0])) :])
            assert lines[0][: max(lines[0])] == [*range(max(lines[0]))]
            continue
        up, down = lines
        if pattern.cell == (0,):
            assert [*range(up[-1] + 1)] == up
            assert up[-1] - down[0] in (0, 1)
            assert runs_home([up[-1], *down] if down[0] < up[-1] else down)
        else:
            assert is_climb(up, pattern.cell)
            assert is_climb([up[-1] - rung for rung in down], pattern.cell)


def pattern_of(request: Any, study: Study) -> Pattern:
    """Return the pattern that was asked for, or the one that the title names."""
    named = next((row for row in CHORD_PATTERNS.values() if row.name in study.what.split(", ")), None)
    return (
        SCALE_PATTERNS[request.pattern]
        if isinstance(request, ScalesRequest)
        else named or CHORD_PATTERNS[request.pattern or "straight"]
    )


def rungs(way: Timed, strain: Strain, request: Any) -> list[int]:
    """Return the notes of a way as rungs of its scale or chord, counted from the root, by pitch alone."""
    table = SCALES if isinstance(request, ScalesRequest) else CHORDS
    root, degrees = strain.notes[0].pitch, len(table[request.kind or "major"].intervals)
    if request.kind in KEYLESS:
        return [(note.pitch.midi - root.midi) * degrees // 12 for _, note in way]
    if table is SCALES:
        return [note.pitch.place - root.place for _, note in way]
    steps = sorted({(note.pitch.midi - root.midi) % 12 for one in ways(strain) for _, note in in_the_chord(one, strain)})
    return [
        degrees * ((note.pitch.midi - root.midi) // 12) + steps.index((note.pitch.midi - root.midi) % 12) for _, note in way
    ]


def runs_home(line: list[int]) -> bool:
    """Tell whether a line falls rung by rung from its first to its lowest note and rises again to the root."""
    return [*range(line[0], min(line), -1), *range(min(line), 1)] == line


def is_climb(line: list[int], cell: tuple[int, ...]) -> bool:
    """Tell whether a line is a cell on the root, on the next rung and so on, and a long note.

    That begins the next one, or is the next over the end of the last, or the end of the last of all positions once more.
    """
    whole = len(line) // len(cell)
    cells = [step + rung for step in range(whole) for rung in cell]
    ends = [cells[-1] + 1] * (cell[-1] == max(cell))
    return line in [[*cells, end] for end in (whole, *ends)] or (line == [*cells, cells[-1]] and whole == max(cell) == 3)


@pytest.mark.parametrize("keys", [("C", "Cm", "Ab"), ("Ab",), ("A", "Bb"), ("F#m", "B")])
def test_every_position_of_a_chord_is_climbed(keys: tuple[str, ...]) -> None:
    """A climb by inversions that has the room goes through all three positions from the lowest."""
    study = make(ArpeggiosRequest(keys=keys, pattern="inversions", high="C6"))
    for strain in study.strains:
        line = [note for _, note in next(ways(strain))]
        lowest = [note.pitch for note in line[:-1:4]]

        assert lowest[:3] == [note.pitch for note in line[:3]]


@LAWS
@given(studies("arpeggios") | studies("arpeggios", kind="dominant-seventh"))
def test_the_highest_note_of_a_way_up_is_its_last(asked: Asked) -> None:
    """A chord that stops on the way up has come to its top there, but for two or all cells in a range that has no more."""
    request, study = asked
    for strain in study.strains:
        up = [note.pitch.midi for _, note in next(ways(strain))]

        pattern = pattern_of(request, study)
        few = pattern.full and len(up) // len(pattern.cell) in (2, pattern.full)
        assert not pattern.stops or few or up[-1] == max(up)


@pytest.mark.parametrize("pattern", ["rolling", "crossed", "straight"])
@pytest.mark.parametrize("key", ["Bbm", "F#m", "Em"])
def test_a_minor_seventh_falls(key: str, pattern: str) -> None:
    """From its last root it climbs once more; its seventh falls to the third of the chord a fourth above, whose root ends."""
    strain = make(ArpeggiosRequest(keys=(key,), kind="minor-seventh", pattern=pattern, octaves="1")).strains[0]
    root, *_, seventh, third, home = [note.pitch.midi for note in strain.notes[-6:]]

    assert [0, 10, 9, 5] == [midi - root for midi in (root, seventh, third, home)]
    assert 0 == sum(event.length for event in strain.music) % strain.meter.bar


@LAWS
@given(studies("arpeggios", kind="dominant-seventh"))
def test_the_way_home_is_sung(asked: Asked) -> None:
    """A dominant goes home under one slur, from its highest note ever softer; what is spoken goes home as the rest does."""
    _, study = asked
    for strain in study.strains:
        *_, way = ways(strain)
        home, name = [note for _, note in way[len(in_the_chord(way, strain)) - 1 :]], articulation(study)
        if name == "slurred" or strain.label.root is None or len(home) < 3:
            continue
        opened = [i for i, note in enumerate(home) if note.slur_open]
        if any(note.syllable for note in home):
            assert [marks(name, i % BY_HAND[name][0])[1] for i in range(len(home) - 1)] == [note.syllable for note in home[:-1]]
            continue

        assert [0] == opened
        assert [len(home) - 1] == [i for i, note in enumerate(home) if note.slur_close]
        assert {()} == {note.articulations for note in home[1:]}
        assert [max(home[:-1], key=lambda note: note.pitch.midi)] == [note for note in home if note.hairpin == ">"]
        assert "mp" == home[-1].dynamic


@pytest.mark.parametrize("record", [ScalesRequest, ArpeggiosRequest])
@pytest.mark.parametrize(("horn", "jumps"), [("flugelhorn-4", 1), ("trumpet", 1), ("trombone", 1)])
def test_all_keys_in_a_row(record: type[Any], horn: str, jumps: int) -> None:
    """Twelve keys rest two bars each, and the page says from which on they lie higher; of fewer keys it says nothing."""
    study, few = (make(record(horn=horn, keys=keys, pattern="straight", octaves="1")) for keys in (("all",), ("G", "Gb")))
    told = [remark.text for remark in study.remarks if isinstance(remark, Advice)]

    assert {2} == {
        strain.music[-1].length + (strain.music[-2].length if isinstance(strain.music[-2], Rest) else 0)
        for strain in study.strains
    }
    assert jumps == len([text for text in told if "on it starts higher, so as not to go below" in text])
    assert not any(isinstance(remark, Advice) for remark in few.remarks)


@pytest.mark.parametrize(("octaves", "high"), [("1", 12), ("2", 24)])
@pytest.mark.parametrize("record", [ScalesRequest, ArpeggiosRequest])
def test_octaves(record: type[Any], octaves: str, high: int) -> None:
    """So many octaves are climbed exactly where the range has them: the way up ends on that tonic."""
    study = make(record(keys=("G", "Ab", "A"), pattern="straight", octaves=octaves, low="G3", high="C6"))
    tops = [next(ways(s))[-1][1].pitch.midi - s.notes[0].pitch.midi for s in study.strains]

    assert [high] * 3 == tops
    assert () == study.remarks


def test_octaves_out_of_reach() -> None:
    """Three octaves on a horn that has not got them: as far as it goes, with a remark for each key."""
    study = make(ScalesRequest(keys=("G", "C"), octaves="3", high="C6"))

    tops = [max(note.pitch for note in strain.notes) for strain in study.strains]

    told = [Shortened(s.label, top, ("range",)) for s, top in zip(study.strains, tops, strict=True)]
    assert told == list(study.remarks)


@pytest.mark.parametrize("record", [ScalesRequest, ArpeggiosRequest])
@pytest.mark.parametrize("named", HORNS)
def test_keys_that_nobody_named_all_go_as_far(record: type[Any], named: str) -> None:
    """Where no key is asked for, no scale or chord of them is shorter than an octave on any horn."""
    study = make(record(horn=named))

    assert {True} == {max(n.pitch.midi for n in s.notes) - s.notes[0].pitch.midi >= 12 for s in study.strains}
    assert [] == [remark for remark in study.remarks if isinstance(remark, Shortened)]


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        (ScalesRequest(grade="5", keys=("A", "Db")), ("range",)),
        (ScalesRequest(keys=("C",), octaves="2", rhythm="quarters", tempo=60, breath=10, high="D6"), ("breath",)),
        (
            ScalesRequest(keys=("C",), octaves="3", rhythm="quarters", tempo=60, breath=10, high="C6"),
            ("range", "breath"),
        ),
    ],
)
def test_a_climb_tells_why_it_is_short(asked: ScalesRequest, why: tuple[str, ...]) -> None:
    """What was in the way of a longer climb is told, and nothing that was not: the range, the breath or both."""
    assert [why] == [remark.why for remark in make(asked).remarks if isinstance(remark, Shortened)]


@pytest.mark.parametrize("pattern", [name for name, row in SCALE_PATTERNS.items() if not row.run])
@pytest.mark.parametrize("high", ["G5", "C6", "D6"])
def test_all_keys_end_alike(pattern: str, high: str) -> None:
    """Whatever room a key has past its goal, its cells come home over the same steps, and none but a turn sounds it before."""
    rhythm = "triplets" if pattern == "threes" else "sixteenths" if pattern in ("turns", "fours") else "eighths"
    study = make(ScalesRequest(keys=("all",), pattern=pattern, rhythm=rhythm, articulation="tongued", high=high))
    size = len(SCALE_PATTERNS[pattern].cell)
    for number in (0, 1):
        lines = [[note.pitch.place for _, note in list(ways(strain))[number]] for strain in study.strains]

        assert 1 == len({tuple(place - line[-1] for place in line[-size - 1 :]) for line in lines})
        assert pattern == "turns" or all(line[-1] not in line[-size - 1 : -1] for line in lines)


@pytest.mark.parametrize("pattern", [name for name, row in SCALE_PATTERNS.items() if not row.run])
@pytest.mark.parametrize("high", ["F5", "G5", "A5", "C6"])
def test_cells_start_on_the_pulse(pattern: str, high: str) -> None:
    """The cell moves up step by step; each begins on its place in the pulse and the first note is not lengthened."""
    cell = SCALE_PATTERNS[pattern].cell
    study = make(ScalesRequest(keys=("C",), pattern=pattern, articulation="tongued", high=high))
    up = next(ways(study.strains[0]))
    line = [note.pitch.place - up[0][1].pitch.place for _, note in up]
    unit = RHYTHMS["triplets" if len(cell) == 3 else "eighths"].unit

    assert line[: 2 * len(cell)] == [*cell, *(1 + step for step in cell)]
    assert [0] * 2 == [now % (len(cell) * unit) for now, _ in up[: 2 * len(cell) : len(cell)]]


@LAWS
@given(st.sampled_from(sorted(SCALE_PATTERNS)), st.sampled_from(sorted(SETS)), st.sampled_from(sorted(RHYTHMS)))
def test_what_goes_together(pattern: str, name: str, beat: str) -> None:
    """A pattern, a set and a rhythm go together when the pulse holds whole groups of both; else a rhythm is named that does."""
    size, groups = len(SCALE_PATTERNS[pattern].cell), 1 if name == "slurred" else BY_HAND[name][0]
    slots_of_beat = {"halves": 4, "quarters": 4, "eighths": 4, "dotted": 4, "reversed": 4, "triplets": 3, "sixteenths": 4}[beat]
    together = slots_of_beat % size == 0 and slots_of_beat % groups == 0
    request = ScalesRequest(keys=("C",), pattern=pattern, articulation=name, rhythm=beat)

    refusal = refused(request)

    assert together == (refusal is None)
    if refusal:
        names = [field for field, _ in refusal.would_do]

        assert names
        for values in product(*(allowed for _, allowed in refusal.would_do)):
            assert refused(replace(request, **dict(zip(names, values, strict=True)))) is None


@pytest.mark.parametrize("grade", ["", "1", "2", "4"])
@pytest.mark.parametrize("kind", [ScalesRequest, ArpeggiosRequest])
def test_rhythms_turn_from_key_to_key(kind: type[Any], grade: str) -> None:
    """Every key has the next of the rhythms that the player may be given, told by its label; one alone does not turn."""
    study = make(kind(rhythm="turning", articulation="tongued", pattern="straight", grade=grade, octaves="1"))
    told = [strain.label.detail for strain in study.strains]
    known = {"1": ["eighths"], "2": ["eighths", "triplets"]}.get(
        grade, ["eighths", "dotted", "reversed", "triplets", "sixteenths"]
    )

    known = known[: len(told)]
    alone = len(known) == 1

    assert ([""] * len(told) if alone else [known[i % len(known)] for i in range(len(told))]) == told
    assert alone != ("turning rhythms" in study.what)


def test_a_reversed_pair_is_short_and_long() -> None:
    """On every beat of a run in the reversed rhythm lie a sixteenth and a dotted eighth."""
    study = make(ScalesRequest(keys=("F",), rhythm="reversed", octaves="1"))
    up = next(ways(study.strains[0]))
    pairs = [note.length for now, note in up[:-1] if now >= Fraction(1, 4)]

    assert [Fraction(1, 16), Fraction(3, 16)] * 3 == pairs


def refused(request: Any) -> Refusal | None:
    """Return the refusal of a request, None for a study."""
    try:
        make(request)
    except BadRequest as error:
        return error.refusal
    return None


def test_a_leap_past_the_grade_leads_to_the_straight_pattern() -> None:
    """A pattern that leaps too far for a grade is refused with the pattern that would do, and no other limits are tried."""
    request = ArpeggiosRequest(grade="1", high="G5", keys=("C",), pattern="inversions", octaves="wide")
    refusal = refused(request)

    assert refusal is not None
    assert (("pattern", ("straight",)),) == refusal.would_do
    assert refused(replace(request, pattern="straight")) is None


@pytest.mark.parametrize("record", [ScalesRequest, ArpeggiosRequest])
def test_a_grown_player_is_quicker_than_a_beginner(record: type[Any]) -> None:
    """By itself a climb has no fewer notes a second in any grade than in the one before, and at the end of them many more."""
    studies_ = [make(record(grade=grade)) for grade in [*GRADES, ""]]
    tempi = [max(study.tempo, study.goal) / min(note.length for note in study.strains[0].notes[1:3]) for study in studies_]

    assert sorted(tempi) == tempi
    assert tempi[-1] > 1.5 * tempi[0]


@LAWS
@given(CLIMBS)
def test_landings(asked: Asked) -> None:
    """Where a set has syllables each way lands on a plain t, marked as the landing it is; nothing else is one."""
    _, study = asked
    spoken = bool(next(row for row in SETS.values() if row.words == study.what.split(", ")[-1]).syllables)
    for strain in study.strains:
        ends = [way[-1][1] for way in ways(strain)]
        landings = [note for note in strain.notes if note.role == "landing"]

        assert landings == (ends if spoken else [])
        assert {"t"} >= {note.syllable for note in landings}


def test_labels_and_titles_are_values() -> None:
    """A strain says its key, its scale and the concert key apart; the study its name, what is done, and the two aims."""
    study = make(ScalesRequest(keys=("Dm",), concert=True, kind="harmonic-minor", pattern="thirds", articulation="tongued"))
    key, concert = parse_key("Em"), parse_key("Dm")

    assert [Label(key=key, concert=concert, scale="harmonic minor")] == [strain.label for strain in study.strains]
    assert ("Scales", "harmonic minor, thirds, tongued") == (study.name, study.what)
    assert SCALE_PATTERNS["thirds"].aim == study.aim
    assert "Listen too for starts that are all alike." == study.also


SPELLED = [
    (
        ScalesRequest(keys=("C",), kind="chromatic", octaves="1"),
        "C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4 C5",
        "C5 B4 Bb4 A4 Ab4 G4 Gb4 F4 E4 Eb4 D4 Db4 C4",
    ),
    (
        ScalesRequest(keys=("Eb",), kind="chromatic", octaves="1"),
        "Eb4 E4 F4 F#4 G4 G#4 A4 A#4 B4 C5 C#5 D5 Eb5",
        "Eb5 D5 Db5 C5 B4 Bb4 A4 Ab4 G4 Gb4 F4 E4 Eb4",
    ),
    (ScalesRequest(keys=("A",), kind="melodic-minor", octaves="1"), "A3 B3 C4 D4 E4 F#4 G#4 A4", "A4 G4 F4 E4 D4 C4 B3 A3"),
    (
        ScalesRequest(keys=("G#m",), kind="harmonic-minor", octaves="1"),
        "G#3 A#3 B3 C#4 D#4 E4 F##4 G#4",
        "G#4 F##4 E4 D#4 C#4 B3 A#3 G#3",
    ),
    (ArpeggiosRequest(keys=("Bb",), pattern="straight"), "Bb3 D4 F4 Bb4", "Bb4 F4 D4 Bb3"),
    (
        ArpeggiosRequest(keys=("Cm",), kind="diminished-seventh", pattern="straight", octaves="1"),
        "B3 D4 F4 Ab4 B4",
        "B4 Ab4 F4 D4 B3 C4",
    ),
    (
        ArpeggiosRequest(keys=("F",), kind="dominant-seventh", pattern="straight", octaves="1"),
        "C4 E4 G4 Bb4 C5",
        "C5 Bb4 G4 E4 C4 E4 G4 Bb4 A4 F4",
    ),
]


@pytest.mark.parametrize(("request_", "up", "down"), SPELLED)
def test_spelled_by_direction(request_: Any, up: str, down: str) -> None:
    """Textbook answers, note by note, up and down; the top may be played once more before the way down."""
    rising, falling = ([note.pitch.name for _, note in way] for way in ways(make(request_).strains[0]))

    assert up.split() == rising
    assert falling in (down.split(), down.split()[1:])


MINOR_WAYS = [
    ("thirds", "A3 C4 B3 D4 C4 E4 D4 F#4 E4 G#4 F#4 A4", "A3"),
    ("turns", "A3 B3 A3 G#3 B3 C4 B3 A3", "A3"),
    ("fours", "A3 B3 C4 D4 B3 C4 D4 E4 C4 D4 E4 F#4 D4 E4 F#4 G#4", "A3"),
]


@pytest.mark.parametrize(("pattern", "start", "home"), MINOR_WAYS)
def test_minor_patterns(pattern: str, start: str, home: str) -> None:
    """In minor a pattern rises with raised sixth and seventh, falls with natural ones, and keeps the two apart."""
    up, down = (
        [note.pitch.name for _, note in way] for way in ways(make(ScalesRequest(keys=("Am",), pattern=pattern)).strains[0])
    )
    mixed = [n for n in range(len(down) - 3) if {"G", "G#"} <= {name[:-1] for name in down[n : n + 3]}]

    assert start.split() == up[: len(start.split())]
    assert home == down[-1]
    assert [] == mixed


@pytest.mark.parametrize("key", [key.name for key in all_keys()])
def test_as_wide_as_the_range(key: str) -> None:
    """A wide scale goes from tonic to tonic: two octaves where the range has them, the lowest one where it has not."""
    strain = make(ScalesRequest(keys=(key,), low="F#3", high="C6")).strains[0]
    start, top = strain.notes[0].pitch.midi, max(note.pitch.midi for note in strain.notes)

    assert 54 <= start < 54 + 12
    assert top == start + 12 * ((84 - start) // 12)


@pytest.mark.parametrize("name", CHORDS)
def test_rungs_of_a_chord(name: str) -> None:
    """A rung an octave higher is the same letter an octave up."""
    rungs = chord(name, parse_key("C"))

    assert rungs.pitch(0, octave=4).midi + 12 == rungs.pitch(rungs.count, octave=4).midi


def test_tables_have_aims() -> None:
    """Every pattern has an aim of its own and every set a lesson."""
    aims = [row.aim for row in (*SCALE_PATTERNS.values(), *CHORD_PATTERNS.values())]

    assert len(aims) == len(set(aims))
    assert all(aim.startswith("Listen") and aim.endswith(".") for aim in aims)
    assert all(row.lesson for row in SETS.values())


@pytest.mark.parametrize("low", ["Eb4", "C4", "F#3"])
@pytest.mark.parametrize("pattern", CHORD_PATTERNS)
def test_a_seventh_led_home_fills_its_bars(low: str, pattern: str) -> None:
    """However long the root is on which a seventh ends, what leads home from it ends with a whole bar."""
    study = make(ArpeggiosRequest(low=low, kind="dominant-seventh", pattern=pattern))

    assert [] == [finding for finding in prove(study) if finding.severity == ERROR]


@LAWS
@given(CLIMBS)
def test_a_climb_grows_to_its_tempo(asked: Asked) -> None:
    """Who names no tempo and is no beginner starts slower, by a step of four, at which the breath lasts; else it stays."""
    request, study = asked
    free = request.tempo is None and not grade(request.grade).beginner

    assert study.goal == 0 or (free and int(0.7 * study.goal) <= study.tempo < study.goal and study.tempo % 4 == 0)
    assert needed([strain.music for strain in study.strains], study.limits) <= study.tempo


def test_a_climb_from_92_to_132() -> None:
    """The usual thirds of a grown player grow from 92 to 132."""
    study = make(ScalesRequest(keys=("A", "Am"), pattern="thirds", high="C6"))

    assert (92, 132) == (study.tempo, study.goal)
