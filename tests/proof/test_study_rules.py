"""The rules of a study: what concerns it once is found once, whatever the number of its strains."""

from dataclasses import replace

import pytest

from generators.proof.prove import prove
from generators.proof.study_rules import STUDY_RULES
from tests.proof.broken import STUDY, Case, limited, strain, stranger

CASES = (
    Case("tempo", limited(tempo=60), 0, "", "tempo 72 is past 60", "play it slower"),
    Case("ladder", stranger(ladder=(60, 72)), 0, "", "its ladder goes from 60 to 72", "rise from 72 to 240 at most"),
    Case("ladder", stranger(ladder=(72, 84, 80)), 0, "", "its ladder goes from 72 to 80", "rise from 72 to 240 at most"),
    Case("ladder", stranger(ladder=(72, 244)), 0, "", "its ladder goes from 72 to 244", "rise from 72 to 240 at most"),
)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_one_change_one_finding(case: Case) -> None:
    """The study is right; with one change the rule, and no other, names reason and cure of the whole study."""
    case.finds_one()


def test_no_rule_without_a_case() -> None:
    """Every rule of the table is broken by some case here."""
    assert set(STUDY_RULES) == {case.rule for case in CASES}


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_study_is_asked_once(case: Case) -> None:
    """Of a study with several strains the same is found as of one with one."""
    several = replace(STUDY, strains=(strain(), strain(key="F"), strain(key="G")))

    assert prove(case.change(STUDY)) == prove(case.change(several))


def test_a_ladder_may_rise_to_the_limit() -> None:
    """From its own tempo up to the last that can be asked a ladder is right."""
    assert () == prove(stranger(ladder=(72, 100, 240))(STUDY))
