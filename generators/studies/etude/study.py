"""Etude: a tune in sentences that ask, answer, wander and come home, grown from one motive on a plan of chords."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.chance import number, pick
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.articulation import Articulation, articulation
from generators.phrase.bars import Meter
from generators.phrase.label import Label
from generators.phrase.note import Phrase
from generators.phrase.remark import LeftOut, Remark
from generators.phrase.study import Limits, Strain, Study
from generators.phrase.wording import head_label
from generators.studies.etude.bars import Manner, WrittenSentence, composed
from generators.studies.etude.ground import ground_of, peak, widest_steps
from generators.studies.etude.marks import phrased
from generators.studies.etude.motive import motives
from generators.studies.etude.plan import ETUDE_FORMS, SENTENCE_NAMES, knows_dominant, middle_key, sentences
from generators.studies.etude.style import ASKED_SETS, Style, barwise, styled, tempo_word
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.kind import Kind
from generators.studies.kit.request import Request
from generators.studies.kit.setting import OffTempo, Setting, resolve
from generators.theory.pitch import Pitch

_OWN_KEYS, _OWN_TEMPO = ("Eb",), 72
_OWN_LEAP, _LEAST_LEAP = 12, 5
# A set of four slots needs eighths to lie on.
_PAIRED = 4
ETUDE_METERS = {"4/4": Meter(4, 4), "3/4": Meter(3, 4)}


@dataclass(frozen=True, slots=True, kw_only=True)
class EtudeRequest(Request):
    """An etude: its length, meter, articulation and widest leap; the first key is home, the second the middle's."""

    bars: str = option("32", "How many bars: two, three or four sentences of eight.", allowed=tuple(ETUDE_FORMS))
    meter: str = option("", "The meter; without it one is drawn.", allowed=tuple(ETUDE_METERS))
    articulation: str = option("", "The articulation set; without it the character's own.", allowed=ASKED_SETS)
    leap: int = option(
        0, "Widest leap in half-steps, the motive built on it; 0 for an octave or what the grade allows.", span=(0, 24)
    )


@dataclass(frozen=True, slots=True)
class EtudeDraft:
    """An etude before it is laid out: its character, meter, articulation and sentences, at a tempo."""

    style: Style
    meter: Meter
    row: Articulation
    parts: tuple[WrittenSentence, ...]
    setting: Setting


def etude(request: EtudeRequest) -> Study:
    """Return the etude of a request; refuses with NoFit where the range is too narrow for a tune."""
    draft = drafted(request)
    setting = draft.setting
    music, pace = with_air([_music(draft, place) for place in range(len(draft.parts))], setting)
    return Study(
        "etude",
        f"Etude in {head_label(setting.label(setting.keys[0]))}",
        f"{tempo_word(pace)} {draft.style.word}",
        f"Listen {draft.style.aim}; {setting.horn.said(draft.row.lesson)}.",
        setting.horn.id,
        pace,
        tuple(_strain(draft, part, line) for part, line in zip(draft.parts, music, strict=True)),
        setting.limits,
        remarks=tuple(_remarks(draft)),
        piece=True,
    )


def drafted(request: EtudeRequest) -> EtudeDraft:
    """Return the etude of a request as composed: plan, chords and line."""
    setting = resolve(request, _OWN_KEYS, _OWN_TEMPO)
    setting = setting.capped(setting.limits.speed * 30, "tongued eighths")
    meter = ETUDE_METERS[request.meter or pick(("4/4", "4/4", "3/4"), request.seed, "meter")]
    style = styled(request.tempo, setting.limits, setting.grade.syncopes, request.seed)
    setting = _timed(setting, style, meter, request.seed)
    row = articulation(request.articulation or pick(style.sets, request.seed, "set"))
    return EtudeDraft(style, meter, row, _parts(request, setting, style, meter), setting)


