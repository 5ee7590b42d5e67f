"""The layers: imports run downwards, third parties stop at the border, and nothing below it touches the world."""

import ast
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = "generators"
# Each layer may import only from those before it.
ORDER = (
    *("errors", "plain_text", "fields", "chance", "theory", "phrase", "brass", "studies", "routine", "proof", "band"),
    *("exchange", "sheets", "press", "keep", "jobs", "public face", "cli", "__main__"),
)
RANK = {layer: rank for rank, layer in enumerate(ORDER)}
BORDER = RANK["exchange"]
# Third parties that stop at the border, and the layers that may name each.
OWNERS = {
    "abjad": {"press"},
    "jinja2": {"press"},
    "pypdf": {"press", "jobs"},
    "music21": {"exchange"},
    "tomlkit": {"keep"},
    "platformdirs": {"keep"},
    "typer": {"cli"},
    "rich": {"cli"},
}
# Clocks, chance and files: a phrase is a pure function of its request.
WORLD = {"time", "random", "datetime", "pathlib"}
# A date is a plain value, and the routine plans by dates; what day it is, it is told.
CALENDAR = {"routine": {"datetime"}, "proof": {"datetime"}}

FILES = {
    ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path
    for path in sorted((ROOT / PACKAGE).rglob("*.py"))
}
TREES = {name: ast.parse(path.read_text(encoding="utf-8"), str(path)) for name, path in FILES.items()}


def layer(module: str) -> str:
    """Return the layer of one of our modules; the package itself is the public face, and has no other module beside it."""
    return module.split(".")[1] if "." in module else "public face"


def imported(module: str) -> Iterator[str]:
    """Yield the full name of every module that a module imports, inside functions too."""
    package = module if FILES[module].name == "__init__.py" else module.rpartition(".")[0]
    for node in ast.walk(TREES[module]):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
            source = ".".join([*above, *(node.module or "").split(".")]).rstrip(".")
            # `from package import module` imports the module, `from module import name` the module that has the name.
            yield from (f"{source}.{alias.name}" if f"{source}.{alias.name}" in FILES else source for alias in node.names)


IMPORTED = {module: set(imported(module)) for module in FILES}
OURS = {module: sorted((names & set(FILES)) - {module}) for module, names in IMPORTED.items()}
OTHERS = {module: {name.split(".")[0] for name in names} - {PACKAGE} for module, names in IMPORTED.items()}


def upward(module: str) -> list[str]:
    """Return what a module imports from a layer above its own."""
    here = layer(module)
    return [name for name in OURS[module] if RANK[layer(name)] > RANK[here]]


def circle(module: str) -> list[str]:
    """Return a way of imports from a module back to itself, or nothing."""
    ways, seen = [[module]], set()
    while ways:
        way = ways.pop()
        for name in OURS[way[-1]]:
            if name == module:
                return [*way, module]
            if name not in seen:
                seen.add(name)
                ways.append([*way, name])
    return []


def unannotated(tree: ast.Module) -> Iterator[str]:
    """Yield line and name of every parameter and every function without an annotation; self and cls need none."""
    methods = {
        item
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef)
        for item in node.body
        if isinstance(item, ast.FunctionDef | ast.AsyncFunctionDef)
        and not any(_name(d) == "staticmethod" for d in item.decorator_list)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            plain = [*node.args.posonlyargs, *node.args.args][node in methods :]
            extra = [arg for arg in (node.args.vararg, node.args.kwarg) if arg]
            yield from (f"{arg.lineno}: {arg.arg}" for arg in (*plain, *node.args.kwonlyargs, *extra) if arg.annotation is None)
            yield from [f"{node.lineno}: {node.name}() ->"] if node.returns is None else []


def _name(node: ast.expr) -> str:
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""


def opened(tree: ast.Module) -> list[int]:
    """Return the lines on which a file is opened, as `open(...)` or as a method of that name."""
    return [node.lineno for node in ast.walk(tree) if isinstance(node, ast.Call) and _name(node.func) == "open"]


def clocks(tree: ast.Module) -> list[int]:
    """Return the lines on which a clock is asked, as `date.today()` or `datetime.now()`."""
    asked = ("today", "now", "utcnow")
    return [node.lineno for node in ast.walk(tree) if isinstance(node, ast.Call) and _name(node.func) in asked]


def test_the_layers_are_there() -> None:
    """The walk finds every layer and nothing beside them, so the tests below are not empty."""
    assert set(ORDER) == {layer(module) for module in FILES}


def faults(found: Callable[[str], Iterable[Any]]) -> dict[str, list[Any]]:
    """Return what is found wrong with each module, where anything is."""
    return {module: wrong for module in FILES if (wrong := list(found(module)))}


def test_imports_run_downwards() -> None:
    """A module imports from its own layer and from the layers below it, never from above."""
    assert {} == faults(upward)


def test_our_imports_exist() -> None:
    """What a module imports from us is a module that is there."""
    assert {} == faults(lambda module: {name for name in IMPORTED[module] if name.split(".")[0] == PACKAGE} - set(FILES))


def test_no_import_circles() -> None:
    """No way of imports leads from a module back to itself."""
    assert {} == faults(circle)


def test_third_parties_stop_at_the_border() -> None:
    """Each notation, template, storage and terminal library is named in the layers alone that own it."""
    assert {} == faults(lambda module: (name for name in OTHERS[module] if layer(module) not in OWNERS.get(name, RANK)))


def test_nothing_below_the_border_touches_the_world() -> None:
    """Below engraving and exchange there is no clock, no global chance and no file."""
    assert {} == faults(lambda module: worldly(module) if RANK[layer(module)] < BORDER else ())


def worldly(module: str) -> list[Any]:
    """Return the clocks, chances and files of a module: what it imports of them, and the lines that use them."""
    known = OTHERS[module] & WORLD - CALENDAR.get(layer(module), set())
    return [*known, *opened(TREES[module]), *clocks(TREES[module])]


def test_everything_is_annotated() -> None:
    """Every parameter and every return of every function is annotated."""
    assert {} == faults(lambda module: unannotated(TREES[module]))


def test_the_annotation_check_finds_what_is_missing() -> None:
    """The check sees bare parameters and returns, of nested functions and methods too, and lets self pass."""
    source = """
class A:
    def good(self, x: int, *, y: int = 0) -> None: ...
    def bad(self, x) -> None:
        def inner(*args: int, **more): ...
    @staticmethod
    def still(x) -> None: ...
"""

    assert ["4: x", "5: more", "5: inner() ->", "7: x"] == sorted(unannotated(ast.parse(source)), key=lambda text: text[0])


def test_the_file_check_finds_open() -> None:
    """The check sees a file opened by function and by method."""
    assert [1, 2] == opened(ast.parse("open('x')\npath.open()\nopened()"))


def test_the_clock_check_finds_today() -> None:
    """The check sees a clock that is asked, and lets a date that is made pass."""
    assert [1, 3] == clocks(ast.parse("date.today()\ndate(2026, 11, 3)\ndatetime.now()"))
