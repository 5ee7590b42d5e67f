"""The slurs study."""
