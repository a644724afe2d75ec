"""How long the seam solver takes beside scikit-fem for the same answer: a script, prints the ratio.

The job both do: 6061, 3.2 mm to 6.4 mm, 3 mm/s, sigma 2 mm: aim and power for a 4 mm half width, the two
equal-pair powers, and the half widths of the centred arc. The finite elements factorise each matrix once
and try aims by right-hand sides only. Errors are against the seam solver with four times the points.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from scipy.optimize import brentq

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

HALF_WIDTH = 4e-3
ELEMENT_SIZES = (2e-3, 1e-3, 0.5e-3, 0.25e-3)
Answer = tuple[float, float, float, float, float, float]


def by_elements(step: float) -> Answer:
    """Offset, power, both equal-pair powers, both centred half widths: by scikit-fem."""
    from advisor.physics.moving_source import HeatedSeam
    from tests.physics.fe_pair import pair_elements

    seam = job()
    elements = pair_elements(seam, step, behind=0.25, ahead=0.25, inner=12e-3)

    def peaks(aim: float) -> tuple[float, float]:
        rise = elements.solve(aim)
        return elements.line_peak(rise, -HALF_WIDTH), elements.line_peak(rise, HALF_WIDTH)

    def lean(aim: float) -> float:
        first, second = peaks(aim)
        return math.log(first / second)

    aim = float(brentq(lean, 0.0, 2e-3, xtol=1e-7))
    power = seam.rises[0] / peaks(aim)[0]
    alone = []
    for member in seam.members:
        like = pair_elements(HeatedSeam(member, member, seam.arc), step, behind=0.25, ahead=0.25, inner=12e-3)
        alone.append(seam.rises[0] / like.line_peak(like.solve(0.0), HALF_WIDTH))
    centred = elements.solve(0.0)
    widths = [elements.half_width(centred, side, seam.rises[0] / power) for side in (-1, 1)]
    return aim, power, alone[0], alone[1], widths[0], widths[1]


def by_waves(fineness: int = 1) -> Answer:
    """The same six numbers by the seam solver."""
    from advisor.physics.arc_aim import aim_arc

    seam = job()
    found = aim_arc(seam.first, seam.second, seam.arc, HALF_WIDTH, fineness=fineness)
    return found.offset, found.power, *found.equal_pair_power, *found.half_width_centred


def job() -> Any:
    """The pair of plates."""
    from advisor.physics.heat_split import PlateMember
    from advisor.physics.moving_source import Arc, HeatedSeam

    thin, thick = (PlateMember(mm * 1e-3, 167.0, 2.43e6, 582.0, 0.06, 24.0) for mm in (3.2, 6.4))
    return HeatedSeam(thin, thick, Arc(3e-3, 2e-3))


def timed(work: Callable[[], Answer], repeats: int) -> tuple[float, Answer]:
    """Best time [s] of several, and the answer."""
    best, answer = math.inf, work()
    for _ in range(repeats):
        start = time.perf_counter()
        answer = work()
        best = min(best, time.perf_counter() - start)
    return best, answer


def worst(answer: Answer, reference: Answer) -> float:
    """Largest relative error of the six numbers."""
    return max(abs(a / b - 1.0) for a, b in zip(answer, reference, strict=True))


def main() -> None:
    """Print times, errors and ratios."""
    reference = by_waves(4)
    seconds, answer = timed(by_waves, 10)
    error = worst(answer, reference)
    print(f"seam solver          {seconds * 1e3:8.1f} ms   worst error {error:.1e}")
    for step in ELEMENT_SIZES:
        took, other = timed(lambda step=step: by_elements(step), 1)  # type: ignore[misc]
        line = f"scikit-fem {step * 1e3:5.2f} mm  {took * 1e3:8.1f} ms   worst error {worst(other, reference):.1e}"
        print(f"{line}   ratio {took / seconds:6.1f}")


if __name__ == "__main__":
    main()
