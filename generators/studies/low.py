"""Low: down a chord, a scale or thirds to a settled note and back, half-step by half-step, then the pedals if asked."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.brass.fingering import usual
from generators.brass.grade import first_with
from generators.brass.horn import Horn
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import mapped, notes, then
from generators.phrase.bars import COMMON, bars
from generators.phrase.in_key import in_key
from generators.phrase.label import Label
from generators.phrase.lines import line_up
from generators.phrase.notation import degrees
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.remark import Advice, Fewer, Narrowed, Remark
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, inside, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import ALL_KEYS, Setting, home_keys, resolve
from generators.theory.key import Key, parse_key
from generators.theory.pitch import Pitch, parse_pitch, simple

_OWN_TEMPO = 66
# A descent through so many half-steps, through fewer where pedals follow, so that all is one page, and where the range is
# small, never fewer than _FEWEST: our choice.
_STRAINS, _BEFORE_PEDALS, _FEWEST = 7, 3, 3
# A study that begins above this, in treble clef, is not a low one: our choice.
_HIGHEST_BOTTOM = Pitch("C", 0, 5)
# The tonics of a day's descents, on days by turns, in treble clef: in a week no two days have the same first two.
_DAY_TONICS = (
    *(("F#", "A", "C"), ("G", "Bb", "B"), ("Ab", "C", "F#"), ("G", "B", "A")),
    *(("F#", "Bb", "C"), ("Ab", "B", "G"), ("G", "C", "Bb")),
)

# From wide to narrow: over an octave, a fifth, a third; each by the ways it may go down.
LOW_FORMS = {
    "an octave": {
        "chord": "[mp<]8/2( 5/4 3 | [mf]1/1)* | [mp<]1/4( 2 3/2? | 4/4 5 6 7 | [mf]8/1)*",
        "scale": "[mp<]8/4( 7 6 5 | 4 3 2/2 | [mf]1/1)* | [mp<]1/4( 3 5 6? | [mf]8/1)*",
        "thirds": "[mp<]8/4( 6 7 5 | 6 4 5 3 | 4/4 2/2. | [mf]1/1)* | [mp<]1/4( 3 2 4 | 3/2? 5 | [mf]8/1)*",
        "fourths": "[mp<]8/4( 5 7 4 | 6 3 5 2 | [mf]1/1)* | [mp<]1/4( 4 3 5? | [mf]8/1)*",
        "turns": "[mp<]8/4( 7 6 7 | 6 5 4 5 | 4/4 3 2/2 | [mf]1/1)* | [mp<]1/4( 2 1 3? | 5/2 6 | [mf]8/1)*",
        "rocking": "[mp<]8/4( 5 7 5 | 6 3 5 3 | 4/4 2 3/2 | [mf]1/1)* | [mp<]1/4( 3 2 3? | 5/2 6/4 7 | [mf]8/1)*",
        "widening": "[mp<]8/4( 7 8 6 | 8 5 8 4 | 5/4 3 2/2 | [mf]1/1)* | [mp<]1/4( 2 1 3 | 1 4 5/2? | [mf]8/1)*",
    },
    "a fifth": {
        "chord": "[mp<]5/2( 3/4 2 | [mf]1/1)* | [mp<]1/4( 2 3/2? | 2/4 3 4/2 | [mf]5/1)*",
        "scale": "[mp<]5/4( 4 3 2 | [mf]1/1)* | [mp<]1/2( 3? | [mf]5/1)*",
        "thirds": "[mp<]5/4( 3 4 2 | [mf]1/1)* | [mp<]1/4( 2 3 4? | [mf]5/1)*",
    },
    "a third": {"chord": "[mp<]3/2( 2 | [mf]1/1)* | [mp<]1/2( 2? | 3/4 2 1 2 | [mf]3/1)*"},
}
LOW_WAYS = ("chord", "scale", "thirds", "fourths", "turns", "rocking", "widening")
# What a title says of each but the usual one.
_WAY_WORDS = {
    "scale": " by the scale",
    "thirds": " by thirds",
    "fourths": " by fourths",
    "turns": " in turns",
    "rocking": " in rocking skips",
    "widening": " in widening skips",
}
# How a descent settles; and how the last one touches the note under its tonic where that is the lowest of the range.
_SETTLED, _UNDER = "[mf]1/1)", "[mf]1/4 7, 1/2)"
_PLAIN = Key("C", 0)
# Before notes that are lipped, the lowest one that is not is bent to the first of them, after a rest to the second, on its own
# valves: degree 3 is that note, the others are a half-step apart.
_BENDS, _OWN = ("[mp]3/2( 2/2 | 3/1)*", "r/1 | 3/2( 2/4 1 | 2/2 3/2)*"), 2
_BEND = "bend"
# A slur into a note that is printed an octave higher would look like a tie.
_PEDAL_FORM, _BRACKETED_FORM = "[p]8/1( | 1/1:fe)* | 8/1*", "[p]8/1 | 1/1:fe* | 8/1*"
# The bars of rest after a descent, and after what is bent or lipped.
_REST, _LONG_REST = 1, 3
_AIM = "Listen for the bottom note to be the broadest: drop the jaw and keep the air moving."
_DAY_AIMS = (
    _AIM,
    "Listen for the sound to open on the way down: no note is thinner than the one above it.",
    "Listen for the way back up to keep the broad sound of the bottom; lips loose, air slow and full.",
    "Listen for the last step down to be as even as the first: the pitch sinks, the air does not.",
)
_PEDAL_AIM = "Listen for the octave below to ring freely: drop the jaw, never press."
_PEDAL_CARE = "Stop if the lips feel numb."
_PEDAL_ADVICE = "{finger} as for the upper note: the lip alone finds it. Hold while easy."
_SILENT = "If one does not speak, rest, go back a line, let the jaw down; after two tries leave it."


@dataclass(frozen=True, slots=True, kw_only=True)
class LowRequest(Request):
    """A low study: how deep it goes, and whether it goes on into the pedals."""

    depth: str = option(
        "",
        "The lowest note, such as F#3; without it the player's lowest, or the first partial, C3 in treble clef, with pedals.",
    )
    way: str = option(
        "chord",
        "How it goes down: by the chord, the scale, thirds or fourths of it, in turns, in rocking or widening skips.",
        allowed=LOW_WAYS,
    )
    pedals: bool = option(False, "Go on below the lowest tube, F#3 in treble clef: free, held octaves, the gap notes lipped.")


@dataclass(frozen=True, slots=True)
class _Part:
    """A strain before it is fingered."""

    label: Label
    key: Key
    music: Phrase[Pitch]
    held: bool = False
    """Whether its label tells how all of it is fingered."""


def low(request: LowRequest) -> Study:
    """Return the low study of a request: strains whose tonics fall by half-steps to the depth, or the keys asked for."""
    setting = resolve(request, ALL_KEYS, _OWN_TEMPO, pedals=request.pedals)
    bottom = setting.horn.at_home(_HIGHEST_BOTTOM)
    if setting.limits.low.midi > bottom.midi:
        raise NoFit(Refusal("low study", None, f"begins on {bottom} or below, and the range on {setting.limits.low}"))
    depth = _depth(request, setting)
    for form, ways in LOW_FORMS.items():
        strains = list(_descent(request, ways.get(request.way, ways["chord"]), setting, depth))
        if _enough(request, setting, strains):
            return _study(request, setting, form, strains, depth)
    where = f"finds no room for descents of a third between {setting.limits.low} and {setting.limits.high}"
    raise NoFit(Refusal("low study", None, where))


def _depth(request: LowRequest, setting: Setting) -> Pitch:
    if request.pedals and not setting.grade.pedals:
        first, cure = first_with(lambda each: each.pedals), "leave out the pedals or the grade"
        raise BadRequest(Refusal("pedals", None, f"are not for grade {request.grade}", allowed=f"from grade {first}", do=cure))
    return _asked_depth(request, setting) if request.depth else _own_depth(request, setting)


def _lower(request: LowRequest, depth: Pitch, setting: Setting) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the way to a depth that is below the valves: the pedals, where the grade has them and they go so far."""
    deep = setting.horn.pedal_floor.midi <= depth.midi < setting.horn.low.midi
    helps = deep and setting.grade.pedals and not request.pedals
    return (("pedals", ("",)),) if helps else ()


