"""General tolerances a shop keeps without being told: of sawn pieces, and of welded parts."""

from __future__ import annotations

from typing import NamedTuple

# Upper end of each span of sizes [mm] -> plus or minus [mm].
Rows = tuple[tuple[float, float], ...]
# ISO 2768-1, Table 1, class m (read in a copy): for what is cut to a line and squared.
CUT: Rows = ((6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5), (1000.0, 0.8), (2000.0, 1.2), (4000.0, 2.0))
# ISO 13920:2023, Table 1 (read in a copy; the cell of the first span is one for all classes there, memory).
WELDED: dict[str, Rows] = {
    "A": ((120.0, 1.0), (400.0, 1.0), (1000.0, 2.0), (2000.0, 3.0), (4000.0, 4.0)),
    "B": ((30.0, 1.0), (120.0, 2.0), (400.0, 2.0), (1000.0, 3.0), (2000.0, 4.0), (4000.0, 6.0)),
}
# ISO 13920:2023, Table 2 (read in a copy): shorter leg up to [mm] -> out of square [mm in 1 m].
SQUARE: dict[str, Rows] = {
    "A": ((400.0, 6.0), (1000.0, 4.5), (20000.0, 3.0)),
    "B": ((400.0, 13.0), (1000.0, 9.0), (20000.0, 6.0)),
}


class Square(NamedTuple):
    """Out of square over a shorter leg [mm]: what classes A and B of ISO 13920 allow [mm]."""

    leg: float
    fine: float
    usual: float


def of(rows: Rows, size: float) -> float | None:
    """The tolerance [mm] of a size [mm]; None beyond the table."""
    return next((value for upto, value in rows if size <= upto), None)


def square(leg: float) -> Square | None:
    """Out of square that welded parts are allowed over this shorter leg [mm]; None beyond the table."""
    fine, usual = of(SQUARE["A"], leg), of(SQUARE["B"], leg)
    return None if fine is None or usual is None else Square(leg, fine * leg / 1000, usual * leg / 1000)
