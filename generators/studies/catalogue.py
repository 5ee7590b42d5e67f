"""The catalogue of studies: the row of every module and package of this folder; and making any of them, or refusing it."""

from collections.abc import Iterator
from dataclasses import replace
from importlib import import_module
from pkgutil import iter_modules

from generators import studies
from generators.brass.grade import Grade, first_with, firsts_between, grade
from generators.brass.horn import horn
from generators.errors import BadRequest, Refusal, unknown
from generators.fields import checked
from generators.phrase.algebra import on
from generators.phrase.dynamics import arriving
from generators.phrase.note import Note, Phrase
from generators.phrase.remark import Fitting, Shortened
from generators.phrase.study import Study
from generators.studies.kit.fit import NoFit
from generators.studies.kit.had import study_made
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.request import Request
from generators.studies.kit.setting import ALL_KEYS, OWN_KEYS, OffTempo, home_keys, resolve
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch, simple


def _rows() -> Iterator[Kind]:
    """Yield the row of every module of this folder that has one."""
    for found in iter_modules(studies.__path__, f"{studies.__name__}."):
        row = getattr(import_module(found.name), "KIND", None)
        if row:
            yield row


KINDS: dict[str, Kind] = {kind.name: kind for kind in sorted(_rows(), key=lambda kind: kind.place)}
# The parts that a day may have, in warming order.
DAY_PARTS: dict[str, DayPart] = {
    part.name: part for part in sorted((part for kind in KINDS.values() for part in kind.parts), key=lambda part: part.place)
}
# The loudness in which a beginner warms up: our choice.
_EASY = "mf"
# What a beginner plays in one loudness too, though he does not warm up with it; what a child calls a study: our choice.
_LEVEL = ("scales", "arpeggios", "intervals")
_CHILD_NAMES = {"arpeggios": "Chord notes"}
# The studies of a first packet.
PACKET: tuple[str, ...] = tuple(kind.name for kind in KINDS.values() if kind.packet)


def kind_of(request: Request) -> Kind:
    """Return the row of the table that a request belongs to."""
    found = next((kind for kind in KINDS.values() if type(request) is kind.request), None)
    if not found:
        raise BadRequest(
            Refusal("request", repr(request), "asks for no study", allowed=tuple(k.request.__name__ for k in KINDS.values()))
        )
    return found


def kind(name: str) -> Kind:
    """Return a kind of study by name; an unknown one is refused with its nearest neighbour."""
    if not isinstance(name, str) or name not in KINDS:
        raise unknown("study", name, KINDS)
    return KINDS[name]


def make(request: Request) -> Study:
    """Return the study of a request, its aim worded for a child where the grade is one's.

    Raises BadRequest where a value is wrong, and NoFit where no shape of the study fits the player; the refusal then
    names the nearest limits that would do, or the tempo, each of them tried.
    """
    checked(request)
    asked = first_notes(request)
    of = _having(asked)
    return _worded(_made(asked), of)


def made_as_asked(request: Request) -> Study | None:
    """Return the study of a request that is made as it stands; nothing where it cannot be, and what would do is not sought."""
    checked(request)
    asked = first_notes(request)
    try:
        of = _having(asked)
        return _worded(_studied(asked), of)
    except BadRequest:
        return None


def _having(request: Request) -> Grade:
    """Return the grade of a request; a study that it does not have is refused."""
    of, name = grade(request.grade), kind_of(request).name
    if name in of.without:
        first = first_with(lambda each: name not in each.without)
        why = f"is not for grade {of.id} but from grade {first}"
        raise BadRequest(Refusal("study", name, why, would_do=(("grade", (first,)),)))
    return of


def _worded(study: Study, of: Grade) -> Study:
    """Return a study whose hairpins arrive, in one dynamic and its aim worded for a child where that is its grade's."""
    whole = _arriving(study)
    one = of.loud if of.one_dynamic else _EASY if of.beginner and (KINDS[study.kind].warms or study.kind in _LEVEL) else ""
    plain = _unlettered(_plain(whole, one) if one else whole)
    return _for_a_child(plain) if of.child else plain


