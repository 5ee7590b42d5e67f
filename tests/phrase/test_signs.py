"""Signs before notes: said once a bar, reminded of for three bars."""

import pytest

from generators.phrase.signs import NEW_SIGN, REMINDER, signs
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch


@pytest.mark.parametrize(
    ("bars", "before"),
    [
        (["F#4 F#4 F4"], [[NEW_SIGN, "", NEW_SIGN]]),
        (["F#4", "F#4"], [[NEW_SIGN], [NEW_SIGN]]),
        (["F#4", "C4", "E4", "F4 F4"], [[NEW_SIGN], [""], [""], [REMINDER, ""]]),
        (["F#4", "C4", "E4", "C4", "F4"], [[NEW_SIGN], [""], [""], [""], [""]]),
        (["F#4", "F5"], [[NEW_SIGN], [""]]),
    ],
    ids=["once a bar", "anew in the next", "reminded of", "not for ever", "in its own octave"],
)
def test_signs_of_bars(bars: list[str], before: list[list[str]]) -> None:
    """A sign is said once a bar; the key's own is reminded of once, for three bars after another, in the same octave."""
    pitches = [[parse_pitch(name) for name in bar.split()] for bar in bars]

    assert before == list(signs(pitches, parse_key("C")))
