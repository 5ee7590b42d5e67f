"""Flow studies: a kind of study in several files."""

from generators.studies.flow.day import KIND

__all__ = ["KIND"]
