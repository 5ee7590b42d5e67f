"""Aims for a child: every study has one, short and plain."""

import pytest

from generators.brass.horn import horn
from generators.studies.catalogue import KINDS, make
from generators.studies.first_aims import FIRST_AIMS


def test_every_study_has_an_aim_for_a_child() -> None:
    """The table has a row for every study and no other."""
    assert set(KINDS) == set(FIRST_AIMS)


@pytest.mark.parametrize("aim", FIRST_AIMS.values())
def test_words_are_few_and_short(aim: str) -> None:
    """An aim for a child is for the ear, has at most twenty words, and none of more than nine letters."""
    words = horn("trumpet").said(aim).replace(",", "").replace("?", "").replace(":", "").replace(".", "").split()

    assert "Listen" in words
    assert 20 >= len(words)
    assert 9 >= max(len(word) for word in words)


@pytest.mark.parametrize("kind", [name for name in KINDS if name != "bends"])
def test_first_grade_pages_carry_it(kind: str) -> None:
    """A first-grade study has the child's aim, another grade the grown player's."""
    first, fifth = (make(KINDS[kind].request(grade=grade)).aim for grade in ("1", "5"))

    assert horn("trumpet").said(FIRST_AIMS[kind]) == first
    assert first != fifth