def _asked_depth(request: LowRequest, setting: Setting) -> Pitch:
    depth = parse_pitch(request.depth)
    floor, top = setting.horn.pedal_floor if request.pedals else setting.horn.low, setting.limits.high
    if not floor.midi <= depth.midi <= top.midi - 4:
        allowed = f"{floor} to a third below {top}"
        raise BadRequest(Refusal("depth", depth, "is out of reach", allowed=allowed, would_do=_lower(request, depth, setting)))
    return depth


def _own_depth(request: LowRequest, setting: Setting) -> Pitch:
    if request.low or not (setting.grade.comfort or request.pedals):
        return setting.limits.low
    return setting.horn.fundamental if request.pedals else max(setting.horn.low, setting.horn.lowest)


def _descent(request: LowRequest, sketch: str, setting: Setting, depth: Pitch) -> Iterator[_Part]:
    """Yield each strain above the pedals."""
    bottom = max(depth, setting.horn.lowest if request.pedals else depth)
    limits = replace(setting.limits, low=bottom)
    keys = _keys(request, setting, bottom)
    for key in keys:
        under = key == keys[-1] and not request.keys and (key.degree(0).midi - 1 - bottom.midi) % 12 == 0
        settled = sketch.replace(_SETTLED, _UNDER) if under else sketch
        lines = [in_key(degrees(settled), key, octave) for octave in range(1, 6)]
        fitting = [line for line in lines if inside(line, limits)]
        if fitting:
            yield _Part(setting.label(key), key, fitting[0])


