"""The parts of a day as the kinds offer them: each asks its own kind, in doses, for this player on this day."""

from itertools import pairwise
from typing import Any

import pytest

from generators.brass.grade import grade
from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.studies.catalogue import DAY_PARTS, KINDS, make
from generators.studies.kit.kind import AREAS, DAY_KINDS
from generators.studies.kit.occasion import DayKeys, Occasion
from generators.studies.kit.request import Request
from generators.theory.pitch import parse_pitch

KEYS = DayKeys(("C", "F", "Bb", "Eb"), ("Am", "Dm"), ("F",))
DAYS = range(739600, 739612)
each_part = pytest.mark.parametrize("part", DAY_PARTS)


def occasion(day: int = 739600, of: str = "", low: str = "G3", high: str = "G5", **more: Any) -> Occasion:
    """Return an occasion: a trumpet player of a grade, or a grown one, on a day."""
    known = {"horn": horn("trumpet"), "grade": grade(of), "grade_id": of, "kind": "normal", "keys": KEYS, "player": "chair"}
    notes = {"low": parse_pitch(low), "high": parse_pitch(high), "stretch": parse_pitch("A5")}
    return Occasion(**(known | notes | {"day": day} | more))


def asked(part: str, where: Occasion) -> list[Any]:
    """Return the requests of a part."""
    return list(DAY_PARTS[part].requests(where))


def makeable(request: Request) -> bool:
    """Tell whether a request gives a study."""
    try:
        make(request)
    except BadRequest:
        return False
    return True


@each_part
def test_a_part_asks_its_own_kind(part: str) -> None:
    """Every part yields requests of the kind whose row it stands in, all of the player's horn, and one of them can be had."""
    kind = next(kind for kind in KINDS.values() if DAY_PARTS[part] in kind.parts)
    requests = asked(part, occasion(high="C6" if "high" in DAY_PARTS[part].areas else "G5"))

    assert requests
    assert {kind.request} == {type(request) for request in requests}
    assert {"trumpet"} == {request.horn for request in requests}
    assert any(map(makeable, requests))


@each_part
def test_a_row_says_what_it_covers(part: str) -> None:
    """A part covers areas that there are, on kinds of days that there are."""
    row = DAY_PARTS[part]

    assert row.areas
    assert set(row.areas) <= set(AREAS)
    assert set(row.days) <= set(DAY_KINDS)


def test_parts_stand_in_one_order() -> None:
    """No two parts have the same place in a day, no two kinds the same place in a list."""
    assert all(a.place < b.place for a, b in pairwise(DAY_PARTS.values()))
    assert all(a.place < b.place for a, b in pairwise(KINDS.values()))


@pytest.mark.parametrize("part", ["scales", "arpeggios"])
def test_the_set_of_the_day(part: str) -> None:
    """A player's own set is taken wherever it goes into the pattern; a beginner has simple sets; all others come in turn."""
    own = [request for day in DAYS for request in asked(part, occasion(day, articulations=("accented", "slurred")))]
    first = [request for day in DAYS for request in asked(part, occasion(day, "1"))]
    free = {request.articulation for day in DAYS for request in asked(part, occasion(day))}

    assert {"slurred"} == {request.articulation for request in own}
    assert {"tongued", "slurred-pairs", "slurred"} == {request.articulation for request in first}
    assert ({"slur-two-tongue-two", "tongue-one-slur-three"} if part == "scales" else {"slurred-pairs", "tongued"}) <= free


def test_slurs_and_low_for_a_beginner() -> None:
    """A first-year player slurs three easy tubes in slow values, and goes down in keys he knows to the bottom of his grade."""
    slurs = [request for day in DAYS for request in asked("slurs", occasion(day, of="1"))]
    low = asked("low", occasion(of="1", low="C4"))

    assert {("0", "1"), ("0", "1-2"), ("0", "1", "1-2")} == {request.tubes for request in slurs}
    assert {(2, 4)} == {request.values for request in slurs}
    assert {("F", "C"), ("C",)} == {request.keys for request in low}
    assert {"C4"} == {request.low for request in low}


def test_how_deep_a_day_goes() -> None:
    """A grown player goes down to the bottom of the tubes, unless he named his own lowest note."""
    assert {"F#3"} == {request.low for request in asked("low", occasion())}
    assert {"G3"} == {request.low for request in asked("low", occasion(own_low=True))}


@pytest.mark.parametrize(("breath", "tempo"), [(0, 76), (5, 96)])
def test_the_stretch_reaches_its_note(breath: int, tempo: int | None) -> None:
    """The stretch is one chord that reaches the stretch note, whatever the grade allows; quicker where the breath is short."""
    (request,) = asked("stretch", occasion(of="3", breath=breath))
    notes = make(request).notes

    assert parse_pitch("A5") == max(note.pitch for note in notes)
    assert ("", tempo) == (request.grade, request.tempo)
