"""Lip slurs: a kind of study in several files."""

from generators.studies.slurs.study import KIND

__all__ = ["KIND"]
