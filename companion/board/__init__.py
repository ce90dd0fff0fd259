"""The drawing board: a plan's charts painted stitch by stitch in the plan's own text. No screen here."""
