"""The rules of a strain by name: what the horn can do, what the player can be asked, what is right on paper."""

from collections.abc import Callable, Mapping

from generators.phrase.study import Strain, Study
from generators.proof.finding import Faults
from generators.proof.horn_rules import bent, fingered_right, in_range, on_one_tube, playable
from generators.proof.paper_rules import counted, full_bars, legible, lines_whole, slurs_closed, spelled
from generators.proof.player_rules import breathable, known_key, known_meter, leaps, speed, values

STRAIN_RULES: Mapping[str, Callable[[Study, Strain], Faults]] = {
    "range": in_range,
    "playability": playable,
    "one tube": on_one_tube,
    "fingering": fingered_right,
    "breath": breathable,
    "full bars": full_bars,
    "lines": lines_whole,
    "spelling": spelled,
    "leap": leaps,
    "note values": values,
    "key": known_key,
    "meter": known_meter,
    "speed": speed,
    "slurs": slurs_closed,
    "ledger lines": legible,
    "count": counted,
    "bend": bent,
}
