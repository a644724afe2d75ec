"""Pictures of the heat: the field of the pair, centred against aimed, and the part's temperatures in time."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.heat.answer import HeatAnswer
from advisor.heat.fields import pair_fields
from advisor.heat.part import PartHeat
from advisor.writing import write_whole

_LINES = ("-", "--", "-.", ":", (0, (5, 1)), (0, (3, 1, 1, 1)))


def draw(answer: HeatAnswer, path: Path) -> None:
    """Write the picture to an .svg or .png file. Raises PrestrikeError for another ending, or without matplotlib."""
    if path.suffix.lower() not in (".svg", ".png"):
        finding = Diagnostic("wrong-form", f"'{path.name}' is neither .svg nor .png", help="name the picture FILE.svg")
        raise PrestrikeError(finding)
    try:
        import matplotlib
    except ImportError:
        repair = "install the extra named 'plots'"
        raise PrestrikeError(Diagnostic("no-plots", "pictures need matplotlib", help=repair)) from None
    matplotlib.use("Agg")
    from matplotlib import pyplot

    rows = 1 + (answer.part is not None)
    figure, axes = pyplot.subplots(rows, 2, figsize=(10, 4.4 * rows), squeeze=False, layout="constrained")
    _fields(answer, axes[0])
    if answer.part is not None:
        _history(answer.part, figure, axes[1])
    picture = io.BytesIO()
    try:
        figure.savefig(picture, dpi=120, format=path.suffix.lower().removeprefix("."))
    finally:
        pyplot.close(figure)
    write_whole(path, picture.getvalue())


def _fields(answer: HeatAnswer, axes: Any) -> None:
    fields = pair_fields(answer)
    for axis, field in zip(axes, fields, strict=True):
        levels = axis.contour(field.ahead, field.across, field.temperature, levels=8, colors="0.45", linewidths=0.7)
        axis.clabel(levels, fmt="%.0f", fontsize=7)
        for index, solidus in enumerate(field.solidus):
            half = field.across >= 0 if index else field.across <= 0
            part = field.temperature[half]
            axis.contour(field.ahead, field.across[half], part, levels=[solidus], colors="black", linewidths=2.2)
            axis.contourf(field.ahead, field.across[half], part, levels=[solidus, 1e6], colors="none", hatches=["////"])
        axis.axhline(0, color="black", linewidth=1, linestyle="--")
        axis.plot(0, field.aim, marker="+", markersize=14, color="black")
        axis.set_title(f"{field.title}: melts {field.widths[0]:.1f} and {field.widths[1]:.1f} mm", fontsize=10)
        axis.set_xlabel("mm ahead of the arc")
        axis.set_ylabel(f"{field.names[0]}  <  seam  >  {field.names[1]}   [mm]", fontsize=8)
        axis.set_aspect("equal")


def _history(part: PartHeat, figure: Any, axes: Any) -> None:
    grid = axes[0].get_gridspec()
    for axis in axes:
        axis.remove()
    axis = figure.add_subplot(grid[1, :])
    minutes = [time / 60 for time in part.times]
    for index, (plate, row) in enumerate(zip(part.plates, part.temperatures, strict=True)):
        axis.plot(minutes, row, color="black", linestyle=_LINES[index % len(_LINES)], linewidth=1.4, label=plate)
    top = max(max(row) for row in part.temperatures)
    for number, seam in enumerate(part.seams, 1):
        axis.axvspan(seam.begins / 60, seam.ends / 60, color="0.85")
        axis.text((seam.begins + seam.ends) / 120, top * 1.04, str(number), ha="center", fontsize=9)
    if part.interpass:
        axis.axhline(part.interpass, color="black", linewidth=0.8, linestyle=":")
        axis.text(0, part.interpass, f" limit {part.interpass:.0f} °C", va="bottom", fontsize=8)
    names = ", ".join(f"{number} {seam.seam}" for number, seam in enumerate(part.seams, 1))
    axis.set_title("Mean temperature of each plate; grey: arc on", fontsize=10, pad=16)
    axis.set_xlabel(f"minutes\n{names}", fontsize=8)
    axis.set_ylabel("°C")
    axis.legend(fontsize=8, loc="lower right")
