"""Sheets between the first notes: without a grade they are a beginner's, unless what is asked is none."""

import pytest

from generators.jobs.compose import compose
from generators.sheets.packet import packet_of
from generators.studies.catalogue import KINDS, first_notes, make
from generators.studies.flow.study import FlowRequest
from generators.studies.scales import ScalesRequest
from generators.studies.tonguing.study import TonguingRequest

# The notes of the first grade on the trumpet, and the five that come before them.
FIRST = [("1", {"low": "C4", "high": "C5"}), ("0", {"low": "C4", "high": "G4"})]


@pytest.mark.parametrize(("first", "limits"), FIRST, ids=["C5", "G4"])
@pytest.mark.parametrize("name", ["flow", "slurs", "scales", "arpeggios", "entrances"])
def test_they_have_the_habits_of_the_first_grades(name: str, first: str, limits: dict[str, str]) -> None:
    """A study between the first notes is the one that the first grade which has them has between them."""
    asked = KINDS[name].request(**limits)

    assert make(KINDS[name].request(grade=first, **limits)) == make(asked)
    assert first == first_notes(asked).grade


@pytest.mark.parametrize(
    "asked",
    [
        FlowRequest(low="C4", high="D5"),
        FlowRequest(low="F#3", high="C5"),
        FlowRequest(high="C5"),
        FlowRequest(low="C4", high="C5", grade="3"),
        ScalesRequest(low="C4", high="C5", keys=("E",)),
        ScalesRequest(low="C4", high="C5", rhythm="sixteenths"),
        TonguingRequest(low="C4", high="C5", kind="double"),
    ],
)
def test_others_stay_as_they_are(asked: FlowRequest) -> None:
    """A wider range, one limit alone, a grade that is named, and what the first grade does not have: all as asked."""
    assert asked == first_notes(asked)


def test_names_and_valves_stand_on_their_pages() -> None:
    """As with grade 1, names and fingerings are over the notes by themselves."""
    sheet = compose(packet_of(("flow", "scales"), low="C4", high="C5")).sheet

    assert ("all", True) == (sheet.fingerings, sheet.note_names)
