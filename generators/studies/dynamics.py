"""Dynamics: long tones that swell and fade over counted beats, and sudden changes both ways, low, middle and high."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from generators.errors import Refusal
from generators.fields import option
from generators.phrase.algebra import length, notes, then
from generators.phrase.bars import COMMON, bars
from generators.phrase.label import Label
from generators.phrase.lines import line_up
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.remark import Fewer
from generators.phrase.study import Limits, Strain, Study
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.registers import REGISTERS, band
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key
from generators.theory.pitch import Pitch

_OWN_TEMPO = 60
_BEAT = Fraction(1, 4)
# The beats of the level note that ends a long tone, our choice; the rest after it is as long as it is.
_SETTLED = 2
# The registers in the order in which they are played, and how soft and loud the high ones go: our choice.
_EASIEST_FIRST, _EASED = ("middle", "low", "high"), {"pp": "p", "ff": "f"}
# Bars of sudden changes on a line: both ways.
_BOTH_WAYS = 8
# No shorter hairpin is asked for while a quicker tempo would do.
_FEWEST = 4
_AIMS = {
    "swell": "Listen for the loudness to change by the same amount on every beat.",
    "fade": "Listen for the softest moment to keep the core of the loud sound.",
    "sudden": "Listen for the change to come exactly on its beat; count, and change the air alone.",
}
_AIR = "If the air ends sooner, take fewer beats, as many each way."
_TUNER = "A tuner shows whether the pitch stays."
SOFTEST, LOUDEST = ("pp", "p", "mp"), ("mf", "f", "ff")


@dataclass(frozen=True, slots=True, kw_only=True)
class DynamicsRequest(Request):
    """A study of loud and soft: what is done, how long each hairpin lasts, how soft and how loud, and where."""

    shapes: tuple[str, ...] = option(
        ("swell", "fade", "sudden"), "Soft-loud-soft, loud-soft-loud, sudden changes.", allowed=tuple(_AIMS)
    )
    beats: int = option(6, "Beats of each hairpin; fewer where the breath asks.", span=(2, 16))
    registers: tuple[str, ...] = option(REGISTERS, "Registers, thirds of the range.", allowed=REGISTERS)
    soft: str = option("", "The softest dynamic; without it pp, below grade 4 p.", allowed=SOFTEST)
    loud: str = option("", "The loudest dynamic; without it ff, below grade 4 f.", allowed=LOUDEST)


def dynamics(request: DynamicsRequest) -> Study:
    """Return the study of a request: one strain a key, register and shape, on one note."""
    setting = resolve(request, ("C",), _OWN_TEMPO, learner_keys=1)
    shapes = tuple(dict.fromkeys(request.shapes or _AIMS))
    registers = sorted(dict.fromkeys(request.registers or REGISTERS), key=_EASIEST_FIRST.index)
    places = [(key, register) for key in setting.keys for register in registers]
    beats = _beats(request.beats, setting)
    pitches = [_pitch(key, register, setting.limits) for key, register in places]
    poles = _poles(request, setting)
    eased = _eased(request, poles)
    high = [len(registers) > 1 and register == _EASIEST_FIRST[-1] for _, register in places]
    levels = [[(shape, eased if far else poles) for shape in shapes] for far in high]
    tones = [list(_tones(pitch, own, beats)) for pitch, own in zip(pitches, levels, strict=True)]
    music, pace = with_air([tone for group in tones for tone in group], setting)
    rest, (aim, *others) = iter(music), _aims(shapes)
    return Study(
        "dynamics",
        "Dynamics",
        ", ".join(shapes),
        aim,
        setting.horn.id,
        pace,
        tuple(_strain(*place, shape, next(rest), setting) for place in places for shape in shapes),
        setting.limits,
        remarks=tuple(_remarks(request, beats, setting)),
        also=" ".join((*others, *(() if setting.grade.child else (_AIR,)), _TUNER)),
    )


def _aims(shapes: tuple[str, ...]) -> tuple[str, ...]:
    """Return what to listen for in each shape, by its name where there are several."""
    if len(shapes) == 1:
        return (_AIMS[shapes[0]],)
    return tuple(f"{shape.capitalize()}: {_AIMS[shape][:1].lower()}{_AIMS[shape][1:]}" for shape in shapes)


def _remarks(request: DynamicsRequest, beats: int, setting: Setting) -> Iterator[Fewer]:
    if beats != request.beats:
        yield Fewer("beats to each hairpin", beats, request.beats, breath=setting.limits.breath)


def _poles(request: DynamicsRequest, setting: Setting) -> tuple[str, str]:
    soft, loud = setting.grade.soft, setting.grade.loud
    if setting.grade.child:
        soft, loud = _EASED.get(soft, soft), _EASED.get(loud, loud)
    return request.soft or soft, request.loud or loud


def _eased(request: DynamicsRequest, poles: tuple[str, str]) -> tuple[str, str]:
    """Return the poles high up: a degree nearer to one another where the player named none."""
    soft, loud = poles
    return request.soft or _EASED.get(soft, soft), request.loud or _EASED.get(loud, loud)


def _pitch(key: Key, register: str, limits: Limits) -> Pitch:
    """Return the chord note of a key nearest the middle of a register, or another note of the key where there is none."""
    low, high = band(limits, register)
    degrees = [(key.degree(index), index % 7 in (0, 2, 4)) for index in range(-21, 28)]
    inside = [(note, chord) for note, chord in degrees if low <= note.midi <= high]
    if not inside:
        where = f"in the {register} register of {limits.low} to {limits.high}"
        raise NoFit(Refusal("dynamics", None, f"finds no note of {key.pretty} {where}"))
    return min(inside, key=lambda item: (not item[1], abs(item[0].midi - (low + high) / 2)))[0]


def _beats(asked: int, setting: Setting) -> int:
    """Return the beats of a hairpin: those asked for, or as many as the breath allows, quickening before they get too few."""
    limits = setting.limits
    for beats in range(asked, _FEWEST - 1, -1):
        if _seconds(beats, setting.tempo) <= limits.breath:
            return beats
    fewest = min(_FEWEST, asked)
    if setting.tempo_asked or _seconds(fewest, limits.tempo) > limits.breath:
        return 2
    return fewest


def _seconds(beats: int, tempo: int) -> float:
    return (2 * beats + _SETTLED) * 60 / tempo


def _tones(pitch: Pitch, shapes: Sequence[tuple[str, tuple[str, str]]], beats: int) -> Iterator[Phrase[Pitch]]:
    """Yield the long tones of one pitch, each a breath and whole bars; sudden changes both ways in a row, the soft one last."""
    for shape, (soft, loud) in shapes:
        if shape == "sudden":
            both = (_sudden(pitch, beats, loud, soft), _sudden(pitch, beats, soft, loud))
            yield then(*map(_rested, both))
        else:
            yield _rested(_hairpins(pitch, beats, *((soft, loud) if shape == "swell" else (loud, soft))))


def _hairpins(pitch: Pitch, beats: int, start: str, peak: str) -> tuple[Note[Pitch], ...]:
    """Return a tone that goes from one dynamic to another and back, each way with its count, and settles."""
    ways = ("<", ">") if start in SOFTEST else (">", "<")
    value = beats * _BEAT
    there = Note(pitch, value, tie=True, dynamic=start, hairpin=ways[0], beats=beats)
    back = Note(pitch, value, tie=True, dynamic=peak, hairpin=ways[1], beats=beats)
    return there, back, Note(pitch, _SETTLED * _BEAT, dynamic=start, breath=True)


def _sudden(pitch: Pitch, beats: int, start: str, change: str) -> tuple[Note[Pitch], ...]:
    """Return a tone that changes its loudness from one beat to the next, there and back; a bar each where the breath lasts."""
    value = min(COMMON.bar, beats * _BEAT)
    first = Note(pitch, value, tie=True, dynamic=start)
    changed = Note(pitch, value, tie=True, dynamic=change, role="sudden")
    return first, changed, Note(pitch, _SETTLED * _BEAT, dynamic=start, breath=True, role="sudden")


def _rested(tone: tuple[Note[Pitch], ...]) -> Phrase[Pitch]:
    """Return a tone with a rest to the end of its bar, and bars of rest until it is as long as the tone."""
    left = -length(tone) % COMMON.bar
    more = max(1, ceil((length(tone) - left) / COMMON.bar))
    return then(tone, (Rest(left + more * COMMON.bar),))


def _strain(key: Key, register: str, shape: str, tone: Phrase[Pitch], setting: Setting) -> Strain:
    pitch = notes(tone)[0].pitch
    label = setting.label(key) if len(setting.keys) > 1 else Label()
    return Strain(replace(label, name=shape, note=pitch, part=register), key, tone, COMMON, _lines(tone))


def _lines(tone: Phrase[Pitch]) -> tuple[int, ...]:
    both = any(note.role == "sudden" for note in notes(tone))
    return line_up(bars(tone, COMMON), bars_a_line=_BOTH_WAYS) if both else line_up(bars(tone, COMMON))


def _dynamics_part(where: Occasion) -> Iterator[Request]:
    """Yield long tones in one or all registers; a light day stays below forte, and nothing is suddenly louder than that."""
    shape = where.turn(("swell", "sudden", "fade"), "dynamics", 2)
    # The end of a day is near, and low notes come late.
    loud = "mf" if where.kind == "light" else "f" if shape == "sudden" else ""
    for registers in (("middle",), ("low", "middle"), ("low", "middle", "high")):
        yield DynamicsRequest(**where.common, keys=where.keys.majors[:1], shapes=(shape,), registers=registers, loud=loud)


KIND = Kind(
    name="dynamics",
    place=120,
    request=DynamicsRequest,
    make=dynamics,
    summary="Long tones that swell over counted beats, and sudden changes both ways.",
    example=DynamicsRequest(shapes=("swell", "fade", "sudden"), beats=4, registers=("low", "high")),
    aim=_AIMS["swell"],
    child_aim=("Listen: a train comes near and goes away. Does the note stay the same note?", ""),
    lacking="no note of the key",
    areas=("dynamics",),
    parts=(DayPart("dynamics", 130, _dynamics_part, weight=4, rank=9, most_lines=3, areas=("dynamics",), group="loudness"),),
)
