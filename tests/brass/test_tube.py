import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.tube import (
    LONG_TUBES,
    RARE_PARTIALS,
    SETS,
    TUBES,
    lowered,
    partial_cents,
    partial_midi,
    partial_pitch,
    valve_cents,
)
from generators.errors import BadRequest

VALVES = st.sampled_from(SETS[4])
PARTIALS = st.integers(1, 16)


def test_tubes_in_order() -> None:
    """The twelve tubes lower by 0 to 11 half-steps."""
    assert list(range(12)) == [lowered(valves) for valves in TUBES + LONG_TUBES]


def test_sets() -> None:
    """Three valves make eight sets and four sixteen, none twice."""
    assert (len(set(SETS[3])), len(set(SETS[4]))) == (8, 16)
    assert set(SETS[3]) < set(SETS[4])


def test_exact_sets() -> None:
    """The model's exact sets are in tune."""
    exact = ("0", "1", "2", "2-3", "4")

    assert pytest.approx([0.0] * 5, abs=1e-9) == [valve_cents(valves) for valves in exact]


@given(st.sampled_from(SETS[3]))
def test_fourth_valve_sharpens(valves: str) -> None:
    """Adding the fourth valve never makes a set flatter, since each valve is cut for the open tube."""
    with_fourth = f"{valves}-4".removeprefix("0-")

    assert valve_cents(with_fourth) >= valve_cents(valves) - 1e-9


@given(VALVES, PARTIALS)
def test_valves_shift_the_series(valves: str, partial: int) -> None:
    """A valve set moves every partial by the same half-steps."""
    assert partial_midi("0", partial) - lowered(valves) == partial_midi(valves, partial)


@given(PARTIALS.filter(lambda n: n <= 8))
def test_octaves(partial: int) -> None:
    """The double of a partial is its octave, as far from temperament."""
    assert partial_midi("0", partial) + 12 == partial_midi("0", 2 * partial)
    assert partial_cents(partial) == pytest.approx(partial_cents(2 * partial))


def test_rare_partials_are_the_far_ones() -> None:
    """The rare partials are exactly those a quarter of a half-step and more off."""
    assert tuple(n for n in range(1, 17) if abs(partial_cents(n)) > 25) == RARE_PARTIALS


@given(VALVES, PARTIALS, st.booleans())
def test_spelling(valves: str, partial: int, sharp: bool) -> None:
    """A partial is spelled plainly, with sharps or flats as asked."""
    pitch = partial_pitch(valves, partial, sharp)

    assert partial_midi(valves, partial) == pitch.midi
    assert pitch.alter in (0, 1 if sharp else -1)


@pytest.mark.parametrize("valves", ["", "5", "2-1", "1-1", "open"])
def test_unknown_set(valves: str) -> None:
    """A set that no horn has is refused."""
    with pytest.raises(BadRequest, match="valve set"):
        lowered(valves)


@pytest.mark.parametrize("partial", [0, -1, 17])
def test_unknown_partial(partial: int) -> None:
    """A partial off the chart is refused."""
    with pytest.raises(BadRequest, match="allowed: 1 to 16"):
        partial_cents(partial)
