"""Which strand works which segment, and what lies between."""
