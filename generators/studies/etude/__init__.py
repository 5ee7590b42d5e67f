"""Etudes: a kind of study in several files."""

from generators.studies.etude.study import KIND

__all__ = ["KIND"]
