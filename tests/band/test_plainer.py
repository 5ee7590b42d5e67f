"""A beginner among players who are farther on: the same bars, in halves and quarters on first notes."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

from generators.band.joining import ClassLine
from generators.band.plan import ClassPlan, plan_class
from generators.band.request import CLASS_STUDIES, ClassRequest
from generators.brass.grade import grade_on
from generators.phrase.algebra import length
from generators.phrase.note import Rest
from generators.phrase.study import Strain
from generators.proof.prove import ERROR, prove
from generators.sheets.class_facts import class_facts
from tests.band.bands import DEMO, FIRST_YEAR, band, player

PLAIN = {Fraction(quarters, 4) for quarters in (1, 2, 3, 4)}
MIXED = [
    DEMO,
    band(player("tenor-horn"), player("cornet", "4"), minutes=20, seed=3),
    band(player("trombone", "0"), player("euphonium-bass-clef", "3"), concert_key="Bb", seed=7),
    *(band(player("cornet"), player("trumpet", "3"), studies=(name,)) for name in CLASS_STUDIES),
]
mixed = pytest.mark.parametrize("asked", MIXED, ids=lambda asked: "+".join(asked.studies) or asked.players[0].horn)


def young(plan: ClassPlan) -> Iterator[tuple[ClassLine, ClassLine]]:
    """Yield the plainer lines of beginners, each with the line of one who is farther on."""
    grown = next(member for member in plan.reading if not member.grade.beginner)
    for member in plan.reading:
        for (_, own), (_, other) in zip(plan.lines(member), plan.lines(grown), strict=True):
            if isinstance(own, ClassLine) and isinstance(other, ClassLine) and own.plainer:
                assert member.grade.beginner
                yield own, other


def silent(strain: Strain) -> list[bool]:
    """Tell of each bar whether it is a rest."""
    return [all(isinstance(event, Rest) for event in bar) for bar in strain.bars]


@mixed
def test_the_bars_are_the_same(asked: ClassRequest) -> None:
    """A plainer line has the meters, repeats, upbeats and bars of the others, silent where they are."""
    plan = plan_class(asked)
    for own, other in young(plan):
        for mine, their in zip(own.study.strains, other.study.strains, strict=True):
            assert (their.meter, their.repeats, their.upbeat) == (mine.meter, mine.repeats, mine.upbeat)
            assert length(their.music) == length(mine.music)
            assert silent(their) == silent(mine)


@mixed
def test_values_and_marks_are_those_of_first_notes(asked: ClassRequest) -> None:
    """It has whole notes to quarters, no accent, dot or hairpin, one loudness, first notes alone, and passes its proof."""
    plan = plan_class(asked)
    for own, _ in young(plan):
        horn = next(member.horn for member in plan.reading if member.horn.id == own.study.horn)
        assert PLAIN >= {note.length for note in own.study.notes}
        assert {""} == {note.hairpin for note in own.study.notes}
        assert {(), ("fermata",)} >= {note.articulations for note in own.study.notes}
        assert {"mf"} == {note.dynamic for note in own.study.notes} - {""}
        if not any(strain.tube for strain in own.study.strains):
            assert grade_on("0", horn).high.midi >= max(note.pitch.midi for note in own.study.notes)
        assert [] == [found for found in prove(own.study) if found.severity == ERROR]


def test_the_demo_cornet_has_plainer_lines() -> None:
    """The first-year cornet of the demo band has one wherever others have eighths or hairpins; the report tells it."""
    told = class_facts(plan_class(DEMO))["parts"]

    assert {"scales", "etude"} <= set(told[0]["plainer"])
    assert all(not part["plainer"] for part in told[1:])


def test_a_class_of_beginners_plays_alike() -> None:
    """Among beginners alone nobody has another line; with one who is farther on they have."""
    alone = plan_class(replace(FIRST_YEAR, studies=("scales",)))
    mixed_up = plan_class(replace(FIRST_YEAR, players=(*FIRST_YEAR.players, player("trumpet", "3")), studies=("scales",)))

    assert 3 == alone.items[0].shared.joined
    assert 1 == mixed_up.items[0].shared.joined


def test_what_is_plain_already_is_nobodys_own() -> None:
    """A line in halves and quarters with bars of rest after it is not told to be another."""
    plan = plan_class(DEMO)
    flow = next(item.shared for item in plan.items if item.shared.name == "flow")

    assert not any(line.plainer for line in flow.lines if isinstance(line, ClassLine))
