"""Etude: a tune in sentences that ask, answer, wander and come home, grown from one motive on a plan of chords."""

from dataclasses import dataclass, replace
from fractions import Fraction

from generators.chance import number, pick
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.articulation import Articulation, articulation
from generators.phrase.bars import Meter
from generators.phrase.note import Phrase
from generators.phrase.study import Strain, Study
from generators.studies.etude.bars import Manner, Written, composed
from generators.studies.etude.ground import ground_of, peak, reach
from generators.studies.etude.marks import marked
from generators.studies.etude.motive import motives
from generators.studies.etude.plan import FORMS, LABELS, chromatic, middle_key, planned
from generators.studies.etude.style import ASKED, Style, laid, styled, word
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.request import Request
from generators.studies.kit.setting import OffTempo, Setting, resolve
from generators.theory.pitch import Pitch

OWN_KEYS = ("Eb",)
OWN_LEAP, LEAST_LEAP = 12, 5
# A set of four slots needs eighths to lie on.
PAIRED = 4
METERS = {"4/4": Meter(4, 4), "3/4": Meter(3, 4)}


@dataclass(frozen=True, slots=True, kw_only=True)
class EtudeRequest(Request):
    """An etude: its length, meter, articulation and widest leap; the first key is home, the second the middle's."""

    bars: str = option("32", "How many bars: two, three or four sentences of eight.", allowed=tuple(FORMS))
    meter: str = option("", "The meter; without it one is drawn.", allowed=tuple(METERS))
    articulation: str = option("", "The articulation set; without it the character's own.", allowed=ASKED)
    leap: int = option(
        0, "Widest leap in half-steps, the motive built on it; 0 for an octave or what the grade allows.", span=(0, 24)
    )


@dataclass(frozen=True, slots=True)
class Piece:
    """An etude before it is laid out: its character, meter, articulation and sentences, at a tempo."""

    style: Style
    meter: Meter
    row: Articulation
    parts: tuple[Written, ...]
    setting: Setting


def etude(request: EtudeRequest) -> Study:
    """Return the etude of a request; refuses with NoFit where the range is too narrow for a tune."""
    piece = written(request)
    setting = piece.setting
    music, pace = with_air([_music(piece, place) for place in range(len(piece.parts))], setting)
    strains = tuple(_strain(piece, part, line) for part, line in zip(piece.parts, music, strict=True))
    title = f"Etude in {setting.label(setting.keys[0])}: {word(pace)} {piece.style.word}"
    aim = f"Listen {piece.style.aim}; {setting.horn.said(piece.row.lesson)}."
    return Study("etude", title, aim, setting.horn.id, pace, strains, setting.limits, remarks=_remarks(piece))


def written(request: EtudeRequest) -> Piece:
    """Return the etude of a request as composed: plan, chords and line."""
    setting = resolve(request, OWN_KEYS, 72)
    setting = setting.capped(setting.limits.speed * 30, "tongued eighths")
    meter = METERS[request.meter or pick(("4/4", "4/4", "3/4"), request.seed, "meter")]
    style = styled(request.tempo, setting.limits, setting.grade.syncopes, request.seed)
    setting = _timed(setting, style, meter, request.seed)
    row = articulation(request.articulation or pick(style.sets, request.seed, "set"))
    return Piece(style, meter, row, _parts(request, setting, style, meter), setting)


def _timed(setting: Setting, style: Style, meter: Meter, seed: int) -> Setting:
    """Return the setting at the tempo of the character, quick enough for two bars in a breath."""
    needed = -(-2 * meter.beats * 60 * 10 // int(setting.limits.breath * 10))
    if setting.tempo_asked:
        if setting.tempo < needed:
            why = f"outlast the breath of {setting.limits.breath:.0f} s at tempo {setting.tempo}"
            raise OffTempo(Refusal("two bars", why=why), needed)
        return setting
    drawn = style.slowest + number(seed, "tempo") % (style.fastest - style.slowest + 1) // 2 * 2
    return replace(setting, tempo=min(max(drawn, needed), setting.limits.tempo))


def _parts(request: EtudeRequest, setting: Setting, style: Style, meter: Meter) -> tuple[Written, ...]:
    limits, home = setting.limits, setting.keys[0]
    middle = middle_key(home, setting.keys, limits.keys, request.seed)
    plans = planned(request.bars, home, middle, chromatic(home, limits.keys), request.seed)
    if 0 < request.leap < LEAST_LEAP:
        raise BadRequest(f"leap {request.leap} is too narrow for a tune; allowed: {LEAST_LEAP} to 24 half-steps, or 0.")
    leap = min(limits.leap, request.leap or OWN_LEAP)
    top = peak(plans, limits, request.seed)
    grounds = [ground_of(plan, top, limits, leap) for plan in plans]
    shortest = max(limits.shortest, Fraction(setting.tempo) / Fraction(240 * limits.speed))
    paired = bool(request.articulation) and len(articulation(request.articulation).slots) == PAIRED
    ideas = motives(
        meter,
        "light" if paired and style.manner != "dotted" else style.manner,
        shortest,
        setting.grade.syncopes,
        bool(request.leap),
        reach(leap),
        request.seed,
    )
    tight = limits.breath * setting.tempo < 4 * meter.beats * 60
    fit = [idea for idea in ideas if not tight or idea.values[-1] >= Fraction(1, 4)]
    parts = composed(plans, grounds, fit, Manner(meter, fit[0], shortest, style.runs, request.seed))
    if not parts:
        raise NoFit(
            f"etude: no tune fits between {limits.low} and {limits.high} in {home.name} with leaps of {leap} half-steps"
        )
    return parts


def _music(piece: Piece, place: int) -> Phrase[Pitch]:
    """Return a sentence with breaths, dynamics and slurs."""
    part, last = piece.parts[place], place == len(piece.parts) - 1
    return laid(marked(part, piece.meter, piece.style.dynamics, last), piece.row, piece.meter)


def _strain(piece: Piece, part: Written, line: Phrase[Pitch]) -> Strain:
    plan, home = part.plan, piece.setting.keys[0]
    signature = plan.key if abs(plan.key.fifths - home.fifths) > 1 else home
    where = f": {piece.setting.label(plan.key)}" if plan.key != home else ""
    return Strain(LABELS[plan.part] + where, signature, line, piece.meter, (4, 4))


def _remarks(piece: Piece) -> tuple[str, ...]:
    """Name the keys that are not played, where more were given than a tune has room for."""
    played = {part.plan.key for part in piece.parts}
    left = [key.pretty for key in dict.fromkeys(piece.setting.keys) if key not in played]
    return (f"Left for another etude: {', '.join(left)}.",) if left else ()
