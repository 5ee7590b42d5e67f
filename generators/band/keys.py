"""The concert key of a class: one that all can read, and why the others were passed over."""

from collections.abc import Sequence
from dataclasses import dataclass

from generators.band.request import Member
from generators.brass.horn import Horn
from generators.errors import BadRequest, Refusal
from generators.studies.kit.setting import ALL_KEYS
from generators.theory.key import Key, moved, parse_key, plainer

# First-year brass shares concert B flat, whatever its horn: it is C for horns in B flat and G for those in E flat. Band
# directors' pages on concert pitch (addresses not kept); common practice. It is read beyond a grade's own keys if it has few
# signs: our choice.
FIRST_KEY = parse_key("Bb")
MOST_SIGNS = 2
# How far up from the tonic a player reaches: over an octave, over five notes.
AN_OCTAVE, FIVE_NOTES = 12, 7


@dataclass(frozen=True, slots=True)
class PassedOver:
    """A concert key that was not taken: who cannot read it, each with the key that he would read; else it lies less well."""

    key: Key
    unread: tuple[tuple[int, Key], ...] = ()
    """Players by their places."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The concert key of a class, who cannot read it, and the keys that were passed over."""

    key: Key
    unread: tuple[tuple[int, Key], ...]
    passed: tuple[PassedOver, ...]
    asked: bool
    """Whether the teacher named it."""


def written_key(concert: Key, the_horn: Horn) -> Key:
    """Return the key that a horn reads for a concert key, the plainer of two that sound alike."""
    return plainer(moved(concert, -the_horn.interval))


def reads(member: Member, concert: Key) -> bool:
    """Tell whether a player reads a concert key: one of his grade, or the one that all beginners share."""
    written = written_key(concert, member.horn)
    return member.grade.knows(written.name) or (concert == FIRST_KEY and abs(written.fifths) <= MOST_SIGNS)


def chosen_key(members: Sequence[Member], asked: str) -> Choice:
    """Return the key that was asked for, or the best of those that most can read; refuses one that nobody reads."""
    keys = [parse_key(name) for name in ALL_KEYS]
    unread = {key: _unread(members, key) for key in keys}
    key = parse_key(asked) if asked else min(keys, key=lambda one: _rank(members, one))
    if len(_unread(members, key)) == len(members):
        able = [one for one in keys if len(unread[one]) == min(map(len, unread.values()))]
        best = min(able, key=lambda one: _rank(members, one))
        why = "is read by nobody of this class yet"
        raise BadRequest(Refusal("concert_key", asked, why, would_do=(("concert_key", (best.name,)),)))
    passed = tuple(PassedOver(one, unread[one]) for one in keys if one != key and _sound(one) != _sound(key))
    return Choice(key, _unread(members, key), passed, bool(asked))


def _sound(key: Key) -> tuple[int, str]:
    return key.degree(0).midi % 12, key.mode


def _unread(members: Sequence[Member], key: Key) -> tuple[tuple[int, Key], ...]:
    return tuple((member.place, written_key(key, member.horn)) for member in members if not reads(member, key))


def _rank(members: Sequence[Member], key: Key) -> tuple[int, bool, int, int, bool]:
    """Order keys: those that most read, the beginners' own, those with most room from the tonic up, with the fewest signs."""
    signs = sum(abs(written_key(key, member.horn).fifths) for member in members)
    room = sum(_room(member, key) for member in members)
    return len(_unread(members, key)), not _beginners(members, key), -room, signs, key != FIRST_KEY


def _beginners(members: Sequence[Member], key: Key) -> bool:
    """Tell whether it is the key that beginners share and there is a learner among whose own keys it is."""
    return key == FIRST_KEY and any(_own(member, key) for member in members)


def _own(member: Member, key: Key) -> bool:
    return bool(member.grade.keys) and written_key(key, member.horn).name in member.grade.keys


def _room(member: Member, key: Key) -> int:
    """Return 2 for a player who has an octave from the tonic up, 1 for five notes, 0 for less."""
    low, high = member.span
    tonic = low + (key.degree(0).midi - low) % AN_OCTAVE
    return (tonic + FIVE_NOTES <= high) + (tonic + AN_OCTAVE <= high)
