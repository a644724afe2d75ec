"""Rules of one shop: check, compare, lock."""