def _unlettered(study: Study) -> Study:
    """Return a study without the letter of its section where it has no other."""
    if not study.piece or len(study.strains) > 1 or not study.strains:
        return study
    (strain,) = study.strains
    return replace(study, strains=(replace(strain, label=replace(strain.label, name="")),))


def _plain(study: Study, dynamic: str) -> Study:
    """Return a study in one dynamic: each strain tells it once, of a piece the first, and nothing grows."""
    strains = enumerate(study.strains)
    plain = (replace(each, music=_level(each.music, dynamic if not i or not study.piece else "")) for i, each in strains)
    return replace(study, strains=tuple(plain))


def _level(music: Phrase[Pitch], dynamic: str) -> Phrase[Pitch]:
    """Return music without dynamics and hairpins, but for one under its first note."""
    bare = tuple(replace(event, dynamic="", hairpin="") if isinstance(event, Note) else event for event in music)
    return on(bare, 0, dynamic=dynamic)


def first_notes(request: Request) -> Request:
    """Return a request that names no grade, but only notes of the first ones, as one for the first of them that can have it.

    A sheet from C4 to G4 or C5 is a beginner's, who has neither the tempi nor the dynamics of a grown player: our choice. A
    player of another kind names a grade.
    """
    if request.grade or not (request.low and request.high):
        return request
    name = kind_of(request).name
    firsts = firsts_between(parse_pitch(request.low), parse_pitch(request.high), horn(request.horn))
    known = [each for each in firsts if name not in each.without]
    for easier in [*(replace(request, grade=each.id) for each in known), request]:
        if _works(easier) or (not request.keys and _in_fitting_keys(easier)):
            return easier
    return replace(request, grade=known[0].id) if known else request


def _arriving(study: Study) -> Study:
    """Return a study whose hairpins arrive: over all its strains where it is one piece, else in each."""
    music = [strain.music for strain in study.strains]
    told = arriving(music) if study.piece else [arriving([phrase])[0] for phrase in music]
    return replace(study, strains=tuple(replace(strain, music=line) for strain, line in zip(study.strains, told, strict=True)))


def _for_a_child(study: Study) -> Study:
    aim, also = map(horn(study.horn).said, KINDS[study.kind].child_aim)
    tube = study.strains[0].tube
    opened = "open" if tube == horn(study.horn).tubes[0] else f"on {tube}"
    what = opened if tube and study.what[:1].isdigit() else study.what
    return replace(study, name=_CHILD_NAMES.get(study.kind, study.name), what=what, aim=aim, also=also)


def _made(request: Request) -> Study:
    try:
        return _in_whole_keys(request, _studied(request))
    except (NoFit, OffTempo) as refused:
        own = None if request.keys else _in_fitting_keys(request)
        if own:
            return own
        if refused.refusal.would_do:
            raise
        raise NoFit(_with_cure(refused.refusal, request)) from None


def _studied(request: Request) -> Study:
    """Return the study as its kind makes it; what fits at a tempo or in a key is then asked for again."""
    return study_made(kind_of(request).make, request)


def _in_whole_keys(request: Request, study: Study) -> Study:
    """Return the study with keys that go as far as the others for those that do not, where the player named none.

    The plainest of them come first.
    """
    short = {remark.of.key for remark in study.remarks if isinstance(remark, Shortened)}
    if request.keys or request.grade or not short:
        return study
    own = list(dict.fromkeys(strain.key for strain in study.strains))
    every = home_keys(sorted(ALL_KEYS, key=lambda name: abs(parse_key(name).fifths)), horn(request.horn))
    others = (name for name in every if parse_key(name) not in own)
    whole = (name for name in others if _is_whole(replace(request, keys=(name,))))
    return _studied(replace(request, keys=tuple(next(whole, key.name) if key in short else key.name for key in own)))


