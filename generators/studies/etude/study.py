"""Etude: a tune of a kind, drawn many times over a ground of chords, the best of the drafts kept."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import chain, count, groupby, islice, tee

from generators.brass.grade import Grade
from generators.chance import Dice, number, pick
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import length, on, onsets, slurred_by_step
from generators.phrase.articulation import articulation
from generators.phrase.bars import Meter
from generators.phrase.dynamics import LOUDNESS
from generators.phrase.label import Label
from generators.phrase.note import Note, Phrase
from generators.phrase.remark import LeftOut, Remark
from generators.phrase.study import Limits, Strain, Study
from generators.phrase.wording import head_label
from generators.studies.etude.composing import composed
from generators.studies.etude.features import FEATURES, featured, for_beginners, tempered
from generators.studies.etude.forms import FIRST_FORMS, TUNE_FORMS
from generators.studies.etude.harmony import related
from generators.studies.etude.kinds import TUNE_KINDS, TuneKind
from generators.studies.etude.marks import TuneEvent, barwise, sung, tongued_end, touched, tune_events, whole_slurs
from generators.studies.etude.melody import LineCompass, costs
from generators.studies.etude.merit import merit
from generators.studies.etude.naming import tune_name
from generators.studies.etude.rhythm import known, rhythm
from generators.studies.etude.shading import Levels, shaded, told_once
from generators.studies.etude.tune import Setup, Tune
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import OffTempo, Setting, resolve
from generators.theory.key import Key
from generators.theory.pitch import STEPS, Pitch

_OWN_KEYS, _OWN_TEMPO = ("Eb",), 100
_OWN_LEAP, _LEAST_LEAP = 12, 5
_EIGHTH = Fraction(1, 8)
# How many drafts of a tune are scored, the more the shorter it is, and begun at the most, and among how many of the best
# the seed picks: our choice.
_DRAFTS, _BEGUN, _BEST = {"8": 12, "16": 8, "24": 5, "32": 4}, 40, 3
# How many more are begun where a tune should come to the highest of few notes: our choice.
_MORE = 60
# How much worse than the best one it may be: less than a fault and more than a shade.
_WORSE = 25.0
# A beginner's are alike: so few are enough.
_FIRST_DRAFTS = {"8": 9, "16": 6}
# How many of them are given up where their theme has faults.
_STRICT = 20
# Sections that are played otherwise, and how a bold tune begins its last one.
_OTHERS, _LOUD_END = ("B", "C", "Var."), "f"
# So much of the range a bold tune leaves below it at the least, and any where the range is so many half-steps wider:
# our choice.
_RAISED, _OVER_ALL = 0.55, 9
# By how many notes one tune may be narrower or wider than its kind: our choice.
_NARROWER, _WIDER = 2, 1
# The last note of a bold tune is so many half-steps under its highest one.
_OVER = (3, 4)
# In so many bars a beginner's first section says its idea and begins to say it again.
_AGAIN = 5
# A tune goes over a third at the least.
_NARROWEST = 4
TUNE_METERS = tuple(dict.fromkeys(str(kind.meter) for kind in TUNE_KINDS.values()))
# Sets that lie well on a tune in eighths and quarters.
ASKED_SETS = (
    "slurred",
    "tongued",
    "tenuto",
    "staccato",
    "accented",
    "slurred-pairs",
    "slur-two-tongue-two",
    "tongue-two-slur-two",
    "slur-three-tongue-one",
    "tongue-one-slur-three",
    "middle-pair-slurred",
)


# How many bars the tune of a day has; so many plain rhythms make a kind of tune.
_DAY_BARS, _ENOUGH = "8", 3
# A tune may be so much slower than its kind where that lets its sixteenths be tongued.
_SLOWER = 0.9
# The tempo of tunes of those who have no eighths, as a share of a note a second: well under what the tongue can do. Our choice.
_FIRST_SPEED = 48


@dataclass(frozen=True, slots=True, kw_only=True)
class EtudeRequest(Request):
    """An etude: its kind, length, technical idea, articulation and leap; the first key is home, another may be the middle's."""

    kind: str = option("", "The kind of tune; without it one is drawn.", allowed=tuple(TUNE_KINDS))
    bars: str = option("", "How many bars; without it 32, for a learner 8 to 24.", allowed=tuple(TUNE_FORMS))
    feature: str = option("", "A technical idea that runs through it, in a kind that it suits.", allowed=tuple(FEATURES))
    meter: str = option("", "The meter; without it the kind's own.", allowed=TUNE_METERS)
    articulation: str = option("", "The articulation set; without it the kind's own slurs.", allowed=ASKED_SETS)
    leap: int = option(0, "Widest leap in half-steps; 0 for an octave or what the grade allows.", span=(0, 24))


