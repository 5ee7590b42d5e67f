"""Flow: one line carried through keys, slurred from breath to breath."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, groupby, pairwise, product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.grade import grade
from generators.phrase.algebra import length, notes, slurred_to_bars
from generators.phrase.bars import Meter
from generators.phrase.in_key import in_key
from generators.phrase.label import Label
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Note, Rest
from generators.phrase.remark import Advice, Narrowed
from generators.phrase.study import Study
from generators.phrase.wording import remark_words
from generators.studies.catalogue import make
from generators.studies.flow.closes import FLOW_AIMS, FLOW_CLOSES, tongued_close, tongued_sighs
from generators.studies.flow.courses import FLOW_COMPASSES, FLOW_LENGTHS, FLOW_METERS, FLOW_REACH, Wanted, course, ways
from generators.studies.flow.drawing import drawn_line
from generators.studies.flow.study import FlowRequest, ordered
from generators.theory.key import Key, all_keys, parse_key
from generators.theory.pitch import Pitch, parse_pitch
from tests.studies.phrasing import LAWS, heights, slurs, stretches, whole
from tests.studies.requests import studies

Asked = tuple[FlowRequest, Study]
MAJORS = tuple(key.name for key in all_keys("major"))
MINORS = tuple(key.name for key in all_keys("minor"))
each_line = pytest.mark.parametrize(
    ("shape", "compass"),
    [(shape, compass) for shape in FLOW_METERS for compass in FLOW_COMPASSES if compass in FLOW_REACH[shape]],
)
# How far below and above the tonic each compass may go, in scale steps.
REACH = {
    "octave": (-7, 7),
    "fifth": (-3, 5),
    "third": (-2, 3),
    "six-notes": (0, 5),
    "five-notes": (0, 4),
    "three-notes": (0, 2),
}
# How the title tells each compass, widest first.
TOLD = {
    "octave": "to the octave",
    "fifth": "to the fifth",
    "third": "to the third",
    "six-notes": "in six notes",
    "five-notes": "in five notes",
    "three-notes": "in three notes",
}


def by_step(stretch: Sequence[Note[Pitch]]) -> bool:
    """Tell whether two notes are under one slur exactly where they are neighbours."""
    under, answer = False, True
    for a, b in pairwise(stretch):
        under = (under or a.slur_open) and not (a.slur_close and not a.slur_open)
        answer = answer and under == (abs(b.pitch.place - a.pitch.place) == 1)
    return answer


def rhythm(study: Study, place: int) -> list[Any]:
    """Return a strain without its pitches."""
    return [replace(e, pitch=0) if isinstance(e, Note) else e for e in study.strains[place].music]  # type: ignore[arg-type]


@LAWS
@given(studies("flow"))
def test_strains_are_transpositions(asked: Asked) -> None:
    """Strains in one mode, equally long, are the same line note by note, each from its own tonic, all with the same marks."""
    _, study = asked
    kinds = {(strain.key.mode, len(strain.bars)) for strain in study.strains}
    for kind in kinds:
        alike = [i for i, strain in enumerate(study.strains) if (strain.key.mode, len(strain.bars)) == kind]
        for one, other in pairwise(alike):
            assert heights(study.strains[one]) == heights(study.strains[other])
            assert rhythm(study, one) == rhythm(study, other)


@LAWS
@given(studies("flow"))
def test_every_strain_comes_home(asked: Asked) -> None:
    """A strain ends on its tonic, on the first or third beat, on a note as long as any neighbour; a bar or two of rest come."""
    _, study = asked
    for strain in study.strains:
        last, before = strain.notes[-1], strain.notes[-2]
        start = length(strain.music[:-2]) % strain.meter.bar

        assert strain.key.tonic == last.pitch.name[:-1]
        assert start % strain.meter.strong == 0
        assert last.length >= before.length
        assert strain.music[-1].length in (strain.meter.bar, 2 * strain.meter.bar)


@LAWS
@given(studies("flow", close="slurred") | studies("flow", close="none"))
def test_one_slur_a_phrase(asked: Asked) -> None:
    """From breath to breath there is one slur: only the first note is tongued, a beginner's after every leap too."""
    request, study = asked
    for strain in study.strains:
        for stretch in stretches(strain):
            assert whole(stretch) == slurs(stretch) if not grade(request.grade).beginner else by_step(stretch)
            assert {()} == {note.articulations for note in stretch} or study.what.startswith("lean")


