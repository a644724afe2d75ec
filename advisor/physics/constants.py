"""Constants that several formulas and tables share, in SI."""

from __future__ import annotations

MPA = 1e6  # Pa
KSI = 6.894757293168e6  # Pa; tables of the United States are printed in it
GRAVITY = 9.80665  # m/s2, standard (ISO 80000-3)
