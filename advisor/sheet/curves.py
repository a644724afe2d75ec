"""Curves for the sheet, as SVG in the colours of the page: published current against thickness, and a part that warms.

Needs matplotlib (the extra named `plots`); the sheet says so where it is missing.
"""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from advisor.answer.answer import Advice
from advisor.heat.part import PartHeat
from advisor.sheet.current_curve import CurrentCurve, SourceLine

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INK, PAPER, GREY, PALE = "#010101", "#fefefe", "#6b6b6b", "#dcdcdc"
_VARIABLES = {INK: "currentColor", PAPER: "var(--paper)", GREY: "var(--grey)", PALE: "var(--pale)"}
_LINES: tuple[Any, ...] = ("-", "--", "-.", ":", (0, (6, 1)), (0, (3, 1, 1, 1)), (0, (1, 1)), (0, (8, 3)))
WIDE, HIGH = 4.6, 2.8


def plots_missing() -> bool:
    """True where matplotlib is not installed."""
    from importlib.util import find_spec

    return find_spec("matplotlib") is None


def current_curve(curve: CurrentCurve, numbers: Sequence[int], advice: Advice, name: str) -> str:
    """Published current against thickness, each source a numbered line, and this job as a heavy mark."""
    figure, axis = _figure()
    low, high = curve.settled[0][0], curve.settled[-1][0]
    axis.fill_between(
        [row[0] for row in curve.settled],
        [row[1] for row in curve.settled],
        [row[3] for row in curve.settled],
        facecolor=PALE,
        linewidth=0,
    )
    for place, (number, source) in enumerate(zip(numbers, curve.sources, strict=True), 1):
        _source(axis, source, number, place / (len(curve.sources) + 1))
    _trials(axis, curve)
    _job(axis, curve, advice)
    axis.set_xlim(low, high)
    axis.set_ylim(bottom=0)
    axis.set_xlabel("thickness, mm")
    axis.set_ylabel("current, A")
    top = axis.secondary_xaxis("top", functions=(_to_inch, _from_inch))
    top.set_xlabel("inch")
    top.tick_params(labelsize=8)
    return _svg(figure, name, f"Published current against thickness, {curve.metal}", _current_words(curve, advice))


def _source(axis: Axes, source: SourceLine, number: int, share: float) -> None:
    across = [point[0] for point in source.points]
    middle = [(point[1] + point[2]) / 2 for point in source.points]
    axis.plot(across, middle, color=GREY, linewidth=1.1, linestyle=_LINES[(number - 1) % len(_LINES)])
    # Numbers spread along the lines, so that they do not pile up where the lines run together.
    place = round((len(across) - 1) * (0.15 + 0.8 * share))
    axis.text(
        across[place], middle[place], str(number), fontsize=8, ha="center", va="center", color=INK, zorder=6,
        bbox={"boxstyle": "circle,pad=0.15", "facecolor": PAPER, "edgecolor": GREY, "linewidth": 0.6},
    )  # fmt: skip


# Told apart by shape: a filled round, an open one, a cross.
_VERDICT_MARKS = {"good": ("o", INK), "usable": ("o", PAPER), "bad": ("x", INK)}


def _trials(axis: Axes, curve: CurrentCurve) -> None:
    for dot in curve.trials:
        mark, fill = _VERDICT_MARKS[dot.verdict]
        axis.plot(dot.thickness, dot.current, marker=mark, markersize=5, color=INK, markerfacecolor=fill, zorder=6.5)


def _job(axis: Axes, curve: CurrentCurve, advice: Advice) -> None:
    current = advice.settings["current"]
    alone = advice.unequal.currents if advice.unequal is not None else ()
    own = {row[0]: row[2] for row in curve.settled}
    if alone:
        for thickness in curve.thicknesses:
            if thickness in own:
                axis.plot(
                    thickness, own[thickness], marker="D", markersize=7, color=INK, markerfacecolor=PAPER, zorder=7
                )
        axis.axhline(current.start, color=INK, linewidth=1.8)
        axis.text(
            0.02, current.start, f"pair {current.start:.0f} A", transform=axis.get_yaxis_transform(), va="bottom",
            fontsize=9, fontweight="bold", color=INK,
        )  # fmt: skip
        return
    at = curve.thicknesses[0]
    spread = [[current.start - current.low], [current.high - current.start]]
    axis.errorbar(
        [at], [current.start], yerr=spread, color=INK, marker="D", markersize=8, capsize=6, linewidth=2, zorder=7
    )
    axis.annotate(
        f"this job {current.start:.0f} A", (at, current.start), (10, -14), textcoords="offset points", fontsize=9,
        fontweight="bold", color=INK, bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1}, zorder=7,
    )  # fmt: skip


