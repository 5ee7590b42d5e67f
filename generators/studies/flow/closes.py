"""What is said of each shape of the flow study, and the closes that may follow a line.

Closes are patterns of our own, made from scale steps and chords, in the notation of `generators.phrase.notation`.
"""

# What a teacher would say each shape is for, worded for the ear.
FLOW_AIMS = {
    "dip": "Listen for the turn at the bottom to be as round and as full as the note you left.",
    "arch": "Listen for the line to grow into its top note, with nothing changed at the lips.",
    "wave": "Listen for one colour at the top and at the bottom; nobody should hear you cross the middle.",
    "widening": "Listen for each turn to reach a little farther than the last, and for none of them to be pushed.",
    "lean": "Listen for the weight on each leaning note, and for the softer note that answers it.",
}

# meter -> kind -> closes from wide to narrow.
FLOW_CLOSES: dict[tuple[int, int], dict[str, tuple[str, ...]]] = {
    (4, 4): {
        "slurred": (
            "[mp]1/4( 5, 1 3 | 5/4 3 1/2)*",
            "[mp]1/4( 3 5 3 | 1/1)*",
            "[mp]1/4( 3 1 3 | 1/1)*",
        ),
        "tongued": (
            "[mp<]1/8:te 2:te 3:te 1:te 3:te 5:te 6:te 7:te | [mf>]8:te 6:te 5:te 3:te 4:te 2:te 3:te 2:te | [p]1/1*",
            "[mp<]1/8:te 2:te 3:te 1:te 4:te 3:te 2:te 3:te | [mf>]5:te 4:te 3:te 1:te 4:te 3:te 1:te 2:te | [p]1/1*",
            "[mp<]1/8:te 2:te 3:te 2:te 1:te 2:te 1:te 2:te | [mf>]3:te 2:te 1:te 3:te 2:te 3:te 1:te 2:te | [p]1/1*",
        ),
    },
    (3, 4): {
        "slurred": (
            "[mp]1/4( 5, 1 | 3/4 5 3 | 1/2.)*",
            "[mp]1/4( 3 5 | 3/4 1 3 | 1/2.)*",
            "[mp]1/4( 3 1 | 3/4 1 3 | 1/2.)*",
        ),
        "tongued": (
            "[mp<]1/8:te 3:te 5:te 3:te 4:te 5:te | [mf>]6:te 5:te 4:te 3:te 4:te 2:te | [p]1/2.*",
            "[mp<]1/8:te 2:te 4:te 3:te 2:te 3:te | [mf>]6:te 5:te 4:te 3:te 1:te 2:te | [p]1/2.*",
            "[mp<]1/8:te 2:te 4:te 3:te 2:te 3:te | [mf>]5:te 4:te 2:te 3:te 1:te 2:te | [p]1/2.*",
            "[mp<]1/8:te 2:te 3:te 2:te 1:te 2:te | [mf>]3:te 2:te 1:te 3:te 1:te 2:te | [p]1/2.*",
        ),
    },
}
