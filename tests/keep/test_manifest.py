"""What a studio's folder holds, as its manifest tells: only what is there and ours counts."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.jobs.publish import publish
from generators.keep.manifest import NAME, Manifest, digest_of, read_manifest
from generators.routine.studio import Packet
from generators.studies.flow.study import FlowRequest

FLOW = compose(FlowRequest(keys=("C",)))


@pytest.mark.parametrize("text", ["my notes", "{}", "[]", '{"version": "1", "packets": []}'])
def test_another_file_of_the_manifests_name_stays(tmp_path: Path, text: str) -> None:
    """What another program keeps under the manifest's name is refused, and left as it is."""
    (tmp_path / NAME).write_text(text)
    with pytest.raises(BadRequest, match="is there already and is no list of packets"):
        read_manifest(tmp_path, "")

    assert text == (tmp_path / NAME).read_text()


@pytest.mark.parametrize("row", [{"pages": "x"}, {"pages": -1}, {"colour": "red"}, 5, None])
def test_a_row_that_cannot_be_read_counts_as_nothing(tmp_path: Path, row: Any) -> None:
    """Of a manifest that somebody changed the whole rows are taken, and the others are printed again."""
    Manifest(tmp_path, "", {"a": Packet("a", "printed", pages=2)}).save()
    whole = json.loads((tmp_path / NAME).read_text())
    whole["packets"]["b"] = whole["packets"]["a"] | row if isinstance(row, dict) else row
    (tmp_path / NAME).write_text(json.dumps(whole))

    assert {"a": Packet("a", "printed", pages=2)} == read_manifest(tmp_path, "").packets


def test_a_packet_whose_file_holds_something_else_is_not_kept(tmp_path: Path) -> None:
    """A packet is kept only where its file carries the request that the manifest tells."""
    publish(FLOW, tmp_path / "a.pdf", ["pdf"])
    ours = digest_of(FLOW.stamp.carried)
    manifest = Manifest(tmp_path, "", {name: Packet(name, "printed", digest=ours) for name in "ab"})
    other = replace(manifest, packets={"a": Packet("a", "printed", digest="0")})

    assert (True, False, False) == tuple(
        bool(held.unchanged(name, wanted))
        for held, name, wanted in ((manifest, "a", ours), (manifest, "b", ours), (other, "a", "0"))
    )
