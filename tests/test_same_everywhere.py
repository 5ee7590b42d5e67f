"""The suite itself: the same draws on every machine, and no local setting that undoes it."""

import ast
import sys
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

TESTS = Path(__file__).parent
# What a test may say for itself: how many examples it takes; all else is the profile's.
ITS_OWN = {"max_examples"}


def undoing(tree: ast.Module) -> list[str]:
    """Return the settings of a file that are not a test's own to make."""
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and _name(node.func) == "settings"]
    return [f"{call.lineno}: {word.arg}" for call in calls for word in call.keywords if word.arg not in ITS_OWN]


def _name(node: ast.expr) -> str:
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""


def drawn() -> list[int]:
    """Return what hypothesis draws for one law."""
    found: list[int] = []

    @settings(max_examples=200)
    @given(st.integers(0, 10**12))
    def law(value: int) -> None:
        found.append(value)

    law()
    return found


def test_the_suite_is_settled() -> None:
    """What is drawn is settled, nothing is kept from one run for the next, and no clock decides."""
    now = settings()

    assert (True, None, None) == (now.derandomize, now.database, now.deadline)


@pytest.mark.parametrize("path", sorted(TESTS.rglob("test_*.py")), ids=lambda path: path.stem)
def test_no_local_setting_undoes_it(path: Path) -> None:
    """A test sets for itself only how many examples it takes."""
    assert [] == undoing(ast.parse(path.read_text(encoding="utf-8")))


def test_the_check_finds_a_setting() -> None:
    """The check sees what a decorator or a name is given beside the number of examples."""
    source = "@settings(max_examples=3, derandomize=False)\ndef f(): ...\nLAWS = hypothesis.settings(deadline=1)\n"

    assert ["1: derandomize", "3: deadline"] == undoing(ast.parse(source))


def test_the_same_is_drawn_whatever_is_loaded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another module of the project, loaded in between, changes no draw."""
    before = drawn()
    file = tmp_path.parent / "numbers.py"
    file.write_text(f"VALUES = {list(range(10**11, 10**11 + 99))}", encoding="utf-8")
    module = ModuleType("numbers_of_ours")
    module.__file__ = str(file)
    monkeypatch.setitem(sys.modules, module.__name__, module)

    assert len(set(before)) > 100
    assert before == drawn()
