"""Preheat of carbon and low-alloy steel: carbon equivalents, EN 1011-2 Methods A and B, AWS D1.1 minima.

Both EN methods were made for plate: most thin-sheet TIG joints lie outside them, and are then refused
rather than given a number. Symbols as in the standards: thickness in mm, heat input in kJ/mm (with the
factor k in it), hydrogen in ml per 100 g of deposit, temperatures in degC.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields

from advisor.physics.ranges import positive, within
from advisor.physics.tables import NotCoveredError, TableSource, entry

MOST_ALLOY = 8.0  # mass %; above it a steel is no longer low-alloy (memory, ASM Handbook)
MOST_CARBON = 2.1  # mass %; above it iron is cast
CE_SPAN = (0.30, 0.70)  # stated with the formula for Method A (read)

METHOD_B_SPANS = {  # EN 1011-2:2001 C.3 (memory)
    "CET": (0.2, 0.5),
    "thickness": (10.0, 90.0),
    "hydrogen": (1.0, 20.0),
    "heat input": (0.5, 4.0),
    "yield strength": (0.0, 1000.0),
}
_B_HELP = "EN 1011-2 Method B was not made for this; no preheat can be worked out from it"

METHOD_A_SOURCE = TableSource("EN 1011-2:2001 + A1:2003 Table C.1, p. 17", "read")
METHOD_A_HEAT_INPUTS = (1.0, 2.0)  # kJ/mm
# Largest combined thickness [mm] weldable without preheat, by CE and heat input [kJ/mm]; rows are spans of
# diffusible hydrogen, above the first figure up to the second. The row 5 to 10 is missing in the copy seen.
METHOD_A: dict[tuple[float, float], dict[tuple[float, float], float]] = {
    (15.0, math.inf): {(0.43, 1.0): 40.0, (0.43, 2.0): 80.0, (0.49, 1.0): 25.0, (0.49, 2.0): 50.0},
    (10.0, 15.0): {(0.43, 1.0): 50.0, (0.43, 2.0): 90.0, (0.49, 1.0): 30.0, (0.49, 2.0): 55.0},
    (3.0, 5.0): {(0.43, 1.0): 100.0, (0.43, 2.0): 100.0, (0.49, 1.0): 50.0, (0.49, 2.0): 100.0},
    (0.0, 3.0): {(0.43, 1.0): 100.0, (0.43, 2.0): 100.0, (0.49, 2.0): 100.0},
}

D1_1_SOURCES = (
    TableSource("AWS D1.1:2015 Table 3.3", "read"),
    TableSource("TI 809-26 Table 3-1 (UFC 3-320-01A)", "read"),
    TableSource("AWS D1.1, older edition, quoted in a power-source manual (category C)", "read"),
)
D1_1_THICKNESS = (20.0, 38.0, 65.0, math.inf)  # mm, up to and with
# degC and degF by category: A stick electrodes that are not low-hydrogen, on A36 and the like; B low-hydrogen
# stick, submerged arc, wire; C as B on A572 Gr 60 and 65. Metric figures of C are those of equal degF in A, B.
D1_1_MINIMA: dict[str, tuple[tuple[float, float], ...]] = {
    "A": ((0.0, 32.0), (65.0, 150.0), (110.0, 225.0), (150.0, 300.0)),
    "B": ((0.0, 32.0), (10.0, 50.0), (65.0, 150.0), (110.0, 225.0)),
    "C": ((10.0, 50.0), (65.0, 150.0), (110.0, 225.0), (150.0, 300.0)),
}
D1_1_COLD = 20.0  # degC to heat a base metal to that lies below 0 degC, and to hold while welding (read)


@dataclass(frozen=True)
class SteelChemistry:
    """Composition of a carbon or low-alloy steel in mass %, by chemical symbol; what is not stated is 0.

    Carbon up to 2.1, other elements together up to 8. Raises PhysicsRangeError for anything else, so a
    stainless steel has no carbon equivalent here.
    """

    c: float
    si: float = 0.0
    mn: float = 0.0
    cr: float = 0.0
    mo: float = 0.0
    v: float = 0.0
    ni: float = 0.0
    cu: float = 0.0
    b: float = 0.0

    def __post_init__(self) -> None:
        within("carbon", self.c, 0.0, MOST_CARBON, "%")
        alloy = 0.0
        for item in fields(self)[1:]:
            alloy += within(item.name.capitalize(), getattr(self, item.name), 0.0, 100.0, "%")
        within("alloying elements together", alloy, 0.0, MOST_ALLOY, "%", "carbon equivalents are for low-alloy steel")


@dataclass(frozen=True)
class WithoutPreheat:
    """Method A's answer: the largest combined thickness [mm] weldable without preheat, and the column it is from.

    column_ce [-] and column_heat_input_kj_mm [kJ/mm] are those of the table, on the safe side of the
    joint's own; the source is the table.
    """

    combined_mm: float
    column_ce: float
    column_heat_input_kj_mm: float
    source: TableSource = METHOD_A_SOURCE


@dataclass(frozen=True)
class MinimumPreheat:
    """Least preheat and interpass temperature, in degC and degF as printed, and where it is printed."""

    celsius: float
    fahrenheit: float
    sources: tuple[TableSource, ...] = D1_1_SOURCES


def ce_iiw(steel: SteelChemistry) -> float:
    """Carbon equivalent of the IIW [mass %]: C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15.

    Parameters: steel, its composition [mass %]. Returns: CE [mass %]; Method A is stated for 0.30 to 0.70.
    Raises: nothing (the composition is checked when made). Source: pressure-equipment page quoting
    EN 1011-2 (read).
    Example: 4130 with 0.30 % C, 0.25 % Si, 0.50 % Mn, 0.95 % Cr and 0.20 % Mo: 0.613 %.
    >>> round(ce_iiw(SteelChemistry(0.30, 0.25, 0.50, 0.95, 0.20)), 3)
    0.613
    """
    return steel.c + steel.mn / 6.0 + (steel.cr + steel.mo + steel.v) / 5.0 + (steel.ni + steel.cu) / 15.0


def cet(steel: SteelChemistry) -> float:
    """Carbon equivalent CET of Method B [mass %]: C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40.

    Parameters: steel, its composition [mass %]. Returns: CET [mass %]; Method B is stated for 0.2 to 0.5.
    Raises: nothing. Source: EN 1011-2:2001 Annex C (read in a course exercise that quotes it).
    Example: 0.18 % C, 1.40 % Mn, 0.05 % Mo, 0.20 % Cr, 0.15 % Cu, 0.10 % Ni: 0.345 % (course exercise).
    >>> round(cet(SteelChemistry(0.18, mn=1.40, mo=0.05, cr=0.20, cu=0.15, ni=0.10)), 4)
    0.345
    """
    return steel.c + (steel.mn + steel.mo) / 10.0 + (steel.cr + steel.cu) / 20.0 + steel.ni / 40.0


def pcm(steel: SteelChemistry) -> float:
    """Cracking parameter Pcm [mass %]: C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B.

    Parameters: steel, its composition [mass %]. Returns: Pcm [mass %]. Raises: nothing.
    Source: Ito and Bessyo; AWS D1.1 annex on preheat (memory).
    Example: 4130 with 0.30 % C, 0.25 % Si, 0.50 % Mn, 0.95 % Cr and 0.20 % Mo: 0.394 %.
    >>> round(pcm(SteelChemistry(0.30, 0.25, 0.50, 0.95, 0.20)), 3)
    0.394
    """
    strong = steel.mo / 15.0 + steel.v / 10.0 + 5.0 * steel.b
    return steel.c + steel.si / 30.0 + (steel.mn + steel.cu + steel.cr) / 20.0 + steel.ni / 60.0 + strong


def method_b_preheat_c(
    cet: float,
    thickness_mm: float,
    hydrogen_ml_100g: float,
    heat_input_kj_mm: float,
    yield_n_mm2: float | None = None,
) -> float:
    """Preheat against hydrogen cracks by EN 1011-2 Method B [degC].

    Tp = 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328. A result below the temperature of
    the shop means that the metal need only be dry and not cold. A rounded form with 700 and 330 is also
    in print; the two differ by about 1 degC.
    Parameters: cet [mass %], 0.2 to 0.5; thickness_mm d [mm], 10 to 90; hydrogen_ml_100g HD [ml/100 g],
    1 to 20; heat_input_kj_mm Q [kJ/mm], 0.5 to 4.0; yield_n_mm2 [N/mm2], up to 1000, checked where known.
    Returns: preheat temperature [degC]. Raises: PhysicsRangeError outside any of these.
    Source: EN 1011-2:2001 C.3 (structure read in a course exercise; constants 697, 328 and the validity
    from memory).
    Example: CET 0.345 %, 12 mm, 5 ml/100 g and 1.0 kJ/mm: 60 degC (course exercise).
    >>> round(method_b_preheat_c(0.345, 12.0, 5.0, 1.0))
    60
    """
    names = ("CET", "thickness", "hydrogen", "heat input", "yield strength")
    units = ("%", "mm", "ml/100 g", "kJ/mm", "N/mm2")
    values = (cet, thickness_mm, hydrogen_ml_100g, heat_input_kj_mm, 0.0 if yield_n_mm2 is None else yield_n_mm2)
    for name, value, unit in zip(names, values, units, strict=True):
        within(name, value, *METHOD_B_SPANS[name], unit, _B_HELP)
    plate = 160.0 * math.tanh(thickness_mm / 35.0)
    hydrogen = 62.0 * math.pow(hydrogen_ml_100g, 0.35)
    return 697.0 * cet + plate + hydrogen + (53.0 * cet - 32.0) * heat_input_kj_mm - 328.0


def combined_thickness_mm(thicknesses_mm: Sequence[float]) -> float:
    """Combined thickness of a joint for Method A [mm]: the sum over every part that leads heat away.

    Parameters: thicknesses_mm [mm], one for each path, above 0, each the mean over 75 mm from the weld
    line (two paths in a butt, three in a tee). Returns: combined thickness [mm].
    Raises: PhysicsRangeError outside. Source: EN 1011-2:2001 C.2 (table variable read; 75 mm from memory).
    Example: A tee of 6 mm plate has three paths: 18 mm.
    >>> combined_thickness_mm([6.0, 6.0, 6.0])
    18.0
    """
    within("number of parts", float(len(thicknesses_mm)), 1.0, 8.0)
    return sum(positive("thickness", each, "mm") for each in thicknesses_mm)


def method_a_without_preheat(ce: float, hydrogen_ml_100g: float, heat_input_kj_mm: float) -> WithoutPreheat:
    """Largest combined thickness weldable without preheat, by EN 1011-2 Method A [mm].

    The table's own columns only: the next higher CE, the next lower heat input, so that the answer is on
    the safe side. Thin-sheet TIG heat inputs lie below its first column. Parameters: ce [mass %], 0.30 to
    0.49; hydrogen_ml_100g [ml/100 g], above 0, but not above 5 to 10 (row missing in the copy seen);
    heat_input_kj_mm [kJ/mm], 1.0 to 2.0. Returns: thickness [mm] and the column used.
    Raises: PhysicsRangeError outside the columns; NotCoveredError where the table has no figure.
    Source: EN 1011-2:2001 + A1:2003 Table C.1 (read).
    Example: CE 0.43 % at 4 ml/100 g and 1.0 kJ/mm: 100 mm (EN 1011-2 Table C.1).
    >>> method_a_without_preheat(0.43, 4.0, 1.0).combined_mm
    100.0
    """
    within("CE", ce, CE_SPAN[0], 0.49, "%", "EN 1011-2 Table C.1 has no column above 0.49")
    low, high = METHOD_A_HEAT_INPUTS
    within("heat input", heat_input_kj_mm, low, high, "kJ/mm", "EN 1011-2 Table C.1 has no other column")
    positive("hydrogen", hydrogen_ml_100g, "ml/100 g")
    column = (0.43 if ce <= 0.43 else 0.49, high if heat_input_kj_mm >= high else low)
    for (above, up_to), row in METHOD_A.items():
        if above < hydrogen_ml_100g <= up_to and column in row:
            return WithoutPreheat(row[column], *column)
    text = f"no figure for {hydrogen_ml_100g:g} ml/100 g, CE {column[0]:g}, {column[1]:g} kJ/mm in Table C.1"
    raise NotCoveredError(text, "preheat", "take a row and column the table has, or a qualified procedure")


def d1_1_minimum(category: str, thickness_mm: float) -> MinimumPreheat:
    """Least preheat and interpass temperature of AWS D1.1's prequalified table [degC and degF].

    TIG is not a prequalified process there (memory) and 4130 is not listed, so for those it is a floor to
    compare with, not a rule. Base metal below 0 degC is heated to at least 20 degC.
    Parameters: category `A`, `B` or `C` (no unit); thickness_mm [mm] of the thickest part at the weld,
    from 3. Returns: minimum [degC] and [degF]. Raises: PhysicsRangeError below 3 mm; NotCoveredError for
    another category. Source: AWS D1.1:2015 Table 3.3; TI 809-26 Table 3-1 (read).
    Example: Category B, 25 mm: 10 degC, 50 degF (AWS D1.1 Table 3.3).
    >>> found = d1_1_minimum("B", 25.0)
    >>> found.celsius, found.fahrenheit
    (10.0, 50.0)
    """
    minima = entry(D1_1_MINIMA, category, "preheat category")
    within("thickness", thickness_mm, 3.0, math.inf, "mm")
    row = next(i for i, most in enumerate(D1_1_THICKNESS) if thickness_mm <= most)
    return MinimumPreheat(*minima[row])
