"""How heavy a day is: time above the staff and high work in all, the longest stretch without a rest, the share of rest."""

from dataclasses import dataclass

from generators.phrase.algebra import length
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.routine.day import Day
from generators.routine.part import Part, is_high, seconds_above


@dataclass(frozen=True, slots=True)
class Load:
    """The load of a day, in seconds and as a share."""

    above: float
    """Seconds of notes above the staff."""
    high: float
    """Seconds of the strains that are for a good part above the staff, with their rests: in their bars and between parts."""
    longest: float
    """Seconds of the longest stretch of playing without a rest; a breath is no rest."""
    rest: float
    """The share of rest in all of its time."""

    def words(self) -> str:
        """Return the load as the page tells it."""
        high = f"High work {self.high / 60:.1f} min with its rests, {self.above / 60:.1f} min of it above the staff; "
        others = f"longest stretch {self.longest:.0f} s, rest {self.rest:.0%}."
        return f"{high}{others}" if self.high else others.capitalize()


def load(day: Day) -> Load:
    """Return the load of a day."""
    studies = [part.study for part in day.parts]
    playing = sum(study.playing for study in studies)
    return Load(
        above=sum(seconds_above(study, strain) for study in studies for strain in study.strains),
        high=sum(map(_high, day.parts)),
        longest=max(_longest(study, strain) for study in studies for strain in study.strains),
        rest=1 - playing / day.seconds,
    )


def _high(part: Part) -> float:
    """Return the seconds of the strains of a part that are high work, and their share of the rest after it."""
    study = part.study
    strains = sum(study.seconds(length(s.music)) * s.repeats for s in study.strains if is_high(study, s))
    return strains + part.rest * strains / part.seconds


def _longest(study: Study, strain: Strain) -> float:
    """Return the longest run of notes in a strain, in seconds; played again at once it goes on."""
    runs: list[list[Note[object]]] = [[]]
    for event in strain.music * min(2, strain.repeats):
        if isinstance(event, Rest):
            runs.append([])
        else:
            runs[-1].append(event)  # type: ignore[arg-type]  # the pitch does not matter here
    return max(study.seconds(length(tuple(run))) for run in runs)
