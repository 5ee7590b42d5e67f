"""What a strain is called, as a value; `wording` turns it into words where it is printed."""

from dataclasses import dataclass

from generators.theory.key import Key
from generators.theory.pitch import Pitch


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What a strain is: a key, a tube, a note or a name of its own, and what tells it from its neighbours."""

    key: Key | None = None
    """The key as it is written; for a scale or a chord that belongs to no key the one on its root."""
    concert: Key | None = None
    """The key as it sounds, where the player asked for concert keys."""
    scale: str = ""
    """What stands on the tonic if it is more than the key's mode: "harmonic minor", "dominant seventh"."""
    root: Pitch | None = None
    """The root of that where it is not the tonic, as of a dominant seventh in its key; its octave means nothing."""
    tube: str = ""
    """The valve set or slide position that all of it lies on."""
    note: Pitch | None = None
    """The note it is about."""
    name: str = ""
    """A name of its own, such as "Siren", "pedal" or "A, question"; it stands before key and note."""
    part: str = ""
    """Which part of the whole it is, such as a register or "1 to 4"."""
    detail: str = ""
    """What only a full label has room for."""
