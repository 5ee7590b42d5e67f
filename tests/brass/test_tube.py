import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.horn import HORNS, Horn, horn
from generators.brass.resonator import RESONATORS, Resonator, resonator
from generators.brass.tube import RARE_PARTIALS, partial_cents, partial_midi, partial_pitch
from generators.errors import BadRequest

THREE, FOUR, SLIDE = resonator("three-valves"), resonator("four-valves"), resonator("slide")
ON_A_TUBE = st.sampled_from(list(HORNS.values())).flatmap(lambda of: st.tuples(st.just(of), st.sampled_from(of.sets)))
PARTIALS = st.integers(1, 16)


def test_tubes_in_order() -> None:
    """The tubes lower by one half-step each: twelve on four valves, seven on three and on a slide."""
    assert list(range(12)) == [FOUR.lowered(tube) for tube in FOUR.tubes + FOUR.more]
    assert [list(range(7))] * 2 == [[row.lowered(tube) for tube in row.tubes + row.more] for row in (THREE, SLIDE)]


def test_sets() -> None:
    """Three valves make eight sets and four sixteen, none twice."""
    assert (len(set(THREE.sets)), len(set(FOUR.sets))) == (8, 16)
    assert set(THREE.sets) < set(FOUR.sets)


@pytest.mark.parametrize("position", SLIDE.tubes)
def test_a_position_is_as_exact_as_the_ear(position: str) -> None:
    """Every position of a slide is in tune."""
    assert pytest.approx(0.0, abs=1e-9) == SLIDE.cents(position)


@pytest.mark.parametrize("of", RESONATORS.values(), ids=RESONATORS)
def test_resonator_row(of: Resonator) -> None:
    """Each row's advice speaks of tubes it has, its parts are all settled, and none of its tubes stands twice."""
    assert {*of.pulls, *of.pushes, *of.instead, *of.in_tune} <= set(of.sets)
    assert set(of.lowers) == {part for tube in of.in_tune for part in tube.split("-")}
    assert len(of.sets) == len(set(of.sets))


@pytest.mark.parametrize(
    ("of", "tube", "told", "remarked"),
    [(THREE, "0", "0", "open"), (THREE, "1-3", "1-3", ""), (SLIDE, "1", "position 1", ""), (SLIDE, "3", "position 3", "")],
)
def test_labels(of: Resonator, tube: str, told: str, remarked: str) -> None:
    """The page names valves by their numbers, none of them as open, and a position as one."""
    assert (told, remarked) == (of.label(tube), of.opened(tube))


def test_exact_sets() -> None:
    """The model's exact sets are in tune."""
    exact = ("0", "1", "2", "2-3", "4")

    assert pytest.approx([0.0] * 5, abs=1e-9) == [FOUR.cents(valves) for valves in exact]


@given(st.sampled_from(THREE.sets))
def test_fourth_valve_sharpens(valves: str) -> None:
    """Adding the fourth valve never makes a set flatter, since each valve is cut for the open tube."""
    with_fourth = f"{valves}-4".removeprefix("0-")

    assert FOUR.cents(with_fourth) >= FOUR.cents(valves) - 1e-9


@given(ON_A_TUBE, PARTIALS)
def test_tubes_shift_the_series(place: tuple[Horn, str], partial: int) -> None:
    """A tube moves every partial by the same half-steps."""
    of, tube = place

    assert partial_midi(of, of.tubes[0], partial) - of.resonator.lowered(tube) == partial_midi(of, tube, partial)


@given(PARTIALS.filter(lambda n: n <= 8))
def test_octaves(partial: int) -> None:
    """The double of a partial is its octave, as far from temperament."""
    assert partial_midi(horn("trumpet"), "0", partial) + 12 == partial_midi(horn("trumpet"), "0", 2 * partial)
    assert partial_cents(partial) == pytest.approx(partial_cents(2 * partial))


def test_rare_partials_are_the_far_ones() -> None:
    """The rare partials are exactly those a quarter of a half-step and more off."""
    assert tuple(n for n in range(1, 17) if abs(partial_cents(n)) > 25) == RARE_PARTIALS


@given(ON_A_TUBE, PARTIALS)
def test_spelling(place: tuple[Horn, str], partial: int) -> None:
    """A partial is spelled to its sound, at most with a single accidental up to the sixteenth of the seven tubes."""
    of, tube = place
    pitch = partial_pitch(of, tube, partial)

    assert partial_midi(of, tube, partial) == pitch.midi
    assert abs(pitch.alter) <= (1 if tube in of.tubes and partial not in RARE_PARTIALS else 2)


@pytest.mark.parametrize("valves", ["", "5", "2-1", "1-1", "open"])
def test_unknown_set(valves: str) -> None:
    """A set that no horn has is refused."""
    with pytest.raises(BadRequest, match="valve set"):
        FOUR.lowered(valves)


@pytest.mark.parametrize("partial", [0, -1, 17])
def test_unknown_partial(partial: int) -> None:
    """A partial off the chart is refused."""
    with pytest.raises(BadRequest, match="allowed: 1 to 16"):
        partial_cents(partial)
