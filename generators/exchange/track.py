"""The one track of a MIDI file: what is heard, in order, as timed messages."""

from collections.abc import Sequence
from fractions import Fraction

from music21.midi import ChannelVoiceMessages, DeltaTime, MetaEvents, MidiEvent, MidiFile, MidiTrack

from generators.brass.horn import Horn
from generators.exchange.playing import playing, sounds
from generators.exchange.voices import AnyVoice, channel_of
from generators.phrase.algebra import length
from generators.phrase.bars import Meter
from generators.phrase.study import Study
from generators.theory.key import Key, moved

TICKS = 960
"""Ticks in a quarter: whole for every value from a breve to a triplet 64th."""
VELOCITIES = {"ppp": 24, "pp": 36, "p": 50, "mp": 64, "mf": 78, "f": 92, "ff": 108, "fff": 122}
PLAIN = VELOCITIES["mf"]
Timed = tuple[int, MidiEvent]


def file(studies: Sequence[Study], horn: Horn, code: str = "") -> MidiFile:
    """Return studies, one after another, as a MIDI file of one track."""
    result = MidiFile()
    result.format, result.ticksPerQuarterNote = 0, TICKS
    result.tracks = [_track(_opening(horn.name, code) + _events(studies, horn, 1), 0)]
    return result


def together(voices: Sequence[AnyVoice], code: str = "") -> MidiFile:
    """Return a MIDI file with a track for each of several players; the first of them has the tempi."""
    result = MidiFile()
    result.format, result.ticksPerQuarterNote = 1, TICKS
    for place, (name, horn, studies) in enumerate(voices):
        opening = _opening(name, code if place == 0 else "")
        result.tracks.append(_track(opening + _events(studies, horn, channel_of(place) + 1, timed=place == 0), place))
    return result


def _events(studies: Sequence[Study], horn: Horn, channel: int, *, timed: bool = True) -> list[Timed]:
    """Return what is heard of studies, one after another, on a channel counted from 1, up to the end of the track."""
    events, start = list[Timed](), 0
    for study in studies:
        own = [
            *([(0, _tempo(study))] if timed else []),
            (0, _voice(ChannelVoiceMessages.PROGRAM_CHANGE, channel, horn.program)),
            *_signatures(study, horn),
            *_notes(study, horn, channel),
        ]
        events += [(start + at, event) for at, event in own]
        start += _duration(study)
    return [*events, (start, _meta(MetaEvents.END_OF_TRACK, b""))]


def _ticks(at: Fraction) -> int:
    return round(at * 4 * TICKS)


def _opening(called: str, code: str) -> list[Timed]:
    name = (0, _meta(MetaEvents.SEQUENCE_TRACK_NAME, called.replace("♭", "b").encode("ascii", "replace")))
    return [name, *([(0, _meta(MetaEvents.TEXT_EVENT, code.encode("ascii")))] if code else [])]


def _tempo(study: Study) -> MidiEvent:
    return _meta(MetaEvents.SET_TEMPO, round(60_000_000 / study.tempo).to_bytes(3, "big"))


def _signatures(study: Study, horn: Horn) -> list[Timed]:
    result: list[Timed] = []
    for start, strain in playing(study):
        result.append((_ticks(start), _meta(MetaEvents.TIME_SIGNATURE, _meter(strain.meter))))
        result.append((_ticks(start), _meta(MetaEvents.KEY_SIGNATURE, _key(moved(strain.key, horn.interval)))))
    return result


def _meter(meter: Meter) -> bytes:
    clocks = int(meter.beat * 4 * 24)
    return bytes([meter.beats, meter.unit.bit_length() - 1, clocks, 8])


def _key(key: Key) -> bytes:
    return key.fifths.to_bytes(1, "big", signed=True) + bytes([key.mode == "minor"])


def _notes(study: Study, horn: Horn, channel: int) -> list[Timed]:
    result: list[Timed] = []
    for sound in sounds(study):
        pitch = sound.pitch.midi + horn.sounding_half_steps
        loud = VELOCITIES.get(sound.dynamic, PLAIN)
        result.append((_ticks(sound.start), _voice(ChannelVoiceMessages.NOTE_ON, channel, pitch, loud)))
        result.append((_ticks(sound.start + sound.length), _voice(ChannelVoiceMessages.NOTE_OFF, channel, pitch, 0)))
    return result


def _duration(study: Study) -> int:
    return _ticks(sum((length(strain.music) for _, strain in playing(study)), Fraction(0)))


def _track(events: list[Timed], place: int) -> MidiTrack:
    track, before = MidiTrack(place), 0
    for at, event in sorted(events, key=lambda timed: (timed[0], timed[1].sortOrder)):
        track.events += [DeltaTime(track, time=at - before), event]
        before = at
    return track


def _meta(kind: MetaEvents, data: bytes) -> MidiEvent:
    result = MidiEvent(type=kind)
    result.data = data
    return result


def _voice(kind: ChannelVoiceMessages, channel: int, first: int, second: int | None = None) -> MidiEvent:
    result = MidiEvent(type=kind)
    result.channel = channel
    result.parameter1, result.parameter2 = first, second
    return result
