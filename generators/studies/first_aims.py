"""Aims worded for a child; a horn fills in its own words (see `Horn.said`). Our choice."""

FIRST_AIMS = {
    "air": "Listen: is your note as smooth as your breath on a cold window?",
    "buzz": "Listen: can your bee fly up and down without stopping? Rest when the time is up.",
    "bends": "Listen: can the note slide down a little and come home again?",
    "flow": "Listen: is it one long ribbon? If you hear a bump, play it once more without it.",
    "low": "Listen: is the lowest note big and round, like a slow boat?",
    "fingers": "Listen: do your {hand} and your notes come at the very same time?",
    "scales": "Listen: you walk up and down the stairs. Is every step the same size?",
    "arpeggios": "Listen: you hop up and down. Do the hops sound as easy as steps?",
    "intervals": "Listen: you jump away and come home. Does home sound the same every time?",
    "slurs": "Listen: only your air moves. Does it sound like a whistle going up and down?",
    "dynamics": "Listen: a train comes near and goes away. Does the note stay the same note?",
    "entrances": "Count the rests, sing the note in your head, breathe, play. Listen: was it the note you sang?",
    "tonguing": "Listen: you say too, too, too. Does every note begin in the same way?",
    "etude": "Sing it first. Listen: where does the tune ask, and where does it answer?",
}
