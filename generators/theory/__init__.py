"""Pitches, intervals, keys, scales and chords as plain values; spelling first, MIDI numbers derived."""
