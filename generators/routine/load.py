"""How heavy a day is: time above the staff, the longest stretch without a rest, the share of rest."""

from dataclasses import dataclass
from fractions import Fraction

from generators.brass.horn import horn
from generators.phrase.algebra import length
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.routine.day import Day


@dataclass(frozen=True, slots=True)
class Load:
    """The load of a day, in seconds and as a share."""

    above: float
    """Seconds of notes above the staff."""
    longest: float
    """Seconds of the longest stretch of playing without a rest; a breath is no rest."""
    rest: float
    """The share of rest in all of its time."""

    def words(self) -> str:
        """Return the load as the page tells it."""
        return f"Above the staff {self.above / 60:.1f} min, longest stretch {self.longest:.0f} s, rest {self.rest:.0%}."


def load(day: Day) -> Load:
    """Return the load of a day."""
    studies = [part.study for part in day.parts]
    playing = sum(study.playing for study in studies)
    return Load(
        above=sum(_above(study) for study in studies),
        longest=max(_longest(study, strain) for study in studies for strain in study.strains),
        rest=1 - playing / day.seconds,
    )


def _above(study: Study) -> float:
    over = horn(study.horn).clef.over.midi
    high = (n.length * s.repeats for s in study.strains for n in s.notes if n.pitch.midi >= over)
    return study.seconds(sum(high, Fraction(0)))


def _longest(study: Study, strain: Strain) -> float:
    """Return the longest run of notes in a strain, in seconds; played again at once it goes on."""
    runs: list[list[Note[object]]] = [[]]
    for event in strain.music * min(2, strain.repeats):
        if isinstance(event, Rest):
            runs.append([])
        else:
            runs[-1].append(event)  # type: ignore[arg-type]  # the pitch does not matter here
    return max(study.seconds(length(tuple(run))) for run in runs)