def _keys(request: LowRequest, setting: Setting, bottom: Pitch) -> Sequence[Key]:
    """Return the keys asked for, or those of the half-steps down to the lowest note that a learner's grade knows."""
    steps = _falling(bottom.midi + _most(request) - 1, bottom.midi, setting.horn)
    if request.keys:
        return setting.keys
    known = setting.limits.keys
    if not known:
        return steps
    every = _falling(bottom.midi + 11, bottom.midi, setting.horn)
    return list(_known(steps, known)) or list(_known(every, known))


def _known(keys: Sequence[Key], known: Sequence[str]) -> Iterator[Key]:
    """Yield those of major keys that are known, or their minors where these are."""
    for key in keys:
        named = next((name for name in (key.name, f"{key.name}m") if name in known), "")
        if named:
            yield parse_key(named)


def _most(request: LowRequest) -> int:
    return _BEFORE_PEDALS if request.pedals else _STRAINS


def _falling(top: int, bottom: int, horn: Horn) -> tuple[Key, ...]:
    """Return the major keys whose tonics fall by half-steps between two MIDI numbers, spelled as they lie on the horn."""
    names = {parse_key(name).degree(0).midi % 12: name for name in ALL_KEYS} | {6: "F#"}
    plain = [parse_key(names[(midi - horn.home.half_steps) % 12]) for midi in range(top, bottom - 1, -1)]
    return tuple(horn.key_at_home(key) for key in plain)


def _enough(request: LowRequest, setting: Setting, strains: list[_Part]) -> bool:
    if request.keys:
        return len(strains) >= len(setting.keys)
    return len(strains) >= (1 if setting.limits.keys else _FEWEST)


def _study(request: LowRequest, setting: Setting, form: str, descent: list[_Part], depth: Pitch) -> Study:
    below = list(_pedals(depth, setting)) if request.pedals else []
    parts = (*descent, *below)
    music, pace = with_air([part.music for part in parts], setting)
    way = _WAY_WORDS.get(request.way, "") if request.way in LOW_FORMS[form] else ""
    return Study(
        "low",
        "Low",
        f"{form} down{way}{', then the pedals' if below else ''}",
        _PEDAL_AIM if below else _AIM,
        setting.horn.id,
        pace,
        tuple(_strain(part, line) for part, line in zip(parts, music, strict=True)),
        replace(setting.limits, low=min(depth, setting.limits.low)),
        remarks=tuple(_remarks(request, form, len(descent), below, setting)),
        also=_PEDAL_CARE if below else "",
    )


def _remarks(request: LowRequest, form: str, count: int, below: Sequence[_Part], setting: Setting) -> Iterator[Remark]:
    widest = next(iter(LOW_FORMS))
    if form != widest:
        yield Narrowed(widest, form, setting.range)
    if not request.keys and not setting.limits.keys and count < _most(request):
        yield Fewer("strains", count, _most(request), setting.range)
    if below:
        yield Advice(setting.horn.said(f"{_begun(below, setting.horn)}, {_PEDAL_ADVICE}"))
        yield Advice(_SILENT)


def _begun(below: Sequence[_Part], of: Horn) -> str:
    """Return what is fingered otherwise than the notes below it: the bends, on one set all through."""
    way = usual(of.lowest, of)
    if not way or below[0].label.name != _BEND:
        return f"Below {of.lowest.pretty}"
    farther = sum(note.breath for note in notes(below[0].music)) > 1
    again = ", the second time only if the first is easy" if farther else ""
    return f"Bend {of.lowest.pretty} on {of.resonator.label(way.valves)} all through{again}; below"


def _pedals(depth: Pitch, setting: Setting) -> Iterator[_Part]:
    """Yield the octave drops from below the lowest tube to the depth; refuses with NoFit where their top is out of reach."""
    below = setting.horn.lowest.midi
    lipped = [lower for lower in (below - 1, below - 2) if depth.midi <= lower and _lipped(lower, setting.horn)]
    if lipped:
        yield _bend(len(lipped), setting.horn)
    for midi in range(below - 1, depth.midi - 1, -1):
        music = _drop(midi, setting.horn)
        if not inside(music, replace(setting.limits, low=depth)):
            first = simple(below + 11, sharp=False)
            where = f"begin on {first}, an octave above the first, past {setting.limits.high}"
            raise NoFit(Refusal("pedals", None, where))
        yield _octave(music, setting.horn)


