"""What went wrong and what to change."""
