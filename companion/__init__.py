"""Rowside: a companion at the needles for pictures knitted in blocks of colour."""
