"""The buzz study."""
