"""From a study to paper: LilyPond text (abjad), pages (jinja2), engraving (LilyPond) and packets (pypdf)."""
