"""Fingers: cells slurred four times, then tongued, climbing; and cells over every change of valves."""

from fractions import Fraction
from itertools import combinations, pairwise, permutations

import pytest
from hypothesis import given

from generators.brass.fingering import fingerings, usual
from generators.brass.grade import grade
from generators.brass.horn import Horn, horn
from generators.brass.tube import RARE_PARTIALS, partial_midi
from generators.errors import BadRequest
from generators.phrase.label import Label
from generators.phrase.note import Note, Rest
from generators.phrase.remark import Advice, Fewer
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import make
from generators.studies.fingers.cells import change, chromatic_cell
from generators.studies.fingers.study import FingersRequest
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch
from tests.studies import phrasing
from tests.studies.phrasing import LAWS, slurs, whole
from tests.studies.requests import studies

Asked = tuple[FingersRequest, Study]
CHANGES = list(permutations((*horn("trumpet").tubes, "3"), 2))


def fingered(note: Note[Pitch], on: Horn) -> str:
    """Return the valves a note is played with: those printed, else the usual ones."""
    way = usual(note.pitch, on)
    return note.valves or (way.valves if way else "")


def stretches(strain: Strain) -> list[list[Note[Pitch]]]:
    """Return the stretches between breaths, two a cell, without the way on which a part is led home."""
    found = [list(stretch) for stretch in phrasing.stretches(strain)]
    return found[: len(found) // 2 * 2]


def cells(strain: Strain) -> list[list[int]]:
    """Return the four notes of every cell of a strain, from the slurred stretches."""
    return [[note.pitch.midi for note in stretch[:4]] for stretch in list(stretches(strain))[::2]]


# Which of four notes are slurred together: none, the first two, pairs, the last three.
SETS_BY_HAND = ((), ((0, 1),), ((0, 1), (2, 3)), ((1, 3),))


@LAWS
@given(studies("fingers"))
def test_slurred_four_times_then_twice_more(asked: Asked) -> None:
    """Every cell of more than one note comes four times under one slur, then twice in one articulation into a held note.

    What is tongued has a mark.
    """
    _, study = asked
    for strain in study.strains:
        parts = stretches(strain)
        for slurred, again in zip(parts[::2], parts[1::2], strict=True):
            cell = [note.pitch for note in slurred[:4]]
            if len(set(cell)) > 1:
                assert [*cell * 4, cell[0]] == [note.pitch for note in slurred]
                assert [*cell * 2, cell[0]] == [note.pitch for note in again]
                assert whole(slurred) == slurs(slurred)
                assert tuple(slurs(again)) in [(*one, *((a + 4, b + 4) for a, b in one)) for one in SETS_BY_HAND]
                assert slurs(again) or {("tenuto",)} == {note.articulations for note in again[:-1]}


@pytest.mark.parametrize("grade", ["1", "4", ""])
def test_on_one_note_the_valves_change_on_one_air_first(grade: str) -> None:
    """A note that only its valves change is held under ties, the sets by turns, then tongued with the same turns; no slur."""
    study = make(FingersRequest(changes=("1-2>3",), grade=grade))
    parts = stretches(study.strains[0])
    for held, tongued in zip(parts[::2], parts[1::2], strict=True):
        assert [*["1-2", "3"] * 2, "1-2"] == [note.valves for note in held]
        assert [True] * 4 + [False] == [note.tie for note in held]
        assert ["1-2", "3"] * (len(tongued) // 2) + ["1-2"] == [note.valves for note in tongued]
    assert not [note for note in study.notes if note.slur_open]


@LAWS
@given(studies("fingers"))
def test_a_breath_between_has_time(asked: Asked) -> None:
    """After every stretch stands a rest of a quarter or more, or the quarters that lead home."""
    _, study = asked
    for strain in study.strains:
        ends = [i for i, event in enumerate(strain.music) if isinstance(event, Note) and event.breath]
        after = [strain.music[i + 1] for i in ends]

        assert all(event.length >= Fraction(1, 4) for event in after)
        assert len(after) - 1 <= sum(isinstance(event, Rest) for event in after)


@LAWS
@given(studies("fingers"))
def test_every_part_goes_alike(asked: Asked) -> None:
    """The cells of every part take the same rhythms and articulations in the same order, of one note its own."""
    _, study = asked
    moving = [strain for strain in study.strains if len({note.pitch for note in strain.notes}) > 1]
    told = [
        [([n.length for n in one[:16]], slurs(other)) for one, other in zip(parts[::2], parts[1::2], strict=True)]
        for parts in map(stretches, moving)
        if all(len({note.pitch for note in part}) > 1 for part in parts)
    ]

    assert all(one == other for ways in combinations(told, 2) for one, other in zip(*ways, strict=False))


@LAWS
@given(studies("fingers"))
def test_rhythm_and_articulation_take_turns(asked: Asked) -> None:
    """Neighbouring cells differ in rhythm or in articulation where the player knows more than one."""
    _, study = asked
    for strain in study.strains:
        parts = stretches(strain)
        ways = [([n.length for n in one], slurs(other)) for one, other in zip(parts[::2], parts[1::2], strict=True)]

        assert all(a != b for a, b in pairwise(ways))


@LAWS
@given(studies("fingers"))
def test_even_and_held(asked: Asked) -> None:
    """The first two times are even, over a change the first is no quicker; the last note is held for two beats or more."""
    request, study = asked
    for strain in study.strains:
        parts = stretches(strain)
        for stretch in parts:
            first, second = ({note.length for note in part} for part in (stretch[:4], stretch[4:8]))

            assert stretch[0].tie or (first == second and len(first) == 1) or request.changes
            assert stretch[0].tie or not request.changes or len(first) == 1
            assert Fraction(1, 4) <= stretch[-1].length
        assert all(Fraction(1, 2) <= stretch[-1].length for stretch in parts[1::2])


@LAWS
@given(studies("fingers", changes=()))
def test_cells_climb_by_step(asked: Asked) -> None:
    """Each cell begins a step or a half-step above the one before it."""
    _, study = asked
    for strain in study.strains:
        starts = [cell[0] for cell in cells(strain)]

        assert all(1 <= b - a <= 3 for a, b in pairwise(starts))


@LAWS
@given(studies("fingers", changes=()))
def test_a_part_comes_home(asked: Asked) -> None:
    """A part of more than one cell ends on the note that it began with."""
    _, study = asked

    assert all(strain.notes[0].pitch == strain.notes[-1].pitch for strain in study.strains)


@LAWS
@given(studies("fingers", changes=(), cells="diatonic"))
def test_diatonic_cells_are_of_the_key(asked: Asked) -> None:
    """Cells of scale steps are written in their key; only the leading notes of minor are raised."""
    _, study = asked
    for strain in study.strains:
        raised = [note.pitch for note in strain.notes if note.pitch.alter != strain.key.alteration(note.pitch.step)]
        sixth_and_seventh = [strain.key.degree(i).step for i in (5, 6)] if strain.key.mode == "minor" else []

        assert {pitch.step for pitch in raised} <= set(sixth_and_seventh)


@pytest.mark.parametrize(("first", "second"), CHANGES, ids=[f"{a}-to-{b}" for a, b in CHANGES])
@pytest.mark.parametrize("key", ["C", "Db", "F#m"])
def test_every_change_is_there(first: str, second: str, key: str) -> None:
    """In every cell of a strain the second valve set follows the first, both able to give their notes."""
    study = make(FingersRequest(keys=(key,), changes=(f"{first}>{second}",)))
    for stretch in list(stretches(study.strains[0]))[::2]:
        a, b = stretch[:2]

        assert (first, second) == (fingered(a, horn("trumpet")), fingered(b, horn("trumpet")))
        for note, valves in ((a, first), (b, second)):
            assert any(partial_midi(horn("trumpet"), valves, n) == note.pitch.midi for n in (2, 3, 4, 5, 6, 8, 10, 12))


@pytest.mark.parametrize("change_asked", ["1-2>3", "3>0"])
def test_a_printed_set_stays_printed(change_asked: str) -> None:
    """What is fingered unusually is printed every time it comes, so that no usual fingering is read into it."""
    study = make(FingersRequest(changes=(change_asked,)))
    for stretch in stretches(study.strains[0]):
        cell = [note.valves for note in stretch[4:8]]

        assert all(now in ("", first) for now, first in zip(cell, (note.valves for note in stretch), strict=False))
        assert cell[0] == stretch[-1].valves


def test_sets_of_one_length_share_a_note() -> None:
    """Sets that make the tube equally long take turns on one note, never slurred."""
    study = make(FingersRequest(changes=("1-2>3",)))

    assert all(len({note.pitch for note in stretch}) == 1 for stretch in stretches(study.strains[0]))
    assert not [note for note in study.notes if note.slur_open]


@pytest.mark.parametrize("asked", ["2>2-3", "1-2>3"])
def test_a_change_is_printed_where_it_is_first_played(asked: str) -> None:
    """Every line shows both sets over its first two notes; after that only what is unusual, as the third valve alone.

    On one note both are shown every time.
    """
    for stretch in stretches(make(FingersRequest(changes=(asked,))).strains[0])[::2]:
        assert asked.split(">") == [note.valves for note in stretch[:2]]
        again = {note.valves for note in stretch[2:]}
        assert again <= ({"1-2", "3"} if len({note.pitch for note in stretch}) == 1 else {"", "3"})


# Nothing lies well in tune on 1-2-4 but D5, on a rare partial.
@pytest.mark.parametrize("valves", [v for v in horn("piccolo-a").sets if v not in (*horn("trumpet").sets, "1-2-4")])
def test_fourth_valve(valves: str) -> None:
    """A horn with four valves has the changes of its fourth, where its range goes so low."""
    study = make(FingersRequest(horn="flugelhorn-4", changes=(f"0>{valves}",), low="C#3", high="G5", grade=""))

    assert valves in {fingered(note, horn("flugelhorn-4")) for note in study.notes}


@pytest.mark.parametrize("grade", ["1", "2"])
def test_a_beginner_has_no_chromatic_cells(grade: str) -> None:
    """In the first grades cells are of the key, in eighths; half-steps are refused."""
    study = make(FingersRequest(grade=grade))

    assert all(n.pitch.alter == s.key.alteration(n.pitch.step) for s in study.strains for n in s.notes)
    assert Fraction(1, 8) == min(note.length for note in study.notes)
    with pytest.raises(BadRequest, match=f'cells "chromatic" is not for grade {grade}; cells diatonic would do'):
        make(FingersRequest(grade=grade, cells="chromatic"))


@pytest.mark.parametrize("text", ["1-2>3", "1-2:3", "1-2 to 3", " 1-2 > 3 "])
def test_change_is_read(text: str) -> None:
    """A change may be written with an arrow, a colon or a word."""
    assert ("1-2", "3") == change(text, horn("trumpet"))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1-2", 'changes "1-2" is not understood; write two different valve sets'),
        ("1>1", "two different valve sets"),
        ("1>4", 'valve set "4" is not known; allowed: 0, 2'),
    ],
)
def test_change_refused(text: str, message: str) -> None:
    """Anything else is refused with an example."""
    with pytest.raises(BadRequest, match=message):
        make(FingersRequest(changes=(text,)))


