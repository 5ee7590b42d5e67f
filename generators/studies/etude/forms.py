"""The forms of a tune: phrases of four bars in sections, what each is made of, how it closes and where it stands."""

from dataclasses import dataclass

_ASK, _HOME = "half", "perfect"


@dataclass(frozen=True, slots=True)
class PhrasePlan:
    """Four bars before they have a note."""

    section: str
    theme: int
    """Which idea it is made of, from 0."""
    cadence: str
    area: str = "home"
    """Where it stands: at home, in the middle's key, or on the way back."""
    course: str = "asks"
    """How its bars come of those before, by the name of its courses."""
    like: int = -1
    """The phrase whose bars it says again or moves; -1 for none."""
    ornamented: bool = False
    height: tuple[float, float, float] = (0.35, 0.65, 0.4)
    """How high it begins, is at its height, and ends: 0 the lowest note, 1 the highest."""


@dataclass(frozen=True, slots=True)
class TuneForm:
    """A form: its phrases, and whether its sections may be repeated."""

    name: str
    phrases: tuple[PhrasePlan, ...]
    repeated: bool = False


# How high phrases lie that ask, answer, go away and come home: our choice.
_LOW, _RISING, _HIGH, _FALLING = (0.5, 0.75, 0.2), (0.5, 0.9, 0.15), (0.6, 0.85, 0.4), (0.65, 0.75, 0.1)


def _asked() -> PhrasePlan:
    return PhrasePlan("A", 0, _ASK, height=_LOW)


def _again(
    section: str, like: int, cadence: str = _HOME, *, course: str = "again", ornamented: bool = False, theme: int = 0
) -> PhrasePlan:
    return PhrasePlan(section, theme, cadence, course=course, like=like, ornamented=ornamented, height=_RISING)


def _answer(section: str, cadence: str = _HOME) -> PhrasePlan:
    return _again(section, 0, cadence, course="answers")


def _other(section: str, cadence: str, area: str = "home", theme: int = 1) -> PhrasePlan:
    return PhrasePlan(section, theme, cadence, area, course="away", like=0, height=_HIGH)


def _back(section: str, like: int, theme: int = 1) -> PhrasePlan:
    return PhrasePlan(section, theme, "back", "back", course="back", like=like, height=_HIGH)


def _closing(section: str, cadence: str = _HOME, theme: int = 0) -> PhrasePlan:
    return PhrasePlan(section, theme, cadence, course="closes", like=0, height=_FALLING)


def _return(section: str = "A′", *, ornamented: bool = False) -> PhrasePlan:
    """Return the first idea as it comes home for the last time, and goes on further than before."""
    return _again(section, 0, course="returns", ornamented=ornamented)


def _crown(section: str = "A′") -> PhrasePlan:
    """Return the first idea moved, and broadened to its close."""
    return _again(section, 0, course="crowns")


def _contrast(section: str, cadence: str = _HOME, theme: int = 1) -> PhrasePlan:
    return PhrasePlan(section, theme, cadence, course="contrasts", height=_RISING)


def _coda(cadence: str = _HOME) -> PhrasePlan:
    """Return a coda: the first bar moved on and on, and broadened to its close."""
    return PhrasePlan("Coda", 0, cadence, course="coda", like=0, height=_FALLING)


def _told(section: str) -> PhrasePlan:
    """Return the first two bars as they were, and home."""
    return _again(section, 0, course="told")


_RESTS, _TURNS, _AWAY = "imperfect", "deceptive", "away"
_MIDDLE = (_other("B", "arrival", "middle"), _back("B", 2))

# A first section asks and its eighth bar answers at home; no form says its first bar as it was more than three times.
# No form has more than two full closes at home before its end.
TUNE_FORMS: dict[str, tuple[TuneForm, ...]] = {
    "8": (
        TuneForm("question and answer", (_asked(), _return("A"))),
        TuneForm("question and other answer", (_asked(), _answer("A"))),
    ),
    "16": (
        TuneForm("song", (_asked(), _answer("A"), _other("B", _AWAY), _return())),
        TuneForm("two parts", (_asked(), _answer("A"), _other("B", _AWAY), _return("B")), repeated=True),
        TuneForm("two answers", (_asked(), _closing("A"), _other("B", _AWAY), _return())),
        TuneForm("two parts away", (_asked(), _answer("A"), _other("B", "arrival", "middle"), _return())),
    ),
    "24": (
        TuneForm("three parts and a coda", (_asked(), _answer("A"), *_MIDDLE, _again("A′", 0, _TURNS), _coda())),
        TuneForm("returning parts and a coda", (_asked(), _answer("A"), *_MIDDLE, _return(), _coda())),
        TuneForm("three parts", (_asked(), _answer("A"), *_MIDDLE, _again("A′", 0, _ASK), _crown())),
    ),
    "32": (
        TuneForm(
            "song of four parts",
            (
                _asked(),
                _answer("A"),
                _other("B", _AWAY),
                _contrast("B", _RESTS),
                _other("C", "arrival", "middle", 2),
                _back("C", 4, 2),
                _again("A′", 0, _ASK),
                _crown(),
            ),
        ),
        TuneForm(
            "small rondo",
            (
                _asked(),
                _answer("A"),
                _other("B", _AWAY),
                _again("A′", 0, _RESTS),
                _other("C", "arrival", "middle", 2),
                _back("C", 4, 2),
                _again("A″", 0, _TURNS, ornamented=True),
                _coda(),
            ),
        ),
        TuneForm(
            "theme and variation",
            (
                _asked(),
                _answer("A"),
                _other("A", _AWAY),
                _closing("A"),
                _again("Var.", 0, _ASK, ornamented=True),
                _again("Var.", 1, _RESTS, ornamented=True),
                _again("Var.", 2, _AWAY, ornamented=True, theme=1),
                _return("Var.", ornamented=True),
            ),
        ),
        TuneForm(
            "three parts with a coda",
            (
                _asked(),
                _closing("A", theme=1),
                _other("B", "arrival", "middle", 2),
                _back("B", 2, 2),
                _again("A′", 0, _ASK),
                _crown(),
                _coda(_TURNS),
                _coda(),
            ),
        ),
    ),
}

# A beginner's tunes ask and answer in the same words, and what is between them stays at home and open.
FIRST_FORMS: dict[str, tuple[TuneForm, ...]] = {
    "8": (TuneForm("question and answer", (_asked(), _told("A"))),),
    "16": (TuneForm("song", (_asked(), _told("A"), _other("B", _AWAY), _told("A′"))),),
}
