"""Tonguing: single, k alone, double and triple in every order, on one note and moving, low to high, up a ladder of tempi."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.brass.grade import first_with
from generators.brass.speed import EASY_SHARE, tongue_speed
from generators.errors import BadRequest, Refusal
from generators.fields import checked, option
from generators.phrase.algebra import length, notes, on, then
from generators.phrase.bars import COMMON
from generators.phrase.label import Label
from generators.phrase.notation import value
from generators.phrase.note import Phrase, Rest
from generators.phrase.remark import Advice, Fewer, Remark
from generators.phrase.study import Limits, Strain, Study
from generators.studies.kit.fit import breathed, longest, with_air
from generators.studies.kit.registers import FIRST_REGISTERS, REGISTERS, band
from generators.studies.kit.request import FASTEST, SLOWEST, Request
from generators.studies.kit.setting import Setting, resolve
from generators.studies.tonguing.lying import line_middle
from generators.studies.tonguing.seating import line_seated
from generators.studies.tonguing.speech import LATE, RUNNING_ON, k_first, spoken
from generators.studies.tonguing.tongues import EVEN, TONGUE_GROUPS, TONGUE_STYLES, TONGUES, TONGUING_LINES, UNEVEN, Tongue
from generators.theory.key import Key
from generators.theory.pitch import Pitch

_OWN_KEYS = ("C", "Ab")
# The patterns that stay, and those that leap.
STILL_LINE, _LEAPING = "one-note", ("arpeggio", "call")
_RHYTHMS = {"quarters": 1, "eighths": 2, "sixteenths": 4}
# Boxes on a ladder at the most, and the part of his speed at which a player begins: our choice.
_MOST_BOXES, _BEGINNING = 16, 0.7
# How many ways of going a study has by itself: our choice.
_OWN_GROUPS = 3
# The share of the quickest tongue that two groups to a beat may ask for at the last tempo, our choice, and the beats of a line.
_RESERVE, _QUICK_BEATS = 0.9, 7
_TICK = "Tick a tempo when {lines} clean twice, one a day at the most; rest as long as you {how}."
_STEPS = "First line: k alone, then t and k at half speed, then at the tempo."
_EVERY, _AFTER_K, _ALL_AFTER_K = "every line was", "line 2 was", "lines 2 to {} were"
_TWO_A_BEAT = "Two groups to a beat."
_SLOW = "These tempi are for learning the syllables: a single tongue would still do."
_K_FIRST = "k first"
_TWO, _THREE = 2, 3
# Beats that a beginner has in one breath: two bars.
_TWO_BARS = 8
# The registers in the order in which they are played.
_EASIEST_FIRST = ("middle", "low", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class TonguingRequest(Request):
    """A tonguing study: its syllables, its lines and registers, and its ladder of tempi."""

    kind: str = option("single", "The syllables.", allowed=tuple(TONGUES))
    patterns: tuple[str, ...] = option(
        (), "What is played; without it one note and five notes, where the grade allows.", allowed=tuple(TONGUING_LINES)
    )
    registers: tuple[str, ...] = option(REGISTERS, "Registers, thirds of the range.", allowed=REGISTERS)
    rhythm: str = option("", "Quarters, eighths or sixteenths; threes are triplets.", allowed=tuple(_RHYTHMS))
    groups: tuple[str, ...] = option(
        (),
        "How the groups go, in turn from line to line; without it three ways, of multiple tongues even where a line is new.",
        allowed=tuple(TONGUE_GROUPS),
    )
    style: str = option("", "How the notes are shaped; without it plain.", allowed=tuple(TONGUE_STYLES))
    goal: int | None = option(None, "The last tempo of the ladder; without it the usual one, as far as the tongue goes.")
    rise: int = option(4, "Beats a minute from box to box.", span=(1, 40))


def tonguing(request: TonguingRequest) -> Study:
    """Return the tonguing study of a request: every line of a key and pattern once, and the tempi to tick off."""
    checked(request)
    tongue = TONGUES[request.kind]
    setting = resolve(request, _OWN_KEYS, tongue.tempo, learner_keys=1)
    patterns, size = _patterns(request, tongue, setting), _size(request, tongue, setting)
    groups = _groups(request, tongue, size, setting)
    quick = _quick(request, tongue, groups, setting)
    most = _cap(tongue, groups, size, setting) / (_TWO if quick else 1)
    setting = _begun(setting.capped(most, f'"{tongue.name}" in these values'))
    places = list(_places(request, patterns, size, groups, setting))
    said = [spoken(place.line, tongue, place.size, place.way, request.style, quick=quick) for place in places]
    music, pace = with_air(said, setting)
    ladder = _ladder(request, pace, setting, quick=quick)
    top = max((pace, *ladder))
    warming = tuple(_k_first(request, size, top, pace, setting, quick=quick))
    return Study(
        "tonguing",
        "Tonguing",
        ", ".join(filter(None, (tongue.title, "in sixteenth triplets" * quick, request.style))),
        tongue.aim,
        setting.horn.id,
        pace,
        (*warming, *_strains(places, music, setting, rests=_warms_in(request))),
        setting.limits,
        goal=max(ladder, default=0),
        remarks=(
            *((Advice(_ticked(request, len(places), k_first=bool(warming))),) if ladder else ()),
            *((Advice(_STEPS),) if warming else ()),
            *_told(tongue, top * size / 60, setting, quick=quick),
            *_remarks(request, patterns, places, setting),
        ),
        ladder=ladder,
        also=_TWO_A_BEAT if quick else "",
    )


def _patterns(request: TonguingRequest, tongue: Tongue, setting: Setting) -> tuple[str, ...]:
    """Return the patterns asked for or the usual ones; what the grade is too young for is refused."""
    grade = setting.grade
    if not grade.tongues_with(tongue.name):
        why = f"is not for grade {grade.id} but from grade {first_with(lambda each: each.tongues_with(tongue.name))}"
        raise BadRequest(Refusal("kind", tongue.name, why, would_do=(("kind", grade.tongues),)))
    alone = not grade.moves_with(tongue.name)
    own = (STILL_LINE,) if alone else (STILL_LINE, "five-notes", "arpeggio")
    asked = tuple(dict.fromkeys(request.patterns)) or own
    if alone and asked != own:
        why = f"of {tongue.name} tonguing are not for grade {grade.id}"
        raise BadRequest(Refusal("patterns", ", ".join(asked), why, would_do=(("patterns", own),)))
    return asked


def _size(request: TonguingRequest, tongue: Tongue, setting: Setting) -> int:
    """Return how many notes a beat holds; sixteenths where the grade knows them, threes where the tongue goes in threes."""
    if tongue.three:
        return 3
    known = [name for name, size in _RHYTHMS.items() if Fraction(1, 4 * size) >= setting.limits.shortest]
    if request.rhythm and request.rhythm not in known:
        raise BadRequest(Refusal("rhythm", request.rhythm, "is too quick for the grade", allowed=tuple(known)))
    return _RHYTHMS[request.rhythm or known[-1]]


def _groups(request: TonguingRequest, tongue: Tongue, size: int, setting: Setting) -> tuple[str, ...]:
    """Return how the groups go: as asked, or the first few that the grade's note values allow, of threes no uneven ones."""
    known = [
        name for name, sizes in TONGUE_GROUPS.items() if size in sizes and _quickest(name, size) >= setting.limits.shortest
    ]
    for name in request.groups:
        if name not in known:
            why = f"is not for {tongue.name} tonguing in groups of {size}, or too quick for the grade"
            raise BadRequest(Refusal("groups", name, why, allowed=tuple(known)))
    if request.groups:
        return request.groups
    plain = [name for name in known if setting.grade.off_the_beat or name != LATE]
    own = [name for name in plain if _lasts(name, tongue, size, setting) and (size != _THREE or name not in UNEVEN)] or plain
    return tuple(own[:_OWN_GROUPS] if setting.grade.moves_with(tongue.name) else own[:1])


