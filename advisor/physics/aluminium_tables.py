"""Published strength figures of welded aluminium, as data: EN 1999-1-1, ship rules and the Aluminum Design Manual.

Strengths in Pa. Parent and heat-affected values are characteristic values for MIG on the stated product
form and thickness; `aluminium_strength` turns them into TIG and design values.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.physics.constants import KSI, MPA
from advisor.physics.tables import TableSource

SHEET, EXTRUSION, TUBE = "sheet", "extrusion", "drawn tube"

_SHEET_TABLE = TableSource("EN 1999-1-1 Table 3.2a (sheet and plate, MIG, t up to 15 mm)", "memory")
_PROFILE_TABLE = TableSource("EN 1999-1-1:2007 + A1 Table 3.2b, national edition", "read")
_AMENDMENT = TableSource("EN 1999-1-1 amendment A1, Table 3.2b", "read")
_STAIR_SHEET = TableSource("structural calculation to EN 1999-1-1 (stair treads)", "read")
# Tempers that Table 3.2a does not list. The plate maker prints 5086 of 195 and 275 MPa as H113, the ship rules as H116.
_SHIP = "Lloyd's Register, Rules for Linkspans, Part 3, Chapter 2, Table 2.1.2 (unwelded, welded)"
_SHIP_TABLE = TableSource(_SHIP, "read")
_SHIP_MAKER = TableSource(f"Alcoa, nautical products after EN 485-2; {_SHIP}", "read")
_SHIP_RECALLED = TableSource(f"EN 485-2 (unwelded), recalled; {_SHIP}", "memory")


@dataclass(frozen=True)
class HazRow:
    """One row of a heat-affected-zone table.

    alloy; tempers and forms the row serves; thickest [m]; proof strength fo and tensile strength fu [Pa]
    of the parent, and of the heat-affected zone after MIG; source.
    """

    alloy: str
    tempers: tuple[str, ...]
    forms: tuple[str, ...]
    thickest: float
    fo: float
    fu: float
    fo_haz: float
    fu_haz: float
    source: TableSource

    @property
    def softening(self) -> tuple[float, float]:
        """rho_o and rho_u [-]: strength of the heat-affected zone over the parent's."""
        return self.fo_haz / self.fo, self.fu_haz / self.fu


def _row(alloy: str, tempers: str, forms: str, thickest_mm: float, mpa: tuple[int, ...], source: TableSource) -> HazRow:
    """A row from its printed form: tempers and forms parted by spaces and commas, strengths in MPa."""
    fo, fu, fo_haz, fu_haz = (each * MPA for each in mpa)
    parts = tuple(forms.split(", "))
    return HazRow(alloy, tuple(tempers.split()), parts, thickest_mm / 1e3, fo, fu, fo_haz, fu_haz, source)


_BOTH = f"{EXTRUSION}, {TUBE}"

