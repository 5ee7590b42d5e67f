"""A studio's file: what all players share, and one [[player]] table each; every mistake with its line."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from generators.errors import BadRequest, Refusal, plain, unknown
from generators.keep.files import check_target, is_there, read_text, refuse_other, save, user_path
from generators.keep.profile_text import profile_of
from generators.keep.statements import line_of, place_of, statements, toml_values
from generators.routine.calendar import parse_day
from generators.routine.profile import WrongField
from generators.routine.profile_check import FIELDS
from generators.routine.studio import Chair, Shared, Studio

PLAYER = "player"
# The name of a field of a profile that a whole studio cannot share; its own is the group's.
OWN = "name"
DEMO = Path(__file__).parent.parent / "demo" / "saltmarsh.toml"
# File names that are taken: the teacher's own papers.
TAKEN = ("summary", "score")
_KINDS: Mapping[str, tuple[tuple[type, ...], str]] = {
    "name": ((str,), "a text in quotes"),
    "from": ((str, date), "a date"),
    "concert": ((bool,), "true or false"),
}


def load_studio(path: str | Path) -> Studio:
    """Read a studio's file; what is wrong in a player's table stays with that player, all else is refused with its line."""
    place = user_path(path, "studio")
    return studio_of(_text(place), str(place))


def studio_of(text: str, what: str) -> Studio:
    """Read a studio from TOML text; `what` names it in messages."""
    table = toml_values(text, what)
    shared = {key: value for key, value in table.items() if key != PLAYER}
    settings = _settings(shared, text, what)
    source = _Source(text, what, {key: value for key, value in shared.items() if key not in _KINDS})
    return Studio(settings, tuple(_chairs(_players(table, text, what), source)))


def demo_text() -> str:
    """Return the text of the demo: the Saltmarsh Town Band."""
    return DEMO.read_text(encoding="utf-8")


def write_demo(path: str | Path) -> Path:
    """Write the demo to a file that is not there yet, and return it."""
    place = user_path(path, "studio")
    refuse_other(place, Refusal("studio file", do="name another for the demo", where=str(place)))
    check_target(place)
    save({place: demo_text().encode()})
    return place


@dataclass(frozen=True, slots=True)
class _Source:
    """The text of the file, its name, and the fields that its players share."""

    text: str
    what: str
    shared: Mapping[str, Any]

    def told(self, wrong: WrongField, table: Mapping[str, Any], heading: int) -> Refusal:
        """Return a refusal with its file and line: in the player's table, or in the shared settings."""
        given = next((key for key in table if _same(key, wrong.field)), "")
        key = given or next((key for key in self.shared if _same(key, wrong.field)), "")
        line = line_of(self.text, key, wrong.item, heading if given else 0) if key else self.line(heading)
        return wrong.refusal.within(place_of(self.what, line))

    def line(self, heading: int) -> int:
        """Return the line of a player's heading, counted from 1."""
        found = [statement.first for statement in statements(self.text) if statement.opens]
        return found[heading - 1] if heading <= len(found) else 1


def _settings(table: Mapping[str, Any], text: str, what: str) -> Shared:
    """Return what all share; a wrong value, or an entry that nobody can share, is refused."""
    try:
        values = {"first" if key == "from" else key: _typed(key, value) for key, value in table.items() if key in _KINDS}
        fields = {key: value for key, value in table.items() if key not in _KINDS}
        for key in fields:
            if key.replace("-", "_") not in FIELDS:
                raise WrongField(unknown("entry", key, [*_KINDS, *_shareable(), PLAYER]).refusal, key)
        profile_of(fields)
    except WrongField as wrong:
        key = next((key for key in table if _same(key, wrong.field)), wrong.field)
        raise BadRequest(wrong.refusal.within(place_of(what, line_of(text, key, wrong.item)))) from None
    return Shared(**values)


def _shareable() -> Iterator[str]:
    return (plain(name) for name in FIELDS if name != OWN)


def _same(key: str, field: str) -> bool:
    return plain(key) == plain(field)


def _typed(key: str, value: Any) -> Any:
    """Return a setting as it is kept; a date may stand with or without quotes."""
    types, words = _KINDS[key]
    if not isinstance(value, types):
        raise WrongField(Refusal(key, value, "is not allowed", do=f"give {words}"), key)
    if key != "from":
        return value
    try:
        return parse_day(str(value), key).isoformat()
    except BadRequest as refused:
        raise WrongField(refused.refusal, key) from None


def _players(table: Mapping[str, Any], text: str, what: str) -> list[Mapping[str, Any]]:
    found = table.get(PLAYER, [])
    if not isinstance(found, list) or not all(isinstance(item, dict) for item in found):
        place = place_of(what, line_of(text, PLAYER))
        raise BadRequest(Refusal(PLAYER, why="is no list of tables", do="begin each with [[player]]", where=place))
    if not found:
        raise BadRequest(Refusal("studio", why="has no players", do="begin each with [[player]]", where=what))
    return found


def _chairs(tables: list[Mapping[str, Any]], source: _Source) -> Iterator[Chair]:
    """Yield the chairs; two that would print into the same file are told apart by a refusal of the later one."""
    lines: dict[str, int] = {}
    for number, table in enumerate(tables, 1):
        chair = _chair(table, number, source)
        if chair.slug in lines or chair.slug in TAKEN:
            where = f"player of line {lines[chair.slug]}" if chair.slug in lines else chair.slug
            place = place_of(source.what, line_of(source.text, OWN, None, number))
            why = f"would print into the file of the {where}"
            refusal = Refusal(OWN, chair.name, why, do="give every chair its own name", where=place)
            chair = Chair(chair.name, None, refusal)
        lines.setdefault(chair.slug, source.line(number))
        yield chair


def _chair(table: Mapping[str, Any], number: int, source: _Source) -> Chair:
    name = str(table.get(OWN, ""))
    try:
        profile = profile_of({key: value for key, value in source.shared.items() if not _given(key, table)} | dict(table))
        if not Chair(name, None).slug:
            cure = 'call the player by the chair, as in name = "second cornet"'
            raise WrongField(Refusal(OWN, why="is missing or empty", do=cure), OWN)
    except WrongField as wrong:
        return Chair(name or f"player {number}", None, source.told(wrong, table, number))
    return Chair(name, profile)


def _given(key: str, table: Mapping[str, Any]) -> bool:
    return any(_same(key, own) for own in table)


def _text(place: Path) -> str:
    if not is_there(place):
        raise BadRequest(Refusal("studio file", why="is not there", do="write the demo there to begin with", where=str(place)))
    return read_text(place)
