"""Ten jobs whose sheets are looked at: both metals, all joints, like and unlike, both systems, a refusal, no rule."""

from __future__ import annotations

from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]

JOBS: dict[str, dict[str, Any]] = {
    "butt-steel-v": {"metal": ["A36"], "thickness": ["8 mm"], "joint": "butt", "service": ["structural"]},
    "butt-stainless": {"metal": ["304"], "thickness": ["1.6 mm", "3.2 mm"], "joint": "butt", "length": "150 mm"},
    "corner-open": {"metal": ["5052-H32"], "thickness": ["2 mm"], "joint": "corner-open", "closed_volume": True},
    "corner-half-open": {"metal": ["A36"], "thickness": ["1/16 in", "1/8 in"], "joint": "corner-half-open"},
    "corner-closed": {"metal": ["6061-T6"], "thickness": ["1/8 in"], "joint": "corner-closed", "length": "12 in"},
    "corner-inside": {"metal": ["A36"], "thickness": ["3 mm"], "joint": "corner-inside"},
    "tee-bevel": {"metal": ["A36"], "thickness": ["8 mm"], "joint": "tee", "weld": "groove"},
    "lap": {"metal": ["A36", "304"], "thickness": ["1.5 mm"], "joint": "lap"},
    "edge": {"metal": ["3003"], "thickness": ["1.6 mm"], "joint": "edge"},
    "refused": {"metal": ["7075"], "thickness": ["3 mm"], "joint": "butt"},
    "no-rule": {"metal": ["6061"], "thickness": ["60 mm"], "joint": "butt"},
}
FILES = {"tee-tank": ROOT / "advisor/demo/coolant-tank.yaml", "lap-inches": ROOT / "advisor/demo/guard-bracket.yaml"}
