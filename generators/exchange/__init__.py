"""Studies handed to other programs: MusicXML and MIDI; music21 is named here and nowhere else, and loaded on first use."""
