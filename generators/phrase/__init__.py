"""Notes, phrases, strains and studies as frozen values, and the small algebra on them; time in exact fractions."""
