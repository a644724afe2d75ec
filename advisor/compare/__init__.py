"""Ways to make a part, side by side."""