@LAWS
@given(studies("flow", close="tongued"))
def test_the_close_is_the_only_tongued_figure(asked: Asked) -> None:
    """With a tongued close the short notes are outside every slur, and all others under one; only notes that lean are long."""
    request, study = asked
    for strain in study.strains:
        under = False
        for note in strain.notes[:-1]:
            under = (under or note.slur_open) and not (note.slur_close and not note.slur_open)

            slurred = under or note.slur_close

            assert not (slurred and note.articulations) or request.shape == "lean"
            assert slurred or note.articulations or note.breath or request.shape == "lean"


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
        assert list(request.keys) == [key for key, _ in groupby(strain.key.name for strain in study.strains)]
    plain = [replace(strain.label, scale="", part="") for strain in study.strains]

    assert [Label(key=strain.key) for strain in study.strains] == plain


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
    named = {
        "octave": "an octave",
        "fifth": "a fifth",
        "third": "a third",
        "six-notes": "six notes",
        "five-notes": "five notes",
        "three-notes": "three notes",
    }
    narrowed = Narrowed(named[compass], named[taken], (parse_pitch("C4"), parse_pitch("F#5")), every=True)
    assert [narrowed] * (compass != taken) == [remark for remark in study.remarks if isinstance(remark, Narrowed)]


@pytest.mark.parametrize(
    ("grade", "high", "what", "steps"),
    [
        ("", "C6", "arch, to the octave", {7}),
        ("5", "C6", "arch, to the octave", {7}),
        ("3", "G5", "up and home", {7}),
        ("2", "G5", "up and home", {4, 5}),
    ],
)
def test_the_usual_compass(grade: str, high: str, what: str, steps: set[int]) -> None:
    """By itself a line goes to the octave, a younger child's to the fifth or its neighbour, narrower where that does not fit.

    A child reads where it goes, others how far.
    """
    wide, narrow = (make(FlowRequest(grade=grade, keys=("C",), high=top)) for top in (high, "E5"))
    [strain] = wide.strains

    assert what == wide.what
    assert max(note.pitch.place for note in strain.notes) - strain.notes[-1].pitch.place in steps
    assert () == narrow.remarks


def lines(shape: str, compass: str) -> Iterator[tuple[Wanted, tuple[Note[Degree], ...]]]:
    """Yield every line of a shape and compass: all lengths, with and without air and notes outside the key, some seeds."""
    for length_, free, seed in product(FLOW_LENGTHS, (True, False), range(2)):
        wanted = Wanted(shape, compass, length_, free, free, seed)
        for way in range(ways(wanted)):
            if line := drawn_line(wanted, way):
                yield wanted, tuple(note for note in line if isinstance(note, Note))


def turns(line: tuple[Note[Degree], ...]) -> tuple[int, int]:
    """Return the lowest and the highest degree of a line."""
    return min(note.pitch.index for note in line), max(note.pitch.index for note in line)


@each_line
def test_lines_stay_in_their_compass(shape: str, compass: str) -> None:
    """Every line lies within its compass, a leaning note one higher; it is as long as asked for and comes home by step."""
    meter = Meter(*FLOW_METERS[shape])
    for wanted, line in lines(shape, compass):
        low, high = REACH[compass]

        assert low <= turns(line)[0] <= turns(line)[1] <= high + (shape == "lean")
        assert length(line) == meter.bar * int(wanted.length)
        assert 0 == line[-1].pitch.index
        assert 1 == abs(line[-2].pitch.index)


