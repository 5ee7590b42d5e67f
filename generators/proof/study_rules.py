"""The rules of a study by name: what concerns it once, not strain by strain."""

from collections.abc import Callable, Mapping

from generators.phrase.study import Study
from generators.proof.finding import Fault, Faults


def tempo(study: Study) -> Faults:
    """No tempo is past what the grade can be asked."""
    if study.tempo > study.limits.tempo:
        yield Fault(f"tempo {study.tempo} is past {study.limits.tempo}", "play it slower")


def ladder(study: Study) -> Faults:
    """Every ladder of tempi rises from the study's own to one the player can be asked."""
    steps, most = study.ladder, study.limits.tempo
    if steps and (steps[0] != study.tempo or list(steps) != sorted(set(steps)) or steps[-1] > most):
        yield Fault(f"its ladder goes from {steps[0]} to {steps[-1]}", f"rise from {study.tempo} to {most} at most")


STUDY_RULES: Mapping[str, Callable[[Study], Faults]] = {"tempo": tempo, "ladder": ladder}
