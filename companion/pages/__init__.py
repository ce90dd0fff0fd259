"""What is printed or written to a file: written rows, tables, JSON."""