def _lasts(name: str, tongue: Tongue, size: int, setting: Setting) -> bool:
    """Tell whether a breath lasts for the groups from a landing on, and the end, at the quickest tempo there is."""
    beats = sum(4 * value(text) for text in TONGUE_GROUPS[name][size].split())
    tempo = min(setting.limits.tempo, _cap(tongue, (name,), size, setting))
    return ((8 if name == RUNNING_ON else 4) * beats + 3) * 60 <= setting.limits.breath * tempo


def _quickest(name: str, size: int) -> Fraction:
    """Return the shortest value of a group as it is written; of triplets the plain one."""
    values = [value(text.rstrip("t")) for text in TONGUE_GROUPS[name][size].split()]
    return min(values)


def _cap(tongue: Tongue, groups: Sequence[str], size: int, setting: Setting) -> float:
    """Return the quickest tempo at which the tongue goes."""
    shortest = min(value(text) for name in groups for text in TONGUE_GROUPS[name][size].split())
    return tongue_speed(tongue.syllables, setting.limits.speed) * 240 * shortest


def _quick(request: TonguingRequest, tongue: Tongue, groups: Sequence[str], setting: Setting) -> bool:
    """Tell whether threes go twice to a beat: at the tempi asked for a single tongue would do for triplets."""
    if not (tongue.three and request.tempo) or set(groups) & set(UNEVEN):
        return False
    top, single = request.goal or request.tempo / _BEGINNING, setting.limits.speed
    enough = _RESERVE * tongue_speed(tongue.syllables, single) >= _TWO * _THREE * top / 60
    breathes = setting.limits.breath * request.tempo >= _QUICK_BEATS * 60
    return _THREE * top / 60 < EASY_SHARE * single and enough and breathes


