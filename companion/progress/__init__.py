"""Progress: what was really worked, kept on disk."""
