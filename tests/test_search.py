"""The long search itself: it walks as far as it is told, the same way each time, and makes of a find a line that shows it."""

from typing import Any

import pytest

from generators import FlowRequest
from tests import laws, search


def test_it_walks_as_far_as_told_and_the_same_way() -> None:
    """So many runs are walked, and from the same seed the same answers come."""
    first, again = (search.walked(("flow", 3, 12))[1] for _ in range(2))

    assert 12 == first.runs == first.made + first.refused
    assert first == again


def test_a_find_is_made_small_and_said_in_python(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a find only the fields are left that it takes, and the line makes that very request."""
    monkeypatch.setattr(laws, "faults", lambda asked: ["concert keys are wrong"] if asked.concert else [])
    _, tally, finds = search.walked(("flow", 3, 12))

    assert 0 < tally.finds == len(finds)
    assert {"from generators import *; make(FlowRequest(concert=True))"} == {search.line(find) for find in finds}


def test_a_crash_is_a_find(monkeypatch: pytest.MonkeyPatch) -> None:
    """What ends in an error that is no refusal is told by its name."""

    def crash(_: Any) -> None:
        raise ZeroDivisionError("by zero")

    monkeypatch.setattr(laws, "attempt", crash)

    assert ["ZeroDivisionError: by zero"] == list(search.faults(FlowRequest()))


def test_the_runs_are_shared_out_over_all_kinds() -> None:
    """Every kind has its runs, about as many as asked in all, each chunk from a seed of its own."""
    kinds = [*search.KINDS, *search.SHARE]
    chunks = search.jobs(kinds, 20000, 1)

    assert set(kinds) == {kind for kind, _, _ in chunks}
    assert 20000 == pytest.approx(sum(runs for _, _, runs in chunks), rel=0.01)
    assert len(chunks) == len({start for _, start, _ in chunks})
