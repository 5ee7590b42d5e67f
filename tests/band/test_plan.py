"""A class: the same bars for everyone, each within his own limits, in one key, in the time that was asked."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import takewhile

import pytest
from hypothesis import given, settings

from generators.band.joining import ClassLine
from generators.band.plan import MOST_PAUSE, ClassPlan, plan_class
from generators.band.request import CLASS_STUDIES, ClassRequest
from generators.band.simpler import SECOND_AIM
from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.phrase.algebra import length
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.proof.prove import ERROR, prove
from generators.sheets.class_words import score_words
from generators.studies.catalogue import KINDS
from tests.band.bands import DEMO, FIRST_YEAR, any_bands, band, player

CLASSES = 6
each_class = pytest.mark.parametrize("place", range(CLASSES))


def lines(plan: ClassPlan) -> Iterator[tuple[Study, ClassLine]]:
    """Yield every line with the study that it was moved from."""
    for member in plan.reading:
        for item, line in plan.lines(member):
            if isinstance(line, ClassLine):
                yield item.shared.study, line


def sounding(study: Study) -> list[int]:
    """Return the notes of a study as they sound."""
    return [note.pitch.midi + horn(study.horn).sounding_half_steps for note in study.notes]


def marks(study: Study) -> list[tuple[object, ...]]:
    """Return all that a study has beside its pitches: lengths, ties, articulations, dynamics, repeats, meters."""
    return [
        (
            strain.meter,
            strain.repeats,
            strain.upbeat,
            [
                (event.length, event.tie, event.articulations, event.dynamic, event.hairpin, event.breath)
                if isinstance(event, Note)
                else event
                for event in strain.music
            ],
        )
        for strain in study.strains
    ]


def planned(asked: ClassRequest) -> ClassPlan | None:
    """Return the plan of a class; nothing where it is refused."""
    try:
        return plan_class(asked)
    except BadRequest:
        return None


@cache
def drawn() -> list[tuple[ClassRequest, ClassPlan | None]]:
    """Return some classes with their plans, drawn once for all laws."""
    found: list[tuple[ClassRequest, ClassPlan | None]] = []

    @settings(max_examples=CLASSES)
    @given(any_bands)
    def collect(asked: ClassRequest) -> None:
        found.append((asked, planned(asked)))

    collect()
    return found[:CLASSES]


@each_class
def test_all_sound_together(place: int) -> None:
    """Whoever plays a study as a whole sounds its notes, whole octaves away and as many all through, slurs included."""
    _, plan = drawn()[place]
    for whole, line in lines(plan) if plan else ():
        if not line.own:
            assert [note + 12 * line.octaves for note in sounding(whole)] == sounding(line.study)
            slurs = [[(note.slur_open, note.slur_close) for note in study.notes] for study in (whole, line.study)]
            assert slurs[0] == slurs[1]


@each_class
def test_all_have_the_same_bars(place: int) -> None:
    """Every line, a simpler one too, has the bars, rhythms, articulations and dynamics of the study; a plainer one the bars."""
    _, plan = drawn()[place]
    for whole, line in lines(plan) if plan else ():
        if line.plainer:
            assert [length(strain.music) for strain in whole.strains] == [length(strain.music) for strain in line.study.strains]
        else:
            assert marks(whole) == marks(line.study)


@each_class
def test_nobody_leaves_his_own_limits(place: int) -> None:
    """Every line passes its proof on its player's horn, within his own range, breath, leaps, values and speed."""
    _, plan = drawn()[place]
    for member in plan.reading if plan else ():
        for _, line in plan.lines(member) if plan else ():
            if isinstance(line, ClassLine):
                own = replace(member.limits, keys=line.study.limits.keys)
                assert own == line.study.limits
                assert [] == [found for found in prove(line.study) if found.severity == ERROR]


@each_class
def test_a_class_keeps_its_time(place: int) -> None:
    """A class is never longer than was asked, unless its one study is; its studies are numbered in order."""
    asked, plan = drawn()[place]
    if plan:
        assert plan.seconds <= asked.minutes * 60 or len(plan.items) == 1
        assert list(range(1, len(plan.items) + 1)) == [item.number for item in plan.items]


