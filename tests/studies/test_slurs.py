"""Lip slurs: every note on its tube, as the harmonic series alone says."""

from dataclasses import replace
from fractions import Fraction
from itertools import combinations, groupby, pairwise
from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.grade import grade
from generators.brass.horn import HORNS, Horn, horn
from generators.errors import BadRequest
from generators.phrase.algebra import length
from generators.phrase.label import Label
from generators.phrase.remark import Advice, Fitting, Narrowed
from generators.phrase.study import Strain, Study
from generators.phrase.wording import remark_words
from generators.studies.catalogue import make
from generators.studies.slurs.paths import SLUR_PATHS, SLUR_WIDTHS
from generators.studies.slurs.study import SlursRequest
from generators.theory.pitch import parse_pitch
from tests.studies.phrasing import LAWS, slurs, stretches, whole
from tests.studies.requests import studies

Asked = tuple[SlursRequest, Study]
SEVEN = ("0", "2", "1", "1-2", "2-3", "1-3", "1-2-3")
# What a fourth valve stands in for.
FOURTH = {"1-3": "4", "1-2-3": "2-4"}
VALVES = {"0": 0, "2": 1, "1": 2, "3": 3, "4": 5}
POSITIONS = tuple("1234567")
SLIDES = ("trombone",)
RARE = {7, 11, 13, 14}
# The first partial of the open tube: C3 in treble clef, Bb1 in bass clef.
OPEN, OPEN_IN_BASS = 48, 34
every_path = pytest.mark.parametrize("path", SLUR_PATHS)


def lowered(tube: str, on: Horn) -> int:
    """Return by how many half-steps a tube lowers the open one: valves together, or positions of a slide one after another."""
    return sum(VALVES[valve] for valve in tube.split("-")) if on.valves else int(tube) - 1


def series(tube: str, on: Horn) -> dict[int, int]:
    """Return the notes of a tube and their partials, from the harmonic series: 1200 log2(n) cents above the first."""
    fundamental = (OPEN if on.clef.name == "treble" else OPEN_IN_BASS) - lowered(tube, on)
    return {fundamental + round(1200 * log2(n) / 100): n for n in range(1, 17)}


def partials(strain: Strain, study: Study) -> list[int]:
    """Return the partials that a strain plays; a note that is off the tube fails."""
    on_tube = series(strain.tube, horn(study.horn))
    return [on_tube[note.pitch.midi] for note in strain.notes]


@LAWS
@given(studies("slurs"))
def test_labels_tell_which_lines_become_quicker(asked: Asked) -> None:
    """A line that ends in a quicker value than the first ones is called quicker, one quicker than these the quickest.

    One that goes up to the top first says that it is higher.
    """
    _, study = asked
    quickest = [min(note.length for note in strain.notes) for strain in study.strains]
    ranks = sorted(set(quickest), reverse=True)

    told = [strain.label.part for strain in study.strains]
    named = [("", "quicker", "quickest")[ranks.index(value)] for value in quickest]
    above = [part for part in told if part == "higher"]

    assert 1 >= len(set(above))
    assert told == named[: len(named) - len(above)] + above or sorted(told) == ["falling", "rising"]


