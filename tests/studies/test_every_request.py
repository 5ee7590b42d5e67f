"""The great law: whatever is asked, a proved study comes out or a refusal that tells the way."""

from typing import Any

import pytest
from hypothesis import given, settings

from generators.brass.grade import GRADES
from generators.brass.horn import HORNS
from generators.errors import BadRequest, Refusal
from generators.fields import slots
from generators.phrase.study import Study
from generators.proof.prove import ERROR, prove
from generators.studies.catalogue import KINDS, make
from generators.studies.flow.study import FlowRequest
from generators.studies.scales import ScalesRequest
from tests import laws
from tests.studies.requests import KEYS, records, requests

# The long walk is `python tests/search.py`; this one keeps the suite honest between two of them.
LAWS = settings(max_examples=8)


def errors(study: Study) -> list[str]:
    """Return what the proof holds against a study."""
    return [str(finding) for finding in prove(study) if finding.severity == ERROR]


@pytest.mark.parametrize("kind", KINDS)
def test_proved_or_refused(kind: str) -> None:
    """Every request gives a study without an error, or a refusal of one line that names a way out; the values in it do.

    Asked twice it is answered alike.
    """

    @LAWS
    @given(requests(kind))
    def law(request: Any) -> None:
        assert [] == list(laws.faults(request))

    law()


def test_a_way_that_does_not_do_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """The law sees a limit that does not do, a field that is not there, and a refusal without a way."""
    asked = FlowRequest(low="C5", high="D5")
    told = {
        "does not": Refusal("flow", would_do=(("high", ("D#5",)),)),
        "cannot be given": Refusal("flow", would_do=(("rhythm", ("triplets",)),)),
        "without a way": Refusal("flow", why="is not to be had"),
    }
    for words, refusal in told.items():
        monkeypatch.setattr(laws, "attempt", lambda _, refusal=refusal: BadRequest(refusal))
        assert [words] == [words for fault in laws.faults(asked) if words in fault]


def test_a_way_is_followed_field_by_field() -> None:
    """Each value of a field is tried, fields told together stand together, numbers and lists are of their field's type."""
    refusal = Refusal("flow", would_do=(("tempo", ("60", "72")), ("keys", ("C,F",))))

    assert [FlowRequest(tempo=60, keys=("C", "F")), FlowRequest(tempo=72, keys=("C", "F"))] == list(
        laws.followed(FlowRequest(), refusal)
    )


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_is_drawn(kind: str) -> None:
    """Each field is drawn with another value than its own, so nothing is left out of the walk."""
    own = slots(KINDS[kind].request)
    missing = {slot.name for slot in own}

    @settings(max_examples=60)
    @given(requests(kind))
    def law(request: Any) -> None:
        missing.difference_update(slot.name for slot in own if getattr(request, slot.name) != slot.default)

    law()
    assert set() == missing


def test_what_is_fixed_is_fixed() -> None:
    """A field that is given is never drawn, the horn neither."""

    @settings(max_examples=20)
    @given(records(ScalesRequest, horn="cornet", tempo=72))
    def law(request: ScalesRequest) -> None:
        assert ("cornet", 72) == (request.horn, request.tempo)

    law()


# Every study on every second horn, the others with the next study; all of them are walked by `python tests/search.py`.
@pytest.mark.parametrize(("kind", "horn"), [(kind, horn) for i, kind in enumerate(KINDS) for horn in list(HORNS)[i % 2 :: 2]])
def test_every_horn_and_key(kind: str, horn: str) -> None:
    """Every study as it comes can be had on every horn, in six of the thirty keys, others on the next horn, proved."""
    keys = KEYS[list(HORNS).index(horn) % 5 :: 5]
    study = make(KINDS[kind].request(horn=horn, keys=tuple(keys)))

    assert [] == errors(study)


@pytest.mark.parametrize("grade", GRADES)
@pytest.mark.parametrize("kind", KINDS)
def test_every_grade(kind: str, grade: str) -> None:
    """Every study as it comes can be had in every grade, proved, but for those that the grade waits for: these are refused."""
    if kind in GRADES[grade].without:
        with pytest.raises(BadRequest, match=f'study "{kind}" is not for grade {grade} but from grade'):
            make(KINDS[kind].request(grade=grade))
        return
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
        ("flow", {"grade": "9"}, 'grade "9" is not known; allowed: 0, 1, 2'),
        ("flow", {"tempo": 0}, "tempo 0 is out of reach; allowed: 30 to 240"),
        ("flow", {"shape": "dips"}, 'shape "dips" is not known; .*Did you mean "dip"'),
        ("flow", {"keys": ("E",), "grade": "1"}, 'key "E" is outside grade 1 as written; allowed: C, F'),
        ("scales", {"pattern": "threes", "rhythm": "eighths"}, "groups of 3, .*; rhythm triplets with"),
        ("scales", {"pattern": "fours", "rhythm": "triplets"}, "groups of 4, .*; rhythm .* would do"),
        ("scales", {"articulation": "triple", "rhythm": "eighths"}, "groups of 3, .*; rhythm triplets would do"),
        ("scales", {"rhythm": "sixteenths", "grade": "1"}, "too quick for the grade; allowed: halves, quarters, eighths"),
        ("slurs", {"tubes": ("4",)}, 'valve set "4" is not known; allowed: 0, 2'),
        ("slurs", {"path": "up"}, 'path "up" is not known; allowed: neighbours'),
        ("slurs", {"path": "6-7"}, "partial 7 is not to be played; allowed: 2, 3, 4, 5, 6, 8"),
        ("slurs", {"values": (16,), "grade": "1"}, "value 16 is too quick for grade 1; allowed: 2, 4, 8"),
        ("low", {"pedals": True, "grade": "1"}, "pedals are not for grade 1; allowed: from grade 4"),
        ("low", {"depth": "C3"}, "depth C3 is out of reach; allowed: F#3 to a third below .*; pedals would do"),
        ("entrances", {"rests": "many"}, 'rests "many" is not understood; write 1 to 99'),
        ("entrances", {"rests": "9-4"}, 'rests "9-4" runs backwards; .*4-9'),
        ("entrances", {"count": 65}, "count 65 is out of reach; allowed: 1 to 64"),
    ],
)
def test_refusals(kind: str, wrong: dict[str, Any], message: str) -> None:
    """A wrong value is refused at the door: the message names it and what is allowed."""
    with pytest.raises(BadRequest, match=message):
        make(KINDS[kind].request(**wrong))
