"""Line mode, a front end: one line out, one line in, for ears, fingers on braille, and anything that types lines."""
