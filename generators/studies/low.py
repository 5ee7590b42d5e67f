"""Low: down a chord to a settled low note and back to a comfortable one, half-step by half-step, then the pedals if asked."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.brass.fingering import usual
from generators.brass.grade import first_with
from generators.brass.horn import Horn
from generators.errors import BadRequest
from generators.fields import option
from generators.phrase.algebra import mapped, notes, then
from generators.phrase.bars import COMMON, bars
from generators.phrase.in_key import in_key
from generators.phrase.lines import line_up
from generators.phrase.notation import degrees
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, inside, span_words, with_air
from generators.studies.kit.request import Request
from generators.studies.kit.setting import ALL_KEYS, Setting, resolve
from generators.theory.key import Key, parse_key
from generators.theory.pitch import Pitch, parse_pitch, simple

OWN_TEMPO = 66
# A descent through so many half-steps; fewer where the range is small, never fewer than FEWEST.
STRAINS, FEWEST = 7, 3
# A study that begins above this, in treble clef, is not a low one: our choice.
HIGHEST_BOTTOM = Pitch("C", 0, 5)

# From wide to narrow: the chord over an octave, the five notes over a fifth, three notes.
FORMS = {
    "an octave": "[mp]8/2( 5/4 3 | 1/1)* | [p]1/4( 2 3/2? | [<]4/4 5 6 7 | [.]8/1)*",
    "a fifth": "[mp]5/2( 3/4 2 | 1/1)* | [p]1/4( 2 3/2? | [<]2/4 3 4/2 | [.]5/1)*",
    "a third": "[mp]3/2( 2 | 1/1)* | [p]1/2( 2? | [<]3/4 2 1 2 | [.]3/1)*",
}
PLAIN = Key("C", 0)
PEDAL_FORM = "[mp]8/1* | 1/1:fe* | [p]8/1*"
PEDAL_REMARK = "{finger} as an octave higher and let the lip find the note (marked lip). Hold it only while it is easy."
AIM = "Listen for the bottom note to be the broadest of the strain: drop the jaw and keep the air moving."
PEDAL_AIM = "Listen for the octave below to ring with the same vowel; let it out, never press. Stop if the lips feel numb."


@dataclass(frozen=True, slots=True, kw_only=True)
class LowRequest(Request):
    """A low study: how deep it goes, and whether it goes on into the pedals."""

    depth: str = option(
        "",
        "The lowest note, such as F#3; without it the player's lowest, or the first partial, C3 in treble clef, with pedals.",
    )
    pedals: bool = option(False, "Go on below the lowest tube, F#3 in treble clef: free, held octaves, the gap notes lipped.")


def low(request: LowRequest) -> Study:
    """Return the low study of a request: strains whose tonics fall by half-steps to the depth, or the keys asked for."""
    setting = resolve(request, ALL_KEYS, OWN_TEMPO, pedals=request.pedals)
    bottom = setting.horn.at_home(HIGHEST_BOTTOM)
    if setting.limits.low.midi > bottom.midi:
        raise NoFit(f"low: nothing is low above {bottom}, and the range begins at {setting.limits.low}")
    depth = _depth(request, setting)
    for form, sketch in FORMS.items():
        strains = list(_descent(request, sketch, setting, depth))
        if _enough(request, setting, strains):
            return _study(request, setting, form, strains, depth)
    raise NoFit(f"low: not even a descent of a third fits three times between {setting.limits.low} and {setting.limits.high}")


def _depth(request: LowRequest, setting: Setting) -> Pitch:
    if request.pedals and not setting.grade.pedals:
        least = first_with(lambda each: each.pedals)
        raise BadRequest(f"pedals are not for grade {request.grade}; allowed from grade {least}, or leave them out.")
    if not request.depth:
        return _own_depth(request, setting)
    depth = parse_pitch(request.depth)
    floor = setting.horn.pedal_floor if request.pedals else setting.horn.low
    if not floor.midi <= depth.midi <= setting.limits.high.midi - 4:
        top = setting.limits.high
        raise BadRequest(
            f"depth {depth} is out of reach; allowed: {floor} to a third below {top}"
            f"{'' if request.pedals else ', lower with --pedals'}."
        )
    return depth


def _own_depth(request: LowRequest, setting: Setting) -> Pitch:
    if request.low or not (setting.grade.comfort or request.pedals):
        return setting.limits.low
    return setting.horn.fundamental if request.pedals else max(setting.horn.low, setting.horn.lowest)


def _descent(request: LowRequest, sketch: str, setting: Setting, depth: Pitch) -> Iterator[tuple[Key, Phrase[Pitch]]]:
    """Yield key and line of each strain above the pedals."""
    bottom = max(depth, setting.horn.lowest if request.pedals else depth)
    limits = replace(setting.limits, low=bottom)
    for key in _keys(request, setting, bottom):
        lines = [in_key(degrees(sketch), key, octave) for octave in range(1, 6)]
        fitting = [line for line in lines if inside(line, limits)]
        if fitting:
            yield key, fitting[0]


def _keys(request: LowRequest, setting: Setting, bottom: Pitch) -> Sequence[Key]:
    """Return the keys asked for, or those of the half-steps down to the lowest note that a learner's grade knows."""
    steps = falling(bottom.midi + STRAINS - 1, bottom.midi, setting.horn)
    if request.keys:
        return setting.keys
    known = setting.limits.keys
    return [key for key in falling(bottom.midi + 11, bottom.midi, setting.horn) if key.name in known] if known else steps


