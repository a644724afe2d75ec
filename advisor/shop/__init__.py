"""The rulebook in force."""
