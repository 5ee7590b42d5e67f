"""Hairpins arrive: each at a printed dynamic, a step on, or back where the swell began."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.phrase.dynamics import LOUDNESS, arriving
from generators.phrase.note import Note
from generators.studies.catalogue import KINDS, make
from tests.exchange.samples import strain


def told(sketch: str) -> list[str]:
    """Return the dynamics of a sketch once its hairpins arrive."""
    (phrase,) = arriving([strain(sketch).music])
    return [event.dynamic for event in phrase if isinstance(event, Note)]


@pytest.mark.parametrize(
    ("expected", "sketch"),
    [
        (["p", "", "mp", ""], "[p<]1/4 2 [.]3 4"),
        (["p", "mp", "", "p"], "[p<]1/4 [>]2 3 [.]4"),
        (["mf", "", "", "mp"], "[mf>]1/4 2 3 4"),
        (["p", "ff", "", ""], "[p<]1/4 [ff]2 3 4"),
        (["", "f", "", "mf"], "[<]1/4 [>]2 3 [.]4"),
        (["fff", "fff", "", ""], "[fff<]1/4 [.]2 3 4"),
    ],
)
def test_a_hairpin_arrives(expected: list[str], sketch: str) -> None:
    """A growing hairpin ends a step louder, a falling one where the swell began or a step softer; what is printed stays."""
    assert expected == told(sketch)


@given(st.lists(st.sampled_from(["[<]1/4", "[>]2/4", "[.]3/4", "4/4", *(f"[{step}]5/4" for step in LOUDNESS)]), min_size=1))
def test_no_hairpin_is_without_a_goal(notes: list[str]) -> None:
    """After every note that begins a hairpin the next that ends it, or begins another, has a dynamic."""
    (phrase,) = arriving([strain(" ".join(notes)).music])
    found = [event for event in phrase if isinstance(event, Note)]
    open_, lacking = False, 0
    for place, note in enumerate(found):
        ends = open_ and (bool(note.hairpin) or bool(note.dynamic) or place + 1 == len(found))
        lacking += ends and not note.dynamic
        open_ = note.hairpin in ("<", ">") or (open_ and not ends)

    assert 0 == lacking


def test_a_piece_goes_on_from_strain_to_strain() -> None:
    """What one phrase ends with holds in the next, which prints none of its own."""
    first, second = arriving([strain("[p<]1/4 2 3 [.]4").music, strain("[<]1/4 2 3 [.]4").music])

    assert ["mp", "mf"] == [[event.dynamic for event in phrase if isinstance(event, Note)][-1] for phrase in (first, second)]


@pytest.mark.parametrize("name", KINDS)
def test_the_swells_of_every_study_have_a_goal(name: str) -> None:
    """No study as it comes leaves the end of a hairpin to the player."""
    for music in make(KINDS[name].request()).strains:
        ends = [note for note in music.notes if note.hairpin == "."]

        assert all(note.dynamic for note in ends)