@settings(max_examples=4)
@given(any_bands)
def test_what_a_refusal_proposes_can_be_had(asked: ClassRequest) -> None:
    """Where a class is refused with a key or with studies that would do, each of them does, in whatever minutes."""
    asked = replace(asked, minutes=2)
    try:
        plan_class(asked)
    except BadRequest as refused:
        for field, values in refused.refusal.would_do:
            for value in values:
                offered: object = (value,) if field == "studies" else value
                assert plan_class(replace(asked, **{field: offered})).items


@pytest.mark.parametrize("name", CLASS_STUDIES)
def test_every_study_can_be_had_by_a_first_year(name: str) -> None:
    """Each of the studies of a class is had by first-year brass in B flat, everyone on all of its notes."""
    items = plan_class(replace(FIRST_YEAR, studies=(name,))).items

    assert {(name, 3)} == {(item.shared.name, item.shared.joined) for item in items}


def test_minutes_are_filled() -> None:
    """Ten minutes for the demo band are filled to about half a minute."""
    assert 9.4 * 60 <= plan_class(DEMO).seconds <= 10 * 60


def test_little_time_leaves_studies_out() -> None:
    """Two minutes have no room for lip slurs, which is said; the tune stays."""
    plan = plan_class(replace(FIRST_YEAR, minutes=2))

    assert "slurs" in plan.timeless
    assert "etude" in [item.shared.name for item in plan.items]


def test_nobody_waits_long() -> None:
    """Between two studies there is never more than the longest pause, however long the class."""
    assert all(item.rest <= MOST_PAUSE for item in plan_class(replace(DEMO, studies=("air", "scales"), minutes=60)).items)


def test_horns_of_other_lengths_play_no_lip_slurs() -> None:
    """With a horn in E flat among those in B flat another study stands in for lip slurs; without one they are played."""
    mixed = plan_class(band(player("cornet"), player("tenor-horn"), studies=("slurs", "air")))

    assert mixed.stood_in is not None
    assert ("slurs", "flow", (1,)) == (mixed.stood_in.wanted, mixed.stood_in.instead, mixed.stood_in.others)
    assert plan_class(replace(FIRST_YEAR, studies=("slurs",))).stood_in is None


def test_lip_slurs_lie_on_the_same_partials() -> None:
    """What is the open tube of a cornet is the first position of a trombone, and the tubes go on alike."""
    plan = plan_class(replace(FIRST_YEAR, studies=("slurs",)))
    tubes = [[strain.tube for strain in plan.studies(member)[0].strains] for member in plan.members]

    assert [["0", "1", "1-2"], ["1", "3", "4"], ["0", "1", "1-2"]] == tubes


def test_who_is_too_narrow_has_an_easier_line() -> None:
    """A player with three notes has the rhythm of the scale on notes that he has; the note in the way is told."""
    plan = plan_class(band(player("cornet"), player("trombone"), player("trumpet", low="C4", high="E4"), studies=("scales",)))
    [(_, line)] = plan.lines(plan.members[2])

    assert isinstance(line, ClassLine)
    assert line.beyond is not None
    assert line.beyond.name == "F4"
    assert {"C4", "D4", "E4"} >= {note.pitch.name for note in line.study.notes}


def test_the_youngest_settles_the_pace() -> None:
    """With a first-year among grown players nothing is quicker or wider than a first-year plays."""
    plan = plan_class(band(player("cornet"), player("trumpet", "")))

    assert all(line.study.tempo <= 108 for _, line in lines(plan))


def test_another_seed_is_another_tune() -> None:
    """The seed draws the tune; the same one draws the same."""
    first, again, other = (
        plan_class(replace(FIRST_YEAR, studies=("etude",), minutes=2, seed=seed)).items[0].shared.study for seed in (1, 1, 2)
    )

    assert first == again
    assert sounding(first) != sounding(other)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (ClassRequest(), "players 0 make no class; allowed: 1 to 60"),
        (band(player("kazoo")), 'horn "kazoo" is not known'),
        (band(player("cornet", "9")), 'grade "9" is not known'),
        (band(player("cornet"), concert_key="H"), 'key "H" is not known'),
        (band(player("cornet"), studies=("opera",)), 'studies "opera" is not known'),
        (band(player("cornet", low="D5")), "low D5 is not below high C5"),
        (band(player("cornet", high="C7")), "is off the cornet; allowed: up to E6"),
        (band(player("cornet"), part=2), "part 2 is nobody's; allowed: 0 to 1"),
        (band(player("cornet"), minutes=1), "minutes 1 is out of reach; allowed: 2 to 60"),
        (
            band(player("cornet"), concert_key="D"),
            'concert-key "D" is read by nobody of this class yet; concert-key Bb would do',
        ),
        (band(player("cornet", high="D4"), studies=("scales",)), "the narrowest has C4 to D4"),
    ],
)
def test_a_class_that_cannot_be_is_refused(asked: ClassRequest, told: str) -> None:
    """What makes no class is refused in one line that says what would."""
    with pytest.raises(BadRequest) as refused:
        plan_class(asked)

    assert told in str(refused.value)


