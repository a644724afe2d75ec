"""What a seam carries, and what is left beside it: the public face of the strength figures."""

from __future__ import annotations

from advisor.advice.strength_beside import Beside, strength_beside

__all__ = ["Beside", "strength_beside"]