@LAWS
@given(studies("slurs"))
def test_no_quick_loop_is_heard_once(asked: Asked) -> None:
    """What goes in eighths or quicker comes twice or more before the long note or the next value."""
    _, study = asked
    for strain in study.strains:
        for value, run in groupby(strain.notes, key=lambda note: note.length):
            loop = [note.pitch for note in run]
            if value <= Fraction(1, 8) and len(loop) > 2:
                half = len(loop) // 2
                thirds = [loop[i : i + len(loop) // 3] for i in range(0, len(loop), max(1, len(loop) // 3))]
                assert loop[:half] == loop[half:] or (len(loop) % 3 == 0 and all(third == thirds[0] for third in thirds))


def period(heights: list[int]) -> int:
    """Return after how many notes a line begins again."""
    return next(n for n in range(1, len(heights)) if heights[n:] == heights[:-n])


@LAWS
@given(studies("slurs"))
def test_the_slow_loop_swells_to_its_top(asked: Asked) -> None:
    """A loop of four notes or more in quarters swells from p to mp at its top and back, if it rises; nothing else is louder."""
    _, study = asked
    for strain in study.strains:
        slow, *quick = stretches(strain)
        line = [note.pitch.midi for note in slow]
        swells = (
            period(line) >= 4 and line[0] < max(line) and study.what != "there and back" and slow[0].length >= Fraction(1, 4)
        )
        marks = [(note.dynamic, note.hairpin) for note in slow if note.dynamic]

        assert ([("p", "<"), ("mp", ">"), ("p", "")] if swells else [("p", "")]) == marks
        assert all(note.pitch.midi == max(line) for note in slow if note.dynamic == "mp")
        assert {""} >= {note.dynamic + note.hairpin for stretch in quick for note in stretch}


@pytest.mark.parametrize(
    ("values", "tempo", "quickest"), [((4, 8), None, 16), ((2, 4), None, 8), ((8, 16), None, 16), ((4, 8), 180, 8)]
)
def test_asked_values_go_on_at_the_end(values: tuple[int, ...], tempo: int | None, quickest: int) -> None:
    """The shortest tubes go on to the value twice as quick as those asked for, where there is one and the tempo allows it.

    To sixteenths six notes go by way of triplets.
    """
    study = make(SlursRequest(path="there-and-back", values=values, high="G5", tempo=tempo))
    quick = [int(1 / min(note.length for note in strain.notes)) for strain in study.strains]

    assert [max(values)] * 7 == quick[:7]
    assert ([quickest] * 2 if quickest > max(values) else []) == quick[7:]
    triplets = [any(note.length == Fraction(1, 12) for note in strain.notes) for strain in study.strains[7:]]
    assert [quickest == 16 > max(values)] * len(triplets) == triplets


@pytest.mark.parametrize(("high", "both"), [("C6", {4, 5, 6}), ("G5", {4, 5, 6}), ("E5", {4, 5})])
def test_thirds_go_on_to_the_next(high: str, both: set[int]) -> None:
    """Where the range has it, every tube has the third over the first between its slow and its quick ones; else it alone."""
    study = make(SlursRequest(width="third", high=high))

    for strain in study.strains[:7]:
        played = partials(strain, study)

        assert both == set(played)
        assert {4, 5} == set(played[:3]) == set(played[-9:])


def test_a_sheet_of_all_tubes_begins_slower() -> None:
    """By itself a sheet grows to its tempo from a slower one at which the breath still lasts; a tempo asked for is kept."""
    own, asked = make(SlursRequest(path="over-and-back", high="C6")), make(SlursRequest(tempo=70))

    assert [(60, 76), (70, 0)] == [(study.tempo, study.goal) for study in (own, asked)]
    assert 0 == make(SlursRequest(tubes=("0", "2"))).goal


def test_when_to_go_on_is_told() -> None:
    """The page says of the tubes that come once more when they are for; where none does it says nothing."""
    once_more, not_again = (
        [remark_words(remark) for remark in make(request).remarks if isinstance(remark, Advice)]
        for request in (SlursRequest(path="over-and-back", high="G5"), SlursRequest(tubes=("0", "2")))
    )

    assert "The last lines are quicker: play them only when the eighths are easy, as softly as the others." == once_more[0]
    assert [] == not_again


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (
            SlursRequest(path="over-and-back", high="C6"),
            "The last lines are quicker, then go up to C6 and B5: play them",
        ),
        (SlursRequest(path="quicken-and-widen", grade="3"), "The last line goes up to G5: play it"),
    ],
)
def test_the_way_to_the_top_is_told(asked: SlursRequest, told: str) -> None:
    """The page names the tubes that go to the top at the end, the notes there, and what comes before."""
    page = [remark_words(remark) for remark in make(asked).remarks]

    assert f"{told} only when the eighths are easy, as softly as the others." in page