def _is_whole(request: Request) -> bool:
    """Tell whether a study is made, and every key of it goes as far as it is to."""
    return _works(request) and not any(isinstance(remark, Shortened) for remark in _studied(request).remarks)


def _in_fitting_keys(request: Request) -> Study | None:
    """Return the study in the first keys that fit the player, where none were asked for; None where no key fits."""
    keys: tuple[str, ...] = ()
    for name in home_keys(ALL_KEYS, horn(request.horn)):
        if len(keys) < OWN_KEYS and _works(replace(request, keys=(*keys, name))):
            keys = (*keys, name)
    if not keys:
        return None
    study = _studied(replace(request, keys=keys))
    # A learner's page has the keys he knows and no word of it.
    return (
        study
        if study.limits.keys
        else replace(study, remarks=(*study.remarks, Fitting("keys", (study.limits.low, study.limits.high))))
    )


def _works(request: Request) -> bool:
    try:
        _studied(request)
    except BadRequest:
        return False
    return True


def _with_cure(refusal: Refusal, request: Request) -> Refusal:
    """Return the refusal with the tempo, the limits, or both, at which the study can be had; another fault is raised."""
    paced, why = _paced(request)
    found = paced if why is None else next((near for near in map(_in_time, _wider(paced)) if near), None)
    if found is None:
        return replace(refusal, do="no limits or tempo would help: choose another shape, pattern or figure")
    changed = (field for field in ("tempo", "low", "high") if getattr(found, field) != getattr(request, field))
    return replace(refusal, would_do=tuple((field, (str(getattr(found, field)),)) for field in changed))


def nearest_tempo(request: Request) -> Request:
    """Return the request at the tempo nearest to the one asked for at which the study can be had; itself without a tempo."""
    return request if request.tempo is None else _paced(request)[0]


def no_quicker(request: Request, tempo: int) -> Request:
    """Return a request that names no tempo at this one, or at the nearest to be had, where its own is quicker.

    None goes slower so than what it is bears: a march still walks.
    """
    asked = first_notes(request)
    pace = max(tempo, kind_of(asked).slowest(asked))
    return request if request.tempo is not None or make(request).tempo <= pace else nearest_tempo(replace(asked, tempo=pace))


def _in_time(request: Request) -> Request | None:
    """Return the request at a tempo that does; None where it is refused for anything else."""
    try:
        paced, why = _paced(request)
    except BadRequest:
        return None
    return paced if why is None else None


def _paced(request: Request) -> tuple[Request, NoFit | None]:
    """Return the request at the tempo that its refusals lead to, and what is then still in the way."""
    tried: set[int | None] = set()
    while request.tempo not in tried:
        tried.add(request.tempo)
        try:
            _studied(request)
        except OffTempo as paced:
            request = replace(request, tempo=paced.tempo)
        except NoFit as unfit:
            return request, unfit
        else:
            return request, None
    return request, NoFit(Refusal("tempo", None, "cannot be both quick and slow enough"))


def _wider(request: Request) -> Iterator[Request]:
    """Yield the request with a higher top, then with a lower bottom, then with both, nearest first."""
    limits = resolve(replace(request, tempo=None), ("C",), 72, pedals=getattr(request, "pedals", False)).limits
    the_horn = horn(request.horn)
    up = range(the_horn.ceiling.midi - limits.high.midi + 1)
    down = range(max(0, limits.low.midi - the_horn.low.midi) + 1)
    for more, less in sorted(((u, d) for u in up for d in down), key=lambda pair: (pair[0] + pair[1], pair[1])):
        high = _named(limits.high.midi + more) if more else request.high
        low = _named(limits.low.midi - less) if less else request.low
        yield replace(request, low=low, high=high)


def _named(midi: int) -> str:
    """Return a note as players name it: flats, but F sharp and C sharp."""
    return simple(midi, sharp=midi % 12 in (1, 6)).name
