import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.fingering import Fingering, compass, fingerings, usual
from generators.brass.horn import HORNS, Horn, horn
from generators.brass.tube import RARE_PARTIALS, partial_midi
from generators.theory.pitch import parse_pitch, simple

ANY_HORN = st.sampled_from(list(HORNS.values()))
ANY_NOTE = st.integers(30, 108)
THREE, FOUR = horn("trumpet"), horn("piccolo-bb")


def _usual(note: str, a_horn: Horn = THREE) -> Fingering:
    found = usual(parse_pitch(note), a_horn)
    assert found
    return found


@given(ANY_HORN, ANY_NOTE)
def test_fingerings_give_the_note(a_horn: Horn, midi: int) -> None:
    """Every fingering but a lipped one gives its note, on a tube the horn has."""
    ways = fingerings(simple(midi), a_horn)

    assert {midi} >= {partial_midi(a_horn, way.valves, way.partial) for way in ways if way.kind != "lipped"}
    assert set(a_horn.sets) >= {way.valves for way in ways}


@given(ANY_HORN, ANY_NOTE)
def test_usual_is_first(a_horn: Horn, midi: int) -> None:
    """The usual fingering leads the list, and is never on a rare partial."""
    first = usual(simple(midi), a_horn)
    ways = fingerings(simple(midi), a_horn)

    assert first == (ways[0] if ways else None)
    assert not (first and first.partial in RARE_PARTIALS)


@given(ANY_HORN, ANY_NOTE)
def test_alternates_in_order(a_horn: Horn, midi: int) -> None:
    """Alternates come the nearest in tune first, rare partials after the others, none twice."""
    ways = fingerings(simple(midi), a_horn)
    order = [(way.partial in RARE_PARTIALS, abs(way.cents)) for way in ways[1:]]

    assert sorted(order) == order
    assert len(ways) == len(set(ways))


@given(ANY_HORN)
def test_every_note_in_reach(a_horn: Horn) -> None:
    """Every note between a horn's lower limit and its ceiling has a real fingering."""
    compass = [usual(simple(midi), a_horn) for midi in range(a_horn.low.midi, a_horn.ceiling.midi + 1)]

    assert {""} == {way.kind for way in compass if way}
    assert all(compass)


@given(ANY_HORN)
def test_registers(a_horn: Horn) -> None:
    """Below the lowest tube come the gap, real on four valves and lipped on others, then the pedals, then nothing."""
    gap = "" if a_horn.valves == 4 else "lipped"
    kinds = [way.kind if (way := usual(simple(a_horn.lowest.midi - n), a_horn)) else "none" for n in range(1, 14)]

    assert [*[gap] * 5, *["pedal"] * 7, "none"] == kinds


@given(ANY_HORN)
def test_compass(a_horn: Horn) -> None:
    """The compass ends where the fingerings do."""
    low, high = compass(a_horn)

    assert usual(low, a_horn)
    assert usual(high, a_horn)
    assert [None, None] == [usual(simple(midi), a_horn) for midi in (low.midi - 1, high.midi + 1)]


@pytest.mark.parametrize("note", ["F2", "C#7", "C1"])
def test_outside(note: str) -> None:
    """Outside F#2 to C7 there is no fingering."""
    assert fingerings(parse_pitch(note), FOUR) == ()


@given(st.integers(54, 96))
def test_four_valves_finger_as_three(midi: int) -> None:
    """From F#3 up the usual fingering is the same with four valves as with three."""
    assert usual(simple(midi), THREE) == usual(simple(midi), FOUR)


def test_spelling_does_not_matter() -> None:
    """A note is fingered by its sound: C#4 as Db4."""
    assert fingerings(parse_pitch("C#4"), THREE) == fingerings(parse_pitch("Db4"), THREE)


def test_lipped_has_no_partial() -> None:
    """A lipped note takes the octave's fingering and has no partial of its own."""
    assert Fingering("1", 0, 0.0, "lipped", "lip it down: no resonance here") == _usual("F3")


ADVICE = {
    ("D4", "1-3"): "third slide out",
    ("C#4", "1-2-3"): "third slide well out",
    ("G3", "4"): "4 is nearer in tune than 1-3",
    ("F#3", "2-4"): "2-4 is nearer in tune than 1-2-3",
    ("Bb5", "0"): "rarely used: flat 7th partial",
    ("F#6", "0"): "rarely used: flat 11th partial",
    ("Ab6", "0"): "rarely used: sharp 13th partial",
    ("F3", "1-4"): "slides well out, lip it down",
    ("C3", "0"): "pedal: tends flat, lip it up",
    ("A4", "3"): "tends flat",
    ("A4", "1-2"): "tends sharp",
    ("B4", "1-3"): "",
}


@pytest.mark.parametrize(("note", "valves"), ADVICE)
def test_advice(note: str, valves: str) -> None:
    """Advice tells the player what to do, and is silent where nothing is to be done."""
    told = {way.valves: way.advice for way in fingerings(parse_pitch(note), FOUR)}

    assert ADVICE[note, valves] == told[valves]


SLIDE_ADVICE = {
    ("D4", "1"): "tends flat: lip it up",
    ("C#4", "2"): "tends flat: slide in a little",
    ("F4", "4"): "rarely used: flat 7th partial",
}


@pytest.mark.parametrize(("note", "position"), SLIDE_ADVICE)
def test_advice_on_a_slide(note: str, position: str) -> None:
    """On a slide the arm puts a partial right, in first position the lip."""
    told = {way.valves: way.advice for way in fingerings(parse_pitch(note), horn("trombone"))}

    assert SLIDE_ADVICE[note, position] == told[position]


@given(ANY_HORN, ANY_NOTE)
def test_advice_is_short(a_horn: Horn, midi: int) -> None:
    """Advice fits beside a note."""
    assert all(len(way.advice) <= 40 for way in fingerings(simple(midi), a_horn))
