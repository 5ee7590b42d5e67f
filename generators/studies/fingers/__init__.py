"""Finger studies: a kind of study in several files."""

from generators.studies.fingers.study import KIND

__all__ = ["KIND"]
