"""What is said, asked and done at the needles, as data: the same for every front end, which draws it and asks it."""
