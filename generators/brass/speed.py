"""How fast tongue, lips and fingers go: the limits, in notes a second, that hold for every player whatever the grade."""

# Multiple tonguing: at least 12 notes a second is published for low brass (contemporary tuba technique site, "Tonguing").
MULTIPLE_SPEED = 12.0
# Lip slurs no faster than a lip trill: 178 beats a minute in sixteenths (Iltis et al., Medical Problems of Performing Artists 32(4), 2017).
LIP_SPEED = 11.9
# Fingers under a slur: common practice, no source.
FINGER_SPEED = 14.0
