"""The proof: the rules of a study, of its strains and of a day put to the music, all of them or those chosen by name."""

from collections.abc import Collection, Iterator

from generators.errors import BadRequest, FailedRun, Refusal, unknown
from generators.phrase.study import Study
from generators.phrase.wording import full_label
from generators.proof.day_rules import DAY_RULES
from generators.proof.finding import ERROR, Finding, finding
from generators.proof.strain_rules import STRAIN_RULES
from generators.proof.study_rules import STUDY_RULES
from generators.routine.day import Day

# The names of the rules that a study is proved by.
PROOF_RULES = (*STUDY_RULES, *STRAIN_RULES)


def prove(study: Study, rules: Collection[str] = PROOF_RULES) -> tuple[Finding, ...]:
    """Return what the rules find in a study, errors first; an empty tuple for a study that may be printed.

    `prove(study, ("range", "breath"))` asks these two alone; an unknown name, or what is no study, is refused with BadRequest.
    """
    if not isinstance(study, Study):
        raise BadRequest(Refusal("study", repr(study), "is none", do="make one of a request first"))
    chosen = _chosen(rules, PROOF_RULES)
    return tuple(sorted(_found(study, chosen), key=lambda found: found.severity != ERROR))


def _found(study: Study, chosen: set[str]) -> Iterator[Finding]:
    for name in (name for name in STUDY_RULES if name in chosen):
        yield from (finding(fault, name, study.kind) for fault in STUDY_RULES[name](study))
    for strain in study.strains:
        for name in (name for name in STRAIN_RULES if name in chosen):
            faults = STRAIN_RULES[name](study, strain)
            yield from (finding(fault, name, study.kind, full_label(strain.label)) for fault in faults)


def prove_day(day: Day, rules: Collection[str] = tuple(DAY_RULES)) -> tuple[Finding, ...]:
    """Return what the rules of a day find in it, its studies aside; an empty tuple for a day that may be printed."""
    chosen = _chosen(rules, DAY_RULES)
    return tuple(finding(fault, name, "day") for name in DAY_RULES if name in chosen for fault in DAY_RULES[name](day))


def _chosen(rules: Collection[str], known: Collection[str]) -> set[str]:
    """Return the names of some rules; one that is not known is refused, and what is no list."""
    if isinstance(rules, str) or not isinstance(rules, Collection):
        raise BadRequest(Refusal("rules", repr(rules), "is no list", do='give a list of names, such as ["range"]'))
    strange = [name for name in rules if name not in known]
    if strange:
        raise unknown("rule", strange[0], known)
    return set(rules)


def proved(study: Study) -> tuple[Finding, ...]:
    """Return the warnings of a study's proof; an error is a failed run, for nothing that fails its proof is printed."""
    return held("study", prove(study))


def held(what: str, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return findings that are warnings alone; the first error among them is a failed run, with how many more there are."""
    errors = [found for found in findings if found.severity == ERROR]
    if errors:
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        raise FailedRun(Refusal(what, None, f"fails its proof, nothing was printed: {errors[0]}{more}"))
    return findings
