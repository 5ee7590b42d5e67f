"""Labels, roles and remarks in words, for whoever prints, exports or reports; nothing reads these words again."""

from collections.abc import Sequence

from generators.phrase.label import Label
from generators.phrase.note import Note
from generators.phrase.remark import Advice, Fewer, Fitting, LeftOut, Narrowed, Range, Remark, Shortened
from generators.phrase.study import Strain
from generators.theory.key import Key, parse_key
from generators.theory.pitch import Pitch

# The words that stand over a note for its role.
ROLE_WORDS = {"bent": "bend", "sudden": "subito", "slowing": "rit."}
# A leap of so many half-steps is no limit that anybody meets.
FREE_LEAP = 24
# What keeps a climb short.
_HINDRANCES = {"breath": "your breath", "leaps": "your widest leap", "pattern": "the pattern"}
# Scales whose name a short label leaves to the key's own.
_OWN_SCALES = ("", "major", "minor", "natural minor", "melodic minor")


def full_label(label: Label) -> str:
    """Return a label with all it says: "C major, low, one note"."""
    if label.tube and label.detail:
        return f"{head_label(label)} ({label.detail})"
    return ", ".join(filter(None, (head_label(label), label.part, label.detail)))


def head_label(label: Label) -> str:
    """Return what a strain is, without what tells it from its neighbours."""
    key = _key(label, _full_key(label, label.key)) if label.key else ""
    named = " ".join(filter(None, (label.name, label.note.pretty if label.note else "")))
    return ": ".join(filter(None, (named or ("" if key else label.tube), key)))


def brief_label(label: Label) -> tuple[str, ...]:
    """Return a label as short lines, for a narrow column: ("Cm", "low")."""
    key = _key(label, _brief_key(label, label.key)) if label.key else ""
    named = " ".join(filter(None, (label.name, label.note.pretty if label.note else "")))
    return tuple(filter(None, (label.tube or named, key, label.part)))


def _key(label: Label, words: str) -> str:
    return f"{words} (concert {tonic(label.concert)})" if label.concert else words


def _full_key(label: Label, key: Key) -> str:
    if label.root:
        return f"{label.root.pretty[:-1]} {label.scale} in {tonic(key)} {key.mode}"
    return f"{tonic(key)} {label.scale or key.mode}"


def _brief_key(label: Label, key: Key) -> str:
    if label.root:
        return f"{label.root.pretty[:-1]} {label.scale} in {_brief_key(Label(), key)}"
    if label.scale not in _OWN_SCALES:
        return f"{tonic(key)} {label.scale}"
    return tonic(key) + {"major": "", "minor": "m"}.get(key.mode, f" {key.mode}")


def tonic(key: Key) -> str:
    """Return the tonic of a key with a real sharp or flat sign."""
    return key.pretty.split()[0]


def key_words(name: str) -> str:
    """Return the name of a key as it is printed: `key_words("Bbm") == "B♭m"`."""
    key = parse_key(name)
    return tonic(key) + key.name.removeprefix(key.tonic)


def strain_words(strain: Strain) -> str:
    """Return the key of a strain, or its tube, as short as a table has it."""
    key = strain.label.key or strain.key
    return strain.tube or (strain.label.note.pretty[:-1] if strain.label.note else key_words(key.name))


def note_words(note: Note[Pitch]) -> str:
    """Return the word over a note, or the beats under its hairpin; nothing for a plain one."""
    return f"{note.beats} beats" if note.beats else ROLE_WORDS.get(note.role, "")


def remark_words(remark: Remark) -> str:
    """Return a remark as one sentence."""
    match remark:
        case Narrowed(was, now, within, leap, every):
            leaps = f", your widest leap {leap} half-steps" if 0 < leap < FREE_LEAP else ""
            keys = "every key keeps to your range," if every else "your range is"
            return f"{now[:1].upper()}{now[1:]} instead of {was}: {keys} {range_words(within)}{leaps}."
        case Fewer():
            return _fewer(remark)
        case Shortened(of, top, why):
            return f"{full_label(of)} goes as far as {top.pretty} here{_as_far(why)}."
        case Fitting(what, within, names):
            return f"{what[:1].upper()}{what[1:]} chosen to fit {range_words(within)}{_listed(names)}."
        case LeftOut(keys):
            return f"Keys kept for another etude: {', '.join(key.pretty for key in keys)}."
        case Advice(text):
            return text


def _as_far(why: Sequence[str]) -> str:
    """Return what it goes no farther for: to suit your breath and your widest leap; of a range the page itself tells."""
    what = " and ".join(_HINDRANCES[each] for each in why if each in _HINDRANCES)
    return f", to suit {what}" if what else ""


def _fewer(remark: Fewer) -> str:
    where = range_words(remark.within) if remark.within else ""
    if remark.shared:
        return f"In your range, {where}, some registers have the same notes: they share their {remark.what}."
    of = f"{full_label(remark.of)}: " if remark.of else ""
    why = f", for a breath of {remark.breath:.0f} s" if remark.breath else f": your range is {where}"
    return f"{of}{remark.count} {remark.what} instead of {remark.wanted}{why}."


def range_words(within: Range) -> str:
    """Return a range in words, such as F♯3 to C6."""
    return f"{within[0].pretty} to {within[1].pretty}"


def _listed(names: tuple[str, ...]) -> str:
    return f": {', '.join(names)}" if names else ""