@each_line
def test_lines_are_lines(shape: str, compass: str) -> None:
    """No note is struck again, no leap is wider than a sixth, and after one wider than a third the line turns back."""
    for _, line in lines(shape, compass):
        moves = [b.pitch.index - a.pitch.index for a, b in pairwise(line)]

        assert 0 not in moves
        assert 5 >= max(map(abs, moves))
        assert [] == [(a, b) for a, b in pairwise(moves) if abs(a) > 2 and (a * b > 0 or abs(b) > 2)]


@each_line
def test_breaths_have_time(shape: str, compass: str) -> None:
    """A breath, taken or possible, follows a long note; where the air is short, no more than two bars lie between two."""
    for wanted, line in lines(shape, compass):
        places = [i for i, note in enumerate(line) if note.breath or note.may_breathe]

        assert all(line[i].length >= Fraction(1, 2) for i in places)
        assert line[-1].breath
        if not wanted.airy and wanted.length != "4":
            between = [length(line[a + 1 : b + 1]) for a, b in pairwise([-1, *places])]
            assert max(between) <= 4 * Meter(*FLOW_METERS[shape]).bar


@pytest.mark.parametrize("compass", FLOW_COMPASSES)
def test_arches_and_dips_turn_once(compass: str) -> None:
    """The highest note of an arch, the lowest of a dip, is touched once, long, and grown into."""
    for shape, outermost in (("arch", 1), ("dip", 0)):
        for _, line in lines(shape, compass):
            places = [i for i, note in enumerate(line[:-1]) if note.pitch.index == turns(line)[outermost]]
            turn = next(i for i in places if line[i].length >= Fraction(1, 2) and length(line[:i]) % 1 == 0)
            home = turns(line)[outermost] == 0

            assert home or 1 == len(places)
            assert home or "<" == [note.hairpin for note in line[:turn] if note.hairpin][-1]


@pytest.mark.parametrize("compass", FLOW_COMPASSES)
def test_waves_touch_both_ends(compass: str) -> None:
    """A wave goes as far up and as far down as its compass has it, once each but for home."""
    for _, line in lines("wave", compass):
        low, high = turns(line)
        indices = [note.pitch.index for note in line]

        assert 1 == indices.count(high)
        assert low == 0 or 1 == indices.count(low)
        assert high - low >= (2 if compass == "three-notes" else 4)


@pytest.mark.parametrize("compass", FLOW_COMPASSES)
def test_widening_lines_widen(compass: str) -> None:
    """The highest note of each stretch of bars of a widening line is higher than all before it, until the last turn."""
    for wanted, line in lines("widening", compass):
        records = [i for i, note in enumerate(line) if note.pitch.index > max((n.pitch.index for n in line[:i]), default=0)]
        least = {"4": 1, "8": 2, "12": 2}[wanted.length]

        assert len(records) >= least
        assert line[records[-1]].pitch.index == REACH[compass][1] or compass in ("fifth", "third")


@pytest.mark.parametrize("compass", [name for name in FLOW_COMPASSES if name in FLOW_REACH["widening"]])
@pytest.mark.parametrize("length_", FLOW_LENGTHS)
def test_turns_widen_by_a_step(length_: str, compass: str) -> None:
    """Every turn of a widening line is the next degree after the last, from the sixth the octave; the top is the last."""
    wanted = Wanted("widening", compass, length_, True, False, 0)
    for way, draft in product(range(ways(wanted)), range(3)):
        degrees_ = [degree for _, degree in course(wanted, way, draft).turns]

        assert max(FLOW_REACH["widening"][compass][way]) == degrees_[-1]
        assert all((a, b) == (5, 7) or b - a == 1 for a, b in pairwise(degrees_))


