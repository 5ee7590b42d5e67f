"""A grade proposed to one who does not know his own: by the years that he has played, and the weeks since he last did."""

from dataclasses import replace

from generators.brass.grade import grade, grade_on, span_on
from generators.brass.horn import horn
from generators.routine.profile import Profile

# Years of playing below which a grade is proposed. The tops after the first, second and third year are those of a university's
# trumpet-pedagogy site, page "Range development" (address not kept): C5, E5, G5; the others are our choice, cautious.
YEARS_OF_GRADES = ((0.5, "0"), (1.0, "1"), (2.0, "2"), (3.0, "3"), (5.0, "4"), (8.0, "5"))
# Weeks without playing from which so many grades less are proposed, and the most after ten years: our choice, no source.
PAUSES, LONG_AGO, AFTER_LONG = ((8, 1), (52, 2), (156, 3)), 520, 2


def proposed_grade(years: float, weeks_away: int) -> str:
    """Return the grade that is proposed; an empty one for a grown player in practice.

    Whoever comes back begins lower, and rises as it goes well: lips forget sooner than heads.
    """
    ranks = [*(name for _, name in YEARS_OF_GRADES), ""]
    rank = next((place for place, (below, _) in enumerate(YEARS_OF_GRADES) if years < below), len(ranks) - 1)
    lower = rank - max((less for weeks, less in PAUSES if weeks_away >= weeks), default=0)
    return ranks[max(0, min(lower, AFTER_LONG) if weeks_away >= LONG_AGO else lower)]


def with_proposal(profile: Profile, years: float, weeks_away: int) -> Profile:
    """Return a profile with the grade that is proposed, and its range on the player's horn."""
    name, own = proposed_grade(years, weeks_away), horn(profile.horn)
    low, high = span_on(grade_on(name, own) if name else grade(name), own)
    return replace(profile, grade=name, low=low.name, high=high.name)