def _current_words(curve: CurrentCurve, advice: Advice) -> str:
    current = advice.settings["current"]
    rows = "; ".join(
        f"{at:.2g} mm {start:.0f} A" for at, _, start, _ in curve.settled[:: max(len(curve.settled) // 5, 1)]
    )
    tried = "".join(f" Own trial, {dot.verdict}: {dot.thickness:.2g} mm {dot.current:.0f} A." for dot in curve.trials)
    return (
        f"Current from {len(curve.sources)} sources as numbered lines, the settled working range as a grey band "
        f"({rows}). This job: start {current.start:.0f} A, {current.low:.0f} to {current.high:.0f} A.{tried}"
    )


def part_curve(part: PartHeat, name: str) -> str:
    """Mean temperature of each plate of the part against time, with the seams as grey bars."""
    figure, axis = _figure()
    minutes = [time / 60 for time in part.times]
    for index, (plate, row) in enumerate(zip(part.plates, part.temperatures, strict=True)):
        style = _LINES[index % len(_LINES)]
        axis.plot(minutes, row, color=INK, linestyle=style, linewidth=1.3, label=plate)
    top = max(max(row) for row in part.temperatures)
    for number, seam in enumerate(part.seams, 1):
        axis.axvspan(seam.begins / 60, seam.ends / 60, color=PALE, linewidth=0)
        axis.text((seam.begins + seam.ends) / 120, top * 1.03, str(number), ha="center", fontsize=9, color=INK)
    if part.interpass:
        axis.axhline(part.interpass, color=INK, linewidth=0.8, linestyle=":")
        axis.text(minutes[-1], part.interpass, "limit before a seam ", va="bottom", ha="right", fontsize=8, color=INK,
                  bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.5, "alpha": 0.8})  # fmt: skip
    axis.set_xlim(0, minutes[-1])
    axis.set_ylim(0, top * 1.12)
    axis.set_xlabel("minutes (grey: arc on, seam by number)")
    axis.set_ylabel("mean temperature, °C")
    fahrenheit = axis.secondary_yaxis("right", functions=(_to_fahrenheit, _from_fahrenheit))
    fahrenheit.set_ylabel("°F")
    figure.legend(fontsize=8, frameon=False, loc="outside upper center", ncols=6, labelcolor=INK, handlelength=2.6)
    words = f"{len(part.seams)} seams in {part.total_seconds / 60:.0f} minutes; " + "; ".join(
        f"seam {number} from {seam.begins / 60:.1f} min on metal of {seam.metal_before:.0f} °C"
        for number, seam in enumerate(part.seams, 1)
    )
    return _svg(figure, name, "Temperature of the part against time, computed", words)


# matplotlib hands these whole arrays.
def _to_inch(mm: Any) -> Any:
    return mm / 25.4


def _from_inch(inch: Any) -> Any:
    return inch * 25.4


def _to_fahrenheit(celsius: Any) -> Any:
    return celsius * 1.8 + 32


def _from_fahrenheit(fahrenheit: Any) -> Any:
    return (fahrenheit - 32) / 1.8


def _figure() -> tuple[Any, Axes]:
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDE, HIGH), layout="constrained", facecolor="none")
    axis = figure.add_subplot()
    axis.set_facecolor("none")
    for side in axis.spines.values():
        side.set_edgecolor(INK)
    axis.tick_params(colors=INK, labelsize=9)
    axis.xaxis.label.set_color(INK)
    axis.yaxis.label.set_color(INK)
    return figure, axis


def _svg(figure: Any, name: str, title: str, words: str) -> str:
    """The figure as one SVG element: no outside names, text kept as text, colours taken from the page."""
    import matplotlib
    from markupsafe import escape

    out = io.StringIO()
    with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": name}):
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    text = out.getvalue()
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>|<style.*?</style>|<!--.*?-->", "", text, flags=re.DOTALL)
    for colour, variable in _VARIABLES.items():
        text = text.replace(colour, variable)
    text = text.replace("#000000", "currentColor").replace("#ffffff", "var(--paper)")
    text = re.sub(r"'DejaVu Sans'[^;\"]*?sans-serif", "'Liberation Sans', Arial, sans-serif", text)
    text = re.sub(r"\bid=\"", f'id="{name}-', text)
    text = re.sub(r"url\(#", f"url(#{name}-", text)
    text = re.sub(r'href="#', f'href="#{name}-', text)
    head = re.match(r"<svg[^>]*viewBox=\"([^\"]*)\"[^>]*>", text)
    assert head is not None
    wide = float(head[1].split()[2])
    start = (
        f'<svg class="curve" role="img" aria-labelledby="{name}-title {name}-desc" viewBox="{head[1]}" '
        f'style="max-width:{wide * 1.4:.0f}px" xmlns="http://www.w3.org/2000/svg" '
        'xmlns:xlink="http://www.w3.org/1999/xlink">'
        f'<title id="{name}-title">{escape(title)}</title><desc id="{name}-desc">{escape(words)}</desc>'
    )
    return start + text[head.end() :]
