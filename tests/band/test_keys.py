"""The concert key of a class: read by all, shared by beginners, the others passed over with a reason."""

from typing import Any

import pytest
from hypothesis import given

from generators.band.keys import chosen_key, reads, written_key
from generators.band.request import ClassRequest, members_of
from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.theory.key import parse_key
from tests.band.bands import DEMO, FIRST_YEAR, any_bands, band, player


def key_of(asked: ClassRequest) -> str:
    """Return the key that is chosen for a class."""
    return chosen_key(members_of(asked), asked.concert_key).key.name


@pytest.mark.parametrize(
    ("wanted", "asked"),
    [
        ("Bb", FIRST_YEAR),
        ("Bb", DEMO),
        ("Bb", band(player("cornet"), player("tenor-horn"))),
        ("Bb", band(*map(player, ("cornet", "tenor-horn", "trombone", "eb-bass", "euphonium-bass-clef")))),
        ("Eb", band(player("tenor-horn"), player("eb-bass"))),
        ("Bb", band(player("cornet", ""), player("trombone", ""))),
        ("Eb", band(player("tenor-horn", "", "C4", "C5"))),
    ],
)
def test_beginners_share_b_flat(wanted: str, asked: ClassRequest) -> None:
    """First-year brass shares concert B flat, whoever else is there; a band of horns in E flat has its own."""
    assert wanted == key_of(asked)


@pytest.mark.parametrize(
    ("the_horn", "wanted"),
    [("cornet", "C"), ("tenor-horn", "G"), ("trombone", "Bb"), ("trumpet-c", "Bb"), ("soprano-cornet", "G")],
)
def test_concert_b_flat_as_each_horn_reads_it(the_horn: str, wanted: str) -> None:
    """Concert B flat is C for horns in B flat, G for those in E flat, itself for those at pitch."""
    assert wanted == written_key(parse_key("Bb"), horn(the_horn)).name


def test_beginners_read_the_shared_key_on_every_horn() -> None:
    """A first-year tenor horn reads concert B flat, which is G for it and beyond its grade, and not concert F."""
    [member] = members_of(band(player("tenor-horn")))

    assert not member.grade.knows("G")
    assert [True, False] == [reads(member, parse_key(name)) for name in ("Bb", "F")]


@given(any_bands)
def test_every_key_is_taken_passed_over_or_refused(asked: ClassRequest) -> None:
    """Of twelve majors each is the one or passed over; one is passed over as unread just where somebody does not read it."""
    members = members_of(asked)
    try:
        choice = chosen_key(members, asked.concert_key)
    except BadRequest:
        return
    others = {one.key: one.unread for one in choice.passed}

    assert (12 if choice.key.mode == "minor" else 11) == len(others)
    assert all(bool(unread) == any(not reads(member, key) for member in members) for key, unread in others.items())


def test_what_one_does_not_read_is_told_with_what_he_would_read() -> None:
    """Concert C is passed over for a first-year cornet, who would read D."""
    passed = {one.key.name: one.unread for one in chosen_key(members_of(FIRST_YEAR), "").passed}

    assert {"C": [(0, "D")], "Eb": []} == {name: [(place, key.name) for place, key in passed[name]][:1] for name in ("C", "Eb")}


def test_a_key_that_is_asked_for_leaves_out_who_does_not_read_it() -> None:
    """In concert D a first-year cornet sits out, and a grown trumpet plays."""
    asked: Any = band(player("cornet"), player("trumpet", ""), concert_key="D")

    assert [(0, "E")] == [(place, key.name) for place, key in chosen_key(members_of(asked), "D").unread]
