"""Refusals between processes: what a study says no with is the same after it was sent."""

import pickle

import pytest

from generators.errors import BadRequest, Refusal
from generators.studies.kit.fit import NoFit
from generators.studies.kit.setting import OffTempo

WHY = Refusal("bends", why="do not fit", would_do=(("low", ("F#3",)),))


@pytest.mark.parametrize("refusal", [BadRequest(WHY), NoFit(WHY), OffTempo(WHY, 88)])
def test_a_refusal_survives_the_way(refusal: BadRequest) -> None:
    """Kind, refusal and tempo come back from a pickle."""
    back = pickle.loads(pickle.dumps(refusal))  # noqa: S301 - our own bytes

    assert type(refusal) is type(back)
    assert refusal.refusal == back.refusal
    assert getattr(refusal, "tempo", None) == getattr(back, "tempo", None)
