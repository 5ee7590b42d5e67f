"""What is kept between runs: the player's profile and the practice log, in the user's own folders."""
