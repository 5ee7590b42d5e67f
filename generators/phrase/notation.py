"""A line of scale degrees written as text, as a player would sketch it: "1/2( 7,/4 6, | 5,/1)*".

A note is a degree (1 the tonic, 8 its octave; a comma after it an octave lower, an apostrophe higher; b or # before it
altered), then what changes: `/4` the value (kept until the next; `.` dotted, `t` of a triplet), `(` and `)` a slur,
`~` a tie, `*` a breath, `?` a breath if the air does not last, `:st :te :ac :ma :fe` an articulation. `r` is a rest,
bar lines are for the eye, and `[p<]` puts a dynamic and a hairpin on the next note (`[o<]` one from silence, `[.]` ends it).
"""

import re
from fractions import Fraction
from functools import cache

from generators.phrase.note import Degree, Note, Phrase, Rest

_ARTICULATIONS = {"st": "staccato", "te": "tenuto", "ac": "accent", "ma": "marcato", "fe": "fermata"}
_VALUE = r"(?:/(?P<value>(?:1|2|4|8|16|32|64)t?\.{0,2}))?"
_REST = re.compile(f"r{_VALUE}")
_NOTE = re.compile(
    r"(?:(?!\[\])\[(?P<dynamic>p{1,3}|m[pf]|f{1,3}|fp|sfz?|)(?P<hairpin>o?<|[>.]?)\])?"
    rf"(?P<alter>[#b]?)(?P<degree>[1-9]\d?)(?P<octave>,*|'*){_VALUE}"
    rf"(?P<articulation>(?::(?:{'|'.join(_ARTICULATIONS)}))*)(?P<marks>[()~*?]*)"
)


@cache
def value(text: str) -> Fraction:
    """Read a note value: "4" a quarter, "2." a dotted half, "8t" a triplet eighth."""
    plain = text.rstrip(".")
    dots = len(text) - len(plain)
    base = Fraction(1, int(plain.rstrip("t"))) * (Fraction(2, 3) if plain.endswith("t") else 1)
    return base * (2 - Fraction(1, 2**dots))


@cache
def degrees(text: str) -> Phrase[Degree]:
    """Return the phrase that a sketch describes; a wrong sketch raises ValueError with the token."""
    events: list[Note[Degree] | Rest] = []
    length = Fraction(1, 4)
    for token in text.replace("|", " ").split():
        found = _REST.fullmatch(token) or _NOTE.fullmatch(token)
        if not found:
            raise ValueError(f"not a note of a sketch: {token}")
        length = value(found["value"]) if found["value"] else length
        events.append(Rest(length) if found.re is _REST else _note(found, length))
    return tuple(events)


def _note(found: re.Match[str], length: Fraction) -> Note[Degree]:
    octave, marks = found["octave"], found["marks"]
    index = int(found["degree"]) - 1 + 7 * (octave.count("'") - octave.count(","))
    return Note(
        Degree(index, {"": 0, "#": 1, "b": -1}[found["alter"]]),
        length,
        slur_open="(" in marks,
        slur_close=")" in marks,
        tie="~" in marks,
        articulations=tuple(_ARTICULATIONS[name] for name in found["articulation"].split(":")[1:]),
        dynamic=found["dynamic"] or "",
        hairpin=found["hairpin"] or "",
        breath="*" in marks,
        may_breathe="?" in marks,
    )