def _timed(setting: Setting, style: Style, meter: Meter, seed: int) -> Setting:
    """Return the setting at the tempo of the character, quick enough for two bars in a breath."""
    needed = -(-2 * meter.beats * 60 * 10 // int(setting.limits.breath * 10))
    if setting.tempo_asked:
        if setting.tempo < needed:
            why = f"makes two bars outlast the breath of {setting.limits.breath:.0f} s"
            raise OffTempo(Refusal("tempo", setting.tempo, why), needed)
        return setting
    drawn = style.slowest + number(seed, "tempo") % (style.fastest - style.slowest + 1) // 2 * 2
    return replace(setting, tempo=min(max(drawn, needed), setting.limits.tempo))


def _parts(request: EtudeRequest, setting: Setting, style: Style, meter: Meter) -> tuple[WrittenSentence, ...]:
    limits, home, seed = setting.limits, setting.keys[0], request.seed
    leap = _leap(request, limits)
    middle = middle_key(home, setting.keys, limits.keys, seed)
    plans = sentences(request.bars, home, middle, knows_dominant(home, limits.keys), seed)
    top = peak(plans, limits, seed)
    grounds = [ground_of(plan, top, limits, leap) for plan in plans]
    parts = composed(plans, grounds, _manners(request, setting, style, meter))
    if not parts:
        where = f"finds no tune between {limits.low} and {limits.high} in {home.name} with leaps of {leap} half-steps"
        raise NoFit(Refusal("etude", None, where))
    return parts


def _leap(request: EtudeRequest, limits: Limits) -> int:
    if 0 < request.leap < _LEAST_LEAP:
        raise BadRequest(
            Refusal("leap", request.leap, "is too narrow for a tune", allowed=f"{_LEAST_LEAP} to 24 half-steps, or 0")
        )
    return min(limits.leap, request.leap or _OWN_LEAP)


def _manners(request: EtudeRequest, setting: Setting, style: Style, meter: Meter) -> list[Manner]:
    """Return a manner for every motive that may do, in a drawn order."""
    limits, seed = setting.limits, request.seed
    shortest = max(limits.shortest, Fraction(setting.tempo) / Fraction(240 * limits.speed))
    paired = bool(request.articulation) and len(articulation(request.articulation).slots) == _PAIRED
    manner = "light" if paired and style.manner != "dotted" else style.manner
    steps = widest_steps(_leap(request, limits))
    ideas = motives(meter, manner, shortest, setting.grade.syncopes, bool(request.leap), steps, seed)
    tight = limits.breath * setting.tempo < 4 * meter.beats * 60
    fit = [idea for idea in ideas if not tight or idea.values[-1] >= Fraction(1, 4)]
    return [Manner(meter, idea, shortest, style.runs, seed) for idea in fit]


def _music(draft: EtudeDraft, place: int) -> Phrase[Pitch]:
    """Return a sentence with breaths, dynamics and slurs."""
    part, last = draft.parts[place], place == len(draft.parts) - 1
    return barwise(phrased(part, draft.meter, draft.style.dynamics, last), draft.row, draft.meter)


def _strain(draft: EtudeDraft, part: WrittenSentence, line: Phrase[Pitch]) -> Strain:
    plan, home = part.plan, draft.setting.keys[0]
    signature = plan.key if abs(plan.key.fifths - home.fifths) > 1 else home
    name, role = SENTENCE_NAMES[plan.part]
    label = Label(name=name, part=role) if plan.key == home else draft.setting.label(plan.key, name=name, part=role)
    return Strain(label, signature, line, draft.meter, (4, 4))


def _remarks(draft: EtudeDraft) -> Iterator[Remark]:
    """Yield the keys that are not played, where more were given than a tune has room for."""
    played = {part.plan.key for part in draft.parts}
    left = tuple(key for key in dict.fromkeys(draft.setting.keys) if key not in played)
    if left:
        yield LeftOut(left)


KIND = Kind(
    name="etude",
    place=150,
    request=EtudeRequest,
    make=etude,
    summary="A tune in sentences: one motive, asked, answered, developed and brought home.",
    example=EtudeRequest(keys=("Eb", "Cm"), articulation="slur-two-tongue-two", seed=5),
    aim="Listen for a tune that asks, answers, wanders and comes home.",
    child_aim=("Sing it first. Listen: where does the tune ask, and where does it answer?", ""),
    areas=("intervals", "dynamics"),
)
