"""The proof as a whole: all rules or those named, errors first, each finding one line; nothing that fails is printed."""

from dataclasses import replace
from itertools import chain

import pytest

from generators.errors import BadRequest, FailedRun
from generators.proof.day_rules import DAY_RULES
from generators.proof.finding import ERROR, Finding
from generators.proof.prove import PROOF_RULES, held, prove, prove_day, proved
from generators.proof.strain_rules import STRAIN_RULES
from generators.proof.study_rules import STUDY_RULES
from generators.routine.profile import Profile
from generators.theory.pitch import parse_pitch
from tests.proof.broken import STUDY, limited, marked, sketched, strain, stranger
from tests.routine.players import planned

TABLES = (STUDY_RULES, STRAIN_RULES, DAY_RULES)
TALL = marked(4, pitch=parse_pitch("B6"))(limited(high=parse_pitch("C7"), leap=36)(STUDY))


def test_no_two_rules_alike() -> None:
    """Every rule of every table has a name of its own and a function of its own, so that a name chooses one rule."""
    names = list(chain(*TABLES))
    functions = [rule for table in TABLES for rule in table.values()]

    assert len(names) == len(set(names)) == len(set(functions))


def test_every_rule_says_what_it_holds() -> None:
    """Each rule has a sentence."""
    assert all((rule.__doc__ or "").strip().endswith(".") for table in TABLES for rule in table.values())


def test_a_finding_reads_as_a_line() -> None:
    """A finding names study, strain, bar, note, reason, cure and rule in one line."""
    (found,) = prove(limited(high=parse_pitch("F4"))(STUDY))
    line = "error: flow, C major, bar 2, G4: outside F#3 to F4; widen the range or choose a narrower study (range)"

    assert line == str(found)


def test_a_finding_about_the_whole_names_no_place() -> None:
    """What holds for the whole study is told without strain, bar or note."""
    (found,) = prove(limited(tempo=60)(STUDY))

    assert "error: flow: tempo 72 is past 60; play it slower (tempo)" == str(found)


def test_errors_first() -> None:
    """Warnings come after errors, whatever the order of rules and strains."""
    both = replace(TALL, strains=(*TALL.strains, strain("1/1 2/2.")))

    assert ["range", "full bars", "ledger lines"] == [finding.rule for finding in prove(both)]


def test_rules_are_chosen_by_name() -> None:
    """Only the named rules are asked; without any nothing is found; all together find what the proof finds."""
    assert ["ledger lines"] == [finding.rule for finding in prove(TALL, ("ledger lines", "spelling"))]
    assert () == prove(TALL, ())
    assert prove(TALL) == prove(TALL, PROOF_RULES)
    assert {"range", "ledger lines"} == {found.rule for name in PROOF_RULES for found in prove(TALL, (name,))}


def test_an_upbeat_can_be_let_pass() -> None:
    """Somebody else's music, which begins with an upbeat, is proved by all rules but the one it cannot keep."""
    upbeat = replace(STUDY, strains=(strain("5,/4 1/1 2/1"),))

    assert {"full bars"} == {finding.rule for finding in prove(upbeat)}
    assert () == prove(upbeat, set(PROOF_RULES) - {"full bars"})


def test_a_rule_that_is_not_there_is_refused() -> None:
    """An unknown name is refused with those that are known, of studies and of days."""
    day = planned(Profile())

    with pytest.raises(BadRequest, match=r'rule "rang" is not known; allowed: tempo, ladder, .*Did you mean "range"'):
        prove(STUDY, ("spelling", "rang"))
    with pytest.raises(BadRequest, match='rule "range" is not known; allowed: minutes, order, '):
        prove_day(day, ("range",))


def test_warnings_alone_may_be_printed() -> None:
    """A study with warnings is printed and they are told; one with an error is a failed run that names the first error."""
    high = sketched("9/1*")(stranger(horn="trombone")(limited(high=parse_pitch("D5"))(STUDY)))

    assert ["ledger lines"] == [finding.rule for finding in proved(high)]
    with pytest.raises(FailedRun, match=r"study fails its proof, nothing was printed: error: flow, C major, bar 2, B6"):
        proved(TALL)


def test_the_errors_of_a_failed_run_are_counted() -> None:
    """Of several errors the first is told, and how many more there are; warnings are not counted."""
    error = Finding(ERROR, "rest", "day", "", 0, "", "only 9% of rest", "rest")

    assert () == held("day", ())
    with pytest.raises(FailedRun, match=r"day fails its proof.*only 9% of rest; rest \(rest\) \(and 1 more\)"):
        held("day", (error, replace(error, severity="warning"), error))
