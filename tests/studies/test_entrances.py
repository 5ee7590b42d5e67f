"""Entrances: the rests that were asked for, and a draw that is even, restless and the same everywhere."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.grade import GRADES, grade
from generators.chance import number, pick, shuffled
from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.phrase.algebra import length, notes, shifted
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.study import Study
from generators.sheets.packet import packet_of
from generators.studies.catalogue import make
from generators.studies.entrances import ENTRANCE_FIGURES, FIGURE_HOMES, EntrancesRequest, balanced
from generators.studies.kit.registers import REGISTERS, band
from generators.theory.key import Key
from generators.theory.pitch import Pitch
from tests.studies.phrasing import LAWS
from tests.studies.requests import studies

# What a grown player is asked for by itself.
FULL = ("pp", "p", "mf", "f", "ff")
Asked = tuple[EntrancesRequest, Study]
every_figure = pytest.mark.parametrize("figure", ENTRANCE_FIGURES)


def entries(study: Study) -> Iterator[tuple[Rest, Phrase[Pitch]]]:
    """Yield each entrance: the counted rest before it, and what follows up to the next dynamic."""
    for strain in study.strains:
        starts = [i for i, event in enumerate(strain.music) if isinstance(event, Rest) and event.length >= 1]
        for start, end in zip(starts, [*starts[1:], len(strain.music)], strict=True):
            rest = strain.music[start]
            assert isinstance(rest, Rest)
            yield rest, strain.music[start + 1 : end]


def first(line: Phrase[Pitch]) -> Note[Pitch]:
    """Return the note that is entered on."""
    return notes(line)[0]


def loudness(line: Phrase[Pitch]) -> str:
    """Return the dynamic of an entrance; one from silence arrives at it on its second note."""
    start, *more = notes(line)
    return more[0].dynamic if start.hairpin == "o<" else start.dynamic


def even(items: list[str], pool: tuple[str, ...]) -> bool:
    """Tell whether every item of the pool comes equally often, within one."""
    counts = Counter(dict.fromkeys(pool, 0))
    counts.update(items)
    return max(counts.values()) - min(counts.values()) <= 1


def register(study: Study, note: Note[Pitch]) -> str:
    """Return the third of the range that a note lies in."""
    spans = {name: band(study.limits, name) for name in REGISTERS}
    return next(name for name, (low, high) in spans.items() if low <= note.pitch.midi <= high)


@LAWS
@given(studies("entrances"))
def test_as_many_as_asked(asked: Asked) -> None:
    """There are as many entrances as were asked for, six a strain at most, each in whole bars."""
    request, study = asked
    found = list(entries(study))

    assert (request.count or grade(request.grade).entrance_count) == len(found)
    assert all(0 == (rest.length + length(line)) % 1 for rest, line in found)
    assert all(6 >= len([e for e in s.music if isinstance(e, Rest) and e.length >= 1]) for s in study.strains)


@LAWS
@given(studies("entrances", rests="3-9", long_rest=0))
def test_rests_in_a_range(asked: Asked) -> None:
    """Every rest is a whole number of bars in the range asked for, and no two neighbours are equally long."""
    _, study = asked
    rests = [rest.length for rest, _ in entries(study)]

    assert all(rest in range(3, 10) for rest in rests)
    assert all(a != b for a, b in pairwise(rests))


@LAWS
@given(studies("entrances", rests="6,9,4", long_rest=0))
def test_rests_in_a_list(asked: Asked) -> None:
    """Rests given as a list are taken in turn."""
    _, study = asked
    rests = [int(rest.length) for rest, _ in entries(study)]

    assert [(6, 9, 4)[i % 3] for i in range(len(rests))] == rests


@LAWS
@given(studies("entrances", rests="4-8", long_rest=30))
def test_long_rest(asked: Asked) -> None:
    """Exactly one rest is the long one that was asked for."""
    _, study = asked

    assert 1 == [int(rest.length) for rest, _ in entries(study)].count(30)


@LAWS
@given(studies("entrances"))
def test_registers_and_dynamics_even(asked: Asked) -> None:
    """Over the sheet every register and every dynamic asked for comes equally often, within one."""
    request, study = asked
    lines = [line for _, line in entries(study)]
    registers = tuple(dict.fromkeys(request.registers)) or REGISTERS
    dynamics = tuple(dict.fromkeys(request.dynamics)) or grade(request.grade).entrances

    assert even([register(study, first(line)) for line in lines], registers)
    assert even([loudness(line) for line in lines], dynamics)


@LAWS
@given(studies("entrances"))
def test_no_two_neighbours_alike(asked: Asked) -> None:
    """Neighbours differ in their first note, and in register and dynamic wherever more than one was asked for."""
    request, study = asked
    for (_, a), (_, b) in pairwise(entries(study)):
        assert first(a).pitch != first(b).pitch
        assert len(set(request.dynamics)) == 1 or loudness(a) != loudness(b)
        assert len(set(request.registers)) == 1 or register(study, first(a)) != register(study, first(b))


@pytest.mark.parametrize("seed", range(12))
def test_high_is_soft_and_low_is_loud_at_times(seed: int) -> None:
    """Among twelve entrances two at least are high and soft, and two low and loud: the honest tests."""
    found = [
        (register(study, first(line)), loudness(line))
        for study in [make(EntrancesRequest(seed=seed))]
        for _, line in entries(study)
    ]

    assert 2 <= sum(pair in (("high", "pp"), ("high", "p")) for pair in found)
    assert 2 <= sum(pair in (("low", "f"), ("low", "ff")) for pair in found)


@pytest.mark.parametrize("seed", range(6))
def test_from_nothing(seed: int) -> None:
    """Out of silence one note grows over four beats into its dynamic, and is held."""
    study = make(EntrancesRequest(seed=seed, figures=("from-nothing",)))
    for _, line in entries(study):
        grows, arrives = notes(line)

        assert ("o<", "", True) == (grows.hairpin, grows.dynamic, grows.tie)
        assert grows.pitch == arrives.pitch
        assert arrives.dynamic in FULL


@pytest.mark.parametrize("mode", ["major", "minor"])
def test_a_neighbour_outside_the_key(mode: str) -> None:
    """The neighbour under a note is a half-step away and outside its key; beginners do not get it."""
    study = make(EntrancesRequest(keys=("A",) if mode == "major" else ("Am",), figures=("neighbour",)))
    for _, line in entries(study):
        note, under, *_ = notes(line)

        assert 1 == note.pitch.midi - under.pitch.midi
        assert 1 == note.pitch.place - under.pitch.place
    assert not any(n.pitch.alter for n in make(EntrancesRequest(grade="1", keys=("C",), count=16)).notes)


@LAWS
@given(st.integers(1, 64), st.integers(0, 10**9), st.integers(2, 8))
def test_balanced(count: int, seed: int, size: int) -> None:
    """A balanced series is even within one, has no equal neighbours, and is the same for the same seed."""
    pool = tuple("abcdefgh"[:size])
    series = balanced(pool, count, seed, "what")

    assert count == len(series)
    assert even(series, pool)
    assert all(a != b for a, b in pairwise(series))
    assert balanced(pool, count, seed, "what") == series


@LAWS
@given(st.permutations(range(9)), st.integers(), st.text(max_size=5))
def test_draws_draw(items: list[int], seed: int, place: str) -> None:
    """A shuffled list holds the same items; a picked one is among them; both depend on seed and place alone."""
    assert sorted(items) == sorted(shuffled(items, seed, place))
    assert pick(items, seed, place) in items
    assert shuffled(items, seed, place) == shuffled(items, seed, place)


def test_draws_pinned() -> None:
    """The draw is a fixed function: these values hold on every machine and every Python."""
    assert 2024330424307562823 == number(1, "register", 0)
    assert ["d", "a", "b", "c"] == shuffled("abcd", 1, "register", 0)
    assert "a" == pick("abcd", 3, "pitch", 2)


SHEET = [
    "5 p D4 C4 Bb3",
    "6 mp Bb4 Bb4 Bb4 D5 F5",
    "13 f D5",
    "8 mf Bb3 C4 D4 F4",
    "14 f F5",
    "12 p Bb4 Bb4",
]


def test_sheet_pinned() -> None:
    """One sheet stands here whole: rest, dynamic and notes of each entrance."""
    study = make(EntrancesRequest(count=6, seed=1, keys=("Bb",), grade="3", rests="4-16"))
    found = [f"{rest.length} {loudness(line)} " + " ".join(n.pitch.name for n in notes(line)) for rest, line in entries(study)]

    assert SHEET == found


def test_a_child_plays_no_high_note_softly_where_it_can_be_helped() -> None:
    """Half of a child's entrances may be soft and a third high, and none of them is both."""
    for seed in range(20):
        study = make(EntrancesRequest(grade="1", seed=seed, low="C4", high="C5"))
        firsts = [(loudness(line), notes(line)[0].pitch.midi) for _, line in entries(study)]

        assert not [pair for pair in firsts if pair[0] == "p" and pair[1] >= Pitch("A", 0, 4).midi]


