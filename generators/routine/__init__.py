"""The day, the week, the rotation of keys and the growth of range: pure functions of profile, date and log."""
