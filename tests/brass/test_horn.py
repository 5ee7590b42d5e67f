from pathlib import Path

import pytest

from generators.brass import horn as horn_module
from generators.brass.horn import HORNS, Horn, horn
from generators.brass.resonator import RESONATORS
from generators.errors import BadRequest
from generators.theory.interval import transpose
from generators.theory.pitch import parse_pitch

EVERY = pytest.mark.parametrize("a_horn", HORNS.values(), ids=HORNS)
ORDER = (
    "trumpet trumpet-c trumpet-d trumpet-eb piccolo-bb piccolo-a cornet soprano-cornet flugelhorn flugelhorn-4 "
    "tenor-horn baritone euphonium eb-bass bb-bass trombone euphonium-bass-clef"
)


def test_order() -> None:
    """The table holds the seventeen horns in their order, the trumpet first."""
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
def test_lowest_note_follows_the_tubes(a_horn: Horn) -> None:
    """The low limit is the second partial of the longest tube: F#3 on three valves, C#3 on four, E2 on a slide."""
    lowest = a_horn.fundamental.midi + 12 - max(a_horn.resonator.lowered(tube) for tube in a_horn.sets)
    by_hand = {("treble", 3): "F#3", ("treble", 4): "C#3", ("bass", 3): "E2", ("bass", 0): "E2"}

    assert by_hand[a_horn.clef.name, a_horn.valves] == a_horn.low.name
    assert a_horn.low.midi in (lowest, lowest + 1)  # on four valves one more, far too sharp to count


@EVERY
def test_derived_notes(a_horn: Horn) -> None:
    """Lowest tube, pedals and bends lie where they lie on a trumpet, as far away as the fundamental."""
    told = (a_horn.lowest, a_horn.pedal_floor, *a_horn.bends)

    assert [transpose(parse_pitch(name), a_horn.home) for name in ("F#3", "F#2", "E4", "G5")] == list(told)


@pytest.mark.parametrize(
    ("name", "note", "expected"),
    [
        ("trumpet", "F3", False),
        ("trumpet", "C3", False),
        ("trumpet", "B2", True),
        ("trombone", "E2", False),
        ("trombone", "Eb2", False),
        ("trombone", "Bb1", False),
        ("trombone", "F1", False),
        ("trombone", "D1", True),
    ],
)
def test_bracketed(name: str, note: str, expected: bool) -> None:
    """Printed an octave higher is what lies below the lowest tube and on five ledger lines or more."""
    assert expected is horn(name).bracketed(parse_pitch(note))


@pytest.mark.parametrize(("name", "told"), [("trumpet", "valves, fingers"), ("trombone", "positions, slide")])
def test_said(name: str, told: str) -> None:
    """A text takes the horn's own words for what moves."""
    assert told == horn(name).said("{parts}, {hand}")


def test_resonators_have_the_same_words() -> None:
    """What a text may ask one resonator for, all of them have."""
    assert 1 == len({tuple(sorted(row.words)) for row in RESONATORS.values()})


def test_names_of_horns_stand_in_the_table_alone() -> None:
    """No module knows the low brass by name: adding a horn is adding a row."""
    package = Path(horn_module.__file__).parents[1]
    texts = [path.read_text(encoding="utf-8") for path in package.rglob("*.py")]

    assert 100 < len(texts)
    assert not [text for text in texts if "trombone" in text.lower() or "euphonium" in text.lower()]


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
