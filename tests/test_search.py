"""The long search itself: it walks as far as it is told, the same way each time, and makes of a find a line that shows it."""

from datetime import date
from typing import Any

import pytest

from generators import DayRequest, FlowRequest, PacketRequest, Profile, Sheet, Wishes
from generators.routine.growth import Growth
from generators.theory.pitch import parse_pitch
from tests import laws, search


def test_it_walks_as_far_as_told_and_the_same_way() -> None:
    """So many runs are walked, and from the same seed the same answers come."""
    first, again = (search.walked(("flow", 3, 12))[1] for _ in range(2))

    assert 12 == first.runs == first.made + first.refused
    assert first == again


def test_a_find_is_made_small_and_said_in_python(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a find only the fields are left that it takes, and the line makes that very request."""
    monkeypatch.setattr(laws, "faults", lambda asked: ["concert keys are wrong"] if asked.concert else [])
    _, tally, finds = search.walked(("flow", 3, 40))

    assert 0 < tally.finds == len(finds)
    assert {f"{search.HEAD}make(FlowRequest(concert=True))"} == {search.line(find) for find in finds}


def test_a_crash_is_a_find(monkeypatch: pytest.MonkeyPatch) -> None:
    """What ends in an error that is no refusal is told by its name."""

    def crash(_: Any) -> None:
        raise ZeroDivisionError("by zero")

    monkeypatch.setattr(laws, "attempt", crash)

    assert ["ZeroDivisionError: by zero"] == list(search.faults(FlowRequest(), Sheet()))


@pytest.mark.parametrize("kind", search.SHARE)
def test_packets_days_and_weeks_are_walked(kind: str) -> None:
    """Papers of several studies are drawn and composed, and keep the laws."""
    runs = 1 if kind == "week" else 3
    _, tally, finds = search.walked((kind, 1, runs))

    assert (runs, []) == (tally.runs, finds)


def test_a_request_that_its_json_loses_is_a_find(monkeypatch: pytest.MonkeyPatch) -> None:
    """What does not come back from JSON is found, the sheet too, and the sheet that shows it is small."""
    real = laws.decoded
    monkeypatch.setattr(laws, "decoded", lambda text: real(text.replace("Monday", "Tuesday")))
    find = search.Find("flow", FlowRequest(), Sheet(title="Monday", paper="letter"), "another request comes back from its JSON")

    assert [find.fault] == list(search.faults(find.asked, find.sheet))[:1]
    assert Sheet(title="Monday") == search.smallest(find).sheet


@pytest.mark.parametrize(
    "asked",
    [
        FlowRequest(keys=("Eb",), tempo=72),
        PacketRequest(studies=(FlowRequest(), FlowRequest(horn="cornet"))),
        DayRequest(
            profile=Profile(weak_keys=("Db",)),
            on=date(2026, 11, 30),
            growth=Growth(top=parse_pitch("Bb5"), since=date(2026, 11, 1)),
            wishes=Wishes(transpose=-2),
        ),
    ],
)
def test_a_find_is_said_in_python(asked: Any) -> None:
    """The line of a find, run as it stands, makes the very request again."""
    said = search.line(search.Find("day", asked, Sheet(), ""))
    made: dict[str, Any] = {}
    exec(said.replace("; compose(", "; asked = (").replace("; make(", "; asked = ("), made)  # noqa: S102  # our own line

    assert asked == made["asked"]


def test_the_runs_are_shared_out_over_all_kinds() -> None:
    """Every kind has its runs, about as many as asked in all, each chunk from a seed of its own."""
    kinds = [*search.KINDS, *search.SHARE]
    chunks = search.jobs(kinds, 20000, 1)

    assert set(kinds) == {kind for kind, _, _ in chunks}
    assert 20000 == pytest.approx(sum(runs for _, _, runs in chunks), rel=0.01)
    assert len(chunks) == len({start for _, start, _ in chunks})
