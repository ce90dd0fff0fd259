"""What the hands do, and what becomes of it."""
