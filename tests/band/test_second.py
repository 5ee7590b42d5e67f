"""A second voice: what a beginner plays to whom the line of the others lies high, or goes too high."""

from itertools import pairwise

from generators.band.joining import ClassLine
from generators.band.plan import ClassPlan, plan_class
from generators.band.simpler import SECOND_VOICE
from generators.sheets.class_words import part_words, score_words
from tests.band.bands import band, player

PLAN = plan_class(band(player("cornet", "0", "C4", "G4"), player("tenor-horn"), concert_key="Bb"))


def horn_lines(plan: ClassPlan) -> dict[str, ClassLine]:
    """Return what the tenor horn plays, by the study."""
    return {item.shared.name: line for item, line in plan.lines(plan.members[1]) if isinstance(line, ClassLine)}


def test_who_would_warm_up_high_has_a_third_lower() -> None:
    """The air of a horn that would stay on its highest fourth lies a third lower, on the tonic, and goes as the others'."""
    [air, *_] = PLAN.items
    line = horn_lines(PLAN)["air"]
    first, low = air.shared.lines[0], line.study

    assert isinstance(first, ClassLine)
    assert line.lower
    assert ["G4", "G4"] == [low.notes[0].pitch.name, low.notes[-1].pitch.name]
    places = [(one.pitch.place, other.pitch.place) for one, other in zip(first.study.notes, low.notes, strict=True)]
    assert all(after[0] - before[0] == after[1] - before[1] for before, after in pairwise(places))


def test_what_is_another_line_is_called_so() -> None:
    """A heading names a second voice; its strains are labelled as those of the first, so that all find the line called."""
    for item in PLAN.items:
        line, first = horn_lines(PLAN)[item.shared.name], item.shared.lines[0]
        assert isinstance(first, ClassLine)
        if line.own:
            assert SECOND_VOICE == line.study.what
        if line.beyond:
            for own, other in zip(line.study.strains, first.study.strains, strict=True):
                labels = [(one.label.name, one.label.part, one.label.detail) for one in (other, own)]
                assert labels[0] == labels[1]


def test_nobody_is_told_that_others_go_where_they_do_not() -> None:
    """Part and score say where the first voice would go, not that somebody goes there."""
    words = " ".join([*part_words(PLAN, PLAN.members[1]), *score_words(PLAN)])

    assert "you have a second voice: the first would go to D5, over your C5." in words
    assert "the others go" not in words