HAZ_ROWS: tuple[HazRow, ...] = (
    _row("3003", "H14", SHEET, 15, (125, 145, 37, 90), _SHEET_TABLE),
    _row("3003", "H24", SHEET, 15, (115, 140, 37, 90), _SHEET_TABLE),
    _row("3103", "H14", SHEET, 15, (120, 140, 44, 90), _SHEET_TABLE),
    _row("3103", "H24", SHEET, 12.5, (110, 140, 44, 90), _SHEET_TABLE),
    _row("5005", "O H111", SHEET, 15, (35, 100, 35, 100), _SHEET_TABLE),
    _row("5005", "H14", SHEET, 12.5, (120, 145, 44, 100), _SHEET_TABLE),
    _row("5005", "H24 H34", SHEET, 12.5, (110, 145, 44, 100), _SHEET_TABLE),
    _row("5052", "H12", SHEET, 15, (160, 210, 80, 170), _SHEET_TABLE),
    _row("5052", "H22 H32", SHEET, 15, (130, 210, 80, 170), _SHEET_TABLE),
    _row("5052", "H14", SHEET, 15, (180, 230, 80, 170), _SHEET_TABLE),
    _row("5052", "H24 H34", SHEET, 15, (150, 230, 80, 170), _SHEET_TABLE),
    _row("5083", "O H111", SHEET, 15, (125, 275, 125, 275), _SHEET_TABLE),
    _row("5083", "H12", SHEET, 15, (250, 305, 155, 275), _SHEET_TABLE),
    _row("5083", "H22 H32", SHEET, 15, (215, 305, 155, 275), _SHEET_TABLE),
    _row("5083", "H112", SHEET, 12.5, (125, 275, 125, 275), _SHIP_TABLE),
    _row("5083", "H116 H321", SHEET, 12.5, (215, 305, 125, 275), _SHIP_MAKER),
    _row("5083", "H14", SHEET, 15, (280, 340, 155, 275), _SHEET_TABLE),
    _row("5083", "H24 H34", SHEET, 15, (250, 340, 155, 275), _SHEET_TABLE),
    _row("5086", "O H111", SHEET, 12.5, (100, 240, 95, 240), _SHIP_MAKER),
    _row("5086", "H112", SHEET, 12.5, (105, 250, 95, 240), _SHIP_MAKER),
    _row("5086", "H116 H321", SHEET, 12.5, (195, 275, 95, 240), _SHIP_TABLE),
    _row("5086", "H22 H32", SHEET, 12.5, (185, 275, 95, 240), _SHIP_RECALLED),
    _row("5086", "H24 H34", SHEET, 12.5, (220, 300, 95, 240), _SHIP_RECALLED),
    _row("5454", "O H111", SHEET, 15, (85, 215, 85, 215), _SHEET_TABLE),
    _row("5454", "H14", SHEET, 15, (220, 270, 105, 215), _SHEET_TABLE),
    _row("5454", "H24 H34", SHEET, 15, (200, 270, 105, 215), _SHEET_TABLE),
    _row("5754", "O H111", SHEET, 15, (80, 190, 80, 190), _SHEET_TABLE),
    _row("5754", "H14", SHEET, 15, (190, 240, 100, 190), _SHEET_TABLE),
    _row("5754", "H24 H34", SHEET, 15, (160, 240, 100, 190), _SHEET_TABLE),
    _row("6061", "T4", SHEET, 15, (110, 205, 95, 150), _SHEET_TABLE),
    _row("6061", "T6 T651", SHEET, 15, (240, 290, 115, 175), _SHEET_TABLE),
    _row("6082", "T4", SHEET, 12.5, (110, 205, 100, 160), _SHEET_TABLE),
    _row("6082", "T6 T651", SHEET, 6, (260, 310, 125, 185), _SHEET_TABLE),
    _row("6082", "T6 T651", SHEET, 12.5, (255, 300, 125, 185), _SHEET_TABLE),
    _row("7020", "T6 T651", SHEET, 12.5, (280, 350, 205, 280), _SHEET_TABLE),
    _row("5083", "O H111 F H112", EXTRUSION, 200, (110, 270, 110, 270), _PROFILE_TABLE),
    _row("5083", "H12 H22 H32", TUBE, 10, (200, 280, 135, 270), _PROFILE_TABLE),
    _row("5083", "H14 H24 H34", TUBE, 5, (235, 300, 135, 270), _PROFILE_TABLE),  # heat-affected cells merged in print
    _row("5754", "O H111 F H112", EXTRUSION, 25, (80, 180, 80, 180), _AMENDMENT),
    _row("5754", "H14 H24 H34", TUBE, 10, (180, 240, 100, 180), _AMENDMENT),
    _row("6060", "T6", EXTRUSION, 15, (140, 170, 60, 100), _PROFILE_TABLE),
    _row("6060", "T66", EXTRUSION, 3, (160, 215, 65, 110), _PROFILE_TABLE),
    _row("6061", "T4", _BOTH, 25, (110, 180, 95, 150), _PROFILE_TABLE),
    _row("6061", "T6", _BOTH, 20, (240, 260, 115, 175), _PROFILE_TABLE),
    _row("6063", "T5", EXTRUSION, 3, (130, 175, 60, 100), _PROFILE_TABLE),
    _row("6063", "T6", EXTRUSION, 25, (160, 195, 65, 110), _PROFILE_TABLE),
    _row("6063", "T66", EXTRUSION, 10, (200, 245, 75, 130), _PROFILE_TABLE),
    _row("6005A", "T6", EXTRUSION, 5, (225, 270, 115, 165), _PROFILE_TABLE),
    _row("6082", "T6", EXTRUSION, 5, (250, 290, 125, 185), _STAIR_SHEET),
)

WELD_METAL_SOURCE = TableSource("EN 1999-1-1 Table 8.8", "memory")
# Characteristic strength of weld metal fw [Pa], by filler and parent alloy.
WELD_METAL: dict[str, dict[str, float]] = {
    "5356": {
        "5052": 170 * MPA,
        "5083": 240 * MPA,
        "5454": 220 * MPA,
        "6005A": 180 * MPA,
        "6060": 160 * MPA,
        "6061": 190 * MPA,
        "6082": 210 * MPA,
        "7020": 260 * MPA,
    },
    "4043A": {
        "3103": 95 * MPA,
        "6005A": 160 * MPA,
        "6060": 150 * MPA,
        "6061": 170 * MPA,
        "6082": 190 * MPA,
        "7020": 210 * MPA,
    },
}


