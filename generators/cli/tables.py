"""The commands that tell: fingerings of a note, the horns, and the grades."""

import json
from typing import Annotated

import typer
from rich.console import Console
from rich.table import Table

from generators.brass.fingering import compass, fingerings
from generators.brass.grade import GRADES, Grade, grade_on
from generators.brass.horn import HORNS, horn
from generators.cli.options import annotated, slot_of, unset
from generators.cli.player import JsonOption, ProfileOption
from generators.cli.streams import write_json
from generators.errors import BadRequest, Refusal
from generators.studies.kit.request import Request
from generators.theory.pitch import parse_pitch

# What a note value is called.
_VALUES = {4: "quarters", 8: "eighths", 16: "sixteenths", 32: "thirty-seconds"}
HornOption = Annotated[str | None, annotated(unset(slot_of(Request, "horn", help="Another horn than the profile's.")))]


def fingering(
    note: Annotated[str, typer.Argument(help="A written note, such as C#5 or Bb3.")],
    horn_id: HornOption = None,
    profile: ProfileOption = "",
    as_json: JsonOption = False,
) -> None:
    """Tell every fingering of a note on your horn: valves or position, partial, cents from equal temperament, what to do.

    Example: waterkey fingering C#5 --horn flugelhorn-4
    """
    from generators.keep.profile_file import load_profile

    own = load_profile(profile) if profile or horn_id is None else None
    instrument = horn(horn_id or (own.horn if own else ""))
    pitch = parse_pitch(note)
    ways = fingerings(pitch, instrument)
    if not ways:
        allowed = "{} to {} as written".format(*compass(instrument))
        raise BadRequest(Refusal("note", pitch, f"has no fingering on the {instrument.id}", allowed=allowed))
    heading = instrument.resonator.word
    if as_json:
        rows = [{heading: w.valves, "partial": w.partial, "cents": w.cents, "kind": w.kind, "advice": w.advice} for w in ways]
        write_json(json.dumps({"note": pitch.name, "horn": instrument.id, "fingerings": rows}, ensure_ascii=False))
        return
    table = Table(title=f"{pitch.pretty} on {instrument.name}", title_justify="left")
    for name in ("", heading, "partial", "cents", "advice"):
        table.add_column(name, justify="right" if name in ("partial", "cents") else "left")
    for i, way in enumerate(ways):
        table.add_row(
            "" if i else "usual", way.valves, str(way.partial or "-"), f"{way.cents:+.0f}" if way.partial else "-", way.advice
        )
    Console().print(table)


def horns(as_json: JsonOption = False) -> None:
    """List the horns: written range, and what a written C4 sounds.

    Example: waterkey horns --json
    """
    if as_json:
        rows = [
            {"id": h.id, "name": h.name, "low": h.low.name, "high": h.high.name, "sounding_half_steps": h.sounding_half_steps}
            for h in HORNS.values()
        ]
        write_json(json.dumps(rows, ensure_ascii=False))
        return
    table = Table(title="Horns (written pitch)", title_justify="left")
    for heading in ("id", "name", "tube", "low", "high", "at most", "half-steps"):
        table.add_column(heading)
    for h in HORNS.values():
        sounds = f"{h.sounding_half_steps:+d}"
        table.add_row(h.id, h.name, h.resonator.name, h.low.pretty, h.high.pretty, h.ceiling.pretty, sounds)
    Console().print(table)


def grades(horn_id: HornOption = None, as_json: JsonOption = False) -> None:
    """List the grades as steps: what each may ask, and the keys that it adds, as your horn reads them.

    Example: waterkey grades --horn cornet
    """
    instrument = horn(horn_id or Request().horn)
    steps = [grade_on(name, instrument) for name in GRADES]
    before = [(), *(step.keys for step in steps[:-1])]
    rows = [_step(step, [key for key in step.keys if key not in known]) for step, known in zip(steps, before, strict=True)]
    if as_json:
        write_json(json.dumps(rows, ensure_ascii=False))
        return
    table = Table(title=f"Grades on {instrument.name} (written pitch)", title_justify="left")
    for heading in rows[0]:
        table.add_column(heading.replace("_", " "), overflow="fold")
    for row in rows:
        table.add_row(*(", ".join(cell) if isinstance(cell, list) else str(cell) for cell in row.values()))
    Console().print(table)


def _step(of: Grade, added: list[str]) -> dict[str, str | int | list[str]]:
    """Return what a grade may ask; a list of keys or meters that is empty stands for all."""
    return {
        "grade": of.id,
        "low": of.low.name,
        "high": of.high.name,
        "keys_added": added if of.keys else ["all"],
        "shortest": _VALUES[of.shortest.denominator],
        "meters": list(of.meters) or ["all"],
        "dynamics": of.loud if of.one_dynamic else f"{of.soft} to {of.loud}",
        "tongue": list(of.tongues) or ["all"],
        "sets": len(of.sets) or "all",
        "leap": of.leap,
        "tempo": of.tempo,
        "rests": of.entrance_rests,
    }
