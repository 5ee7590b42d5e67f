"""Studies that are right, ways to break them, and what a rule must then find."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from generators.phrase.algebra import on
from generators.phrase.in_key import in_key
from generators.phrase.label import Label
from generators.phrase.notation import degrees
from generators.phrase.study import Limits, Strain, Study
from generators.phrase.wording import full_label
from generators.proof.finding import Finding
from generators.proof.prove import prove
from generators.proof.study_rules import STUDY_RULES
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch

GOOD = "1/4( 2 3 4 | 5/2 3)* | 2/4 1 7, 2 | 1/1*"
TUBE = "8/4( 5 8 10 | 8/1)* | r/1"
Change = Callable[[Study], Study]


def strain(sketch: str = GOOD, key: str = "C", **more: Any) -> Strain:
    """Return a strain in a key, from the middle of the staff."""
    return Strain(Label(key=parse_key(key)), parse_key(key), in_key(degrees(sketch), parse_key(key), 4), **more)


LIMITS = Limits(parse_pitch("F#3"), parse_pitch("C6"), 15.0)
STUDY = Study("flow", "Flow", "", "Listen.", "trumpet", 72, (strain(),), LIMITS)
ON_TUBE = replace(STUDY, kind="slurs", strains=(strain(TUBE, tube="0"),))


def limited(**changes: Any) -> Change:
    """Return the change of a study's limits."""
    return lambda study: replace(study, limits=replace(study.limits, **changes))


def sketched(sketch: str, **more: Any) -> Change:
    """Return the change of a study's music."""
    return lambda study: replace(study, strains=(strain(sketch, **more),))


def marked(index: int, **changes: Any) -> Change:
    """Return the change of one note of a study."""

    def change(study: Study) -> Study:
        music = on(study.strains[0].music, index, **changes)
        return replace(study, strains=(replace(study.strains[0], music=music),))

    return change


def stranger(**changes: Any) -> Change:
    """Return the change of a study or its strain by its own fields."""
    own = {name: value for name, value in changes.items() if name in Study.__dataclass_fields__}
    rest = {name: value for name, value in changes.items() if name not in own}
    return lambda study: replace(study, **own, strains=tuple(replace(s, **rest) for s in study.strains))


@dataclass(frozen=True)
class Case:
    """A change that breaks one rule, and the finding it must give."""

    rule: str
    change: Change
    bar: int
    note: str
    reason: str
    cure: str
    study: Study = STUDY
    severity: str = "error"
    also: tuple[str, ...] = ()
    """Other rules that no such change can keep."""

    @property
    def broken(self) -> Study:
        """The study after its change."""
        return self.change(self.study)

    @property
    def expected(self) -> Finding:
        """What must be found in it: at the study as a whole, or in its first strain."""
        where = "" if self.rule in STUDY_RULES else full_label(self.broken.strains[0].label)
        return Finding(self.severity, self.rule, self.study.kind, where, self.bar, self.note, self.reason, self.cure)

    def finds_one(self) -> None:
        """Assert that the study is right, and that with its change this rule, and no other, finds what is expected."""
        assert () == prove(self.study)
        assert [self.expected] == [finding for finding in prove(self.broken) if finding.rule not in self.also]
        assert (self.expected,) == prove(self.broken, (self.rule,))

    def __str__(self) -> str:
        return self.rule