def test_written_out() -> None:
    """The first two cells of a key and of half-steps stand here note by note."""
    study = make(FingersRequest())

    assert [[60, 62, 60, 59], [62, 64, 62, 60]] == cells(study.strains[0])[:2]
    assert [[60, 61, 60, 59], [61, 62, 61, 60]] == cells(study.strains[1])[:2]


@LAWS
@given(studies("fingers", changes=()))
def test_fewer_cells_are_told(asked: Asked) -> None:
    """A strain with fewer cells than were asked for is named, with both counts and the range that was in the way."""
    request, study = asked
    within = (study.limits.low, study.limits.high)
    short = [(strain, len(cells(strain))) for strain in study.strains if len(cells(strain)) < request.count]

    found = [remark for remark in study.remarks if isinstance(remark, Fewer)]

    assert found == [Fewer("cells", n, request.count, within=within, of=strain.label) for strain, n in short]


def test_what_stands_in_is_told_once() -> None:
    """Of the sets of a change only those that are not the usual ones of their notes are told, in one sentence."""
    asked = {("1-2>3",): "3 stands in for the usual fingering:", ("1-2>3", "1-2>1-3"): "3 stands", ("2>2-3",): ""}

    for changes, told in asked.items():
        remarks = make(FingersRequest(changes=changes)).remarks
        assert [told] * bool(told) == [remark.text[: len(told)] for remark in remarks[1:] if isinstance(remark, Advice)]


