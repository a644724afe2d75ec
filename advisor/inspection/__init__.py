"""Whether a finished seam is good enough."""
