"""The proof: one small rule a function; what cannot be played, or was asked not to be, is found before it is printed."""