@pytest.mark.parametrize("shape", FLOW_METERS)
@pytest.mark.parametrize("place", range(4))
def test_a_tongued_close_goes_the_way_of_its_shape(shape: str, place: int) -> None:
    """What is tongued turns where its shape does: at the bottom, at the top, both, ever higher, or falls by sighs."""
    sketch = FLOW_CLOSES[shape]["tongued"][place : place + 1]
    for line in (notes(tongued_close(shape, one)) for one in sketch):
        high = [note.pitch.index for note in line]
        loud = next((i for i, note in enumerate(line) if note.dynamic == "mf"), 0)
        records = [i for i, index in enumerate(high) if index > max(high[:i], default=0)]
        shown = {
            "dip": high[loud] == min(high) and max(high) <= high[0] + 1,
            "arch": high[loud] == max(high) and (high.count(max(high)) == 1 or max(high) == 2) and min(high) == 0,
            "wave": high[loud] == max(high) and min(high) in high[loud + 1 :] and high.index(min(high[1:]), 1) > loud,
            "widening": high[loud] == max(high) and (len(records) >= 3 or max(high) == 2),
            "lean": all(a - b == 1 for a, b in zip(high[:-1:2], high[1:-1:2], strict=True)),
        }

        assert shown[shape]
        assert [not i % 2 if shape == "lean" else True for i in range(len(line) - 1)] == [
            note.articulations == ("tenuto",) for note in line[:-1]
        ]


@each_line
def test_a_run_goes_on_by_step(shape: str, compass: str) -> None:
    """After three steps the same way no line skips onward."""
    for _, line in lines(shape, compass):
        moves = [b.pitch.index - a.pitch.index for a, b in pairwise(line)]

        assert not any(
            run in ([1] * 3, [-1] * 3) and run[0] * moves[i + 3] > 1 for i in range(len(moves) - 3) if (run := moves[i : i + 3])
        )


@pytest.mark.parametrize("length_", FLOW_LENGTHS)
def test_the_sighs_of_a_line_are_tongued(length_: str) -> None:
    """The tongued close of a leaning line has its leaning notes and their answers once more, in two bars, and comes home."""
    for _, line in lines("lean", "octave"):
        if length(line) == int(length_) * Fraction(3, 4):
            pairs = [(a.pitch, b.pitch) for a, b in pairwise(line) if a.articulations]
            *close, home = notes(tongued_sighs(line))

            assert len(pairs) == int(length_) // 2
            assert [pitch for pair in pairs for pitch in pair] == [note.pitch for note in close]
            assert Fraction(3, 2) == length(tuple(close))
            assert (0, True) == (home.pitch.index, home.breath)
            top = max(range(len(close)), key=lambda place: (close[place].pitch.index, -place))
            swell = {0: "mp", top: "mf>"} if top else {0: "mp>"}
            marks = [note.dynamic + note.hairpin for note in (*close, home)]
            assert [*(swell.get(place, "") for place in range(len(close))), "p."] == marks
            assert all(a.length >= b.length for a, b in zip(close[::2], close[1::2], strict=True))


@pytest.mark.parametrize(
    ("shape", "close", "paired"), [("lean", "tongued", True), ("lean", "none", False), ("dip", "tongued", False)]
)
def test_sighs_are_beamed_by_two(shape: str, close: str, paired: bool) -> None:
    """Only where sighs are tongued are eighths beamed two by two."""
    assert {paired} == {strain.paired for strain in make(FlowRequest(shape=shape, close=close)).strains}


@pytest.mark.parametrize("compass", ["octave", "fifth", "third"])
def test_a_breath_that_leans_grows_upwards(compass: str) -> None:
    """Within a breath a leaning note lower than the one before it is soft and not grown to; any other is grown to."""
    for _, line in lines("lean", compass):
        leaning = [i for i, note in enumerate(line) if note.articulations]
        for before, here in pairwise(leaning):
            if any(note.breath for note in line[before:here]):
                continue
            lower = line[here].pitch.index < line[before].pitch.index

            assert lower == (line[here].dynamic == "p")
            assert lower != any(note.hairpin == "<" for note in line[before:here])


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        (("Cb", "Gb", "F#"), "Make G♭ and F♯ sound the same."),
        (("Db", "C#", "B", "Cb"), "Make D♭ and C♯, B and C♭ sound the same."),
        (("C", "Am", "F#", "Ebm"), ""),
    ],
)
def test_keys_that_sound_alike_shall(keys: tuple[str, ...], told: str) -> None:
    """Where a sheet has two keys of one sound, the page bids the player make them sound the same."""
    assert told == make(FlowRequest(keys=keys)).also


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        (("Cb", "Gb", "F#"), ["C♭ is fingered as B, G♭ as F♯."]),
        (("C#", "Ebm"), ["C♯ is fingered as D♭, E♭m as D♯m."]),
        (("B", "Db", "G#m"), []),
    ],
)
def test_keys_of_many_signs_are_told_by_the_plainer(keys: tuple[str, ...], told: list[str]) -> None:
    """From six signs on a key is told by the one that sounds like it, two that have as many once."""
    remarks = make(FlowRequest(keys=keys)).remarks

    assert told == [remark_words(remark) for remark in remarks if isinstance(remark, Advice)]


