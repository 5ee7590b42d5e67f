"""Waterkey: practice pages for trumpet and its family, written, proved and engraved from a request."""
