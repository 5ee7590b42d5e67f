"""Buzzing: a kind of study in several files."""

from generators.studies.buzz.study import KIND

__all__ = ["KIND"]
