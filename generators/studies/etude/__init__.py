"""The etude study."""
