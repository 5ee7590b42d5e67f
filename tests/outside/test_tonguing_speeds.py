"""Tonguing speeds against published ones, typed in here.

Sources: a practice article (title not kept), single-tongued scales from 40 to 132 or more in sixteenths (8.8 notes a second); a
site on contemporary tuba technique, page "Tonguing" (address not kept): double and triple at least 12 notes a second; NZMEB,
Trumpet Grade 8 syllabus: 80 in sixteenths (5.33 notes a second); a university's handout on multiple tonguing (title not kept):
between 121 and 131 both techniques overlap.
"""

from itertools import pairwise

import pytest

from generators.phrase.study import Study
from generators.studies.catalogue import make
from generators.studies.tonguing.study import TonguingRequest
from generators.studies.tonguing.tongues import TONGUES

SINGLE_GOAL, MULTIPLE_LIMIT, EXAM_GRADE_8, OVERLAP = 8.8, 12.0, 5.33, (121, 131)


def rate(study: Study) -> float:
    """Return the most notes a second, at the last tempo of the ladder."""
    tempo = max(study.tempo, *study.ladder, 0)
    shortest = min(before.length for strain in study.strains for before, _ in pairwise(strain.notes))
    return float(tempo / (240 * shortest))


@pytest.mark.parametrize("kind", TONGUES)
def test_no_tongue_goes_faster_than_published(kind: str) -> None:
    """Single tonguing and k alone stay at or below the article's goal, multiple tonguing below the published rate."""
    limit = SINGLE_GOAL if kind in ("single", "k") else MULTIPLE_LIMIT

    assert rate(make(TonguingRequest(kind=kind))) <= limit + 0.01


def test_a_grown_player_reaches_the_exam() -> None:
    """Without a grade the single tongue may be asked the speed of the eighth grade's scales."""
    study = make(TonguingRequest(tempo=80, goal=80, rhythm="sixteenths"))

    assert EXAM_GRADE_8 == pytest.approx(rate(study), abs=0.01)


@pytest.mark.parametrize("tempo", OVERLAP)
def test_both_techniques_may_be_asked_where_they_overlap(tempo: int) -> None:
    """Between 121 and 131 in sixteenths both single and double tonguing can be had."""
    kinds = [make(TonguingRequest(kind=kind, tempo=tempo, goal=tempo)).tempo for kind in ("single", "double")]

    assert [tempo, tempo] == kinds
