"""The hand-out: one HTML page of a piece, for paper. Each part of it has a file; ``page.py`` puts them together."""
