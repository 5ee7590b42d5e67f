"""What stands on paper, as values: one module a document, composed of sections of studies, panels and covers."""
