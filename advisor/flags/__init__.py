"""Command-line flags shared by the questions."""
