"""The great laws as values: what is wrong with the answer to a request, in words; nothing where the law is kept.

Proved or refused: a study has no error, a refusal is one line that tells a way out, and the way does. Packets, days and weeks
are composed, which proves them; one that fails its proof is a crash, and so a fault.
"""

from collections.abc import Callable, Iterator
from dataclasses import is_dataclass, replace
from itertools import islice, product
from typing import Any

from generators.errors import BadRequest, Refusal
from generators.fields import Slot, slots
from generators.jobs.codec import decoded, encoded
from generators.jobs.compose import compose
from generators.jobs.kinds import AnyRequest
from generators.phrase.study import Study
from generators.proof.prove import ERROR, prove
from generators.sheets.packet import PacketRequest
from generators.sheets.sheet import Sheet
from generators.studies.kit.request import Request
from tests.studies.requests import attempt

# A limit was tried before it was told; any other value mends what was refused, and something else may then be in the way.
LIMITS = {"tempo", "low", "high", "minutes"}
# How many ways told together are followed, and how many one after another.
MANY, LONG = 6, 5
# Records inside a request that its refusals may name a field of.
INSIDE = ("profile", "wishes")


def answer(asked: AnyRequest) -> Any:
    """Return what is made of anything that can be asked, a study or a document, or its refusal."""
    if isinstance(asked, Request):
        return attempt(asked)
    try:
        return compose(asked)
    except BadRequest as refusal:
        return refusal


def faults(asked: AnyRequest) -> Iterator[str]:
    """Yield what is wrong with the answer to a request of any kind."""
    found = answer(asked)
    if _same(found) != _same(answer(asked)):
        yield "asked twice, answered in two ways"
    if isinstance(asked, PacketRequest):
        yield from _packet(asked, found)
    elif isinstance(found, BadRequest):
        yield from _refused(asked, found, LONG)
    elif isinstance(found, Study):
        yield from (str(finding) for finding in prove(found) if finding.severity == ERROR)


def _same(found: Any) -> Any:
    return found.refusal if isinstance(found, BadRequest) else found


def _packet(asked: PacketRequest, found: Any) -> Iterator[str]:
    """Yield what is wrong with a packet: with one of its studies, or that it leaves out others than those refused."""
    yield from (fault for request in asked.studies for fault in faults(request))
    answers = [answer(request) for request in asked.studies]
    refused = [_same(one) for one in answers if isinstance(one, BadRequest)]
    if isinstance(found, BadRequest):
        if refused[:1] != [found.refusal] or len(refused) < len(answers):
            yield "a packet is refused that has a study, or not as its first study is"
    elif refused != [study.why for study in found.left_out] or len(found.studies) != len(answers) - len(refused):
        yield "a packet does not leave out what is refused, and that alone"


def lost(asked: AnyRequest, sheet: Sheet) -> Iterator[str]:
    """Yield what is wrong with the JSON of a request and its sheet: it gives both back, in one spelling."""
    text = encoded(asked, sheet)
    if decoded(text) != (asked, sheet):
        yield "another request comes back from its JSON"
    if encoded(*decoded(text)) != text:
        yield "what came back from JSON is spelled in another way"


def _refused(asked: Any, found: BadRequest, left: int) -> Iterator[str]:
    """Yield what is wrong with a refusal, and with whatever the ways that it tells lead to."""
    refusal = found.refusal
    if "\n" in str(found):
        yield "refused in more than one line"
    if not tells_a_way(refusal):
        yield f"refused without a way out: {found}"
    try:
        ways = list(islice(followed(asked, refusal), MANY))
    except (KeyError, ValueError):
        yield f"told a value that cannot be given: {found}"
        return
    for way in ways:
        yield from _led(way, refusal, left)


def _led(way: Any, refusal: Refusal, left: int) -> Iterator[str]:
    """Yield what is wrong where a way leads."""
    then = answer(way)
    if not isinstance(then, BadRequest):
        return
    limits = {field for field, _ in refusal.would_do} <= LIMITS
    if limits or then.refusal.what == refusal.what or not left:
        yield f"what would do does not: {refusal.would_do} is answered: {then}"
    else:
        yield from _refused(way, then, left - 1)


def tells_a_way(refusal: Refusal) -> bool:
    """Tell whether a refusal says what is allowed, what to do, or what would do."""
    return bool(refusal.allowed or refusal.do or refusal.would_do or refusal.near)


def followed(asked: Any, refusal: Refusal) -> Iterator[Any]:
    """Yield the request changed in each way that its refusal says would do; a field that it has not is a KeyError."""
    names = [field for field, _ in refusal.would_do]
    for values in product(*(values for _, values in refusal.would_do)) if names else ():
        yield _changed(asked, dict(zip(names, values, strict=True)))


def _changed(asked: Any, words: dict[str, str]) -> Any:
    for name, word in words.items():
        asked = _with(asked, name, word)
    return asked


def _with(asked: Any, name: str, word: str) -> Any:
    """Return a request with one field changed, its own or one of a record inside it."""
    own = {slot.name: slot for slot in slots(type(asked))}
    if name in own:
        return replace(asked, **{name: _value(own[name], word)})
    for inner in (inner for inner in INSIDE if inner in own):
        record = getattr(asked, inner)
        if is_dataclass(record) and name in {slot.name for slot in slots(type(record))}:
            return replace(asked, **{inner: _with(record, name, word)})
    raise KeyError(name)


def _value(slot: Slot, word: str) -> Any:
    if slot.kind is bool:  # a switch is told by its name alone
        return True
    kind: Callable[[str], Any] = slot.kind
    return tuple(kind(part) for part in word.split(",")) if slot.listed else kind(word)
