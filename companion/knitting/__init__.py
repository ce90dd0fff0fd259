"""The craft itself: pure values and functions. Knows no file, clock, screen or library."""
