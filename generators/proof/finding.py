"""What a rule of the proof finds, as a value."""

from dataclasses import dataclass

ERROR, WARNING = "error", "warning"


@dataclass(frozen=True, slots=True)
class Finding:
    """What a rule found: where, why, and the cure. Bars and notes count from 1; 0 where the whole strain is meant."""

    severity: str
    rule: str
    study: str
    strain: str
    bar: int
    note: str
    reason: str
    cure: str

    def __str__(self) -> str:
        place = f", bar {self.bar}" if self.bar else ""
        note = f", {self.note}" if self.note else ""
        return f"{self.severity}: {self.study}, {self.strain}{place}{note}: {self.reason}; {self.cure} ({self.rule})"
