"""What a seam carries."""
