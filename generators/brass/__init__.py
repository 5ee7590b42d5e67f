"""The horn itself: instruments, the tube and its partials, fingerings, and what a learner's grade may be asked."""
