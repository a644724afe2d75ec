"""A ring pressed or shrunk into a welded body."""
