"""The Textual app: it shows and asks, and computes nothing."""
