"""How refusals and misuse are told on the command line: one line, fields by the names of the command's own options."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from difflib import get_close_matches
from typing import Any

import typer
from typer.core import TyperGroup

from generators.errors import LONGEST_SHOWN, Refusal, WaterkeyError, plain, unknown, worded

# Typer carries click under another name from release to release; its errors are found through the one it exports.
Misuse: type[Exception] = next(kind for kind in typer.BadParameter.__mro__ if kind.__name__ == "ClickException")
# A message of typer's own, longer than this, is cut, in characters; our choice.
LONGEST_MESSAGE = 240


# Options that may stand without a value, and short ways to say one.
BARE = {"--fingerings": "all"}
SHORT = {"--no-fingerings": "--fingerings=none", "--concert": "--concert-keys", "--no-concert": "--no-concert-keys"}


class Commands(TyperGroup):
    """A group that refuses an unknown command by name, with the nearest one, and knows options that may go without a value."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Parse the words, options without their value first given it."""
        return super().parse_args(ctx, list(valued(args)))

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """Return the command that comes first among the words; an unknown one is refused."""
        if args and args[0] not in self.commands and not args[0].startswith("-") and not ctx.resilient_parsing:
            raise unknown("command", args[0], self.list_commands(ctx))
        return super().resolve_command(ctx, args)


def valued(args: Sequence[str]) -> Iterator[str]:
    """Yield the words of a command line, with the value of every option that stands without one: before another, or a file."""
    for place, word in enumerate(args):
        after = args[place + 1] if place + 1 < len(args) else "-"
        bare = word in BARE and (after.startswith("-") or "." in after)
        yield f"{word}={BARE[word]}" if bare else SHORT.get(word, word)


def refused(error: WaterkeyError, command: Any) -> str:
    """Return a refusal in one line for a command, the field that is refused under the name of its option."""
    name = flags(command)
    return worded(replace(error.refusal, what=name(error.refusal.what).removeprefix("--")), name)


def flags(command: Any) -> Callable[[str], str]:
    """Return what turns a field into the option of a command, and leaves alone what the command has no option for."""
    known = {param.name.strip("_"): _longest(param.opts) for param in command.params if param.opts[0].startswith("-")}
    return lambda field: known.get(field, plain(field))


def _longest(names: Sequence[str]) -> str:
    return max(names, key=len)


def command_of(root: Any, words: Sequence[str]) -> Any:
    """Return the command that some words on the command line begin with."""
    for word in words:
        below = getattr(root, "commands", {})
        if word not in below:
            break
        root = below[word]
    return root


def explained(misuse: Any, command: Any) -> str:
    """Return in one line what typer could not read, with the nearest option and where to read on; nothing for help itself."""
    context = getattr(misuse, "ctx", None)
    command = context.command if context else command
    refusal = _misread(misuse, command)
    path = context.command_path if context else " ".join(filter(None, ("waterkey", _name(command))))
    return f"{worded(refusal)} See `{path} --help`." if refusal else ""


def _name(command: Any) -> str:
    return "" if hasattr(command, "commands") else str(command.name)


def _misread(misuse: Any, command: Any) -> Refusal | None:
    option, param = getattr(misuse, "option_name", None), getattr(misuse, "param", None)
    if option and hasattr(misuse, "possibilities"):
        return Refusal("option", option, "is not known", near=_near(option, command))
    if option:
        return Refusal("option", option, "takes no value" if _switch(option, command) else "needs a value")
    if param is not None and not misuse.message:
        return Refusal(_longest(param.opts).strip("-"), why="is missing")
    return Refusal(_cut(misuse.message)) if misuse.message else None


def _switch(option: str, command: Any) -> bool:
    """Return whether an option is one that is only there or not."""
    return any(param.is_flag for param in command.params if option in (*param.opts, *param.secondary_opts))


def _near(option: str, command: Any) -> str:
    known = [name for param in command.params for name in (*param.opts, *param.secondary_opts)]
    return next(iter(get_close_matches(option[:LONGEST_SHOWN], known, n=1)), "")


def _cut(message: str) -> str:
    line = " ".join(message.split()).rstrip(".")
    return f"{line[:LONGEST_MESSAGE]}…" if len(line) > LONGEST_MESSAGE else line
