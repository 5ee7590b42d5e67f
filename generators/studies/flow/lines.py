"""The lines of the flow study: for each shape and compass one sentence in scale degrees, and the closes that may follow it.

Patterns of our own, made from scale steps, thirds and turns. The notation is that of `generators.phrase.notation`.
"""

# From wide to narrow; five-notes stays between the tonic and the fifth above it, a first-year player's whole horn.
FLOW_COMPASSES = ("octave", "fifth", "third", "five-notes")

# shape -> (meter, compass -> line). Every line has eight half-bars of 4/4 or eight bars of 3/4 and one place to breathe.
FLOW_LINES: dict[str, tuple[tuple[int, int], dict[str, str]]] = {
    "dip": (
        (4, 4),
        {
            "third": "[p]1/2( 7,/4 1 | [<]6,/2.? 7,/4 | [>]1/4 2 3 2 | [.]1/1)*",
            "fifth": "[p]1/4( 7, 6, 7, | [<]5,/2.? 6,/4 | 7,/4 1 [>]3 2 | [.]1/1)*",
            "octave": "[p]1/2( 7,/8 6, 5, 4, | 3,/4 2, [<]1,/2? | 2,/8 3, 4, 5, 6,/4 7, | [>]1/4 2/8 7, [.]1/2)*",
            "five-notes": "[p]3/2( 2/4 1 | 2/1? | [<]3/4 4 [>]3 2 | [.]1/1)*",
        },
    ),
    "arch": (
        (4, 4),
        {
            "third": "[p<]1/2( 2/4 1 | [>]3/2.? 2/4 | 1/4 7, 1 2 | [.]1/1)*",
            "fifth": "[p<]1/4( 2 3 4 | [>]5/2.? 4/4 | 3/4 4/8 3 2/4 7, | [.]1/1)*",
            "octave": "[p<]1/4( 3 2 4 | 3/4 4 5/2? | 6/8 7 [>]8/2 7/8 6 | 5/8 4 3 2 [.]1/2)*",
            "five-notes": "[p<]1/2( 2/4 3 | [.]5/1? | [>]4/4 3 4 2 | [.]1/1)*",
        },
    ),
    "wave": (
        (4, 4),
        {
            "third": "[p]1/2( 2/4 7, | [<]1/4 2 3/2? | [>]2/4 1 2 7, | [.]1/1)*",
            "fifth": "[p]1/4( 2 3 4 | [<]5/2? 3/4 1 | [>]6,/4 5, 2 7, | [.]1/1)*",
            "octave": "[p]1/4( 7,/8 1 2/4 3 | [<]4/8 5 6 7 8/2? | [>]7/8 6 5 3 4 2 3 1 | 5,/4 7, [.]1/2)*",
            "five-notes": "[p<]3/4( 4 2 3 | [.]5/1? | [>]4/4 3 1 2 | [.]1/1)*",
        },
    ),
    "widening": (
        (4, 4),
        {
            "third": "[p]1/4( 2 1/2 | 7,/4 1 2/2? | [<]3/4 2 3 1 | [>]2/4 7, [.]1/2)*",
            "fifth": "[p]1/8( 2 1 7, 1/2 | 2/8 3 1 7, 2/2? | [<]1/8 2 4 3 [>]5/4 3 | 4/8 2 1 7, [.]1/2)*",
            "octave": "[p]1/8( 2 3 2 1/2 | 7,/8 1 3 5 4/2? | [<]3/8 4 5 6 8/2 | [>]7/8 5 4 2 [.]1/2)*",
            "five-notes": "[p]1/4( 2 1/2 | 2/4 3 1/2? | [<]3/4 4 [>]5 4 | 3/4 2 [.]1/2)*",
        },
    ),
    "lean": (
        (3, 4),
        {
            "third": "[p]3/2( 2/4 | [>]4/2 3/4 | 2/4 3 1 | [.]7,/2.? | [<]1/2 2/4 | [>]3/4 2 7, | [.]1/2.~ | 1/2.)*",
            "fifth": "[p]5/2( 4/4 | 6/2 5/4 | [>]4/4 5 3 | [.]2/2.? | [<]3/2 4/4 | [>]5/4 3 2 | [.]1/2.~ | 1/2.)*",
            "octave": "[p<]5/2( 6/4 | [>]8/2 7/4 | 6/4 5 4 | [.]3/2.? | [p]4/2 2/4 | [>]5,/4 2 7, | [.]1/2.~ | 1/2.)*",
            "five-notes": "[p]3/2( 2/4 | 4/2.? | [>]5/4 4 2 | [.]3/2.? | 2/2 1/4 | 3/2.? | [>]4/4 3 2 | [.]1/2.)*",
        },
    ),
}

# What a teacher would say each shape is for, worded for the ear.
FLOW_AIMS = {
    "dip": "Listen for the turn at the bottom to be as round and as full as the note you left.",
    "arch": "Listen for the line to grow into its longest note while nothing changes at the lips.",
    "wave": "Listen for one colour above and below the tonic; nobody should hear you cross it.",
    "widening": "Listen for each turn to be a little wider than the last, all of them starting equally softly.",
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
            "[mf]1/8:st 1:st 3:st 1:st 5:st 5:st 3:st 5:st | 4:st 2:st 3:st 2:st 1/2*",
            "[mf]1/8:st 1:st 2:st 2:st 3:st 3:st 4:st 4:st | 5:st 4:st 3:st 2:st 1/2*",
            "[mf]1/8:st 1:st 2:st 2:st 3:st 3:st 2:st 2:st | 3:st 3:st 2:st 2:st 1/2*",
        ),
    },
    (3, 4): {
        "slurred": (
            "[mp]1/4( 5, 1 | 3/4 5 3 | 1/2.)*",
            "[mp]1/4( 3 5 | 3/4 1 3 | 1/2.)*",
            "[mp]1/4( 3 1 | 3/4 1 3 | 1/2.)*",
        ),
        "tongued": (
            "[mf]1/8:st 1:st 3:st 1:st 5:st 3:st | 4:st 2:st 3:st 1:st 2:st 2:st | 1/2.*",
            "[mf]1/8:st 1:st 2:st 2:st 3:st 3:st | 5:st 4:st 3:st 3:st 2:st 2:st | 1/2.*",
            "[mf]1/8:st 1:st 2:st 2:st 3:st 3:st | 2:st 1:st 2:st 3:st 2:st 2:st | 1/2.*",
        ),
    },
}
