"""What a rule of the proof finds, as values."""

from collections.abc import Iterator
from dataclasses import dataclass

from generators.phrase.places import Place

ERROR, WARNING = "error", "warning"


@dataclass(frozen=True, slots=True)
class Fault:
    """What one rule finds: why, what would cure it, and at which note; without a place it holds for the whole."""

    reason: str
    cure: str = ""
    place: Place | None = None
    severity: str = ERROR


Faults = Iterator[Fault]


@dataclass(frozen=True, slots=True)
class Finding:
    """A fault with its rule and where it stands. Bars count from 1; 0 and empty names where the whole is meant."""

    severity: str
    rule: str
    study: str
    strain: str
    bar: int
    note: str
    reason: str
    cure: str

    def __str__(self) -> str:
        bar = f"bar {self.bar}" if self.bar else ""
        where = ", ".join(filter(None, (self.study, self.strain, bar, self.note)))
        told = "; ".join(filter(None, (self.reason, self.cure)))
        return f"{self.severity}: {where}: {told} ({self.rule})"


def finding(fault: Fault, rule: str, study: str, strain: str = "") -> Finding:
    """Return what a rule found in a study and a strain, or in a day."""
    bar, note = (fault.place.bar, fault.place.note.pitch.name) if fault.place else (0, "")
    return Finding(fault.severity, rule, study, strain, bar, note, fault.reason, fault.cure)
