"""Studies to hand to other programs: small, and between them with every mark, key, meter and grouping."""

from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from hypothesis import strategies as st

from generators.brass.horn import horn
from generators.exchange.musicxml import musicxml
from generators.phrase.algebra import length
from generators.phrase.bars import COMMON, WALTZ, Meter
from generators.phrase.in_key import in_key
from generators.phrase.label import Label
from generators.phrase.notation import degrees
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.study import Limits, Strain, Study
from generators.theory.key import Key, all_keys, parse_key
from generators.theory.pitch import Pitch, parse_pitch

C = parse_key("C")
EB = parse_key("Eb")
# A code as documents have them.
CODE = "K3F7-Q2MD"
MODES = ("dorian", "phrygian", "lydian", "mixolydian", "locrian")
LIMITS = Limits(parse_pitch("F#3"), parse_pitch("C6"), 8.0)


def study(*strains: Strain, tempo: int = 72) -> Study:
    """Return a study of the given strains."""
    return Study("sample", "Sample", "<of> all & ♭", "Listen for it.", "trumpet", tempo, strains, LIMITS)


def strain(sketch: str, key: Key = C, meter: Meter = COMMON, **more: object) -> Strain:
    """Return a strain from a sketch, starting near the middle of the staff."""
    return Strain(Label(key=key), key, in_key(degrees(sketch), key, 4), meter, **more)  # type: ignore[arg-type]


def marked() -> Strain:
    """Return a strain with every mark a note can carry."""
    line = strain("[p<]1/2( 2/4 3) | [f>]3/4:st 4:te 5:ac 6:ma* | [.]7/4~ 7/4 8/2:fe | [mf]5/4:st:ac 4? 3/2", EB).music
    first = replace(line[0], syllable="t", valves="1-3", role="sudden")
    bent = replace(line[-1], glide=True, syllable="k")
    return Strain(Label(key=EB), EB, (first, *line[1:-1], bent, *in_key(degrees("4/1"), EB, 4)), lines=(2, 3))


SAMPLES: dict[str, Study] = {
    "marks": study(marked()),
    "keys": study(*(strain("1/4( 2) 3 4 | 5/8 6 7 8 7 6 5 4 | 3/2 1", key) for key in all_keys())),
    "modes": study(*(strain("1/4 2 3 4 | 5 6 7 8", key) for key in all_keys(*MODES))),
    "triplets": study(
        strain("1/8t 2 3 4/4t 5/8t 6/4t 5 4 | 1/16t 2 3 4 3 2 1/8. 2/16 3/8t. 2/16t 1/8t 5/4 | 1/2t 2 3 | r/8t 2 3 1/2.")
    ),
    "rests": study(
        Strain(
            Label(),
            C,
            (Rest(Fraction(5)), *strain("1/2 r | r/1 | 5/1").music, Rest(Fraction(2)), Note(Pitch("C", 0, 5), Fraction(1))),
        )
    ),
    "pedals": study(strain("1/4 5, 4, 3, | 2,( 1, 7,, 6,,) | r/2 1,/4 2, | #4,/4 5, 5 1'", lines=(2, 2))),
    "repeats": study(
        strain("1/4 2 3 4", repeats=2), strain("1/4 3 5", EB, WALTZ, repeats=4), strain("1/4. 2/8 1/4. ", EB, Meter(7, 8))
    ),
    "ties": study(
        Strain(
            Label(),
            C,
            (
                Note(Pitch("B", -1, 4), Fraction(9, 4)),
                Note(Pitch("F", 2, 5), Fraction(5, 8), articulations=("fermata",), breath=True),
                *strain("1/8").music,
            ),
        )
    ),
    "five": study(strain("1/4 b2 2 #4 4 | r/4 1/1", C, Meter(5, 4)), strain("1/8 2 3 4 5 6 | 1/4. r/4.", EB, Meter(6, 8))),
    "octaves": study(strain("[pp]1/4 8 1' 8' | [ff]8'/16 7' 6' 5' 4' 3' 2' 1' 1'/2")),
}


@cache
def written(name: str, on: str = "trumpet", *, fingerings: bool = False) -> bytes:
    """Return a sample as MusicXML for a horn, by their names; written once for all who read it."""
    return musicxml(SAMPLES[name], horn(on), fingerings=fingerings, player="second cornet", code=CODE)


CELLS = (
    *(
        "1/4",
        "1/8( 2)",
        "1/8t 2 3",
        "1/4t:st 2/8t",
        "1/16 2:te 3 4",
        "r/4",
        "1/8.:ac 2/16",
        "1/8 #2/4 b3/8",
        "[p<]1/4*",
        "[.]5/4",
    ),
    *("1/4.", "5,/2.", "3,,/4", "8'/1", "r/2", "r/1", "1/2~ 1/2", "#5/4", "b7/8"),
)
KEYS = st.sampled_from([*all_keys(), *all_keys(*MODES)])


def _filled(cells: list[str], key: Key, meter: Meter) -> Strain:
    made: Strain = strain(" ".join(cells), key, meter)
    rest = -length(made.music) % meter.bar
    return replace(made, music=made.music + ((Rest(rest),) if rest else ()))


STRAINS = st.builds(
    _filled,
    st.lists(st.sampled_from(CELLS), min_size=1, max_size=12),
    KEYS,
    st.sampled_from([COMMON, WALTZ, Meter(6, 8), Meter(2, 4)]),
)
STUDIES = st.lists(STRAINS, min_size=1, max_size=3).map(lambda strains: study(*strains))


class Heard(NamedTuple):
    """One note as it is heard: quarters from the start, quarters long, written pitch."""

    start: Fraction
    length: Fraction
    pitch: Pitch


def heard(music: Phrase[Pitch], start: Fraction = Fraction(0)) -> list[Heard]:
    """Return the notes of a phrase with ties merged, worked out on its own."""
    result: list[Heard] = []
    tied = False
    for event in music:
        if isinstance(event, Note):
            if tied:
                result[-1] = result[-1]._replace(length=result[-1].length + event.length * 4)
            else:
                result.append(Heard(start, event.length * 4, event.pitch))
            tied = event.tie
        start += event.length * 4
    return result


def heard_all(whole: Study, repeats: bool) -> list[Heard]:
    """Return every note of a study, its repeats played or not."""
    result: list[Heard] = []
    start = Fraction(0)
    for one in whole.strains:
        for _ in range(one.repeats if repeats else 1):
            result += heard(one.music, start)
            start += length(one.music) * 4
    return result
