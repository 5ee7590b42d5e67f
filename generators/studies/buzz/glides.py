"""The glides of the buzz study: for each shape the degrees it passes, by how wide it is; a line leads from one to the next."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Glide:
    """One glide: its degrees for every compass from wide to narrow, and what to hear."""

    name: str
    points: tuple[tuple[int, ...], ...]
    aim: str


# Patterns of our own. Degree 0 is the tonic; the last is held.
BUZZ_SHAPES = {
    glide.name: glide
    for glide in (
        Glide(
            "siren",
            ((0, 7, 0), (0, 4, 0), (0, 2, 0)),
            "Listen for one buzz up and back, no note missing",
        ),
        Glide(
            "wave",
            ((2, 4, 1, 4, 0), (2, 4, 1, 4, 0), (1, 2, 0, 2, 0)),
            "Listen for crest and trough to be equally full",
        ),
        Glide(
            "steps",
            ((0, 0, 2, 2, 4, 4, 0), (0, 0, 2, 2, 4, 4, 0), (0, 0, 1, 1, 2, 2, 0)),
            "Listen for each level in tune before you glide on",
        ),
        Glide(
            "fall",
            ((7, 4, 0, 0), (4, 2, 0, 0), (2, 1, 0, 0)),
            "Listen for the air to stay as fast on the way down as it was at the top",
        ),
        Glide(
            "climb",
            ((0, 2, 0, 4, 0), (0, 2, 0, 4, 0), (0, 1, 0, 2, 0)),
            "Listen for each climb to start from the same relaxed buzz",
        ),
    )
}