def test_what_changes_no_note_changes_no_code() -> None:
    """The names of players and group are on the page and not in its code; a player's range is."""
    asked = replace(DEMO, studies=("air",), minutes=2)
    renamed = replace(asked, name="Other band", players=tuple(replace(one, name="x") for one in DEMO.players))

    assert compose(asked).stamp.code == compose(renamed).stamp.code
    assert compose(asked).stamp.code != compose(replace(asked, part=1)).stamp.code
    high = replace(asked, players=(replace(asked.players[0], high="C5"), *asked.players[1:]))
    assert compose(asked).stamp.code != compose(high).stamp.code


def test_a_child_in_the_class_words_all_aims() -> None:
    """Where there is a child the aims of all parts are in its words."""
    for study, line in lines(plan_class(DEMO)):
        assert line.study.aim.startswith(_aim(study.kind, line))


def _aim(kind: str, line: ClassLine) -> str:
    return SECOND_AIM if line.beyond else horn(line.study.horn).said(KINDS[kind].child_aim[0])


def test_a_class_is_silent_for_a_bar_at_the_most() -> None:
    """Between the sections of a tune a class of beginners rests, for a bar at the most."""
    for seed in range(2):
        *_, tune = plan_class(replace(FIRST_YEAR, studies=("etude",), seed=seed)).items
        for before in tune.shared.study.strains[:-1]:
            silent = [event.length for event in takewhile(lambda event: isinstance(event, Rest), reversed(before.music))]
            assert 0 < sum(silent) <= before.meter.bar


def test_beginners_play_a_drill_twice_and_sing_the_tune_first() -> None:
    """In a class of beginners nothing is repeated more than once, and a minute of the time is left to sing."""
    plan = plan_class(FIRST_YEAR)

    assert 2 >= max(strain.repeats for item in plan.items for strain in item.shared.study.strains)
    assert 60 == plan.singing
    assert "A minute is left to sing the tune before you play it." in list(score_words(plan))
    assert plan.seconds <= 60 * FIRST_YEAR.minutes


def test_a_tune_that_is_played_twice_is_in_time_to_its_end() -> None:
    """Where a class is told to play its tune twice no note of anyone slows it down."""
    item = next(item for item in plan_class(FIRST_YEAR).items if item.shared.name == "etude")
    every = [item.shared.study, *(line.study for line in item.shared.lines if isinstance(line, ClassLine))]

    assert 2 == item.shared.times
    assert {""} == {note.role for study in every for note in study.notes}


def test_an_easier_line_keeps_its_slurs() -> None:
    """What moves under a slur of the whole line is slurred in an easier one too, and no slur goes from a note to the same."""
    asked = band(player("cornet"), player("tenor-horn"), studies=("scales", "etude"), concert_key="Bb")
    kept = 0
    for whole, line in lines(plan_class(asked)):
        if line.beyond:
            for before, own in zip(whole.strains, line.study.strains, strict=True):
                held, moved = slurred(before), slurred(own)
                pitches = [note.pitch for note in own.notes]
                assert moved == [under and pitches[i] != pitches[i + 1] for i, under in enumerate(held)]
                kept += sum(moved)
    assert kept


def slurred(strain: Strain) -> list[bool]:
    """Tell between each two notes of a strain whether they are under one slur."""
    found, under = list[bool](), False
    for note in strain.notes[:-1]:
        under = note.slur_open or (under and not note.slur_close)
        found.append(under)
    return found
