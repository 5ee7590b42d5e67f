"""Tonguing studies: a kind of study in several files."""

from generators.studies.tonguing.day import KIND

__all__ = ["KIND"]
