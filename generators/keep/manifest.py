"""What a folder of packets holds: a small file beside them, so that only what changed is printed again."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from importlib.metadata import version
from pathlib import Path
from types import MappingProxyType
from typing import Any

from generators.keep.files import save
from generators.routine.studio import FAILED, KEPT, Packet

NAME = "studio.json"


@dataclass(frozen=True, slots=True)
class Manifest:
    """The packets of a folder, by the stem of their file."""

    folder: Path
    packets: Mapping[str, Packet] = field(default_factory=lambda: MappingProxyType({}))

    def unchanged(self, stem: str, digest: str) -> Packet | None:
        """Return the packet of that stem if it is there and was made by the same request."""
        packet = self.packets.get(stem)
        there = packet and packet.digest == digest and (self.folder / f"{stem}.pdf").is_file()
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
        plain = {"version": version("waterkey"), "packets": rows}
        save({self.folder / NAME: (json.dumps(plain, indent=1, ensure_ascii=False, sort_keys=True) + "\n").encode()})


def read_manifest(folder: Path) -> Manifest:
    """Return what an earlier run of this version left in a folder; what cannot be read counts as nothing."""
    try:
        found: dict[str, Any] = json.loads((folder / NAME).read_text(encoding="utf-8"))
        rows = found["packets"] if found["version"] == version("waterkey") else {}
        return Manifest(folder, {stem: Packet(**row) for stem, row in rows.items()})
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return Manifest(folder)
