"""Flow: long legato lines from the tonic out to a turning point and home, key after key, with a tag if wanted."""

from collections.abc import Iterator
from dataclasses import dataclass

from generators.chance import shuffled
from generators.fields import option
from generators.phrase.algebra import length, then
from generators.phrase.bars import Meter
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Phrase, Rest
from generators.phrase.study import Strain, Study
from generators.studies.flow.lines import AIMS, COMPASSES, LINES, TAGS
from generators.studies.kit.fit import NoFit, all_seated, leap, span_words, with_air
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key
from generators.theory.pitch import Pitch

OWN_KEYS = ("C", "B", "Bb", "A")
OWN_TEMPO = 72
WORDS = {"octave": "to the octave", "fifth": "to the fifth", "third": "to the third", "five-notes": "in five notes"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowRequest(Request):
    """A flow study: its shape, how far it turns, the order of its keys and the tag."""

    shape: str = option(
        "dip", "The line: below the tonic, above it, both, step by step wider, or leaning.", allowed=tuple(LINES)
    )
    compass: str = option(
        "fifth", "How far the line turns from the tonic; made narrower where the range asks.", allowed=COMPASSES
    )
    order: str = option("given", "Order of the keys.", allowed=("given", "down", "up", "fourths", "shuffled"))
    tag: str = option(
        "slur",
        "What follows each line: a slurred chord, a tongued figure, both, or none.",
        allowed=("none", "slur", "tongued", "both"),
    )


def flow(request: FlowRequest) -> Study:
    """Return the flow study of a request; refuses with NoFit where no compass fits every key."""
    setting = resolve(request, OWN_KEYS, OWN_TEMPO)
    if request.tag in ("tongued", "both"):
        setting = setting.capped(setting.limits.speed * 240 / 8, "a tongued tag in eighths")
    keys = ordered(setting.keys, request.order, request.seed)
    meter = Meter(*LINES[request.shape][0])
    for compass, sketch in _candidates(request, meter):
        seats = all_seated(sketch, keys, setting.limits)
        if seats and max(leap(line) for line in seats) <= setting.limits.leap:
            music, pace = with_air(seats, setting)
            strains = tuple(_strain(key, line, meter, setting) for key, line in zip(keys, music, strict=True))
            return _study(request, setting, compass, strains, pace)
    raise NoFit(f"flow: not even five notes fit between {setting.limits.low} and {setting.limits.high} in every key asked for")


def _candidates(request: FlowRequest, meter: Meter) -> Iterator[tuple[str, Phrase[Degree]]]:
    """Yield compass and line with its tag, from the widest asked for to the narrowest there is."""
    tags = ("",) if request.tag == "none" else TAGS[meter.beats, meter.unit][request.tag]
    for compass in COMPASSES[COMPASSES.index(request.compass) :]:
        for tag in tags:
            yield compass, degrees(f"{LINES[request.shape][1][compass]} {tag}")


def _strain(key: Key, line: Phrase[Pitch], meter: Meter, setting: Setting) -> Strain:
    music = then(line, (Rest(meter.bar),))
    bars = int(length(music) / meter.bar)
    return Strain(setting.label(key), key, music, meter, _lines(bars))


def _lines(bars: int) -> tuple[int, ...]:
    """Return four bars a line, a rest that would stand alone on the last one."""
    fours, left = divmod(bars, 4)
    return (*[4] * (fours - 1), 5) if left == 1 else (*[4] * fours, *([left] if left else []))


def _study(request: FlowRequest, setting: Setting, compass: str, strains: tuple[Strain, ...], pace: int) -> Study:
    narrowed = f"Narrowed from {request.compass} to {compass} to stay within {span_words(setting.limits)}.".replace("-", " ")
    return Study(
        "flow",
        f"Flow: {request.shape}, {WORDS[compass]}",
        AIMS[request.shape],
        setting.horn.id,
        pace,
        strains,
        setting.limits,
        remarks=(narrowed,) if compass != request.compass else (),
    )


def ordered(keys: tuple[Key, ...], order: str, seed: int) -> tuple[Key, ...]:
    """Return the keys as given, by half-steps down or up or by fourths from the first, or in a drawn order."""
    if order == "given" or not keys:
        return keys
    if order == "shuffled":
        return tuple(shuffled(keys, seed, "keys"))
    step = {"down": -1, "up": 1, "fourths": 5}[order]
    first = keys[0].degree(0).midi
    away = {(step * n) % 12: n for n in reversed(range(12))}
    return tuple(sorted(keys, key=lambda key: away[(key.degree(0).midi - first) % 12]))
