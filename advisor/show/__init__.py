"""How answers are printed."""
