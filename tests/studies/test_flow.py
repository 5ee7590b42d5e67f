"""Flow: one line carried through keys, slurred from breath to breath."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.phrase.algebra import length
from generators.phrase.bars import Meter
from generators.phrase.in_key import in_key
from generators.phrase.label import Label
from generators.phrase.notation import degrees
from generators.phrase.note import Note
from generators.phrase.remark import Narrowed
from generators.phrase.study import Study
from generators.studies.catalogue import make
from generators.studies.flow.lines import FLOW_AIMS, FLOW_CLOSES, FLOW_COMPASSES, FLOW_LINES
from generators.studies.flow.study import FlowRequest, ordered
from generators.theory.key import Key, all_keys, parse_key
from generators.theory.pitch import parse_pitch
from tests.studies.phrasing import LAWS, heights, slurs, stretches, whole
from tests.studies.requests import studies

Asked = tuple[FlowRequest, Study]
MAJORS = tuple(key.name for key in all_keys("major"))
MINORS = tuple(key.name for key in all_keys("minor"))
each_line = pytest.mark.parametrize(
    ("shape", "compass"), [(shape, compass) for shape in FLOW_LINES for compass in FLOW_COMPASSES]
)
# How far below and above the tonic each compass may go, in scale steps.
REACH = {"octave": (-7, 7), "fifth": (-3, 5), "third": (-2, 3), "five-notes": (0, 4)}
# How the title tells each compass, widest first.
TOLD = {"octave": "to the octave", "fifth": "to the fifth", "third": "to the third", "five-notes": "in five notes"}


def rhythm(study: Study, place: int) -> list[Any]:
    """Return a strain without its pitches."""
    return [replace(e, pitch=0) if isinstance(e, Note) else e for e in study.strains[place].music]  # type: ignore[arg-type]


@LAWS
@given(studies("flow"))
def test_strains_are_transpositions(asked: Asked) -> None:
    """Strains in one mode are the same line note by note, each from its own tonic, all with the same marks."""
    _, study = asked
    for mode in ("major", "minor"):
        alike = [i for i, strain in enumerate(study.strains) if strain.key.mode == mode]
        for one, other in pairwise(alike):
            assert heights(study.strains[one]) == heights(study.strains[other])
            assert rhythm(study, one) == rhythm(study, other)


@LAWS
@given(studies("flow"))
def test_every_strain_comes_home(asked: Asked) -> None:
    """A strain ends on its tonic, on the first or third beat, on a note as long as any neighbour, and a bar of rest follows."""
    _, study = asked
    for strain in study.strains:
        last, before = strain.notes[-1], strain.notes[-2]
        start = length(strain.music[:-2]) % strain.meter.bar

        assert strain.key.tonic == last.pitch.name[:-1]
        assert start % strain.meter.strong == 0
        assert last.length >= before.length
        assert strain.music[-1].length == strain.meter.bar


@LAWS
@given(studies("flow", close="slurred") | studies("flow", close="none"))
def test_one_slur_a_phrase(asked: Asked) -> None:
    """From breath to breath there is one slur: only the first note of a phrase is tongued."""
    _, study = asked
    for strain in study.strains:
        for stretch in stretches(strain):
            assert whole(stretch) == slurs(stretch)
            assert [()] * len(stretch) == [note.articulations for note in stretch]


@LAWS
@given(studies("flow", close="tongued"))
def test_the_close_is_the_only_tongued_figure(asked: Asked) -> None:
    """With a tongued close the short notes are outside every slur, and all others under one."""
    _, study = asked
    for strain in study.strains:
        under = False
        for note in strain.notes[:-1]:
            under = (under or note.slur_open) and not (note.slur_close and not note.slur_open)

            slurred = under or note.slur_close

            assert not (slurred and note.articulations)
            assert slurred or note.articulations or note.breath


@LAWS
@given(studies("flow"))
def test_no_tongued_leap_past_an_octave(asked: Asked) -> None:
    """No tongued note inside a phrase is more than an octave from the one before it."""
    _, study = asked
    leaps = [
        abs(b.pitch.midi - a.pitch.midi)
        for strain in study.strains
        for stretch in stretches(strain)
        for a, b in pairwise(stretch)
    ]

    assert 12 >= max(leaps)


@LAWS
@given(studies("flow", order="given", concert=False))
def test_keys_as_given(asked: Asked) -> None:
    """The keys come in the order asked for, as often as asked for, each strain in its own."""
    request, study = asked
    if request.keys not in ((), ("all",)):
        assert list(request.keys) == [strain.key.name for strain in study.strains]
    assert [Label(key=strain.key) for strain in study.strains] == [strain.label for strain in study.strains]


@pytest.mark.parametrize(
    ("order", "answer"),
    [
        ("given", "C D Eb F G A Bb"),
        ("down", "C Bb A G F Eb D"),
        ("up", "C D Eb F G A Bb"),
        ("fourths", "C F Bb Eb A D G"),
    ],
)
def test_orders(order: str, answer: str) -> None:
    """From the first key on, the others fall or rise by half-steps or go round by fourths."""
    keys = tuple(map(parse_key, ("C", "D", "Eb", "F", "G", "A", "Bb")))

    assert answer.split() == [key.name for key in ordered(keys, order, 0)]


@LAWS
@given(st.permutations(MAJORS), st.integers(0, 99))
def test_shuffled(names: list[str], seed: int) -> None:
    """A shuffled order holds the same keys and is the same draw for the same seed."""
    keys = tuple(map(parse_key, names))

    assert sorted(names) == sorted(key.name for key in ordered(keys, "shuffled", seed))
    assert ordered(keys, "shuffled", seed) == ordered(keys, "shuffled", seed)


def test_shuffled_pinned() -> None:
    """The draw of one seed is the same on every machine."""
    keys = tuple(map(parse_key, ("C", "F", "Bb", "Eb", "G", "D")))

    assert ["G", "C", "F", "Bb", "Eb", "D"] == [key.name for key in ordered(keys, "shuffled", 7)]


@pytest.mark.parametrize("names", [MAJORS, MINORS], ids=["majors", "minors"])
@each_line
def test_narrowed_alike(shape: str, compass: str, names: tuple[str, ...]) -> None:
    """A range that one key finds too small narrows the line for all, says so, and stays inside."""
    study = make(FlowRequest(keys=names, shape=shape, compass=compass, low="C4", high="F#5"))
    pitches = [note.pitch.midi for note in study.notes]
    taken = next(name for name, words in TOLD.items() if study.what == f"{shape}, {words}")

    assert 1 == len({tuple(heights(strain)) for strain in study.strains})
    assert 60 <= min(pitches) <= max(pitches) <= 78
    named = {"octave": "an octave", "fifth": "a fifth", "third": "a third", "five-notes": "five notes"}
    narrowed = Narrowed(named[compass], named[taken], (parse_pitch("C4"), parse_pitch("F#5")))
    assert study.remarks == ((narrowed,) if taken != compass else ())


@each_line
def test_lines_stay_in_their_compass(shape: str, compass: str) -> None:
    """Every line lies within its compass, fills its bars, and ends on the tonic it began from or came down to."""
    meter, lines = FLOW_LINES[shape]
    line = degrees(lines[compass])
    indices = [note.pitch.index for note in line if isinstance(note, Note)]
    low, high = REACH[compass]

    assert low <= min(indices) <= max(indices) <= high
    assert 0 == length(line) % Meter(*meter).bar
    assert 0 == indices[-1]
    assert indices[-2] in (-1, 0, 1)


@each_line
def test_lines_are_lines(shape: str, compass: str) -> None:
    """A line never repeats a note unless it is tied, never leaps further than a sixth, and says where to breathe."""
    line = [note for note in degrees(FLOW_LINES[shape][1][compass]) if isinstance(note, Note)]
    repeats = [a for a, b in pairwise(line) if a.pitch == b.pitch and not a.tie]
    leaps = [abs(b.pitch.index - a.pitch.index) for a, b in pairwise(line)]

    assert [] == repeats
    assert 5 >= max(leaps)
    assert any(note.may_breathe for note in line)
    assert all(note.length >= Fraction(1, 2) for note in line if note.may_breathe or note.breath)


@each_line
def test_leading_notes(shape: str, compass: str) -> None:
    """In minor the last seventh degree before the end is the raised one, and no augmented second lies in the line."""
    line = [e.pitch for e in in_key(degrees(FLOW_LINES[shape][1][compass]), Key("A", 0, "minor"), 4) if isinstance(e, Note)]
    seconds = [(a.name, b.name) for a, b in pairwise(line) if abs(a.place - b.place) == 1 and abs(a.midi - b.midi) > 2]
    after_dominant = [b.alter for a, b in pairwise(line) if b.step == "G" and line.index(b) >= len(line) - 3]

    assert [] == seconds
    assert 0 not in after_dominant or line[-2].step == "B"


def test_tables_are_whole() -> None:
    """Every shape has a line for every compass, closes in its meter, and an aim of its own."""
    assert set(FLOW_LINES) == set(FLOW_AIMS)
    assert {shape: set(FLOW_COMPASSES) for shape in FLOW_LINES} == {
        shape: set(lines) for shape, (_, lines) in FLOW_LINES.items()
    }
    assert {meter for meter, _ in FLOW_LINES.values()} == set(FLOW_CLOSES)
    assert {"slurred", "tongued"} == {kind for closes in FLOW_CLOSES.values() for kind in closes}
    assert len(FLOW_AIMS) == len(set(FLOW_AIMS.values()))


@pytest.mark.parametrize(
    ("meter", "close"), [(meter, close) for meter, closes in FLOW_CLOSES.items() for ways in closes.values() for close in ways]
)
def test_closes_fill_bars(meter: tuple[int, int], close: str) -> None:
    """Every close fills whole bars, starts with a dynamic and ends on the tonic with a breath."""
    line = degrees(close)
    first, last = line[0], line[-1]

    assert 0 == length(line) % Meter(*meter).bar
    assert isinstance(first, Note)
    assert isinstance(last, Note)
    assert first.dynamic
    assert (0, True) == (last.pitch.index, last.breath)


MAKERS: list[Callable[[str], FlowRequest]] = [
    lambda key: FlowRequest(keys=(key,), shape="dip", compass="third", close="none"),
    lambda key: FlowRequest(keys=(key,), shape="wave", compass="fifth", close="none"),
]


@pytest.mark.parametrize(
    ("maker", "key", "answer"),
    [
        (MAKERS[0], "G", "G4 F#4 G4 E4 F#4 G4 A4 B4 A4 G4"),
        (MAKERS[0], "Gm", "G4 F#4 G4 E4 F#4 G4 A4 Bb4 A4 G4"),
        (MAKERS[1], "Am", "A4 B4 C5 D5 E5 C5 A4 F4 E4 B4 G#4 A4"),
    ],
)
def test_written_out(maker: Callable[[str], FlowRequest], key: str, answer: str) -> None:
    """A few lines stand here note by note."""
    study = make(maker(key))

    assert answer.split() == [note.pitch.name for note in study.notes]
