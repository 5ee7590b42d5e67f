"""What a folder of packets holds: a small file beside them, so that only what changed is printed again."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from types import MappingProxyType
from typing import Any

from generators.errors import BadRequest, Refusal, WaterkeyError
from generators.fields import checked
from generators.keep.files import is_there, read_text, read_whole, refuse_other, save
from generators.press.pdf import carried_by
from generators.routine.studio import FAILED, KEPT, Packet

NAME = "studio.json"
OTHER_FOLDER = "move it away, or choose another folder"


@dataclass(frozen=True, slots=True)
class Manifest:
    """The packets of a folder, by the stem of their file, and the name of the studio that they belong to."""

    folder: Path
    studio: str
    packets: Mapping[str, Packet] = field(default_factory=lambda: MappingProxyType({}))

    def unchanged(self, stem: str, digest: str) -> Packet | None:
        """Return the packet of that stem if it was made by the same request, and its file still holds it."""
        packet = self.packets.get(stem)
        there = packet and packet.digest == digest == _held(self.folder / f"{stem}.pdf")
        return replace(packet, state=KEPT) if packet and there else None

    def noted(self, stem: str, packet: Packet) -> "Manifest":
        """Return the manifest with a packet, saved where that changes it; a failed one is left out, to be tried again."""
        if packet.state == KEPT:
            return self
        others = {name: kept for name, kept in self.packets.items() if name != stem}
        noted = replace(self, packets=others if packet.state == FAILED else others | {stem: packet})
        noted.save()
        return noted

    def save(self) -> None:
        """Write it into its folder."""
        rows = {stem: asdict(packet) for stem, packet in self.packets.items()}
        plain = {"version": version("waterkey"), "studio": self.studio, "packets": rows}
        save({self.folder / NAME: (json.dumps(plain, indent=1, ensure_ascii=False, sort_keys=True) + "\n").encode()})


def digest_of(carried: str) -> str:
    """Return what tells whether a document was asked for in just the same way, paper and names included."""
    return sha256(carried.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def _held(file: Path) -> str:
    """Return the digest of the request that a file carries; nothing for a file that is not there or is none of ours."""
    try:
        return digest_of(carried_by(read_whole(file))[0]) if file.is_file() else ""
    except WaterkeyError:
        return ""


def read_manifest(folder: Path, studio: str) -> Manifest:
    """Return what an earlier run of this version left in a studio's folder; rows that cannot be read count as nothing.

    A folder of another studio is refused, and one whose manifest is another program's file.
    """
    place = folder / NAME
    refuse_other(
        place, Refusal("out", str(place), "and is no list of packets", do=OTHER_FOLDER), lambda file: bool(_table(file))
    )
    found = _table(place) if is_there(place) else {}
    if found.get("studio", studio) != studio:
        raise BadRequest(Refusal("out", str(folder), "holds the packets of another studio", do=OTHER_FOLDER))
    rows = found["packets"] if found.get("version") == version("waterkey") else {}
    packets = {stem: packet for stem, row in rows.items() if (packet := _packet(row))}
    return Manifest(folder, studio, packets)


def _table(place: Path) -> dict[str, Any]:
    """Return what a manifest of ours holds; nothing of any other file."""
    try:
        found = json.loads(read_text(place))
    except (ValueError, RecursionError, BadRequest):
        return {}
    ours = isinstance(found, dict) and isinstance(found.get("version"), str) and isinstance(found.get("packets"), dict)
    return found if ours else {}


def _packet(row: Any) -> Packet | None:
    """Return the packet of a row; None of a row that makes none."""
    try:
        packet = Packet(**row)
        checked(packet)
    except (TypeError, BadRequest):
        return None
    return packet
