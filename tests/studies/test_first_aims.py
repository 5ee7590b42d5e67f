"""Aims for a child: every study has one, short and plain."""

from dataclasses import replace

import pytest

from generators.brass.horn import horn
from generators.studies.catalogue import KINDS, make
from generators.studies.kit.kind import Kind

AIMS = [" ".join(kind.child_aim).strip() for kind in KINDS.values()]


def test_every_study_has_one_of_its_own() -> None:
    """No row lacks an aim for a child, and no two have the same."""
    assert len(KINDS) == len({aim for aim in AIMS if aim})


@pytest.mark.parametrize("aim", AIMS)
def test_words_are_few_and_short(aim: str) -> None:
    """An aim for a child is for the ear, has at most twenty words, and none of more than nine letters."""
    words = horn("trumpet").said(aim).replace(",", "").replace("?", "").replace(":", "").replace(".", "").split()

    assert "Listen" in words
    assert 20 >= len(words)
    assert 9 >= max(len(word) for word in words)


@pytest.mark.parametrize("kind", KINDS.values(), ids=list(KINDS))
def test_aims_are_whole_sentences(kind: Kind) -> None:
    """Each part of an aim ends as a sentence does, so that either can stand alone."""
    for part in map(horn("trombone").said, (kind.aim, *kind.child_aim)):
        assert not part or part.endswith((".", "?"))


@pytest.mark.parametrize("kind", [kind for name, kind in KINDS.items() if name != "bends"], ids=lambda kind: kind.name)
def test_first_grade_pages_carry_it(kind: Kind) -> None:
    """A first-grade study has the child's aim, another grade the grown player's."""
    asked = kind.request(grade="1")
    first, fifth = make(asked), make(replace(asked, grade="5"))

    said = tuple(map(horn(asked.horn).said, kind.child_aim))

    assert said == (first.aim, first.also)
    assert first.aim != fifth.aim


@pytest.mark.parametrize("kind", ["flow", "air"])
def test_a_slide_is_slurred_with_a_soft_tongue(kind: str) -> None:
    """A child with a slide is told to say doo under a slur, in flow to hear no smear; one with valves is not."""
    slide, valves = (make(KINDS[kind].request(horn=name, grade="1")) for name in ("trombone", "cornet"))

    assert "doo" in slide.aim
    assert "doo" not in valves.aim
    assert ("smear" in slide.aim) == (kind == "flow") == ("bump" in valves.aim)
