"""A second voice: what a beginner plays to whom the line of the others lies high, or goes too high."""

from itertools import pairwise

from generators.band.joining import ClassLine
from generators.band.plan import ClassPlan, plan_class
from generators.band.simpler import SECOND_AIM, SECOND_VOICE
from generators.jobs.compose import compose
from generators.sheets.class_words import part_words, score_words
from generators.sheets.document import FullScore
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


def test_a_second_voice_gives_relief() -> None:
    """Where the tune goes too high the second voice comes to its highest note seldom, and ends on the chord."""
    for item in PLAN.items:
        line, first = horn_lines(PLAN)[item.shared.name], item.shared.lines[0]
        assert isinstance(first, ClassLine)
        if line.beyond:
            tops = [note.pitch.name for note in line.study.notes].count("C5")
            assert tops <= len(line.study.notes) / 20
            assert line.study.notes[-1].pitch.step in "GBD"


def test_who_plays_a_second_voice_is_told_in_his_words() -> None:
    """A child is told that the tune goes higher than his notes; the teacher, where the first voice would go, and who has it."""
    child, teacher = (" ".join(words) for words in (part_words(PLAN, PLAN.members[1]), score_words(PLAN)))

    assert "the tune goes higher than your notes: you play the second voice." in child
    assert "D5, over the limit of C5" in teacher
    assert SECOND_AIM in teacher
    assert "the others go" not in child + teacher


def test_the_score_names_a_second_voice_at_its_staff() -> None:
    """Beside the staff of a second voice stands what it is."""
    [score] = compose(PLAN.request).chapters
    assert isinstance(score, FullScore)
    own = [stave for scored in score.studies for stave in scored.staves if stave.own]

    assert own
    assert all(stave.names[0].startswith(SECOND_VOICE) for stave in own)


def test_a_slide_is_told_how_to_slur_and_how_far_to_reach() -> None:
    """A child's trombone says doo wherever it slurs, and goes to the sixth position as far as the arm does."""
    plan = plan_class(band(player("cornet"), player("trombone"), concert_key="Bb"))
    slurred = [study for study in plan.studies(plan.members[1]) if any(note.slur_open for note in study.notes)]

    assert slurred
    assert all("Say doo" in study.aim for study in slurred if not study.piece)
    assert "6: as far as your arm goes, then listen." in " ".join(part_words(plan, plan.members[1]))
    assert "arm" not in " ".join(part_words(plan, plan.members[0]))
