"""Refusals between processes: what anything says no with is the same after it was sent."""

import pickle
from collections.abc import Iterator
from importlib import import_module
from pkgutil import walk_packages

import pytest

import generators
from generators.errors import BadRequest, FailedRun, Refusal, WaterkeyError
from generators.press.breaking import TooTallError
from generators.routine.profile import WrongField
from generators.studies.kit.fit import NoFit
from generators.studies.kit.setting import OffTempo
from generators.theory.pitch import parse_pitch

WHY = Refusal("bends", parse_pitch("G4"), "do not fit", allowed=("F4",), would_do=(("low", ("F#3",)),), where="line 3")
ERRORS = [
    *(kind(WHY) for kind in (WaterkeyError, BadRequest, FailedRun, NoFit, TooTallError)),
    OffTempo(WHY, 88),
    WrongField(WHY, "weak_keys", "H"),
]


def kinds(of: type[WaterkeyError]) -> Iterator[type[WaterkeyError]]:
    """Yield a kind of error and all that are made from it."""
    yield of
    for kind in of.__subclasses__():
        yield from kinds(kind)


@pytest.mark.parametrize("error", ERRORS, ids=lambda error: type(error).__name__)
def test_a_refusal_survives_the_way(error: WaterkeyError) -> None:
    """Kind, refusal and all that the kind knows beside it come back from a pickle."""
    back = pickle.loads(pickle.dumps(error))  # noqa: S301 - our own bytes

    assert type(error) is type(back)
    assert error.refusal == back.refusal
    assert vars(error) == vars(back)
    assert str(error) == str(back)


def test_every_kind_is_sent() -> None:
    """The samples above hold one of every kind of error in the house."""
    for found in walk_packages(generators.__path__, "generators."):
        if not found.name.endswith("__main__"):
            import_module(found.name)

    assert set(kinds(WaterkeyError)) == {type(error) for error in ERRORS}