@LAWS
@given(studies("fingers"))
def test_no_rare_partial_is_asked_for(asked: Asked) -> None:
    """A printed fingering always gives its note on a partial that is in use."""
    request, study = asked
    for note in study.notes:
        ways = [way for way in fingerings(note.pitch, horn(request.horn)) if way.valves == note.valves]

        assert not note.valves or any(way.partial not in RARE_PARTIALS for way in ways)


def test_labels() -> None:
    """Strains in a key are told by it, those on half-steps by their first note, those over a change by the change."""
    steps, halves = (strain.label for strain in make(FingersRequest(keys=("D",))).strains)
    by_change = make(FingersRequest(changes=("1-2>3", "2>2-3")))

    assert ("D", "steps") == (steps.key and steps.key.name, steps.detail)
    assert Label(name="from", note=parse_pitch("D4"), detail="half-steps") == halves
    named = [*(Label(name=name) for name in ("2 to 2-3", "1-2 to 3")), Label(name="all", detail="tongued")]
    assert named == [strain.label for strain in by_change.strains]
    assert "Fingers: 2 to 2-3, 1-2 to 3" == by_change.title


@pytest.mark.parametrize("changes", [("1-2>3", "2>2-3"), ("0>1", "1-2>0", "1>2"), ("2>1",)])
def test_changes_go_from_least_motion_to_all(changes: tuple[str, ...]) -> None:
    """The change that moves fewest valves comes first; at the end all cells come once, to a loud long note."""
    *parts, last = make(FingersRequest(changes=changes)).strains
    moved = [len(set.symmetric_difference(*map(valves, part.label.name.split(" to ")))) for part in parts]
    every = sorted({tuple(cell) for part in parts for cell in cells(part)})

    assert sorted(moved) == moved
    assert every == sorted({tuple(n.pitch.midi for n in last.notes[i : i + 4]) for i in range(0, len(last.notes) - 1, 4)})
    assert ("mp", "<", "f") == (last.notes[0].dynamic, last.notes[0].hairpin, last.notes[-1].dynamic)
    assert last.notes[-1].length >= Fraction(1, 2)


