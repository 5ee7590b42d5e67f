"""The command line: parse, call, report. No music in it."""

from generators.cli.app import main

__all__ = ["main"]