def _begun(setting: Setting) -> Setting:
    """Return the setting at a tempo that leaves room to grow, where none was asked for; a beginner has two bars in a breath."""
    if setting.tempo_asked:
        return setting
    slowest = -(-_TWO_BARS * 60 // int(4 * setting.limits.breath)) * 4 if setting.grade.beginner else SLOWEST
    return replace(setting, tempo=max(slowest, min(setting.tempo, int(_BEGINNING * setting.limits.tempo) // 4 * 4)))


def _ladder(request: TonguingRequest, start: int, setting: Setting, *, quick: bool) -> tuple[int, ...]:
    """Return the tempi of the ladder from the start to the goal; none where they are the same."""
    most = min(setting.limits.tempo, FASTEST)
    own = TONGUES[request.kind].goal // (_TWO if quick else 1)
    boxes = min(_MOST_BOXES - 1, max(0, min(own, most) - start) // request.rise)
    goal = start + boxes * request.rise if request.goal is None else request.goal
    if not start <= goal <= most:
        raise BadRequest(Refusal("goal", goal, f"is out of reach from tempo {start}", allowed=f"{start} to {most}"))
    if (goal - start) // request.rise >= _MOST_BOXES:
        rise = str((goal - start) // _MOST_BOXES + 1)
        why = f"makes more than {_MOST_BOXES} boxes from {start} to {goal}"
        raise BadRequest(Refusal("rise", request.rise, why, would_do=(("rise", (rise,)),)))
    return (*range(start, goal, request.rise), goal) if start < goal else ()


@dataclass(frozen=True, slots=True)
class _Place:
    """A line in a register of a key, and how its groups go."""

    key: Key
    register: str
    pattern: str
    line: Phrase[Pitch]
    size: int
    """How many notes a beat of it holds."""
    way: str
    again: bool = False
    """Whether it stands there once more, to go in another way."""


def _places(
    request: TonguingRequest, patterns: Sequence[str], size: int, groups: Sequence[str], setting: Setting
) -> Iterator[_Place]:
    """Yield every line of every key once, in every way that was asked for; high ones come last in their key.

    A beginner's come in the order of their patterns, what leaps in quarters.
    By itself each goes evenly, and one of every key in the other ways too, in a second one that nobody asked for only so.
    """
    ways, others = (groups, ()) if request.groups else (groups[:1], groups[1:])
    once_more = [(_suited(patterns, way), way) for way in dict.fromkeys(others)]
    heard: set[tuple[str, str]] = set()
    for key in setting.keys:
        found: list[_Place] = []
        for pattern in patterns:
            own = _own_size(pattern, size, setting)
            lines, more = _own_lines(request, pattern, own, key, setting, heard), not request.keys and key != setting.keys[0]
            again = [way for name, way in once_more if name == pattern]
            again = [] if more and pattern == STILL_LINE else again
            plain = () if more and again else dict.fromkeys(ways)
            found += (_Place(key, register, pattern, line, own, way) for register, line in lines for way in plain)
            found += (_Place(key, lines[0][0], pattern, lines[0][1], own, way, again=True) for way in again if lines)
        yield from found if setting.grade.beginner else sorted(found, key=_height)


def _height(place: _Place) -> int:
    """Order lines: what lies high comes last, and of that what stays on one note."""
    return (place.register == "high") * (1 + (place.pattern == STILL_LINE))


def _own_size(pattern: str, size: int, setting: Setting) -> int:
    """Return how many notes a beat of a pattern holds: where a beginner leaps, one."""
    return 1 if setting.grade.beginner and pattern in _LEAPING else size


def _own_lines(
    request: TonguingRequest, pattern: str, size: int, key: Key, setting: Setting, heard: set[tuple[str, str]]
) -> list[tuple[str, Phrase[Pitch]]]:
    """Return the lines of a pattern in a key; a second key that nobody asked for has one, to enter by a note in the middle."""
    lines = _lines(request, pattern, size, key, setting.limits, rooted=setting.grade.beginner and pattern != STILL_LINE)
    if request.keys or key == setting.keys[0]:
        heard.update((pattern, register) for register, _ in lines)
        return lines
    new = [line for line in lines if pattern != STILL_LINE and (pattern, line[0]) not in heard] or lines
    return new[:1]


def _ticked(request: TonguingRequest, count: int, *, k_first: bool) -> str:
    """Return when a tempo is ticked off, and how long one rests: where bars of rest are as many as those of a line, so long."""
    after = _AFTER_K if count == 1 else _ALL_AFTER_K.format(count + 1)
    return _TICK.format(lines=after if k_first else _EVERY, how="play" if _warms_in(request) else "need")


def _warms_in(request: TonguingRequest) -> bool:
    """Tell whether the k is heard alone first: with t and k in turn, where nobody says how the groups are to go."""
    return TONGUES[request.kind].multiple and not request.groups


def _k_first(request: TonguingRequest, size: int, top: int, pace: int, setting: Setting, *, quick: bool) -> Iterator[Strain]:
    """Yield a line on one note: k alone, in eighths or the quarters that it can at the last tempo, then the tongue itself."""
    key, limits, tongue = setting.keys[0], setting.limits, TONGUES[request.kind]
    if _warms_in(request):
        pitch = notes(_lines(request, STILL_LINE, size, key, limits)[0][1])[0].pitch
        slow = 8 if tongue_speed("k", limits.speed) * 60 >= _TWO * top else 4
        said = breathed(k_first(pitch, tongue, size, request.style, Fraction(1, slow), quick=quick), pace, limits.breath)
        if longest(said) * 240 <= Fraction(limits.breath) * pace and tongue_speed("k", limits.speed) * 240 >= slow * top:
            yield _strain(setting.label(key, part=_K_FIRST), key, said, rests=True)


def _suited(patterns: Sequence[str], way: str) -> str:
    """Return the first pattern that may go in another way too; none where there is but one note, which does not run on."""
    return next((name for name in patterns if name != STILL_LINE or way != RUNNING_ON), "")


def _lines(
    request: TonguingRequest, pattern: str, size: int, key: Key, limits: Limits, *, rooted: bool = False
) -> list[tuple[str, Phrase[Pitch]]]:
    """Return the lines of a pattern in the registers that were asked for, the easiest register first, none twice."""
    wanted = dict.fromkeys(request.registers or REGISTERS)
    found = dict.fromkeys(line_seated(pattern, size, key, register, limits, rooted=rooted) for register in wanted)
    return sorted(((_lies(line, limits), line) for line in found), key=lambda pair: _EASIEST_FIRST.index(pair[0]))


def _lies(line: Phrase[Pitch], limits: Limits) -> str:
    """Return the register in whose middle a line lies most nearly."""
    return min(REGISTERS, key=lambda register: abs(line_middle(line) - sum(band(limits, register)) / 2))


def _strains(places: Sequence[_Place], music: Sequence[Phrase[Pitch]], setting: Setting, *, rests: bool) -> Iterator[Strain]:
    """Yield one strain a line; its label tells the pattern, the register if that alone tells it, or how uneven groups go."""
    for place, line in zip(places, music, strict=True):
        alike = [each for each in places if _kin(each) == _kin(place)]
        told = " ".join(filter(None, (_called(place), _which(place, alike))))
        uneven = "" if place.way == EVEN else _word(place.way, line)
        more = {"part": uneven} if place.again else {"part": told, "detail": uneven}
        yield _strain(setting.label(place.key, **more), place.key, line, rests=rests)


def _kin(place: _Place) -> tuple[Key, str, str, bool]:
    return place.key, place.pattern, place.way, place.again


def _called(place: _Place) -> str:
    return "" if place.pattern == STILL_LINE else place.pattern.replace("-", " ")


def _which(place: _Place, alike: Sequence[_Place]) -> str:
    """Return what tells a line from those of the same pattern: its register, or which of them is higher."""
    if len(alike) == 1:
        return "" if _called(place) else place.register
    names = {each.register for each in alike}
    if len(names) == len(alike):
        return place.register
    upwards = sorted(alike, key=lambda each: line_middle(each.line))
    return (REGISTERS if len(alike) > _TWO else (REGISTERS[0], REGISTERS[-1]))[upwards.index(place)]


def _strain(label: Label, key: Key, line: Phrase[Pitch], *, rests: bool) -> Strain:
    """Return a line with a bar of rest, or where it rests as long as it sounds with as many as that takes."""
    sound = length(notes(line))
    more = max(1, -(-(2 * sound - length(line)) // COMMON.bar)) if rests else 1
    rested = then(on(line, 0, dynamic="mf"), (Rest(more * COMMON.bar),))
    return Strain(label, key, rested, COMMON, (int(length(rested) / COMMON.bar),))


def _word(way: str, line: Phrase[Pitch]) -> str:
    """Return what a player calls uneven groups: dotted and reversed where they are, else as they are asked for."""
    dotted = any(note.length == Fraction(3, 16) for note in notes(line)[:-1])
    return {"long-first": "dotted", "short-first": "reversed"}.get(way, way) if dotted else way.replace("-", " ")


def _told(tongue: Tongue, rate: float, setting: Setting, *, quick: bool) -> Iterator[Remark]:
    """Yield whether the tempi need the tongue, given the notes a second at the last one."""
    if not quick and tongue.multiple and rate < EASY_SHARE * setting.limits.speed:
        yield Advice(_SLOW)


def _remarks(request: TonguingRequest, patterns: Sequence[str], places: Sequence[_Place], setting: Setting) -> Iterator[Fewer]:
    """Yield where there are fewer lines than registers that were chosen."""
    asked = setting.keys if request.keys else setting.keys[:1]
    found = [len({(place.pattern, place.line) for place in places if place.key == key}) for key in asked]
    # All three registers are the usual ones, two the first: that some of them share a line is news only to who chose others.
    if set(request.registers) not in (set(REGISTERS), set(FIRST_REGISTERS)):
        wanted = len(asked) * len(patterns) * len(dict.fromkeys(request.registers))
        if sum(found) < wanted:
            yield Fewer("lines", sum(found), wanted, within=setting.range, shared=True)