# The table's notes: fillers whose values are those of 5356 or 4043A, parents whose values are those of another.
# 4043 stands with its near twin 4043A.
FILLER_AS: dict[str, str] = {
    "5356": "5356",
    "5056A": "5356",
    "5183": "5356",
    "5183A": "5356",
    "5556": "5356",
    "5556A": "5356",
    "4043": "4043A",
    "4043A": "4043A",
    "4047": "4043A",
    "4047A": "4043A",
    "3103": "4043A",
}
PARENT_AS: dict[str, str] = {"5754": "5454", "6063": "6060", "3005": "6060", "5005": "6060"}
# The table has no 5086: by its magnesium it lies between 5454 and 5083, and the weaker of the two is taken.
NEIGHBOUR_AS: dict[str, str] = {"5086": "5454"}


@dataclass(frozen=True)
class AsWelded:
    """Typical strengths of a groove weld pulled across [Pa]: parent and as welded, tensile and yield, and filler."""

    alloy: str
    temper: str
    filler: str
    parent: tuple[float, float]
    welded: tuple[float, float]


_TYPICAL = (
    ("1100", "H16", "ER1100", (21, 20), (13, 6)),
    ("3003", "H34", "ER1100", (35, 29), (16, 7)),
    ("5005", "H16", "ER5356", (26, 25), (16, 9)),
    ("5052", "H32", "ER5356", (33, 28), (28, 14)),
    ("5083", "H116", "ER5183", (46, 33), (43, 22)),
    ("5086", "H34", "ER5356", (47, 37), (39, 19)),
    ("5454", "H32", "ER5554", (39, 30), (35, 16)),
    ("6061", "T4", "ER4043", (35, 21), (27, 18)),
    ("6061", "T6", "ER4043", (45, 40), (27, 18)),
    ("6061", "T6", "ER5356", (45, 40), (30, 19)),
)
AS_WELDED: tuple[AsWelded, ...] = tuple(
    AsWelded(alloy, temper, filler, (p[0] * KSI, p[1] * KSI), (w[0] * KSI, w[1] * KSI))
    for alloy, temper, filler, p, w in _TYPICAL
)
AS_WELDED_SOURCE = TableSource("filler maker's technical guide p. 9, typical properties of groove welds", "read")


@dataclass(frozen=True)
class WeldedStrength:
    """Strength of an alloy as welded by US practice: tensile Ftuw and yield Ftyw, low to high [Pa], and when."""

    alloy: str
    when: str
    ftu: tuple[float, float]
    fty: tuple[float, float]
    source: TableSource


_ADM_QUOTED = TableSource("Aluminum Design Manual Table A3.3, quoted in an engineering forum", "read")
_ADM = TableSource("Aluminum Design Manual, welded strengths", "memory")
_ABS = TableSource("ABS, high-speed craft, Part 2, Chapter 5, Appendix 1, Table 2: butt-welded, least", "read")


def _welded(alloy: str, when: str, ftu: tuple[float, float], fty: float, source: TableSource) -> WeldedStrength:
    """A row from its printed form, in ksi."""
    return WeldedStrength(alloy, when, (ftu[0] * KSI, ftu[1] * KSI), (fty * KSI, fty * KSI), source)


WELDED_US: tuple[WeldedStrength, ...] = (
    _welded("6061-T6", "with 5356, or thinner than 3/8 in", (24.0, 24.0), 15.0, _ADM_QUOTED),
    _welded("6061-T6", "with 4043, over 3/8 in", (24.0, 24.0), 11.0, _ADM_QUOTED),
    _welded("5052", "any", (25.0, 25.0), 9.5, _ADM),
    _welded("5083", "any", (39.0, 40.0), 18.0, _ADM),
    _welded("5083-H116", "to 1.5 in", (40.0, 40.0), 24.0, _ABS),
    _welded("5083-H321", "to 1.5 in", (40.0, 40.0), 24.0, _ABS),
    _welded("5086-H32", "to 1.5 in", (35.0, 35.0), 19.0, _ABS),
    _welded("5086-H34", "to 1.5 in", (35.0, 35.0), 19.0, _ABS),
    _welded("5086-H116", "to 1.5 in", (35.0, 35.0), 19.0, _ABS),
    _welded("5086", "any", (35.0, 35.0), 14.0, _ADM),
    _welded("3003", "any", (14.0, 14.0), 5.0, _ADM),
    _welded("1100", "any", (11.0, 11.0), 3.5, _ADM),
)

# Shear strength of fillet metal [Pa]: loaded along the fillet, across it.
FILLET_SHEAR_US: dict[str, tuple[float, float]] = {"4043": (11.5 * KSI, 15.0 * KSI), "5356": (17.0 * KSI, 26.0 * KSI)}
FILLET_SHEAR_US_SOURCE = TableSource("Aluminum Design Manual 2005, filler shear strengths", "memory")