@pytest.mark.parametrize("grade", ["4", "5"])
@pytest.mark.parametrize("seed", range(8))
def test_no_learner_whispers_high(seed: int, grade: str) -> None:
    """In the grades before the last, where every fifth entrance is pp, none of them is high."""
    study = make(EntrancesRequest(grade=grade, seed=seed))
    whispered = [register(study, first(line)) for _, line in entries(study) if loudness(line) == "pp"]

    assert whispered
    assert "high" not in whispered


def test_seeds_differ() -> None:
    """Another seed is another sheet."""
    sheets = {str(make(EntrancesRequest(seed=seed)).strains) for seed in range(20)}

    assert 20 == len(sheets)


@every_figure
def test_figures_fill_bars(figure: str) -> None:
    """Every figure fills whole bars, begins on degree 1 and, with the rest of its bar, leaves time to lower the horn."""
    sketch = degrees(ENTRANCE_FIGURES[figure])

    assert 0 == length(sketch) % 1
    assert 0 == notes(sketch)[0].pitch.index
    assert notes(sketch)[-1].length >= Fraction(1, 4)


@every_figure
def test_homes_have_no_tritone(figure: str) -> None:
    """On its own degrees a figure outlines no tritone and mixes no raised with a natural seventh, in major and minor."""
    for mode in ("major", "minor"):
        for home in FIGURE_HOMES.get(figure, ()):
            line = [
                note.pitch for note in notes(in_key(shifted(degrees(ENTRANCE_FIGURES[figure]), home), Key("A", 0, mode), 4))
            ]

            assert 6 not in [abs(b.midi - a.midi) for a, b in pairwise(line)]
            assert not {"G", "G#"} <= {pitch.name[:-1] for pitch in line} or mode == "major"


