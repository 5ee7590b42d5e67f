"""A second voice: what a beginner plays to whom the line of the others lies high, or goes too high."""

from dataclasses import replace
from itertools import pairwise

import pytest

from generators.band.joining import ClassLine
from generators.band.plan import ClassPlan, plan_class
from generators.band.simpler import SECOND_AIM, SECOND_VOICE
from generators.brass.horn import horn
from generators.jobs.compose import compose
from generators.sheets.class_words import part_words, score_words
from generators.sheets.classes import WORDS_LETTERS
from generators.sheets.document import FullScore
from generators.sheets.panels import Points
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
    """A heading names a second voice; its strains say what the others play to them, so all find them."""
    for item in PLAN.items:
        line, first = horn_lines(PLAN)[item.shared.name], item.shared.lines[0]
        assert isinstance(first, ClassLine)
        if line.own:
            assert SECOND_VOICE == line.study.what
        if line.beyond:
            for own, other in zip(line.study.strains, first.study.strains, strict=True):
                part = f"others: {other.label.part}" if other.label.part else ""
                assert (other.label.name, part, other.label.detail) == (own.label.name, own.label.part, own.label.detail)


def test_a_second_voice_gives_relief() -> None:
    """Where the tune goes too high the second voice comes to its highest note seldom, and ends on the chord."""
    for item in PLAN.items:
        line, first = horn_lines(PLAN)[item.shared.name], item.shared.lines[0]
        assert isinstance(first, ClassLine)
        if line.beyond:
            tops = [note.pitch.name for note in line.study.notes].count("C5")
            assert tops <= len(line.study.notes) / 20
            assert line.study.notes[-1].pitch.step in "GBD"


def test_a_scale_that_turns_is_called_so_that_a_child_knows() -> None:
    """What other players call returning goes up and back for a child, and a short tune has no letters."""
    studies = plan_class(replace(PLAN.request, studies=("scales", "etude"), minutes=20)).items
    labels = [strain.label for item in studies for strain in item.shared.study.strains]

    assert "up and back" in {label.part for label in labels}
    assert {""} == {label.name for label in labels}


def pairs_of(name: str) -> list[tuple[int, int]]:
    """Return the degrees of the first voice and the steps that the second lies under each, of a study of some seeds."""
    found = list[tuple[int, int]]()
    for seed in range(3):
        plan = plan_class(replace(PLAN.request, studies=(name,), seed=seed))
        member = plan.members[1]
        for item, line in plan.lines(member):
            assert isinstance(line, ClassLine)
            octaves = 12 * line.octaves - member.horn.sounding_half_steps + horn(item.shared.study.horn).sounding_half_steps
            for first, own in zip(item.shared.study.strains, line.study.strains, strict=True):
                home = first.key.degree(0)
                found += [
                    ((a.pitch.place - home.place) % 7, a.pitch.midi + octaves - b.pitch.midi)
                    for a, b in zip(first.notes, own.notes, strict=True)
                ]
    return found


@pytest.mark.parametrize("name", ["flow", "scales", "etude"])
def test_under_the_home_note_is_no_minor_chord(name: str) -> None:
    """Under the tonic stand itself, its fifth or its octave, under any other note the third, a fourth under the dominant."""
    pairs = pairs_of(name)

    assert {0, 5, 12} >= {steps for degree, steps in pairs if degree == 0}
    assert {3, 4, 5} >= {steps for degree, steps in pairs if degree == 4}
    assert {3, 4} >= {steps for degree, steps in pairs if degree not in (0, 4)}


def test_a_second_voice_is_not_always_high() -> None:
    """No page of a second voice stays in the highest third of the notes that its player has."""
    member = PLAN.members[1]
    low, high = member.limits.low.midi, member.limits.high.midi
    notes = [note.pitch.midi for line in horn_lines(PLAN).values() if line.beyond for note in line.study.notes]

    assert min(notes) < high - (high - low) / 3


def test_who_plays_a_second_voice_is_told_in_his_words() -> None:
    """A child is told that the tune goes higher than his notes; the teacher, where the first voice would go, and who has it."""
    child, teacher = (" ".join(words) for words in (part_words(PLAN, PLAN.members[1]), score_words(PLAN)))

    assert "the tune goes higher than your notes: you play the second voice." in child
    assert "D5, over the limit of C5" in teacher
    assert SECOND_AIM in teacher
    assert "the others go" not in child + teacher


def test_the_score_tells_in_points_what_is_chosen() -> None:
    """Each thing that a teacher is told stands on a line or two of its own, also that a soprano's second voice is above."""
    plan = plan_class(band(player("cornet"), player("soprano-cornet"), player("tenor-horn"), concert_key="Bb"))
    [score] = compose(plan.request).chapters
    assert isinstance(score, FullScore)
    points = [text for panel in score.glance if isinstance(panel, Points) for text in panel.texts]

    assert list(score_words(plan)) == points
    assert max(map(len, points)) <= 2 * WORDS_LETTERS
    assert "The second voice of soprano cornet sounds above the tune." in points


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