def _lipped(midi: int, horn: Horn) -> bool:
    way = usual(simple(midi, sharp=False), horn)
    return way is not None and way.kind == "lipped"


def _bend(count: int, horn: Horn) -> _Part:
    """Return the lowest note of the tubes bent a half-step and back, and so many at the most, on its own fingering."""
    note, way = horn.lowest, usual(horn.lowest, horn)
    valves = way.valves if way else ""
    bare = mapped(degrees(" ".join(_BENDS[:count])), lambda degree: simple(note.midi + degree.index - _OWN, sharp=False))
    music = tuple(_bent(event, note, valves) if isinstance(event, Note) else event for event in bare)
    return _Part(Label(name=_BEND, note=note, part=_on_a_tube(valves, horn)), _PLAIN, music, held=True)


def _bent(event: Note[Pitch], own: Pitch, valves: str) -> Note[Pitch]:
    """Return a note of a bend, which glides on to the next one; the note itself as it is spelled, with its valves."""
    home = replace(event, valves=valves, pitch=own) if event.pitch.midi == own.midi else event
    return replace(home, glide=not event.breath)


def _octave(music: Phrase[Pitch], horn: Horn) -> _Part:
    """Return an octave drop, its label its note and what both are fingered with; lipped where no partial helps.

    Over the note it would stand nearer to the line above.
    """
    lowest = min(note.pitch for note in notes(music))
    ways = [usual(note.pitch, horn) for note in notes(music)]
    way = usual(lowest, horn)
    if way is None:
        return _Part(Label(name="pedal", note=lowest), _PLAIN, music)
    label = Label(name="lipped" if way.kind == "lipped" else "pedal", note=lowest, part=_on_a_tube(way.valves, horn))
    return _Part(label, _PLAIN, music, held={way.valves} == {other.valves for other in ways if other})


def _on_a_tube(valves: str, horn: Horn) -> str:
    """Return what a label says of a tube: "valves 1-3", "open"."""
    tubes = horn.resonator
    return tubes.opened(valves) or f"{tubes.what(valves)} {valves}"


def _drop(midi: int, horn: Horn) -> Phrase[Pitch]:
    """Return an octave down to a pedal and home."""
    form = _BRACKETED_FORM if horn.bracketed(simple(midi, sharp=False)) else _PEDAL_FORM
    return mapped(degrees(form), lambda degree: simple(midi + 12 * (degree.index // 7), sharp=False))


def _strain(part: _Part, music: Phrase[Pitch]) -> Strain:
    rested = then(music, (Rest(COMMON.bar * (_LONG_REST if part.label.name else _REST)),))
    measures = bars(rested, COMMON)
    # Bars of rest are one sign.
    lines = (len(measures),) if part.label.name else line_up(measures)
    return Strain(part.label, part.key, rested, COMMON, lines, held=part.held)


def _low_part(where: Occasion) -> Iterator[Request]:
    """Yield descents that end near the bottom, every day in another way to other tonics."""
    known = tuple(key for key in where.grade.keys if not key.endswith("m"))[:3]
    tonics = where.turn(_DAY_TONICS, "low")
    keys = known or home_keys(tonics, where.horn)
    way, floor = where.turn(LOW_WAYS, "low way"), _floor(where)
    for count in (1, 2, 3):
        yield LowRequest(**(where.common | {"low": floor}), keys=_downwards(keys[:count], floor), way=way)


def _downwards(keys: Sequence[str], floor: str) -> tuple[str, ...]:
    """Return keys by their lowest tonic over the floor, the highest first."""
    bottom = parse_pitch(floor).midi
    return tuple(sorted(keys, key=lambda name: -((parse_key(name).degree(0).midi - bottom) % 12)))


def _floor(where: Occasion) -> str:
    """Return the lowest note of a day's descents: the bottom of the tubes, or of the learner's grade."""
    own = where.own_low or not where.grade.comfort
    return where.low.name if own else max(where.horn.low, where.horn.lowest).name


KIND = Kind(
    name="low",
    place=50,
    request=LowRequest,
    make=low,
    summary="Slow descents to the bottom of the horn, half-step by half-step, and into the pedals if asked.",
    example=LowRequest(pedals=True, depth="C3"),
    aim=_AIM,
    child_aim=("Listen: is the lowest note big and round, like a slow boat?", ""),
    several="low notes",
    lacking="no way down",
    areas=("low",),
    parts=(DayPart("low", 50, _low_part, weight=6, rank=6, most_lines=6, areas=("low",), easy=True, aims=_DAY_AIMS),),
    packet=True,
)
