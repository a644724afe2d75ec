"""What was tried and what it teaches."""
