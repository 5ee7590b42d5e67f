"""Buzz: glides for the mouthpiece alone in a box of seconds, drawn as free lines; a beat is a second."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import line, notes, on, then
from generators.phrase.bars import Meter
from generators.phrase.label import Label
from generators.phrase.note import Degree, Phrase, Rest
from generators.phrase.remark import Advice
from generators.phrase.study import Strain, Study
from generators.studies.buzz.glides import BUZZ_SHAPES, Glide
from generators.studies.kit.fit import NoFit, leap, seats
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# A beat is a second.
_TEMPO = 60
_MINUTE, _LONGEST = 60, 300
# Seconds of one glide at the most, and of the rest after it at the least: our choice.
_GLIDE, _PAUSE = 9, 5
_ROWS = ("begin on any easy note", "rest between rows")
_BY_THE_CLOCK = Advice("A beat is a second here, whatever the tempo asked for.")


@dataclass(frozen=True, slots=True, kw_only=True)
class BuzzRequest(Request):
    """A buzz: how long, on which shapes; more than a minute only with `long`."""

    seconds: int = option(30, "How long in all, rests included: 10 to 60 seconds, a long one up to 300.", span=(10, _LONGEST))
    shapes: tuple[str, ...] = option(("siren", "wave", "steps"), "The glides, taken in turn.", allowed=tuple(BUZZ_SHAPES))
    long: bool = option(False, "Allow more than a minute.")


def buzz(request: BuzzRequest) -> Study:
    """Return the buzz of a request: rows of one glide and a rest that fill the seconds exactly."""
    setting = resolve(request, ("C",), _TEMPO)
    if request.seconds > _MINUTE and not request.long:
        more = "for more ask for a long one"
        raise BadRequest(
            Refusal("seconds", request.seconds, "is past a minute of buzzing", allowed=f"10 to {_MINUTE}", do=more)
        )
    shapes = [BUZZ_SHAPES[name] for name in dict.fromkeys(request.shapes or BUZZ_SHAPES)]
    rows = _rows(request.seconds, setting)
    return Study(
        "buzz",
        "Buzz",
        f"{request.seconds} seconds, mouthpiece alone",
        _aim(shapes[0], len(rows)),
        setting.horn.id,
        _TEMPO,
        tuple(_together([_strain(i, row, shapes[i % len(shapes)], setting) for i, row in enumerate(rows)])),
        setting.limits,
        remarks=(_BY_THE_CLOCK,) if request.tempo not in (None, _TEMPO) else (),
    )


def _aim(first: Glide, rows: int) -> str:
    """Return what to listen for; no row has a pitch of its own, and one alone no rest between."""
    return f"{first.aim}; {', '.join(_ROWS[:rows])}."


def _rows(seconds: int, setting: Setting) -> list[int]:
    """Return the seconds of every row, as even as they go; each has room for a glide on one breath and a rest."""
    count = max(1, round(seconds / (_glide(setting) + _PAUSE)))
    base, more = divmod(seconds, count)
    return [base + (i < more) for i in range(count)]


def _glide(setting: Setting) -> int:
    return min(_GLIDE, int(setting.limits.breath))


def _strain(place: int, seconds: int, glide: Glide, setting: Setting) -> Strain:
    key = setting.keys[place % len(setting.keys)]
    sounding = min(_glide(setting), seconds - _PAUSE)
    music = then(_glided(glide, key, sounding, setting), (Rest(Fraction(seconds - sounding, 4)),))
    label = Label(name=glide.name.capitalize(), detail=f"{sounding} s, rest {seconds - sounding} s")
    return Strain(label, key, music, Meter(seconds, 4), (1,), free=True)


def _together(strains: Sequence[Strain]) -> Iterator[Strain]:
    """Yield strains, those that are alike and follow each other as one that is played so often."""
    for strain, run in groupby(strains):
        yield replace(strain, repeats=len(list(run)))


def _glided(glide: Glide, key: Key, seconds: int, setting: Setting) -> Phrase[Pitch]:
    """Return a glide over so many seconds, as wide as range and leap allow."""
    for points in glide.points:
        flat = line([Degree(index) for index in points], _shares(seconds, len(points)))
        for seat in _near(seats(flat, key, setting.limits), setting):
            if leap(seat) <= setting.limits.leap:
                return _drawn(seat)
    where = f"between {setting.limits.low} and {setting.limits.high} in {key.pretty}"
    raise NoFit(Refusal("buzz", None, f"finds no room for a {glide.name} {where}"))


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


def _buzz_part(where: Occasion) -> Iterator[Request]:
    """Yield the mouthpiece alone, never over a minute."""
    shape = where.turn(("siren", "wave", "steps"), "buzz")
    for seconds in (10, 20, 30, 45, 60):
        yield BuzzRequest(**where.common, seconds=seconds, shapes=(shape,))


KIND = Kind(
    name="buzz",
    place=20,
    request=BuzzRequest,
    make=buzz,
    summary="Mouthpiece alone, in a box of seconds: glides drawn as free lines.",
    example=BuzzRequest(seconds=40, shapes=("siren", "steps")),
    aim=_aim(BUZZ_SHAPES["siren"], len(_ROWS)),
    child_aim=("Listen: can your bee fly up and down without stopping? Rest when the time is up.", ""),
    areas=("air",),
    parts=(
        DayPart(
            "buzz",
            20,
            _buzz_part,
            weight=1.5,
            rank=12,
            most_lines=2,
            areas=("air",),
            repeatable=False,
            brief=True,
            group="small",
        ),
    ),
)
