"""Rowside: a companion at the needles for pictures knitted in blocks of colour."""

__version__ = "0.1.0"
