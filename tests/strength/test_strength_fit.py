"""`strength` and `fit` as a tired beginner types them: slips are told with the repair, figures come in both systems."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Run = Callable[..., Any]
SEAM = ("strength", "--metal", "S235", "--thickness", "6 mm", "--joint", "tee", "--leg", "5 mm", "--length", "100 mm")
FIT = ("fit", "--metal", "6061-T6", "--bore", "40 mm", "--ring-inner", "30 mm", "--wall", "8 mm")


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        ((*SEAM, "--load", "50"), 2, "no unit"),
        ((*SEAM, "--load", "-5 kg"), 2, "below zero"),
        ((*SEAM, "--load", "0 N"), 2, "zero"),
        ((*SEAM, "--load", "5 mm"), 2, "50 kg"),
        ((*SEAM, "--throat", "nan"), 2, "finite"),
        ((*SEAM, "--arm", "100 mm"), 2, "no load"),
        ((*SEAM, "--load", "5 kg", "--direction", "sideways"), 2, "no direction"),
        ((*SEAM, "--load", "5 kg", "--arm", "9 mm", "--group", "two-line"), 2, "two-lines"),
        ((*SEAM, "--pressure", "5 kPa"), 2, "--panel"),
        ((*SEAM, "--panel", "300 mm"), 2, "write '300 mm, 200 mm'"),
        ((*SEAM, "--seams", "3"), 2, "1 or 2"),
        ((*FIT, "--interference", "-0.04 mm"), 2, "below zero"),
        ((*FIT, "--interference", "0 mm"), 2, "zero"),
        ((*FIT, "--interference", "0.04"), 2, "no unit"),
        ((*FIT, "--interference", "nan"), 2, "finite"),
        ((*FIT, "--fit", "H7p6"), 2, "H7/p6"),
        ((*FIT, "--fit", "H7/q6"), 3, "no tolerance class"),
        ((*FIT, "--fit", "H7/g6"), 2, "falls in"),
        (FIT, 2, "no interference"),
        ((*FIT, "--fit", "H7/s6", "--body-outer", "60 mm"), 2, "one of them"),
        ((*FIT, "--fit", "H7/s6", "--service-temperature", "80 C"), 2, "degC"),
        ((*FIT, "--fit", "H7/s6", "--friction", "0"), 2, "0.01 to 1"),
        ((*FIT[:5], "--ring-inner", "45 mm", "--wall", "8 mm", "--fit", "H7/s6"), 2, "not smaller"),
        ((*FIT[:7], "--body-outer", "38 mm", "--fit", "H7/s6"), 2, "not larger"),
        (("fit", "--metal", "6061-T6"), 2, "--bore"),
    ],
)
def test_slips_are_told_with_the_repair(prestrike: Run, arguments: tuple[str, ...], code: int, says: str) -> None:
    ran = prestrike(*arguments)
    assert ran.code == code, ran.out + ran.err
    assert says in ran.err, ran.err
    assert "Traceback" not in ran.err


def test_inches_come_first_for_who_types_them(prestrike: Run) -> None:
    ran = prestrike("strength", "-m", "A36", "-t", "1/4 in", "--joint", "tee", "--leg", "3/16 in", "--length", "4 in")
    assert ran.code == 0, ran.err
    assert "lbf/in (" in ran.out and "lbf (" in ran.out


def test_json_of_a_flagged_fit_and_of_a_sound_one(prestrike: Run) -> None:
    size = ("--width", "16 mm", "--json")
    opens = prestrike(*FIT, *size, "--interference", "0.05 mm", "--seam-penetration", "2 mm").json
    assert opens["seam"]["verdict"] == "opens" and opens["seam"]["flagged"] and opens["flags"]
    holds = prestrike(*FIT, *size, "--interference", "0.02 mm", "--seam-penetration", "8 mm").json
    assert holds["seam"]["verdict"] == "holds" and not holds["seam"]["flagged"]