@LAWS
@given(studies("slurs"))
def test_on_one_tube(asked: Asked) -> None:
    """Every note of a strain is a partial of the tube its label names; the rare ones only when asked for."""
    request, study = asked
    for strain in study.strains:
        named = strain.tube if horn(study.horn).valves else f"position {strain.tube}"

        assert Label(tube=named, detail="open" if strain.tube == "0" else "") == replace(strain.label, part="")
        assert request.rare_partials or not RARE & set(partials(strain, study))


@LAWS
@given(studies("slurs"))
def test_spelled_as_a_chord(asked: Asked) -> None:
    """The open tube reads C E G B flat, or in bass clef B flat D F A flat; no strain needs a double accidental."""
    _, study = asked
    on = horn(study.horn)
    bass, the_open = on.clef.name == "bass", "0" if on.valves else "1"
    names = {note.pitch.name[:-1] for strain in study.strains if strain.tube == the_open for note in strain.notes}

    assert names <= ({"Bb", "F", "D", "Ab", "C", "E", "Gb", "A"} if bass else {"C", "G", "E", "Bb", "D", "F#", "Ab", "B"})
    assert all(abs(note.pitch.alter) < 2 for note in study.notes)


@LAWS
@given(studies("slurs"))
def test_one_slur_a_phrase(asked: Asked) -> None:
    """Each breath is one slur, no note is struck again, a strain rests as long as it plays, a beginner's half of it."""
    request, study = asked
    for strain in study.strains:
        for stretch in stretches(strain):
            assert whole(stretch) == slurs(stretch)
            assert all(a.pitch != b.pitch for a, b in pairwise(stretch))
        rest, bar = strain.music[-1].length, strain.meter.bar
        played = length(strain.music) - rest
        assert (-(-played // (2 * bar)) * bar if grade(request.grade).beginner else played) == rest


@LAWS
@given(studies("slurs"))
def test_comes_to_rest(asked: Asked) -> None:
    """No strain ends on a fifth, seventh, eleventh, thirteenth or fourteenth partial; the last note fills a bar."""
    _, study = asked
    for strain in study.strains:
        assert partials(strain, study)[-1] not in RARE | {5}
        assert strain.meter.bar == strain.notes[-1].length


@LAWS
@given(studies("slurs"))
def test_tubes_in_order(asked: Asked) -> None:
    """The tubes come in the order asked for; those out of reach are left out, and the page says so, to no child."""
    request, study = asked
    played = [strain.tube for strain in study.strains]
    tubes = played if request.tubes else list(dict.fromkeys(played))
    slide = not horn(request.horn).valves
    seven = POSITIONS if slide else SEVEN
    few = {"0": (0,), "1": (0, 2, 3), "2": range(5)}.get(request.grade, range(7))
    fourth = FOURTH if request.horn == "flugelhorn-4" else {}
    wanted = list(request.tubes or [fourth.get(seven[lowers], seven[lowers]) for lowers in few])

    # A beginner who asked for none has his lowest notes first.
    if grade(request.grade).beginner and not request.tubes:
        assert set(tubes) <= set(wanted)
        return
    assert [tube for tube in wanted if tube in tubes] == tubes
    again = played[len(tubes) :] if not grade(request.grade).beginner else []
    higher = [strain.tube for strain in ends(study)]
    quick = again[: len(again) - len(higher)]

    assert [tube for tube in tubes if tube in higher] == higher == again[len(quick) :]
    assert [tube for tube in seven[:2] if tube in quick] == quick
    assert 2 >= max(len(quick), len(higher))
    assert not (again and request.tubes)
    told = [remark for remark in study.remarks if isinstance(remark, Fitting)]
    limits = (study.limits.low, study.limits.high)
    fitted = tubes != wanted and not grade(request.grade).child

    assert ([Fitting("positions" if slide else "tubes", limits, tuple(tubes))] if fitted else []) == told


@LAWS
@given(studies("slurs"))
def test_each_tube_is_no_easier_than_the_last(asked: Asked) -> None:
    """From tube to tube the quickest value never slows and the path never loses a partial; higher ones come after all those."""
    _, study = asked
    last = ends(study)
    lines = study.strains[: len(study.strains) - len(last)]
    quickest = [min(note.length for note in strain.notes) for strain in lines]
    wide = [len(set(partials(strain, study))) for strain in lines]

    assert sorted(quickest, reverse=True) == quickest
    assert sorted(wide) == wide
    assert last == study.strains[len(lines) :]
    assert all(highest(strain) > max(map(highest, lines)) for strain in last)


def ends(study: Study) -> tuple[Strain, ...]:
    """Return the strains whose label says that they go higher."""
    return tuple(strain for strain in study.strains if strain.label.part == "higher")


def highest(strain: Strain) -> int:
    """Return the MIDI number of the highest note of a strain."""
    return max(note.pitch.midi for note in strain.notes)


EIGHTH = Fraction(1, 8)
# Pairs, which triplets would set against their beat.
NO_TRIPLETS = ("neighbours",)
# Leaps over a partial, which sixteenths would make a shake.
NO_SIXTEENTHS = ("over-and-back",)


@every_path
def test_from_slow_to_sixteenths(path: str) -> None:
    """Down seven tubes a path goes through eighths to sixteenths, by way of triplets where they do not cut its figure.

    One begins with triplets instead, and one that leaps ends with them.
    """
    study = make(SlursRequest(path=path, high="C6"))
    lines = study.strains[: len(study.strains) - len(ends(study))]
    values = [{1 / note.length for note in strain.notes} for strain in lines]

    first = 12 if path == "quicken-and-climb" else 8
    assert first == max(values[0])
    last = 12 if path in NO_SIXTEENTHS else 16
    assert {first, 12, last} - ({12} if path in NO_TRIPLETS else set()) <= set().union(*values)
    assert last == max(values[-1])


def test_over_and_back_goes_as_far_as_triplets() -> None:
    """Its quicker lines go from quarters to two bars of triplets, in which the figure of six notes comes three times."""
    study = make(SlursRequest(path="over-and-back", high="G5"))
    *before, one, other = ([note for note in strain.notes if not note.breath] for strain in study.strains)

    assert {2} == {len({note.length for note in line}) for line in before}
    for line in (one, other):
        triplets = [note.pitch for note in line if note.length == Fraction(1, 12)]

        assert [Fraction(1, 4), Fraction(1, 12)] == list(dict.fromkeys(note.length for note in line))
        assert 3 * [note.pitch for note in line[:6]] == triplets


@every_path
def test_every_line_begins_alike(path: str) -> None:
    """Each tube begins as slowly as the first, however quick it becomes, and comes home before it breathes."""
    study = make(SlursRequest(path=path, high="C6"))
    begun = {strain.tube: strain.notes[0].length for strain in reversed(study.strains)}

    assert 1 == len(set(begun.values()))
    for strain in study.strains:
        home = next(note for note in strain.notes if note.breath)
        assert (strain.notes[0].pitch, strain.meter.bar) == (home.pitch, home.length)


@every_path
def test_no_figure_is_cut_by_a_bar_line(path: str) -> None:
    """A loop fills a bar, part of one or several; triplets of six notes alone are carried over it, three times in two bars."""
    for stage in SLUR_PATHS[path].stages:
        bar = 4 if len(stage[0][0]) in (2, 4, 8) else 3
        for loop, value in stage:
            filled = not (bar * value // 4) % len(loop) or not len(loop) % (bar * value // 4)
            assert value == 2 or filled or (bar, value, len(loop)) == (3, 12, 6)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (SlursRequest(width="third", high="C6"), "G5 here: the next third has the seventh partial, which is flat."),
        (SlursRequest(width="fifth", high="C6"), "G5 here: the next fifth goes beyond C6."),
        (SlursRequest(path="3-4-5-4", high="C6"), "E5 here: no note of the path lies higher."),
        (SlursRequest(path="over-and-back", tubes=("0",), high="C6"), "G5 here."),
        (SlursRequest(width="sixth", high="C6"), ""),
        (SlursRequest(path="over-and-back", high="C6"), ""),
        (SlursRequest(path="over-and-back", high="G5"), ""),
        (SlursRequest(path="over-and-back"), ""),
    ],
)
def test_a_top_that_is_not_come_to_is_told(asked: SlursRequest, told: str) -> None:
    """Where a highest note was asked for and the lines stay well below it, the page says how high they go, and why."""
    words = [remark_words(remark) for remark in make(asked).remarks]

    assert [f"The slurs go no higher than {told}"] * bool(told) == [word for word in words if "no higher" in word]


@every_path
@pytest.mark.parametrize("high", ["G5", "A5", "Bb5", "C6", "D6"])
def test_the_top_that_was_asked_for_is_touched_at_the_end(path: str, high: str) -> None:
    """On all tubes a path comes to the highest note, on partials that are in tune and no later than it becomes quick."""
    study = make(SlursRequest(path=path, low="F#3", high=high))
    tops = [max(note.pitch.midi for note in strain.notes) for strain in study.strains]

    assert parse_pitch(high).midi == max(tops)
    assert len(tops) - tops.index(max(tops)) <= 2 or max(tops) == max(tops[: len(SEVEN)])
    assert not RARE & {partial for strain in study.strains for partial in partials(strain, study)}


@pytest.mark.parametrize("path", ["quicken-and-widen", "anchor"])
def test_high_partials_for_those_who_have_them(path: str) -> None:
    """Where the range has it, the path goes on to the eighth partial; where not, it stays below."""
    highest = [
        max(max(partials(s, study)) for s in study.strains)
        for top in ("C6", "E5")
        for study in [make(SlursRequest(path=path, high=top))]
    ]

    assert highest[0] >= 8 > highest[1]


def test_a_first_year_player_goes_up_to_a_neighbour() -> None:
    """Grade 1 takes neighbours, from below and back, in halves and quarters, on the tubes whose notes its keys have."""
    study = make(SlursRequest(grade="1"))

    assert ("to the next note", ["1-2", "1", "0"]) == (study.what, [strain.tube for strain in study.strains])
    assert all(strain.notes[0].pitch == strain.notes[-1].pitch for strain in study.strains)
    assert all(strain.notes[0].pitch.midi < strain.notes[1].pitch.midi for strain in study.strains)
    assert {1, 2, 4} == {1 / note.length for note in study.notes}


@pytest.mark.parametrize("horn", ["trumpet", "flugelhorn-4", "eb-bass"])
@every_path
def test_seven_tubes(horn: str, path: str) -> None:
    """Every path goes down all seven tubes on every horn as it comes, quicker from stage to stage."""
    study = make(SlursRequest(horn=horn, path=path))
    quickest = [min(note.length for note in strain.notes) for strain in study.strains]

    tubes = HORNS[horn].tubes
    assert list(tubes) == [strain.tube for strain in study.strains][: len(tubes)]
    assert sorted(quickest, reverse=True) == quickest


@every_path
def test_the_open_tube_comes_again(path: str) -> None:
    """The shortest tubes come again, quicker than all before them, where the top allows, before any go higher."""
    study = make(SlursRequest(path=path, high="C6", grade=""))
    lines = study.strains[: len(study.strains) - len(ends(study))]

    quickest = [min(note.length for note in strain.notes) for strain in lines]
    again = len(lines) - len(SEVEN)

    assert list(SEVEN[:again]) == [strain.tube for strain in lines[len(SEVEN) :]] != []
    assert max(quickest[len(SEVEN) :]) < min(quickest[: len(SEVEN)])


@every_path
def test_the_top_chooses_lower_partials(path: str) -> None:
    """As the top sinks the highest partial never rises, and the top is never passed."""
    highest = []
    for top in ("G5", "E5", "C5"):
        study = make(SlursRequest(path=path, low="F#3", high=top))
        highest.append(max(partials(study.strains[0], study)))
        assert max(note.pitch.midi for note in study.notes) <= {"G5": 79, "E5": 76, "C5": 72}[top]

    assert sorted(highest, reverse=True) == highest


def test_narrowed_path() -> None:
    """A path with no room gives way to its narrower neighbour, and the page says so."""
    study = make(SlursRequest(path="there-and-back", low="F#3", high="C5"))

    assert Narrowed("there-and-back", "rocking", (parse_pitch("F#3"), parse_pitch("C5"))) == study.remarks[0]
    assert ("Lip slurs", "rocking") == (study.name, study.what)


@pytest.mark.parametrize("width", SLUR_WIDTHS)
def test_widths(width: str) -> None:
    """A two-note slur spans the width that was asked for, and nothing else."""
    study = make(SlursRequest(width=width))
    sizes = {abs(b.pitch.midi - a.pitch.midi) for s in study.strains for t in stretches(s) for a, b in pairwise(t)}

    assert sizes <= {"third": {3, 4}, "fourth": {5}, "fifth": {7}, "sixth": {8, 9}, "octave": {12}}[width]


@LAWS
@given(st.lists(st.sampled_from([2, 4, 8, 12, 16]), min_size=1, max_size=4, unique=True), st.booleans())
def test_values(values: list[int], ladder: bool) -> None:
    """The strain quickens through the values asked for, slow to quick, then holds; without the ladder the quickest alone."""
    study = make(SlursRequest(path="neighbours", values=tuple(values), ladder=ladder))
    # A whole note is a coming home, at the end or before a breath that a quick value has no time for.
    lengths = [1 / note.length for note in study.strains[0].notes if note.length < 1]
    wanted = sorted(values) if ladder else [max(values)]

    assert wanted == sorted(set(lengths))
    assert sorted(lengths) == lengths


@pytest.mark.parametrize(
    ("path", "answer"),
    [("4-5-6-5", "4 5 6 5"), ("5-6-5-4", "4 5 6 5"), ("5-6", "6 5"), ("3-4-3", "3 4"), ("2-4-6", "2 4 6")],
)
def test_own_paths(path: str, answer: str) -> None:
    """A path of the player's own is played as written, begun elsewhere where it would come to rest on a fifth partial."""
    study = make(SlursRequest(path=path, low="F#3", high="C6", tubes=("0",)))

    assert [int(n) for n in answer.split()] == partials(study.strains[0], study)[: len(answer.split())]


# Every choice of note values, and every path and width beside paths of the player's own.
VALUES = [chosen for count in (1, 2, 3, 5) for chosen in combinations((2, 4, 8, 12, 16), count)]
EVERY = [{"path": path} for path in (*SLUR_PATHS, "4-5", "3-4-3", "3-4-5-4", "2-4-6", "8-6-5-4-3-4")]
EVERY += [{"width": width} for width in SLUR_WIDTHS]


@pytest.mark.parametrize("ladder", [True, False])
@pytest.mark.parametrize("values", VALUES[::3])
def test_a_breath_has_time(values: tuple[int, ...], ladder: bool) -> None:
    """Whatever path, width and values are asked for, a breath comes after a quarter or longer, at the slow level too."""
    for asked in EVERY:
        study = make(SlursRequest(**asked, values=values, ladder=ladder, low="F#3", high="C6"))  # type: ignore[arg-type]
        ends = [note.length for strain in study.strains for note in strain.notes if note.breath]

        assert Fraction(1, 4) <= min(ends), asked


def test_two_quick_values_written_out() -> None:
    """The slow loop comes home to a whole note, then breathes."""
    quick = make(SlursRequest(path="neighbours", values=(8, 16), tubes=("0",))).notes
    slow = make(SlursRequest(path="neighbours", values=(2, 4), tubes=("0",))).notes

    assert [(8, Fraction(1))] == [(i, note.length) for i, note in enumerate(quick[:-1]) if note.breath]
    assert quick[0].pitch == quick[8].pitch
    assert [(2, Fraction(1))] == [(i, note.length) for i, note in enumerate(slow[:-1]) if note.breath]


def test_a_number_without_end_is_no_path() -> None:
    """A path of thousands of figures is refused in one short line, not read."""
    with pytest.raises(BadRequest) as told:
        make(SlursRequest(path="3-" + "9" * 9000))

    assert "path" == told.value.refusal.what
    assert 400 > len(str(told.value))


@pytest.mark.parametrize("path", ["4-4-5", "3-5-5", "3", "a-b", "4-4"])
def test_no_path(path: str) -> None:
    """A path that does not move is refused with a word of what to write."""
    with pytest.raises(BadRequest) as told:
        make(SlursRequest(path=path))

    assert ("path", path) == (told.value.refusal.what, told.value.refusal.value)
    assert told.value.refusal.do or told.value.refusal.allowed


def test_written_out() -> None:
    """The first and the last of two tubes stand here note by note."""
    study = make(SlursRequest(path="quicken-and-widen", tubes=("0", "1-2")))
    first, last = (" ".join(note.pitch.name for note in strain.notes) for strain in study.strains)

    assert first == "C5 G4 C5 C5 E5 C5 G4 C5 E5 C5 G4 C5 E5 C5 G4 C5"
    assert last == "A4 E4 A4 " + 3 * "A4 C#5 A4 E4 " + "A4 " + 2 * "A4 C#5 E5 C#5 A4 E4 " + "A4"


@every_path
@pytest.mark.parametrize("low", ["G4", "C5", "E5", "F#5"])
def test_high_paths_never_strike_a_note_again(path: str, low: str) -> None:
    """However high a path is pushed, one level leads into the next without a repeated note."""
    study = make(SlursRequest(path=path, low=low, high="D6", tubes=("1-2-3",)))

    assert all(a.pitch != b.pitch for strain in study.strains for t in stretches(strain) for a, b in pairwise(t))


def test_a_tube_may_come_twice() -> None:
    """A tube that is asked for twice is played twice."""
    assert ["0", "0"] == [strain.tube for strain in make(SlursRequest(tubes=("0", "0"))).strains]


def test_only_values_that_are_played_limit_the_tempo() -> None:
    """A path in quarters and eighths goes at a tempo that sixteenths would not allow."""
    study = make(SlursRequest(path="3-4-5-4", tempo=200))

    assert (200, 8) == (study.tempo, max(1 / note.length for note in study.notes))


@pytest.mark.parametrize("path", ["4,5,6,5", "5-4-3-4", "3-4-5-4-3"])
def test_an_own_path_begun_elsewhere_is_no_narrower_one(path: str) -> None:
    """The page does not say that a path of the player's own was changed where it only begins on another of its partials."""
    study = make(SlursRequest(path=path, low="F#3", high="C6"))

    assert [] == [remark for remark in study.remarks if isinstance(remark, Narrowed)]


@pytest.mark.parametrize("path", ["anchor", "falling", "over-and-back"])
def test_a_plainer_first_line(path: str) -> None:
    """A plainer path is on the first tube alone, two neighbours, no quicker than eighths; the others are as without it."""
    asked = SlursRequest(path=path, tubes=("0", "2", "1"), values=(4, 8, 16))
    plain, own = make(replace(asked, first="neighbours")), make(asked)

    assert {"G4", "C5"} == {note.pitch.name for note in plain.strains[0].notes}
    assert Fraction(1, 8) == min(note.length for note in plain.strains[0].notes)
    assert [strain.music for strain in own.strains[1:]] == [strain.music for strain in plain.strains[1:]]


@pytest.mark.parametrize(
    ("path", "begun"), [("over-and-back", "A4 E5 C#5 A4"), ("anchor", "E4 A4 E4 A4"), ("3-4-5-4", "E4 A4 C#5 A4")]
)
def test_a_first_line_of_the_same_path(path: str, begun: str) -> None:
    """The path itself is on the first tube, in small, in no leap over a fifth and no quicker than eighths."""
    study = make(SlursRequest(path=path, first="same", tubes=("1-2", "1", "0"), values=(4, 8, 16)))
    heard = study.strains[0].notes

    assert begun == " ".join(note.pitch.name for note in heard[:4])
    assert Fraction(1, 8) == min(note.length for note in heard)
