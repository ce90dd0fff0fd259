"""A plan by questions: blank, or from a demo plan, a picture, a sheet, or written rows; nothing is written before the
last of them is answered."""
