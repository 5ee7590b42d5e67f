"""The shape of the house: one name for one thing, words of the command line in `cli` alone, budgets, docstrings."""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator, Set
from pathlib import Path
from statistics import median, quantiles

import pytest

HOUSE = Path(__file__).resolve().parents[1] / "generators"
FILES = {str(path.relative_to(HOUSE)): path for path in sorted(HOUSE.rglob("*.py"))}
TEXTS = {name: path.read_text(encoding="utf-8") for name, path in FILES.items()}
TREES = {name: ast.parse(text) for name, text in TEXTS.items()}
Function = ast.FunctionDef | ast.AsyncFunctionDef
# The budgets: of code that reads as the best libraries do (measured on their source), our choice.
BODY_MEDIAN, BODY_NINE_IN_TEN, FILE_MEDIAN, FILE_MOST = 6, 20, 150, 500
FLAG = re.compile(r"(?<![\w-])--[a-z][a-z-]+")
# Where the words of the command line are at home.
AT_HOME = "cli/"
# What other programs are told on theirs, word for word in a list: the engraver, and what ties it to us.
THEIRS = {"press/lilypond.py": {"--version"}, "press/process.py": {"--version", "--pdeathsig"}}
# The row of a kind has one name in every module that has one: the catalogue finds it by that name.
ROWS = {"KIND"}
# What an error is called where one is caught or handed on.
ERRORS = {"error", "refusal", "err", "exc", "exception", "complaint"}
SEARCHES = {"search", "match", "fullmatch", "findall", "finditer"}
# The functions that look into words because a library has nothing else to give, and what it keeps silent about.
NOTHING_BUT_WORDS = {"keep/statements.py": {"toml_values": "tomllib names the line of a mistake in its message alone"}}


def public(tree: ast.Module) -> Iterator[str]:
    """Yield the public names that a module makes at its top level."""
    for node in tree.body:
        if isinstance(node, ast.ClassDef | Function):
            names = [node.name]
        elif isinstance(node, ast.Assign):
            names = [leaf.id for target in node.targets for leaf in ast.walk(target) if isinstance(leaf, ast.Name)]
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names = [node.target.id]
        else:
            names = []
        yield from (name for name in names if not name.startswith("_"))


def homonyms(trees: dict[str, ast.Module]) -> dict[str, list[str]]:
    """Return the public names that stand for different things in different modules."""
    homes: dict[str, list[str]] = defaultdict(list)
    for module, tree in trees.items():
        for name in set(public(tree)) - ROWS:
            homes[name].append(module)
    return {name: modules for name, modules in sorted(homes.items()) if len(modules) > 1}