@pytest.mark.parametrize("figure", ENTRANCE_FIGURES)
def test_one_figure(figure: str) -> None:
    """A single figure asked for is the only one played."""
    study = make(EntrancesRequest(figures=(figure,), count=9))
    sketch = [event.length for event in degrees(ENTRANCE_FIGURES[figure])]

    assert all(sketch == [event.length for event in line] for _, line in entries(study))


def test_no_room() -> None:
    """A register without room for the figure is refused, with limits that would do."""
    with pytest.raises(BadRequest, match=r"entrances finds no room for a figure in the high register.* would do"):
        make(EntrancesRequest(figures=("fanfare",), registers=("high",), low="C4", high="E4", grade="3"))


def test_too_quick() -> None:
    """Figures that the grade cannot tongue at the tempo are refused, with those that it can."""
    with pytest.raises(BadRequest, match='figures "fanfare" do not suit tempo 100 or the grade; allowed: note, long'):
        make(EntrancesRequest(figures=("fanfare",), tempo=100, grade="1"))


@pytest.mark.parametrize(
    ("rests", "message"),
    [
        ("9-3", 'rests "9-3" runs backwards; rests 3-9 would do'),
        ("4-", 'rests "4-" is not understood; write 1 to 99 bars'),
        ("1-2-3", 'rests "1-2-3" is not understood'),
        ("100", 'rests "100" is not understood'),
        ("1" * 5000, "is not understood; write 1 to 99 bars"),
    ],
)
def test_rests_refused(rests: str, message: str) -> None:
    """Rests that are no range and no list of bars are refused, however long they are."""
    with pytest.raises(BadRequest, match=message):
        make(EntrancesRequest(rests=rests))


def test_labels_count_on() -> None:
    """A strain is told by its key and by which entrances stand in it, two at the most."""
    strains = make(EntrancesRequest(count=9, keys=("C", "F"))).strains

    assert [("C", "1, 2"), ("C", "3, 4"), ("C", "5, 6"), ("F", "7, 8"), ("F", "9")] == [
        (strain.label.key.name, strain.label.part) for strain in strains if strain.label.key
    ]


@pytest.mark.parametrize(("count", "title"), [(1, "One cold entrance"), (2, "2 cold entrances")])
def test_title(count: int, title: str) -> None:
    """The name says all, so the title is the name."""
    study = make(EntrancesRequest(count=count))

    assert (title, "", title) == (study.name, study.what, study.title)


@pytest.mark.parametrize("of", [*GRADES, ""])
def test_silence_is_never_most_of_a_packet(of: str) -> None:
    """By itself a learner counts few bars, a child four at most, and the counting takes less than half of a first packet."""
    packet = compose(packet_of(grade=of)).studies
    (cold,) = (study for study in packet if study.kind == "entrances")
    rests = [event.length for strain in cold.strains for event in strain.music if isinstance(event, Rest)]

    assert cold.resting < sum(study.playing + study.resting for study in packet) / 2
    assert of != "1" or max(rests) <= 4


@LAWS
@given(studies("entrances"))
def test_a_soft_entrance_has_no_accent(asked: Asked) -> None:
    """What comes in softly is not accented."""
    _, study = asked
    for _, line in entries(study):
        assert loudness(line) not in ("pp", "p") or not any("accent" in note.articulations for note in notes(line))


@pytest.mark.parametrize("grade", ["2", "3"])
def test_a_child_comes_in_on_the_chord(grade: str) -> None:
    """In the grades of a child whose registers all have a chord note, every cold note is one."""
    for seed in range(6):
        for strain in make(EntrancesRequest(grade=grade, seed=seed)).strains:
            chord = {strain.key.degree(index).step for index in (0, 2, 4)}
            firsts = [b for a, b in pairwise(strain.music) if isinstance(a, Rest) and a.length >= 1 and isinstance(b, Note)]

            assert {note.pitch.step for note in firsts} <= chord


@pytest.mark.parametrize("seed", range(12))
def test_no_entrance_comes_twice(seed: int) -> None:
    """Of sixteen entrances no two have the same notes in the same values, in whatever octave."""
    study = make(EntrancesRequest(count=16, seed=seed, high="C6"))
    tunes = [[(note.pitch.name[:-1], note.length) for note in notes(line)] for _, line in entries(study)]

    assert 16 == len({tuple(tune) for tune in tunes})
