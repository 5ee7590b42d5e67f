"""What all kinds of study share: the request, the setting, fitting a line to a player, climbing."""