def falling(top: int, bottom: int, horn: Horn) -> tuple[Key, ...]:
    """Return the major keys whose tonics fall by half-steps between two MIDI numbers, spelled as they lie on the horn."""
    names = {parse_key(name).degree(0).midi % 12: name for name in ALL_KEYS} | {6: "F#"}
    plain = [parse_key(names[(midi - horn.home.half_steps) % 12]) for midi in range(top, bottom - 1, -1)]
    return tuple(horn.key_at_home(key) for key in plain)


def _enough(request: LowRequest, setting: Setting, strains: list[tuple[Key, Phrase[Pitch]]]) -> bool:
    wanted = len(setting.keys) if request.keys else min(FEWEST, len(setting.limits.keys) or FEWEST)
    return len(strains) >= wanted


def _study(request: LowRequest, setting: Setting, form: str, descent: list[tuple[Key, Phrase[Pitch]]], depth: Pitch) -> Study:
    below = [(PLAIN, line) for line in _pedals(depth, setting.horn)] if request.pedals else []
    if not all(inside(line, replace(setting.limits, low=depth)) for _, line in below):
        first = simple(setting.horn.lowest.midi + 11, sharp=False)
        raise NoFit(f"low: the pedals begin on {first}, an octave above the first, past {setting.limits.high}")
    music, pace = with_air([line for _, line in (*descent, *below)], setting)
    labels = [setting.label(key) for key, _ in descent] + [f"pedal {_lowest(line).pretty}" for _, line in below]
    keys = [key for key, _ in (*descent, *below)]
    return Study(
        "low",
        f"Low: {form} down{', then the pedals' if below else ''}",
        PEDAL_AIM if below else AIM,
        setting.horn.id,
        pace,
        tuple(_strain(*part, setting) for part in zip(labels, keys, music, strict=True)),
        replace(setting.limits, low=min(depth, setting.limits.low)),
        remarks=tuple(_remarks(request, form, len(descent), setting)),
    )


def _lowest(line: Phrase[Pitch]) -> Pitch:
    return min(note.pitch for note in notes(line))


def _remarks(request: LowRequest, form: str, count: int, setting: Setting) -> Iterator[str]:
    if form != next(iter(FORMS)):
        yield f"Narrowed from an octave to {form} to stay within {span_words(setting.limits)}."
    if not request.keys and not setting.limits.keys and count < STRAINS:
        yield f"{count} strains instead of {STRAINS} to stay within {span_words(setting.limits)}."
    if request.pedals:
        low = setting.horn.lowest.pretty
        yield setting.horn.said(f"Below {low}, {PEDAL_REMARK}")


def _pedals(depth: Pitch, horn: Horn) -> Iterator[Phrase[Pitch]]:
    """Yield the octave drops from below the lowest tube to the depth."""
    for midi in range(horn.lowest.midi - 1, depth.midi - 1, -1):
        yield _drop(midi)


def _drop(midi: int) -> Phrase[Pitch]:
    return mapped(degrees(PEDAL_FORM), lambda degree: simple(midi + 12 * (degree.index // 7), sharp=False))


def _strain(label: str, key: Key, music: Phrase[Pitch], setting: Setting) -> Strain:
    fingered = then(tuple(_fingered(note, setting) for note in notes(music)), (Rest(COMMON.bar),))
    return Strain(label, key, fingered, COMMON, line_up(bars(fingered, COMMON)))


def _fingered(note: Note[Pitch], setting: Setting) -> Note[Pitch]:
    """Return a note below the lowest tube with its fingering, and with the word lip where no partial helps."""
    way = usual(note.pitch, setting.horn)
    if note.pitch.midi >= setting.horn.lowest.midi or way is None:
        return note
    return replace(note, valves=way.valves, text="lip" if way.kind == "lipped" else "")
