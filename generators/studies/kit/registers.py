"""Registers: the player's range in thirds, low, middle and high."""

from generators.phrase.study import Limits

REGISTERS = ("low", "middle", "high")
# Those in which something hard is first learnt: our choice.
FIRST_REGISTERS = REGISTERS[:2]


def band(limits: Limits, register: str) -> tuple[int, int]:
    """Return the lowest and highest MIDI number of a register."""
    low, wide = limits.low.midi, limits.high.midi - limits.low.midi + 1
    third = REGISTERS.index(register)
    return low + wide * third // 3, low + wide * (third + 1) // 3 - 1