@pytest.mark.parametrize("compass", FLOW_COMPASSES)
def test_leaning_notes_fall(compass: str) -> None:
    """Every other bar of a leaning line but the last begins with a half note that falls a step."""
    for _, line in lines("lean", compass):
        starts = list(accumulate((note.length for note in line), initial=Fraction(0)))
        leaning = [i for i, note in enumerate(line[:-1]) if starts[i] % Fraction(3, 2) == 0]

        assert all(line[i].length == Fraction(1, 2) for i in leaning)
        assert all(line[i].pitch.index - line[i + 1].pitch.index == 1 for i in leaning)
        assert leaning == [i for i, note in enumerate(line) if note.articulations == ("tenuto",)]


@each_line
def test_leading_notes(shape: str, compass: str) -> None:
    """In minor no augmented second and no diminished third lies in a line."""
    for _, line in lines(shape, compass):
        minor = [note.pitch for note in notes(in_key(line, Key("A", 0, "minor"), 4))]
        seconds = [(a.name, b.name) for a, b in pairwise(minor) if abs(a.place - b.place) == 1 and abs(a.midi - b.midi) > 2]
        thirds = [(a.name, b.name) for a, b in pairwise(minor) if abs(a.place - b.place) == 2 and abs(a.midi - b.midi) < 3]

        assert [] == seconds + thirds


def test_some_leave_their_key_and_come_back() -> None:
    """Long lines of an octave may rest on the dominant, reached by its own leading note, and nothing else is altered."""
    altered = [
        [tuple(n.pitch.index for n in line[i - 1 : i + 2]) for i, note in enumerate(line) if note.pitch.alter == 1]
        for shape in ("arch", "dip", "wave", "widening")
        for wanted, line in lines(shape, "octave")
        if wanted.length != "4" and wanted.chromatic
    ]

    assert {(4, 3, 4)} == {turn for line in altered for turn in line}
    assert 0.2 < sum(map(bool, altered)) / len(altered) < 0.8
    assert {1} == {len(line) for line in altered if line}


@each_line
def test_each_seed_another_line(shape: str, compass: str) -> None:
    """Eight seeds give at least six lines where there is room for them, and a seed gives one."""
    wanted = [Wanted(shape, compass, "8", True, False, seed) for seed in range(8)]

    assert len({drawn_line(one, ways(one) - 1) for one in wanted}) >= (6 if compass in ("octave", "fifth") else 2)


def test_the_order_of_drawing_changes_nothing() -> None:
    """A line drawn alone is the line that was drawn after others."""
    wanted = Wanted("wave", "octave", "12", True, True, 4)
    before = drawn_line(wanted, 0)
    drawn_line.cache_clear()

    assert before == drawn_line(wanted, 0)


def test_an_octave_crosses_two_registers() -> None:
    """A long wave of an octave goes an octave down and an octave up where the range has them."""
    study = make(FlowRequest(keys=("C",), shape="wave", compass="octave", low="F#3", high="C6"))
    pitches = [note.pitch.midi for note in study.notes]

    assert 24 == max(pitches) - min(pitches)


