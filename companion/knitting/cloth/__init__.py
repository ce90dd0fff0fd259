"""The fabric: what is drawn, in which order it is worked, and how its edges run."""