def flags(tree: ast.Module, theirs: Set[str] = frozenset()) -> list[str]:
    """Return line and word of each command-line flag in a text, docstrings too; `theirs` may stand alone in a list."""
    handed_on = {id(item) for node in ast.walk(tree) if isinstance(node, ast.List | ast.Tuple) for item in node.elts}
    texts = [node for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    ours = (node for node in texts if not (id(node) in handed_on and node.value in theirs))
    return [f"{node.lineno}: {flag}" for node in ours for flag in FLAG.findall(str(node.value))]


def reads(tree: ast.Module) -> list[int]:
    """Return the lines on which a message is compared, searched, cut or sliced: `"x" in str(error)`, `str(error).split()`."""
    return sorted({node.lineno for node in ast.walk(tree) if isinstance(node, ast.expr) and any(map(_message, _read(node)))})


def lines_of(tree: ast.Module, function: str) -> range:
    """Return the lines of a function of a module."""
    found = next(node for node in tree.body if isinstance(node, Function) and node.name == function)
    return range(found.lineno, (found.end_lineno or 0) + 1)


def _read(node: ast.expr) -> list[ast.expr]:
    """Return what an expression looks into: sides of a comparison, a text whose method is called, what is sliced or matched."""
    if isinstance(node, ast.Compare):
        return [node.left, *node.comparators]
    if isinstance(node, ast.Subscript):
        return [node.value]
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        inside = (isinstance(node.func.value, ast.Name) and node.func.value.id == "re") or node.func.attr in SEARCHES
        return [node.func.value, *(node.args if inside else [])]
    return []


def _message(node: ast.expr) -> bool:
    """Tell whether an expression is the words of an error: `str(error)`, `error.args`, `error.args[0]`, `f"{error}"`."""
    if isinstance(node, ast.Subscript | ast.Attribute):
        return (isinstance(node, ast.Attribute) and node.attr == "args" and _error(node.value)) or _message(node.value)
    if isinstance(node, ast.JoinedStr):
        return any(isinstance(part, ast.FormattedValue) and _error(part.value) for part in node.values)
    wording = isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("str", "repr", "worded")
    return wording and any(map(_error, node.args))


def _error(node: ast.expr) -> bool:
    return (isinstance(node, ast.Name) and node.id in ERRORS) or (isinstance(node, ast.Attribute) and node.attr == "refusal")


def bodies(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Yield the length in lines of every function's body, its docstring aside, and its name."""
    for node in ast.walk(tree):
        if isinstance(node, Function):
            body = node.body[1:] if _documented(node) and len(node.body) > 1 else node.body
            yield (body[-1].end_lineno or 0) - body[0].lineno + 1, f"{node.name}, line {node.lineno}"


def _documented(node: ast.AsyncFunctionDef | ast.FunctionDef | ast.ClassDef | ast.Module) -> bool:
    return bool((ast.get_docstring(node) or "").strip())


def silent(tree: ast.Module) -> Iterator[str]:
    """Yield every public module, class, function and method that says nothing of itself."""
    if not _documented(tree):
        yield "the module"
    ways: list[tuple[str, list[ast.stmt]]] = [("", tree.body)]
    for where, body in ways:
        for node in body:
            if isinstance(node, ast.ClassDef | Function) and not node.name.startswith("_"):
                if not _documented(node):
                    yield f"{where}{node.name}"
                if isinstance(node, ast.ClassDef):
                    ways.append((f"{where}{node.name}.", node.body))


def test_one_name_means_one_thing() -> None:
    """No two modules make a public name alike."""
    assert {} == homonyms(TREES)


def test_homonyms_are_found() -> None:
    """Classes, functions and constants alike are found, in any two of them; private names and rows of kinds are not."""
    trees = {
        "a": ast.parse("class A: ...\ndef b(): ...\nC, D = 1, 2\nKIND = 1\n_e = 1"),
        "b": ast.parse("A = 1\nC: int = 2\nKIND = 2\n_e = 2"),
        "c": ast.parse("from a import D\ndef f():\n    b = 1"),
    }

    assert {"A": ["a", "b"], "C": ["a", "b"]} == homonyms(trees)


def test_flags_are_named_in_cli_alone() -> None:
    """No text outside the command line names one of its flags, in refusals, helps or docstrings."""
    outside = {name: tree for name, tree in TREES.items() if not name.startswith(AT_HOME)}

    assert {} == {name: named for name, tree in outside.items() if (named := flags(tree, THEIRS.get(name, frozenset())))}


@pytest.mark.parametrize("name", THEIRS)
def test_words_for_other_programs_are_still_said(name: str) -> None:
    """What a file may tell another program, it tells it."""
    assert THEIRS[name] == {found.split()[1] for found in flags(TREES[name])}


def test_flags_are_found() -> None:
    """A flag is found in a text, in pieces of one and in a docstring; a dash between words and a rule are none."""
    source = '"""Take --low."""\nx = f"give --high {y}"\nz = "a -- b, ---, C--D"\n# --seed\n'

    assert ["1: --low", "2: --high"] == flags(ast.parse(source))


def test_words_for_other_programs_are_told_from_ours() -> None:
    """Another program's word is let pass alone in a list, not in a sentence, and no other word with it."""
    source = 'run(["lilypond", "--version"])\nx = "--version"\ny = ["see --version"]\nz = ("--low", "--version")\n'

    assert ["2: --version", "3: --version", "4: --low"] == flags(ast.parse(source), {"--version"})


def test_no_code_reads_a_message() -> None:
    """What an error says is for people: code looks into values, never into words."""
    excused = {(name, line) for name, each in NOTHING_BUT_WORDS.items() for one in each for line in lines_of(TREES[name], one)}

    assert set() == {(name, line) for name, tree in TREES.items() for line in reads(tree)} - excused


@pytest.mark.parametrize(("name", "function"), [(name, one) for name, each in NOTHING_BUT_WORDS.items() for one in each])
def test_what_has_nothing_but_words_still_reads_them(name: str, function: str) -> None:
    """A function that is excused is there and needs it."""
    assert set(reads(TREES[name])) & set(lines_of(TREES[name], function))


def test_read_messages_are_found() -> None:
    """Words of an error that are compared, searched, cut or matched are found; words that are told are not."""
    source = """
if "choose" in str(error): ...
if str(refusal).startswith("x"): ...
n = str(error).split("about ")[1]
m = re.search("x", str(error))
k = PATTERN.search(f"{error}")
if error.args[0] == "x": ...
print(str(error))
raise Other(str(error))
if "x" in words: ...
"""

    assert [2, 3, 4, 5, 6, 7] == reads(ast.parse(source))


def test_a_file_is_one_thing() -> None:
    """No file is longer than what one reads at a sitting."""
    assert [] == [name for name, text in TEXTS.items() if text.count("\n") > FILE_MOST]


def test_files_and_bodies_keep_the_budgets() -> None:
    """Half of the files and of the functions are short, nine functions in ten fit on half a screen."""
    lines = [text.count("\n") for text in TEXTS.values() if text.count("\n") > 1]
    lengths = [length for tree in TREES.values() for length, _ in bodies(tree)]

    assert FILE_MEDIAN >= median(lines)
    assert BODY_MEDIAN >= median(lengths)
    assert BODY_NINE_IN_TEN >= quantiles(lengths, n=10)[-1]


def test_bodies_are_measured_without_their_docstring() -> None:
    """The lines of a function are those of its body, inner functions counted with it and again alone."""
    source = 'def a():\n    """Do.\n\n    So.\n    """\n    def b():\n        return 1\n    return b\ndef c(): ...\n'

    assert [(3, "a, line 1"), (1, "c, line 9"), (1, "b, line 6")] == list(bodies(ast.parse(source)))


def test_everything_public_says_what_it_is() -> None:
    """Every public module, class, function and method has a docstring."""
    assert {} == {name: found for name, tree in TREES.items() if (found := list(silent(tree)))}


def test_silence_is_found() -> None:
    """A public thing without a docstring is found, methods too; private ones and dunders need none."""
    source = '"""A."""\nclass B:\n    def c(self): ...\n    def _d(self): ...\n    def __str__(self): ...\ndef e(): ...\n'

    assert ["B", "e", "B.c"] == list(silent(ast.parse(source)))