def test_tables_are_whole() -> None:
    """Every shape has a meter with closes, and an aim of its own."""
    assert set(FLOW_METERS) == set(FLOW_AIMS) == set(FLOW_CLOSES)
    assert {"slurred", "tongued"} == {kind for closes in FLOW_CLOSES.values() for kind in closes}
    assert len(FLOW_AIMS) == len(set(FLOW_AIMS.values()))


@LAWS
@given(studies("flow"))
def test_as_long_as_asked(asked: Asked) -> None:
    """Every strain has as many bars as were asked for, close and bars of rest apart; a tongued close after a bar of rest."""
    request, study = asked
    for strain in study.strains:
        within = sum(isinstance(event, Rest) for event in strain.music[:-1]) if request.close != "tongued" else 0
        bars = length(strain.music[:-1]) / strain.meter.bar - within
        more = {"none": {0}, "slurred": {2, 3}, "tongued": {4}}[request.close]

        assert bars - int(request.length) in more


@pytest.mark.parametrize(
    ("shape", "close"), [(shape, close) for shape, closes in FLOW_CLOSES.items() for ways in closes.values() for close in ways]
)
def test_closes_fill_bars(shape: str, close: str) -> None:
    """Every close fills whole bars, starts with a dynamic and ends on the tonic with a breath."""
    line, meter = degrees(close), FLOW_METERS[shape]
    first, last = line[0], line[-1]

    assert 0 == length(line) % Meter(*meter).bar
    assert isinstance(first, Note)
    assert isinstance(last, Note)
    assert first.dynamic
    assert (0, True) == (last.pitch.index, last.breath)


@pytest.mark.parametrize(
    ("asked", "answer"),
    [
        (FlowRequest(keys=("G",), compass="fifth", length="4"), "G4 A4 B4 C5 B4 A4 C5 B4 D5 C5 B4 A4 G4"),
        (FlowRequest(keys=("Am",), shape="wave", compass="fifth", length="4"), "A4 G4 F4 A4 G4 E4 F4 A4 C5 E5 D5 C5 B4 A4"),
    ],
)
def test_written_out(asked: FlowRequest, answer: str) -> None:
    """A few lines stand here note by note."""
    study = make(asked)

    assert answer.split() == [note.pitch.name for note in study.notes]


def test_the_peak_is_as_loud_as_asked_for() -> None:
    """Where the peak is forte, forte stands where mezzo-forte did, and nothing else is changed."""
    plain, loud = (make(FlowRequest(keys=("Eb", "D"), peak=peak)) for peak in ("mf", "f"))

    assert "mf" in [note.dynamic for note in plain.notes]
    assert [{"mf": "f"}.get(note.dynamic, note.dynamic) for note in plain.notes] == [note.dynamic for note in loud.notes]
    assert [note.pitch for note in plain.notes] == [note.pitch for note in loud.notes]


@pytest.mark.parametrize(("length_", "rests"), [("4", 0), ("8", 0), ("12", 2)])
def test_a_beginner_plays_no_more_than_eight_bars_on_end(length_: str, rests: int) -> None:
    """A long line of a beginner has a bar of rest at its breaths, a printed line from rest to rest; grown players have none."""
    beginner, grown = (make(FlowRequest(keys=("C",), grade=grade, length=length_)).strains[-1] for grade in ("1", ""))

    assert [Fraction(1)] * rests == [event.length for event in beginner.music[:-1] if isinstance(event, Rest)]
    assert rests == 0 or (5, 5, 5) == beginner.lines
    assert int(length_) == length(grown.notes)


def test_a_beginners_line_goes_by_step() -> None:
    """Of the lines of five notes few have a leap, and no slur of theirs begins within a bar and goes over its end."""
    lines = [make(FlowRequest(keys=("C",), grade="0", high="G4", seed=seed)).strains[-1].music for seed in range(12)]
    leaps = [abs(b.pitch.place - a.pitch.place) > 1 for line in lines for a, b in pairwise(notes(line)) if not a.breath]

    assert 0.03 >= sum(leaps) / len(leaps)
    assert all(slurred_to_bars(line, Fraction(1)) == line for line in lines)
