import pytest

from generators.brass.horn import HORNS, Horn, horn
from generators.errors import BadRequest
from generators.theory.pitch import parse_pitch

EVERY = pytest.mark.parametrize("a_horn", HORNS.values(), ids=HORNS)
ORDER = (
    "trumpet trumpet-c trumpet-d trumpet-eb piccolo-bb piccolo-a cornet soprano-cornet flugelhorn flugelhorn-4 "
    "tenor-horn baritone euphonium eb-bass bb-bass"
)


def test_order() -> None:
    """The table holds the fifteen horns in their order, the trumpet first."""
    assert ORDER.split() == list(HORNS)


@EVERY
def test_lookup(a_horn: Horn) -> None:
    """Every horn is found by its own id."""
    assert a_horn is horn(a_horn.id)


def test_unknown() -> None:
    """An unknown horn is refused with the nearest one."""
    with pytest.raises(BadRequest, match=r'horn "trumpett" is not known; allowed: .*Did you mean "trumpet"\?'):
        horn("trumpett")


@EVERY
def test_limits_nest(a_horn: Horn) -> None:
    """The comfortable span lies inside the ordinary limits, and those below the ceiling."""
    rising = [a_horn.low, *a_horn.comfort, a_horn.high, a_horn.ceiling]

    assert sorted(rising) == rising
    assert a_horn.comfort[1].midi - a_horn.comfort[0].midi >= 19


@EVERY
def test_lowest_note_follows_valves(a_horn: Horn) -> None:
    """Three valves reach F#3 and four C#3."""
    lowest = {3: "F#3", 4: "C#3"}[a_horn.valves]

    assert parse_pitch(lowest) == a_horn.low


@EVERY
def test_row_is_complete(a_horn: Horn) -> None:
    """Every row names its sources and its reason, and its name has real flats."""
    assert all((a_horn.name, a_horn.source, a_horn.reason))
    assert " in Bb" not in a_horn.name
    assert " in Eb" not in a_horn.name


def test_names_differ() -> None:
    """No two horns print the same name."""
    assert len(HORNS) == len({a_horn.name for a_horn in HORNS.values()})


@EVERY
def test_sounding_half_steps(a_horn: Horn) -> None:
    """The half-steps to the sounding pitch are those of the interval."""
    assert a_horn.interval.half_steps == a_horn.sounding_half_steps
