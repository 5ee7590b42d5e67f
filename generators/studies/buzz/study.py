"""Buzz: glides for the mouthpiece alone in a box of seconds, drawn as free lines; a beat is a second."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.errors import BadRequest
from generators.fields import option
from generators.phrase.algebra import line, notes, on, then
from generators.phrase.bars import Meter
from generators.phrase.note import Degree, Phrase, Rest
from generators.phrase.study import Strain, Study
from generators.studies.buzz.glides import SHAPES, Shape
from generators.studies.kit.fit import NoFit, leap, seats
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# A beat is a second.
TEMPO = 60
MINUTE, LONGEST = 60, 300
# Seconds of one glide at the most, and of the rest after it at the least: our choice.
GLIDE, PAUSE = 9, 2


@dataclass(frozen=True, slots=True, kw_only=True)
class BuzzRequest(Request):
    """A buzz: how long, on which shapes; more than a minute only with `long`."""

    seconds: int = option(30, "How long in all, rests included: 10 to 60 seconds, with --long up to 300.", span=(10, LONGEST))
    shapes: tuple[str, ...] = option(("siren", "wave", "steps"), "The glides, taken in turn.", allowed=tuple(SHAPES))
    long: bool = option(False, "Allow more than a minute.")


def buzz(request: BuzzRequest) -> Study:
    """Return the buzz of a request: rows of one glide and a rest that fill the seconds exactly."""
    setting = resolve(request, ("C",), TEMPO)
    if request.seconds > MINUTE and not request.long:
        raise BadRequest(f"{request.seconds} s is past a minute of buzzing; allowed: 10 to {MINUTE}, or more with --long.")
    shapes = [SHAPES[name] for name in dict.fromkeys(request.shapes or SHAPES)]
    rows = _rows(request.seconds, setting)
    strains = tuple(_strain(i, row, shapes[i % len(shapes)], setting) for i, row in enumerate(rows))
    used = dict.fromkeys(shape.aim for _, shape in zip(rows, shapes, strict=False))
    return Study(
        "buzz",
        f"Buzz: {request.seconds} seconds, mouthpiece alone",
        f"{next(iter(used))}; rest between the rows, and stop when the time is up.",
        setting.horn.id,
        TEMPO,
        strains,
        setting.limits,
        remarks=("A beat is a second here, whatever the tempo asked for.",) if request.tempo not in (None, TEMPO) else (),
    )


def _rows(seconds: int, setting: Setting) -> list[int]:
    """Return the seconds of every row, as even as they go; each has room for a glide on one breath and a rest."""
    count = max(1, round(seconds / (_glide(setting) + PAUSE)))
    base, more = divmod(seconds, count)
    return [base + (i < more) for i in range(count)]


def _glide(setting: Setting) -> int:
    return min(GLIDE, int(setting.limits.breath))


def _strain(place: int, seconds: int, shape: Shape, setting: Setting) -> Strain:
    key = setting.keys[place % len(setting.keys)]
    sounding = min(_glide(setting), seconds - PAUSE)
    music = then(_glided(shape, key, sounding, setting), (Rest(Fraction(seconds - sounding, 4)),))
    label = f"{shape.name.capitalize()}: {sounding} s, rest {seconds - sounding} s"
    return Strain(label, key, music, Meter(seconds, 4), (1,), free=True)


def _glided(shape: Shape, key: Key, seconds: int, setting: Setting) -> Phrase[Pitch]:
    """Return a glide over so many seconds, as wide as range and leap allow."""
    for points in shape.points:
        flat = line([Degree(index) for index in points], _shares(seconds, len(points)))
        for seat in _near(seats(flat, key, setting.limits), setting):
            if leap(seat) <= setting.limits.leap:
                return _drawn(seat)
    raise NoFit(f"buzz: no {shape.name} fits between {setting.limits.low} and {setting.limits.high} in {key.pretty}")


def _near(lines: list[Phrase[Pitch]], setting: Setting) -> list[Phrase[Pitch]]:
    middle = (setting.limits.low.midi + setting.limits.high.midi) / 2
    return sorted(lines, key=lambda phrase: abs(sum(n.pitch.midi for n in notes(phrase)) / len(notes(phrase)) - middle))


def _shares(seconds: int, count: int) -> list[Fraction]:
    """Return the seconds shared out over the points, to half a second; the last, where no line begins, is one second."""
    halves, lines = 2 * (seconds - 1), count - 1
    return [Fraction(halves * (i + 1) // lines - halves * i // lines, 8) for i in range(lines)] + [Fraction(1, 4)]


def _drawn(seat: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return the line with a glide from every note to the next, soft, on one breath."""
    events: Iterator[Phrase[Pitch]] = ((replace(note, glide=i + 1 < len(seat)),) for i, note in enumerate(notes(seat)))
    return on(on(then(*events), 0, dynamic="p"), -1, breath=True)
