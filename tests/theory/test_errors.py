"""Refusals: their exit codes, the hint that names the nearest value, and how they travel between processes."""

import pytest

from generators.errors import BadRequest, FailedRun, Refusal, WaterkeyError, unknown, worded


@pytest.mark.parametrize(("kind", "code"), [(WaterkeyError, 1), (FailedRun, 1), (BadRequest, 2)])
def test_exit_codes(kind: type[WaterkeyError], code: int) -> None:
    """A bad request ends with code 2, a failed run with code 1."""
    assert code == kind(Refusal("tempo")).exit_code


def test_an_unknown_value_is_named_with_the_allowed_ones() -> None:
    """The refusal names what was asked, every allowed value, and the nearest of them in its own spelling."""
    refusal = unknown("scale", "doriann", ("major", "Dorian"))

    assert 'scale "doriann" is not known; allowed: major, Dorian. Did you mean "Dorian"?' == str(refusal)


def test_no_hint_where_nothing_is_near() -> None:
    """A value that is like no other gets no hint."""
    refusal = unknown("grade", 99, ("major", "minor"))

    assert 'grade "99" is not known; allowed: major, minor.' == str(refusal)


def test_a_place_is_told_first() -> None:
    """File, line and field stand before the value, the outer place first; of a long place the end is told."""
    refusal = Refusal("key", "H", "is not known").within("weak-keys").within("band.toml, line 3")

    assert 'band.toml, line 3: weak-keys: key "H" is not known.' == worded(refusal)
    assert worded(Refusal("profile", why="is not there", where="x" * 3000 + "/p.toml")).startswith("…xxx")
    assert 200 > len(worded(Refusal("profile", why="is not there", where="x" * 3000 + "/p.toml")))
