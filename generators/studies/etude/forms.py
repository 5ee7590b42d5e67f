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
    like: int = -1
    """The phrase whose first bars it says again; -1 for none."""
    kept: int = 2
    """How many of them."""
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
_LOW, _RISING, _HIGH, _FALLING = (0.3, 0.7, 0.3), (0.35, 0.9, 0.3), (0.5, 0.9, 0.5), (0.6, 0.75, 0.15)


def _asked(section: str = "A", cadence: str = _ASK) -> PhrasePlan:
    return PhrasePlan(section, 0, cadence, height=_LOW)


def _again(section: str, like: int, cadence: str = _HOME, kept: int = 2, *, ornamented: bool = False) -> PhrasePlan:
    return PhrasePlan(section, 0, cadence, like=like, kept=kept, ornamented=ornamented, height=_RISING)


def _other(section: str, cadence: str, area: str = "home", theme: int = 1) -> PhrasePlan:
    return PhrasePlan(section, theme, cadence, area, height=_HIGH)


def _closing(section: str, cadence: str = _HOME, theme: int = 0) -> PhrasePlan:
    return PhrasePlan(section, theme, cadence, height=_FALLING)


TUNE_FORMS: dict[str, tuple[TuneForm, ...]] = {
    "8": (
        TuneForm("period", (_asked(), _again("A", 0))),
        TuneForm("sentence", (_asked(cadence="imperfect"), _closing("A"))),
        TuneForm("question and answer", (_asked(), _closing("A", theme=1))),
    ),
    "16": (
        TuneForm("song", (_asked(), _again("A", 0), _other("B", "away"), _again("A′", 0))),
        TuneForm("two parts", (_asked(), _again("A", 0), _other("B", "away"), _again("B", 0)), repeated=True),
        TuneForm("two answers", (_asked(), _closing("A", "imperfect"), _again("A′", 0, _ASK), _closing("A′"))),
        TuneForm("two parts away", (_asked(), _again("A", 0), _other("B", "arrival", "middle"), _again("A′", 0))),
    ),
    "24": (
        TuneForm(
            "three parts and a coda",
            (
                _asked(),
                _again("A", 0),
                _other("B", "arrival", "middle"),
                _other("B", "back", "back"),
                _again("A′", 0, "deceptive"),
                _again("Coda", 0, kept=1),
            ),
        ),
    ),
    "32": (
        TuneForm(
            "song of four parts",
            (
                _asked(),
                _closing("A", "imperfect"),
                _again("A′", 0, _ASK),
                _closing("A′"),
                _other("B", "arrival", "middle"),
                _other("B", "back", "back"),
                _again("A″", 0, "imperfect"),
                _closing("A″"),
            ),
        ),
        TuneForm(
            "small rondo",
            (
                _asked(),
                _again("A", 0),
                _other("B", "away"),
                _again("A′", 0),
                _other("C", "arrival", "middle", 2),
                _other("C", "back", "back", 2),
                _again("A″", 0, "deceptive"),
                _again("Coda", 0, kept=1),
            ),
        ),
        TuneForm(
            "theme and variation",
            (
                _asked("A"),
                _again("A", 0),
                _other("A", "away"),
                _again("A", 0),
                _again("Var.", 0, _ASK, ornamented=True),
                _again("Var.", 1, ornamented=True),
                PhrasePlan("Var.", 1, "away", like=2, ornamented=True, height=_HIGH),
                _closing("Var."),
            ),
        ),
        TuneForm(
            "three parts with a coda",
            (
                _asked(),
                _closing("A", "imperfect", theme=1),
                _other("B", "arrival", "middle", 2),
                _other("B", "back", "back", 2),
                _again("A′", 0, _ASK),
                _closing("A′", "imperfect"),
                _again("Coda", 0, "deceptive", kept=1),
                _again("Coda", 0, kept=1),
            ),
        ),
    ),
}
