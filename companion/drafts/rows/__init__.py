"""Written rows to the text of a plan: words to stitches, stitches to a fabric, the fabric to what a plan says.

Nothing is guessed and nothing is skipped in silence: what can be read two ways is refused with both readings, and the
plan that is written is read back and held against what the rows say, stitch by stitch.
"""
