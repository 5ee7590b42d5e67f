"""How fast tongue, lips and fingers go: the limits, in notes a second, that hold for every player whatever the grade."""

# Multiple tonguing: at least 12 notes a second is published for low brass (a site on contemporary tuba technique, page
# "Tonguing", address not kept). That the small horns go no faster is our choice.
MULTIPLE_SPEED = 12.0
# Lip slurs no faster than a lip trill: 178 beats a minute in sixteenths on the horn (Iltis et al., Medical Problems of
# Performing Artists 32(4), 209-214, 2017). That the trill is the limit is our choice.
LIP_SPEED = 11.9
# Fingers under a slur, and the slide too: our choice, only to catch slips.
FINGER_SPEED = 14.0
# K alone, as a share of the single tongue; double and triple tonguing as a multiple of it, below the limit above; both slower
# where the k comes first. All three are our choice; the multiple makes 80 in single sixteenths 120 in double ones.
K_SHARE, MULTIPLE_SHARE, REVERSED_SHARE = 0.7, 1.5, 0.8
# Up to which share of its quickest a single tongue is easy, so that no other is needed: 6.4 of 8.8 notes a second, a player's
# report of sixteenths at 96 (public discussion, address not kept, a weak source) and the article's 132; that it holds for every
# player is our choice.
EASY_SHARE = 6.4 / 8.8


def tongue_speed(syllables: str, single: float) -> float:
    """Return how many notes a second a pattern of syllables goes, `tongue_speed("tk", 8.0) == 12`, given the single tongue."""
    if set(syllables) <= {"t"}:
        return single
    if set(syllables) == {"k"}:
        return K_SHARE * single
    return min(MULTIPLE_SPEED, MULTIPLE_SHARE * single) * (REVERSED_SHARE if syllables[0] == "k" else 1)
