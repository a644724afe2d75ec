"""Which metals are known."""