def etude(request: EtudeRequest) -> Study:
    """Return the etude of a request; refuses with NoFit where the range is too narrow for a tune."""
    setting = resolve(request, _OWN_KEYS, _OWN_TEMPO)
    kind = _kind(request, setting)
    setting = _timed(setting, kind, request.seed)
    tune = _drafted(request, setting, kind)
    sections = list(_sections(tune))
    music, pace = with_air(list(_lines(request, tune, sections, setting.grade)), setting)
    strains = tuple(_strains(tune, sections, music, setting))
    named = tune_name(kind.name, strains, beginner=setting.grade.beginner)
    return Study(
        "etude",
        f"{named.capitalize()} in {head_label(setting.label(setting.keys[0]))}",
        "",
        f"Listen {kind.aim}.",
        setting.horn.id,
        pace,
        strains,
        setting.limits,
        remarks=tuple(_remarks(tune, setting)) if request.keys else (),
        also=FEATURES[request.feature].aim if request.feature else "",
        piece=True,
    )


def _kind(request: EtudeRequest, setting: Setting) -> TuneKind:
    """Return the kind asked for, or one that the seed draws among those of the meter, the mode and the grade."""
    names = [request.kind] if request.kind else list(TUNE_KINDS)
    known = [_known(name, beginner=setting.grade.beginner) for name in names]
    metered = [kind for kind in known if str(kind.meter) == request.meter or not request.meter]
    if not metered:
        allowed = tuple(str(kind.meter) for kind in known)
        raise BadRequest(Refusal("meter", request.meter, f"is not that of a {request.kind}", allowed=allowed))
    read = [kind for kind in metered if not setting.limits.meters or str(kind.meter) in setting.limits.meters]
    if not read:
        what, value = ("kind", request.kind) if request.kind else ("meter", request.meter)
        others = [kind.name for kind in TUNE_KINDS.values() if str(kind.meter) in setting.limits.meters]
        allowed = tuple(others) if request.kind else setting.limits.meters
        raise BadRequest(Refusal(what, value, f"is not for grade {request.grade}", allowed=allowed))
    minor = setting.keys[0].mode == "minor"
    fit = [kind for kind in read if minor or not kind.minor or request.kind] or read
    foreign = FEATURES[request.feature].foreign if request.feature and not request.kind else ()
    fit = [kind for kind in fit if kind.name not in foreign] or fit
    plain = [kind for kind in fit if len(_plain(kind, setting.limits.shortest)) >= _ENOUGH] or fit
    slow = [kind for kind in plain if kind.tempo[0] <= setting.limits.tempo] or plain
    return pick(slow, request.seed, "kind")


def _known(name: str, *, beginner: bool) -> TuneKind:
    """Return the kind of a name as it is played by beginners, or by all others."""
    return for_beginners(TUNE_KINDS[name]) if beginner else TUNE_KINDS[name]


def _plain(kind: TuneKind, shortest: Fraction) -> list[str]:
    """Return the bars of a kind that have no shorter notes."""
    return [
        text for text in dict.fromkeys((*kind.bars, *kind.broad)) if all(stroke.value >= shortest for stroke in rhythm(text))
    ]


