"""A studio's file: what all players share, and one [[player]] table each; every mistake with its line."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from generators.errors import BadRequest, FailedRun, unknown
from generators.keep.files import check_target, save
from generators.keep.profile_check import FIELDS, WrongField
from generators.keep.profile_text import profile_of
from generators.keep.statements import line_of, parsed, statements
from generators.routine.studio import Chair, Shared, Studio

PLAYER = "player"
# The name of a field of a profile that a whole studio cannot share; its own is the group's.
OWN = "name"
DEMO = Path(__file__).parent.parent / "demo" / "saltmarsh.toml"
# File names that are taken: the summary's own.
TAKEN = ("summary",)
_KINDS: Mapping[str, tuple[tuple[type, ...], str]] = {
    "name": ((str,), "a text in quotes"),
    "from": ((str, date), "a date"),
    "concert": ((bool,), "true or false"),
}


def load_studio(path: str | Path) -> Studio:
    """Read a studio's file; what is wrong in a player's table stays with that player, all else is refused with its line."""
    place = Path(path).expanduser()
    return studio_of(_text(place), str(place))


def studio_of(text: str, what: str) -> Studio:
    """Read a studio from TOML text; `what` names it in messages."""
    table = parsed(text, what)
    shared = {key: value for key, value in table.items() if key != PLAYER}
    settings = _settings(shared, text, what)
    source = _Source(text, what, {key: value for key, value in shared.items() if key not in _KINDS})
    return Studio(settings, tuple(_chairs(_players(table, text, what), source)))


def demo_text() -> str:
    """Return the text of the demo: the Saltmarsh Town Band."""
    return DEMO.read_text(encoding="utf-8")


def write_demo(path: str | Path) -> Path:
    """Write the demo to a file that is not there yet, and return it."""
    place = Path(path).expanduser()
    if place.exists():
        raise BadRequest(f"studio file {place} is there already; name another for the demo.")
    check_target(place)
    save({place: demo_text().encode()})
    return place


@dataclass(frozen=True, slots=True)
class _Source:
    """The text of the file, its name, and the fields that its players share."""

    text: str
    what: str
    shared: Mapping[str, Any]

    def told(self, refusal: WrongField, table: Mapping[str, Any], heading: int) -> str:
        """Return a refusal with its file and line: in the player's table, or in the shared settings."""
        given = next((key for key in table if key.replace("-", "_") == refusal.field.replace("-", "_")), "")
        key = given or next((key for key in self.shared if key.replace("-", "_") == refusal.field), "")
        line = line_of(self.text, key, refusal.item, heading if given else 0) if key else self.line(heading)
        return f"{self.what}, line {line}: {refusal}"

    def line(self, heading: int) -> int:
        """Return the line of a heading, counted from 1."""
        found = [statement.first for statement in statements(self.text) if statement.heading]
        return found[heading - 1] if heading <= len(found) else 1


def _settings(table: Mapping[str, Any], text: str, what: str) -> Shared:
    """Return what all share; a wrong value, or an entry that nobody can share, is refused."""
    try:
        values = {"first" if key == "from" else key: _typed(key, value) for key, value in table.items() if key in _KINDS}
        fields = {key: value for key, value in table.items() if key not in _KINDS}
        for key in fields:
            if key.replace("-", "_") not in FIELDS:
                raise WrongField(str(unknown("entry", key, [*_KINDS, *_shareable(), PLAYER])), key)
        profile_of(fields)
    except WrongField as refusal:
        key = next((key for key in table if key.replace("-", "_") == refusal.field.replace("-", "_")), refusal.field)
        raise BadRequest(f"{what}, line {line_of(text, key, refusal.item)}: {refusal}") from None
    return Shared(**values)


def _shareable() -> Iterator[str]:
    return (name.replace("_", "-") for name in FIELDS if name != OWN)


def _typed(key: str, value: Any) -> Any:
    """Return a setting as it is kept; a date may stand with or without quotes."""
    types, words = _KINDS[key]
    if not isinstance(value, types):
        raise WrongField(f'{key} "{value}" is not allowed; give {words}.', key)
    if key != "from":
        return value
    try:
        return date.fromisoformat(str(value)).isoformat()
    except ValueError:
        raise WrongField(f'from "{value}" is not a date; write year, month and day as in 2026-11-30.', key) from None


def _players(table: Mapping[str, Any], text: str, what: str) -> list[Mapping[str, Any]]:
    found = table.get(PLAYER, [])
    if not isinstance(found, list) or not all(isinstance(item, dict) for item in found):
        raise BadRequest(f"{what}, line {line_of(text, PLAYER)}: player is no list of tables; begin each with [[player]].")
    if not found:
        raise BadRequest(f"{what}: no players; begin each with [[player]], or see `waterkey studio --demo`.")
    return found


def _chairs(tables: list[Mapping[str, Any]], source: _Source) -> Iterator[Chair]:
    """Yield the chairs; two that would print into the same file are told apart by a refusal of the later one."""
    lines: dict[str, int] = {}
    for number, table in enumerate(tables, 1):
        chair = _chair(table, number, source)
        if chair.slug in lines or chair.slug in TAKEN:
            where = f"player of line {lines[chair.slug]}" if chair.slug in lines else "summary"
            why = f'name "{chair.name}" would print into the file of the {where}; give every chair its own name.'
            chair = Chair(chair.name, None, f"{source.what}, line {line_of(source.text, OWN, None, number)}: {why}")
        lines.setdefault(chair.slug, source.line(number))
        yield chair


def _chair(table: Mapping[str, Any], number: int, source: _Source) -> Chair:
    name = str(table.get(OWN, ""))
    try:
        profile = profile_of({key: value for key, value in source.shared.items() if not _given(key, table)} | dict(table))
        if not Chair(name, None).slug:
            raise WrongField('name is missing or empty; call the player by the chair, as in name = "second cornet".', OWN)
    except WrongField as refusal:
        return Chair(name or f"player {number}", None, source.told(refusal, table, number))
    return Chair(name, profile)


def _given(key: str, table: Mapping[str, Any]) -> bool:
    return any(key.replace("-", "_") == own.replace("-", "_") for own in table)


def _text(place: Path) -> str:
    try:
        return place.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise BadRequest(
            f"studio file {place} is not there; `waterkey studio {place} --demo` writes one to begin with."
        ) from None
    except UnicodeDecodeError as error:
        raise BadRequest(f"{place}: not a text in UTF-8 (byte {error.start + 1}); save it as UTF-8.") from None
    except OSError as error:
        raise FailedRun(f"cannot read {place}: {(error.strerror or str(error)).lower()}.") from None
