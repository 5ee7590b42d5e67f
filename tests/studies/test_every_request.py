"""The great law: whatever is asked, a proved study comes out or a refusal that tells the way."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings

from generators.brass.grade import GRADES
from generators.brass.horn import HORNS
from generators.errors import BadRequest, Refusal
from generators.phrase.study import Study
from generators.proof.prove import ERROR, prove
from generators.studies.catalogue import KINDS, make
from generators.studies.kit.request import Request
from tests.studies.requests import ANY, KEYS, WALKED, attempt, requests

LAWS = settings(max_examples=150, deadline=None)
CURES = ("would do", "allowed", "choose", "write", "give ", "leave ")


def errors(study: Study) -> list[str]:
    """Return what the proof holds against a study."""
    return [str(finding) for finding in prove(study) if finding.severity == ERROR]


def cured(request: Request, refusal: Refusal) -> Request | None:
    """Return the request changed as its refusal says; None where it says no limit or tempo."""
    cure: dict[str, Any] = {name: values[0] for name, values in refusal.would_do}
    if not cure or not set(cure) <= {"tempo", "low", "high"}:
        return None
    return replace(request, **(cure | {"tempo": int(cure["tempo"])} if "tempo" in cure else cure))


@pytest.mark.parametrize("kind", WALKED)
def test_proved_or_refused(kind: str) -> None:
    """Every request gives a study without an error, or a refusal of one line that names a way out; the limits in it do."""

    @LAWS
    @given(requests(kind))
    def law(request: Any) -> None:
        answer = attempt(request)
        if isinstance(answer, Study):
            assert [] == errors(answer)
            return
        message = str(answer)
        way = cured(request, answer.refusal)

        assert any(cure in message for cure in CURES), message
        assert "\n" not in message
        assert way is None or isinstance(attempt(way), Study), (message, attempt(way))

    law()


@settings(max_examples=100, deadline=None)
@given(ANY)
def test_same_request_same_study(request: Any) -> None:
    """A study is a pure function of its request."""
    assert str(attempt(request)) == str(attempt(request))


@pytest.mark.parametrize("horn", HORNS)
@pytest.mark.parametrize("kind", WALKED)
def test_every_horn_and_key(kind: str, horn: str) -> None:
    """Every study as it comes can be had on every horn in all thirty keys, proved."""
    study = make(KINDS[kind].request(horn=horn, keys=tuple(KEYS)))

    assert [] == errors(study)


@pytest.mark.parametrize("grade", GRADES)
@pytest.mark.parametrize("kind", WALKED)
def test_every_grade(kind: str, grade: str) -> None:
    """Every study as it comes can be had in every grade, proved."""
    study = make(KINDS[kind].request(grade=grade))

    assert [] == errors(study)


@pytest.mark.parametrize(
    ("kind", "wrong", "message"),
    [
        ("flow", {"horn": "trumpt"}, 'horn "trumpt" is not known; .*Did you mean "trumpet"'),
        ("flow", {"keys": ("H",)}, 'key "H" is not known; write'),
        ("flow", {"keys": ("G#",)}, "would need 8 accidentals; .*write Ab"),
        ("flow", {"low": "X4"}, 'note "X4" is not a written pitch; write'),
        ("flow", {"low": "G5", "high": "G4"}, "low G5 is not below high G4; give"),
        ("flow", {"high": "C8"}, 'high "C8" is off the trumpet; allowed: F#3 to E6'),
        ("flow", {"grade": "9"}, 'grade "9" is not known; allowed: 1, 2'),
        ("flow", {"tempo": 0}, "tempo 0 is out of reach; allowed: 30 to 240"),
        ("flow", {"shape": "dips"}, 'shape "dips" is not known; .*Did you mean "dip"'),
        ("flow", {"keys": ("E",), "grade": "1"}, 'key "E" is outside grade 1 as written; allowed: C, F'),
        (
            "scales",
            {"pattern": "threes", "rhythm": "eighths"},
            "groups of 3, .*; rhythm triplets with articulation slurred or ",
        ),
        ("scales", {"pattern": "fours", "rhythm": "triplets"}, "groups of 4, .*; rhythm .* would do"),
        ("scales", {"articulation": "triple", "rhythm": "eighths"}, "groups of 3, .*; rhythm triplets would do"),
        ("scales", {"rhythm": "sixteenths", "grade": "1"}, "too quick for the grade; allowed: quarters, eighths"),
        ("slurs", {"tubes": ("4",)}, 'valve set "4" is not known; allowed: 0, 2'),
        ("slurs", {"path": "up"}, 'path "up" is not known; allowed: neighbours'),
        ("slurs", {"path": "6-7"}, "partial 7 is not on the ladder; allowed: 2, 3, 4, 5, 6, 8"),
        ("slurs", {"values": (16,), "grade": "1"}, "value 16 is too quick for grade 1; allowed: 2, 4, 8"),
        ("low", {"pedals": True, "grade": "1"}, "pedals are not for grade 1; allowed from grade 4"),
        ("low", {"depth": "C3"}, "depth C3 is out of reach; allowed: F#3 to .*lower with --pedals"),
        ("entrances", {"rests": "many"}, 'rests "many" is not understood; write 1 to 99'),
        ("entrances", {"rests": "9-4"}, 'rests "9-4" runs backwards; .*4-9'),
        ("entrances", {"count": 65}, "count 65 is out of reach; allowed: 1 to 64"),
    ],
)
def test_refusals(kind: str, wrong: dict[str, Any], message: str) -> None:
    """A wrong value is refused at the door: the message names it and what is allowed."""
    with pytest.raises(BadRequest, match=message):
        make(KINDS[kind].request(**wrong))
