"""Quantities, units and their text."""
