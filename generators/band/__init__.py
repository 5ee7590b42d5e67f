"""A class: players together in one concert key, the same bars and rhythms, each on his own horn; pure functions."""
