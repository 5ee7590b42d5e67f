"""The fingers study."""
