"""How a learner's packet spends its time: most of it is playing, entrances are brief, and there is a tune."""

import pytest

from generators.jobs.compose import compose
from generators.phrase.study import Study
from generators.sheets.packet import packet_of

LIMITS = [("C4", "G4"), ("C4", "A4"), ("C4", "C5"), ("G3", "C5")]
PACKETS = [
    *({"grade": str(grade), "seed": seed} for grade in range(4) for seed in range(2)),
    *({"low": low, "high": high} for low, high in LIMITS),
]


def studies(asked: dict[str, object]) -> tuple[Study, ...]:
    """Return the studies of a first packet."""
    return compose(packet_of(**asked)).studies


@pytest.mark.parametrize("asked", PACKETS, ids=str)
def test_a_learner_plays_more_than_he_rests(asked: dict[str, object]) -> None:
    """In bars as they are printed, half of the time of a packet of grades 0 to 3 at the least is playing."""
    played = studies(asked)

    assert sum(study.playing for study in played) >= sum(study.resting for study in played)


@pytest.mark.parametrize("asked", PACKETS, ids=str)
def test_entrances_are_brief_and_a_tune_is_there(asked: dict[str, object]) -> None:
    """Cold entrances take two minutes at the most, and every packet has a tune."""
    played = {study.kind: study for study in studies(asked)}

    assert played["entrances"].playing + played["entrances"].resting <= 120
    assert "etude" in played


@pytest.mark.parametrize(("low", "high"), LIMITS)
def test_a_beginner_has_two_lines_of_everything(low: str, high: str) -> None:
    """Where little is known all but the tune comes more than once: every study has two strains or a fellow."""
    played = studies({"low": low, "high": high})
    kinds = {study.kind for study in played} - {"low", "etude"}

    assert min(sum(len(study.strains) for study in played if study.kind == kind) for kind in kinds) > 1
