"""What the seams use up."""
