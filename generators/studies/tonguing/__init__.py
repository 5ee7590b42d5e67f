"""The tonguing study."""
