"""Options of the command line: typed from the fields of records, completed, and named in refusals as they are typed."""

import io
import shlex
import sys
from contextlib import redirect_stderr
from typing import Any

import pytest
import typer.main
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.cli.app import app, main
from generators.cli.options import comma_list, completed, filled, read, slot_of, typed
from generators.cli.told import command_of, flags
from generators.errors import BadRequest, Refusal, worded
from generators.fields import slots
from generators.routine.profile import Profile
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.fingers.study import FingersRequest
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from tests.studies.requests import requests

ROOT = typer.main.get_command(app)
RECORDS = [*(kind.request for kind in KINDS.values()), Profile, Sheet]
LONG = "x" * 3000


def told(*words: str) -> str:
    """Return what the command line complains of."""
    errors, before = io.StringIO(), sys.argv
    sys.argv = ["waterkey", *words]
    try:
        with redirect_stderr(errors), pytest.raises(SystemExit):
            main()
    finally:
        sys.argv = before
    return errors.getvalue()


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_a_default_reads_back_typed(record: type[Any]) -> None:
    """Every default, typed as its text, is read as itself: numbers as numbers, lists as tuples."""
    for slot in (slot for slot in slots(record) if slot.kind is not bool and slot.default is not None):
        text = ",".join(map(str, slot.default)) if slot.listed else str(slot.default)

        assert slot.default == read(slot, text)
        assert type(slot.default) is type(read(slot, text))


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_every_choice_is_completed(record: type[Any]) -> None:
    """Each allowed value completes from its first letters, in a list behind the items before it."""
    for slot in slots(record):
        for name in slot.allowed:
            assert name in completed(slot, name[:1])
            assert not slot.listed or f"other,{name}" in completed(slot, f"other,{name[:1]}")


def test_horns_and_grades_are_completed() -> None:
    """What stands in a table is completed too."""
    horns, grades = slot_of(Profile, "horn"), slot_of(Profile, "grade")

    assert ["tenor-horn"] == completed(horns, "ten")
    assert list("0123456") == completed(grades, "")


@pytest.mark.parametrize("text", [",", "Eb,,D", ",Eb", "Eb,", "Eb, ,D"])
def test_an_empty_place_is_refused(text: str) -> None:
    """A comma has an item on either side."""
    with pytest.raises(BadRequest) as refused:
        comma_list("keys", text)

    assert ("keys", text) == (refused.value.refusal.what, refused.value.refusal.value)


def test_an_empty_text_is_an_empty_list() -> None:
    """Nothing at all is a list of nothing; spaces around items are none of theirs."""
    assert ((), ("Eb", "D")) == (comma_list("keys", " "), comma_list("keys", " Eb , D"))


@pytest.mark.parametrize("kind", KINDS)
def test_a_request_is_typed_as_it_is_read(kind: str) -> None:
    """What a request is typed as, read by its command, is the request again: over all requests, its example too."""
    command, record = ROOT.commands[kind], KINDS[kind].request

    @settings(max_examples=16)
    @given(requests(kind) | st.just(KINDS[kind].example))
    def law(request: Any) -> None:
        context = command.make_context(kind, shlex.split(typed(request)))

        assert request == filled(record, context.params)

    law()


def test_what_is_typed_is_what_differs() -> None:
    """Switches stand alone, lists have commas, what a shell would read stands in quotes; a default is not typed."""
    assert "--keys Eb,D --pattern thirds" == typed(ScalesRequest(keys=("Eb", "D"), pattern="thirds", seed=0))
    assert "--concert-keys --pedals" == typed(LowRequest(concert=True, pedals=True))
    assert "--tempo 60 --changes '1>3,2>0'" == typed(FingersRequest(tempo=60, changes=("1>3", "2>0")))


def test_fields_are_told_as_options() -> None:
    """A refusal names the options of the command that was run, and leaves alone a field that is none of them."""
    refusal = Refusal("range", do="", would_do=(("low", ("C4",)), ("from", ("x",)), ("rare_partials", ()), ("first", ("y",))))

    assert "--low C4 with from x with --rare-partials with --first y" in worded(
        refusal, flags(command_of(ROOT, ["slurs", "--x"]))
    )
    assert "low C4 with from x with rare-partials with --from y" in worded(refusal, flags(command_of(ROOT, ["week"])))


@pytest.mark.parametrize(
    "words",
    [
        (LONG,),
        ("player", LONG),
        (f"--{LONG}",),
        ("flow", f"--{LONG}"),
        ("flow", f"--{LONG}=3"),
        ("flow", LONG),
        ("flow", "--shape", LONG),
        ("flow", "--tempo", LONG),
        ("flow", "--tempo", "9" * 3000),
        ("flow", "--horn", LONG),
        ("flow", "--keys", f"{LONG},,D"),
        ("flow", "--date", LONG),
        ("flow", "--format", LONG),
        ("flow", "--out", LONG),
        ("flow", "--profile", LONG),
        ("flow", f"--concert-keys={LONG}"),
        ("player", "set", "--rest-day", LONG),
        ("player", "make", "--profile", LONG),
        ("packet", "--studies", LONG),
        ("log", "--felt", LONG),
        ("log", "--date", LONG),
        ("progress", "--date", LONG),
        ("studio", LONG),
    ],
    ids=lambda words: " ".join(word[:20] for word in words),
)
def test_a_long_value_is_cut(words: tuple[str, ...], tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """A value of three thousand characters is told by its beginning or its end, in one line."""
    monkeypatch.chdir(tmp_path)
    line = told(*words)

    assert 1 == line.count("\n")
    assert not {"x" * 400, "9" * 400} & {line[i : i + 400] for i in range(len(line))}
