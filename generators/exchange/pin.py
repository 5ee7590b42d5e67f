"""The last touches on MusicXML as music21 writes it: nothing of the day or the machine, and what it leaves out."""

from collections.abc import Sequence
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from generators.brass.horn import Horn

DOCTYPE = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">\n'
)
# Positions that a reader finds better itself: a bracket only where no beam groups the triplet, dynamics by its own rules.
LEFT_TO_THE_READER = {"tuplet": ("bracket", "placement"), "dynamics": ("default-x", "default-y")}


def pinned(root: Element, horns: Sequence[Horn], code: str = "") -> bytes:
    """Return the file: the same bytes for the same score, whenever and wherever it is written, the code of its music inside."""
    _encoding(root)
    if code:
        _named(root, code)
    _sound(root, horns)
    for element in root.iter():
        for name in LEFT_TO_THE_READER.get(element.tag, ()):
            element.attrib.pop(name, None)
    indent(root)
    return (DOCTYPE + tostring(root, encoding="unicode") + "\n").encode()


def _encoding(root: Element) -> None:
    identification = _child(root, "identification")
    for creator in identification.findall("creator[@type='composer']"):
        identification.remove(creator)  # music21 names itself as the composer
    encoding = _child(identification, "encoding")
    encoding.remove(_child(encoding, "encoding-date"))
    encoding.remove(_child(encoding, "supports[@element='stem']"))
    _child(encoding, "software").text = "Waterkey"


def _named(root: Element, code: str) -> None:
    """Put the code of the music among the miscellaneous fields, which come last in the identification."""
    identification = _child(root, "identification")
    found = identification.find("miscellaneous")
    fields = SubElement(identification, "miscellaneous") if found is None else found
    SubElement(fields, "miscellaneous-field", name="music").text = code


def _sound(root: Element, horns: Sequence[Horn]) -> None:
    for part, horn in zip(root.findall("part-list/score-part"), horns, strict=True):
        SubElement(_child(part, "score-instrument"), "instrument-sound").text = horn.sound


def _child(parent: Element, path: str) -> Element:
    found = parent.find(path)
    if found is None:
        raise LookupError(f"MusicXML without {path}")
    return found