def _timed(setting: Setting, kind: TuneKind, seed: int) -> Setting:
    """Return the setting at the tempo of the kind, slower where the tongue is, quick enough for two bars in a breath."""
    meter, limits = kind.meter, setting.limits
    needed = -(-2 * int(meter.bar * 240) * 10 // int(limits.breath * 10))
    if setting.tempo_asked:
        if setting.tempo < needed:
            why = f"makes two bars outlast the breath of {limits.breath:.0f} s"
            raise OffTempo(Refusal("tempo", setting.tempo, why), needed)
        return setting.capped(
            limits.speed * 240 * _quickest(kind, _shortest(setting)), f"a {kind.name} at this speed of the tongue"
        )
    slowest, fastest = kind.tempo
    drawn = slowest + number(seed, "tempo") % (fastest - slowest + 1) // 2 * 2
    tongued = int(limits.speed * (30 if limits.shortest <= _EIGHTH else _FIRST_SPEED))
    sixteenths = int(limits.speed * 15)
    drawn = sixteenths if slowest * _SLOWER <= sixteenths < drawn and _sixteenths(kind) else drawn
    pace = min(max(drawn, needed), limits.tempo, max(tongued, needed))
    return replace(setting, tempo=pace - pace % 3 if meter.beat == Fraction(3, 8) else pace)


def _sixteenths(kind: TuneKind) -> bool:
    return any(stroke.value < _EIGHTH for text in kind.bars for stroke in rhythm(text))


def _quickest(kind: TuneKind, shortest: Fraction) -> Fraction:
    """Return the shortest value of the rhythms that a tune of a kind is made of where its notes should be no shorter."""
    rhythms = (*known(kind.bars, shortest), *known((*kind.others, *kind.bars), shortest))
    return min(stroke.value for one in rhythms for stroke in one)


def _drafted(request: EtudeRequest, setting: Setting, kind: TuneKind) -> Tune:
    """Return one of the best drafts."""
    limits = setting.limits
    asked = _Asked(
        kind.name,
        request.bars or setting.grade.tune,
        request.feature,
        request.seed,
        _leap(request, limits),
        _winded(setting, kind),
        setting.grade.slow and bool(request.high),
        setting.grade.syncopes,
        setting.grade.beginner,
        limits.low.midi,
        limits.high.midi,
        limits.keys,
        setting.grade.chromatic,
        _shortest(setting),
    )
    found = _best(asked, setting.keys)
    if found is None:
        key = setting.keys[0].name
        where = f"finds no tune between {limits.low} and {limits.high} in {key} with leaps of {asked.leap} half-steps"
        raise NoFit(Refusal("etude", None, where))
    return found


@dataclass(frozen=True, slots=True)
class _Asked:
    """What of a request and its player the notes depend on, beside the keys."""

    kind: str
    bars: str
    feature: str
    seed: int
    leap: int
    winded: bool
    crowned: bool
    """Whether it should come to the highest note, which is among the few that a beginner asks for."""
    syncopes: bool
    beginner: bool
    low: int
    high: int
    """The lowest and the highest note, as MIDI numbers."""
    allowed: tuple[str, ...]
    """The keys that the player knows; empty for all."""
    chromatic: bool
    shortest: Fraction


def _winded(setting: Setting, kind: TuneKind) -> bool:
    """Tell whether four bars take more than the player's breath."""
    return 4 * kind.meter.bar * 240 > Fraction(setting.limits.breath) * setting.tempo


def _shortest(setting: Setting) -> Fraction:
    """Return the shortest note that reads and tongues well at the tempo."""
    tongued = Fraction(setting.tempo) / Fraction(240 * setting.limits.speed)
    return max(setting.limits.shortest, tongued)


def _leap(request: EtudeRequest, limits: Limits) -> int:
    if 0 < request.leap < _LEAST_LEAP:
        allowed = f"{_LEAST_LEAP} to 24 half-steps, or 0"
        raise BadRequest(Refusal("leap", request.leap, "is too narrow for a tune", allowed=allowed))
    return min(limits.leap, request.leap or _OWN_LEAP)


@lru_cache(maxsize=64)
def _best(asked: _Asked, keys: tuple[Key, ...]) -> Tune | None:
    """Return one of the best of many tunes; None where none sings. The last ones are kept, for a sheet asks again."""
    known = _known(asked.kind, beginner=asked.beginner)
    kind = tempered(featured(known, asked.feature), Dice(asked.seed, "temper", asked.kind))
    drafts = (_draft(asked, kind, keys, draft) for draft in count())
    many = (_DRAFTS | (_FIRST_DRAFTS if asked.beginner else {}))[asked.bars]
    made = list(_made(drafts, many, asked.high if asked.crowned else 0))
    best = sorted(((merit(tune), place) for place, tune in enumerate(made)))[:_BEST]
    near = [made[place] for worth, place in best if worth <= best[0][0] + _WORSE]
    return pick(near, asked.seed, "best") if near else None


def _made(drafts: Iterator[Tune | None], many: int, top: int) -> Iterator[Tune]:
    """Yield so many tunes of the drafts; where there is a top those that come to it, for which more are begun, if there are."""
    begun, again = tee(islice(drafts, _BEGUN))
    high = (tune for tune in chain(begun, islice(drafts, _MORE)) if tune and _highest(tune) == top)
    yield from (list(islice(high, many)) if top else []) or islice(filter(None, again), many)


def _highest(tune: Tune) -> int:
    return max(one.event.pitch.midi for one in tune_events(tune) if isinstance(one.event, Note))


def _draft(asked: _Asked, kind: TuneKind, keys: Sequence[Key], draft: int) -> Tune | None:
    dice = Dice(asked.seed, "etude", kind.name, draft)
    forms = FIRST_FORMS if asked.beginner and asked.bars in FIRST_FORMS else TUNE_FORMS
    form = dice.pick(forms[asked.bars])
    setup = _setup(asked, kind, keys, dice)
    return composed(setup, form, dice, strict=draft < _STRICT) if setup else None


def _setup(asked: _Asked, kind: TuneKind, keys: Sequence[Key], dice: Dice) -> Setup | None:
    near = related(keys[0], keys, asked.allowed) if asked.chromatic or asked.allowed else {"home": keys[0]}
    name = dice.pick(list(near))
    compass = _compass(asked, kind, keys[0], dice)
    if compass is None:
        return None
    return Setup(kind, keys[0], (name, near[name]), compass, asked.shortest, asked.chromatic, asked.syncopes, asked.winded)


def _compass(asked: _Asked, kind: TuneKind, home: Key, dice: Dice) -> LineCompass | None:
    """Return where a tune lies: as wide as its kind, somewhere in the player's range, most often in its middle."""
    low, high = asked.low, asked.high
    if high - low < _NARROWEST:
        return None
    wide = min(high - low, round(dice.pick(range(kind.span[0] - _NARROWER, kind.span[1] + _WIDER)) * 12 / 7))
    room = high - low - wide
    lean = FEATURES[asked.feature].height if asked.feature else 0.0
    middling = (dice.real() + dice.real()) / 2
    share = (
        (_RAISED + (1 - _RAISED) * middling if kind.bold or kind.lofty or wide + _OVER_ALL < high - low else middling)
        if not lean
        else dice.real() / 4 + (0.75 if lean > 0 else 0.0)
    )
    bottom = low + round(room * share)
    if kind.bold:
        bottom = min(range(low, low + room + 1), key=lambda at: (_headroom(at + wide, home) not in _OVER, abs(at - bottom)))
    signature = tuple(home.alteration(step) for step in STEPS)
    return LineCompass(bottom, bottom + wide, asked.leap, signature, costs(kind.moves), asked.beginner)


def _headroom(top: int, home: Key) -> int:
    """Return how many half-steps there are from the highest tonic to the highest note."""
    return (top - home.degree(0).midi) % 12


_Section = tuple[str, list[TuneEvent]]


def _sections(tune: Tune) -> Iterator[_Section]:
    """Yield name and notes of each section, which begins with its upbeat."""
    names = [phrase.plan.section for phrase in tune.phrases]
    begun = [i for i, name in enumerate(names) if not i or name != names[i - 1]]
    heard = tune_events(tune)
    for first, end in zip(begun, [*begun[1:], len(names)], strict=True):
        yield names[first], [one for one in heard if first <= one.phrase < end]


def _lines(request: EtudeRequest, tune: Tune, sections: Sequence[_Section], grade: Grade) -> Iterator[Phrase[Pitch]]:
    """Yield the sections slurred and shaded."""
    levels, level = _levels(tune, grade), ""
    strokes = request.articulation or (FEATURES[request.feature].strokes if request.feature else "")
    for place, (name, heard) in enumerate(sections):
        last = place == len(sections) - 1
        music: Phrase[Pitch] = tuple(one.event for one in heard)
        music = tongued_end(music, tune.kind.meter) if last and tune.kind.chordal else music
        if grade.beginner:
            music = slurred_by_step(music, lambda pitch: pitch.place)
        if strokes:
            music = barwise(music, articulation(strokes), tune.kind.meter, heard[0].onset)
        else:
            music = touched(whole_slurs(music), tune.kind, heard[0].onset)
            places, meter = [one.phrase for one in heard], tune.kind.meter
            music = sung(music, places, meter, heard[0].onset, tune.upbeat) if tune.kind.slurred else music
        loud = last and tune.kind.loud and not grade.one_dynamic
        begun = _begun(levels, name, bold=last and tune.kind.bold and place > 0, loud=loud)
        # What a beginner says again is as loud as it was.
        begun = replace(begun, height=begun.start) if grade.beginner and not place and _early(heard, tune.kind) else begun
        before = "" if name in _OTHERS and not _crowned(tune, music) else level
        music = _shaded(tune, heard, music, begun, before, last=last, bold=last and (loud or tune.kind.bold))
        level = _level(music) or level
        yield _slowing(music, tune.kind.meter) if last and tune.kind.slows and not tune.form.repeated else music


def _early(heard: Sequence[TuneEvent], kind: TuneKind) -> bool:
    """Tell whether a section has its highest note before its sixth bar, in what it says again."""
    notes = [(one.onset, one.event.pitch.place) for one in heard if isinstance(one.event, Note)]
    return min(notes, key=lambda note: (-note[1], note[0]))[0] < _AGAIN * kind.meter.bar


def _begun(levels: Levels, name: str, *, bold: bool, loud: bool) -> Levels:
    """Return those of a section by its name, and whether it is the last one of a bold tune, or of one that ends loud."""
    if loud or (bold and levels.height != _LOUD_END):
        return replace(levels, start=_LOUD_END, height=max(levels.height, _LOUD_END, key=LOUDNESS.index))
    return replace(levels, start=levels.aside) if name in _OTHERS else levels


def _crowned(tune: Tune, music: Phrase[Pitch]) -> bool:
    """Tell whether music has the highest note of a tune."""
    top = max(tone.place for tone in tune.line)
    return any(isinstance(event, Note) and event.pitch.place == top for event in music)


def _under(levels: Levels) -> str:
    """Return how loud a height is that is not the one of the tune."""
    start, height = LOUDNESS.index(levels.start), LOUDNESS.index(levels.height)
    return LOUDNESS[max(start, min(start + 1, height))]


def _levels(tune: Tune, grade: Grade) -> Levels:
    low, high = LOUDNESS.index(grade.soft), LOUDNESS.index(grade.loud)
    start, aside, height = (LOUDNESS[min(max(LOUDNESS.index(name), low), high)] for name in tune.kind.dynamics)
    first, *later = (max(phrase.places) for phrase in tune.phrases)
    # What a beginner says again is no louder for a height that it had before.
    height = start if grade.beginner and first >= max(later) else height
    return Levels(start, aside, height, min(start, aside, key=LOUDNESS.index), start)


def _shaded(
    tune: Tune, heard: Sequence[TuneEvent], music: Phrase[Pitch], levels: Levels, level: str, *, last: bool, bold: bool
) -> Phrase[Pitch]:
    """Return a section with its loudness after some level, two phrases at a time; two that begin otherwise are set apart."""
    result: Phrase[Pitch] = ()
    first = heard[0].phrase
    for pair, part in groupby(zip(heard, music, strict=True), key=lambda one: (one[0].phrase - first) // 2):
        (begun, _), *_ = both = list(part)
        ends = last and both[-1][0] == heard[-1]
        apart = pair and all(tune.phrases[one.phrase].plan.theme for one, _ in both)
        line = tuple(event for _, event in both)
        crowned = _crowned(tune, line)
        # What leads into the next section is as loud as what it comes from.
        end = len(line) - tune.phrases[both[-1][0].phrase].leads
        own = replace(levels, start=levels.aside) if apart else levels
        own = own.after(level) if level else own
        own = own if crowned or (ends and bold) else replace(own, height=_under(own))
        # What steps or calls keeps its strength to the end of its idea.
        firm = tune.kind.loud and not tune.phrases[both[-1][0].phrase].plan.theme
        meter = tune.kind.meter
        shades = shaded(line[:end], own, meter, begun.onset, crowned=crowned, last=ends, bold=ends and bold, firm=firm)
        result += told_once((*shades, *line[end:]), result)
        level = _level(result) or level
    return result


def _level(music: Phrase[Pitch]) -> str:
    """Return the loudness that music comes to; nothing where none is written."""
    return next((event.dynamic for event in reversed(music) if isinstance(event, Note) and event.dynamic), "")


def _slowing(music: Phrase[Pitch], meter: Meter) -> Phrase[Pitch]:
    """Return the last section with the word for slowing over the first note of its last bar but one."""
    ends = -length(music)
    places = [i for i, start in enumerate(onsets(music)) if ends + start >= -2 * meter.bar]
    return on(music, places[0], role="slowing")


def _strains(tune: Tune, sections: Sequence[_Section], music: Sequence[Phrase[Pitch]], setting: Setting) -> Iterator[Strain]:
    meter = tune.kind.meter
    for (name, heard), line in zip(sections, music, strict=True):
        key = _signature(tune, heard, setting.keys[0])
        fours = _fours(len(Strain(Label(), key, line, meter, upbeat=tune.upbeat).bars), bool(tune.upbeat))
        repeats = 2 if tune.form.repeated else 1
        yield Strain(Label(name=name), key, line, meter, fours, repeats=repeats, upbeat=tune.upbeat)


def _fours(bars: int, early: bool) -> tuple[int, ...]:
    """Return four bars a line, an upbeat on the first."""
    whole = bars - early
    lines = [4] * (whole // 4) + ([whole % 4] if whole % 4 else [])
    return (lines[0] + early, *lines[1:])


def _signature(tune: Tune, heard: Sequence[TuneEvent], home: Key) -> Key:
    """Return the signature of a section: its own where it is far from home and stays there, else that of home."""
    keys = {bar[0].key for one in heard for bar in tune.phrases[one.phrase].chords}
    other = keys - {home}
    far = next(iter(other)) if len(other) == 1 else home
    return far if abs(far.fifths - home.fifths) > 1 and home not in keys else home


def _remarks(tune: Tune, setting: Setting) -> Iterator[Remark]:
    """Yield the keys asked for that are not played: more than a tune has room for."""
    played = {bar[0].key for phrase in tune.phrases for bar in phrase.chords}
    left = tuple(key for key in dict.fromkeys(setting.keys) if key not in played)
    if left:
        yield LeftOut(left)


def _walk(request: EtudeRequest) -> int:
    """Return the tempo under which the kind of a tune loses its step."""
    return _kind(request, resolve(request, _OWN_KEYS, _OWN_TEMPO)).walk


def _tune_part(where: Occasion) -> Iterator[Request]:
    """Yield a tune of eight bars in the day's first key, another every day."""
    yield EtudeRequest(**where.common, keys=where.keys.majors[:1], bars=_DAY_BARS)


KIND = Kind(
    name="etude",
    place=150,
    request=EtudeRequest,
    make=etude,
    summary="A tune of a kind: march, song, waltz, gigue, fanfare, lament, scherzo and more.",
    example=EtudeRequest(keys=("Eb", "Cm"), kind="gigue", bars="24", seed=5),
    aim="Listen for a tune that asks, answers, wanders and comes home.",
    child_aim=("Sing it first. Listen: where does the tune ask, and where does it answer?", ""),
    several="tune",
    lacking="no three notes for a tune",
    slowest=_walk,
    areas=("intervals", "dynamics"),
    parts=(DayPart("tune", 145, _tune_part, weight=4, rank=3, most_lines=4, areas=("tunes",)),),
    packet=True,
)