def test_a_change_begins_in_eighths() -> None:
    """Over every change the first time that the cell moves is in eighths, where it goes on in sixteenths."""
    for strain in make(FingersRequest(changes=("1-2>3", "2>2-3"))).strains[:-1]:
        for stretch in stretches(strain):
            if not stretch[0].tie and (len(stretch) > 10 or len({note.pitch for note in stretch}) == 1):
                assert [Fraction(1, 8)] * 4 == [note.length for note in stretch[:4]]
                assert Fraction(1, 8) > min(note.length for note in stretch[4:-1])


@pytest.mark.parametrize(("asked", "told"), [("2>2-3", "F♯ to G♯: the lips move"), ("0>2", ""), ("1-2>3", "")])
def test_a_change_of_partial_is_told(asked: str, told: str) -> None:
    """The page says which notes lie on two partials, where the lips move too; of others it says nothing."""
    also = make(FingersRequest(changes=(asked,))).also

    assert told in also
    assert bool(told) == ("another partial" in also)


def valves(text: str) -> set[str]:
    """Return the valves that a set holds down."""
    return set(text.split("-")) - {"0"}


def test_eighths_stay_eighths() -> None:
    """A study asked for in eighths has nothing quicker, at the quickest tempo that they allow."""
    study = make(FingersRequest(rhythm="eighths", tempo=240, tongue=160))

    assert Fraction(1, 8) == min(note.length for note in study.notes)


@LAWS
@given(studies("fingers"))
def test_a_ladder_where_no_tempo_was_asked(asked: Asked) -> None:
    """By itself a grown player's study climbs by fours to 112 or as far as fingers go; an asked tempo stays, a child's too."""
    request, study = asked
    free = request.tempo is None and not grade(request.grade).child

    assert list(study.ladder) in ([], [*range(study.tempo, min(112, study.limits.tempo) + 1, 4)])
    assert free or not study.ladder
    assert bool(study.ladder) == any(isinstance(remark, Advice) and remark.text[:4] == "Tick" for remark in study.remarks)


def test_what_is_held_stands_on_a_line_of_its_own() -> None:
    """A note that only its valves change wishes two bars for what is held and the others on a line for what is tongued."""
    study = make(FingersRequest(changes=("1-2>3",)))

    assert (2, 3) * 3 == study.strains[0].lines
    assert (80, 112) == (study.tempo, study.goal)


def test_no_note_of_half_steps_has_a_letter_twice_on_end() -> None:
    """In trills, gaps, rocks and reaches on half-steps no two notes on end share a letter, and none has an unusual name."""
    shapes = ("trill", "gap", "rock", "reach", "weave")
    cells = [chromatic_cell(shape, parse_key(key), midi) for shape in shapes for key in ("Eb", "E") for midi in range(54, 84)]

    assert [] == [cell for cell in cells if any(one.place == other.place for one, other in pairwise(cell.pitches))]
    assert {"E#", "B#", "Cb", "Fb"}.isdisjoint(pitch.name[:-1] for cell in cells for pitch in cell.pitches)


def test_e_flat_is_rocked_against_f_and_e() -> None:
    """From E flat the half-step under F is E, not F flat."""
    cell = chromatic_cell("gap", parse_key("Eb"), 63)

    assert ["Eb4", "F4", "E4", "F4"] == [pitch.name for pitch in cell.pitches]
