"""What to saw for a part."""
