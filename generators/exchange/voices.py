"""What several players hand on to another program at once, and the MIDI channel of each."""

from generators.brass.horn import Horn
from generators.phrase.study import Study

AnyVoice = tuple[str, Horn, tuple[Study, ...]]
"""A player: what the part is called, the horn, the studies one after another."""
# The channels of a file, without the one that is drums everywhere.
_CHANNELS = tuple(channel for channel in range(16) if channel != 9)


def channel_of(place: int) -> int:
    """Return the MIDI channel of a part by its place, from 0; parts beyond the last share them."""
    return _CHANNELS[place % len(_CHANNELS)]
