"""A ring in a welded body: published exercises through the whole answer, Lame's limits, and seams that open or hold."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from advisor.diagnostics import PrestrikeError
from advisor.fit.answer import FitAnswer, FitJob, check, fit_answer
from advisor.fit.interference import InterferenceRequest, interference_asked
from advisor.fit.parts import HOLDS, MAY_OPEN, OPENS
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.units.quantities import UnitTable

PLUG = FitJob(
    bore=40.0,
    ring_inner=0.0,
    body_outer=60.0,
    interference=(0.04, 0.04),
    how="as given",
    width=20.0,
    clearance=0.04,
)
Own = tuple[tuple[float, float, float], tuple[float, float, float]]
NONE: Own = ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0))


@pytest.fixture(scope="module")
def put(rulebook: Rulebook, units: UnitTable) -> Any:
    def answer(fit: FitJob, body: str = "6061-T6", ring: str = "S235", own: Own = NONE, **words: Any) -> FitAnswer:
        data = {"members": [{"metal": body, "thickness": f"{fit.wall:g} mm"}], "joint": "butt", **words}
        return fit_answer(rulebook, JobBuilder(rulebook, units).build(data), fit, ring, own)

    return answer


def test_p11_2_course_exercise(put: Any) -> None:
    """A course text on shrink fits: 50/100/250 mm, Es 210 nu 0.3, Eh 70 nu 0.25, hub hoop 30 MPa, friction 0.15."""
    fit = replace(PLUG, bore=100.0, ring_inner=50.0, body_outer=250.0, width=100.0, interference=(0.06476, 0.06476))
    found = put(fit, own=((70e3, 0.25, 0.0), (210e3, 0.3, 0.0)))
    most = found.held[1]
    assert most.pressure == pytest.approx(21.724, rel=1e-3)
    assert most.body_bore == pytest.approx(30.0, rel=1e-3)
    assert most.pull_out / 1e3 == pytest.approx(102.37, rel=1e-3)
    assert most.torque == pytest.approx(5118.6, rel=1e-3)


def test_c11_1_aluminium_ring_on_a_steel_disc_golden(put: Any) -> None:
    found = put(PLUG, own=((69e3, 0.33, 23.6), (207e3, 0.292, 0.0)))
    assert found.held[1].pressure == pytest.approx(21.794, abs=1e-3)
    assert found.held[1].body_bore == pytest.approx(56.665, abs=2e-3)
    warm = found.ways[0]
    assert warm.body_c - 20.0 == pytest.approx(84.7, abs=0.06)


def test_lame_limits(put: Any) -> None:
    """Thin body: hoop = p R/t and E delta/R on a rigid plug; thick body: p/E... ; solid plug evenly pressed."""
    rigid: Own = ((70e3, 0.33, 0.0), (700e3, 0.0, 0.0))
    thin = put(replace(PLUG, bore=400.0, body_outer=404.0, interference=(0.08, 0.08)), own=rigid).held[1]
    assert thin.body_bore == pytest.approx(thin.pressure * 200 / 2, rel=0.011)
    assert thin.body_bore == pytest.approx(70e3 * 0.08 / 400, rel=0.012)
    same: Own = ((210e3, 0.3, 0.0), (210e3, 0.3, 0.0))
    thick = put(replace(PLUG, body_outer=4000.0), body="S235", own=same).held[1]
    assert thick.pressure == pytest.approx(210e3 * 0.04 / 40 / 2, rel=2e-4)
    assert thick.body_bore == pytest.approx(thick.pressure, rel=3e-4)
    assert thick.ring_outside == thick.ring_bore == pytest.approx(-thick.pressure)


def test_a_seam_that_opens_and_one_that_holds(put: Any) -> None:
    """p R over the depth against the partial-penetration strength, by hand, in both cases."""
    fit = replace(PLUG, bore=62.0, ring_inner=52.0, body_outer=78.0, interference=(0.05, 0.05))
    shallow = put(replace(fit, seam_penetration=2.0), ring="bearing steel")
    assert shallow.seam.verdict == OPENS and shallow.seam.flagged
    assert any("SEAM OPENS" in flag for flag in shallow.flags)
    tension = shallow.held[1].pressure * 31
    assert shallow.seam.tension == pytest.approx(tension)
    # 8 mm wall, TIG over 6 mm: fu,haz 175 x 0.64 = 112 MPa at the fusion boundary (EN 1999-1-1, memory)
    assert shallow.seam.carries == pytest.approx(2 * 112 / 1.25)
    assert tension > shallow.seam.carries
    through = put(replace(fit, seam_penetration=8.0), ring="bearing steel")
    assert through.seam.verdict == HOLDS and not through.seam.flagged
    assert not any("SEAM" in flag for flag in through.flags)
    light = put(replace(fit, seam_penetration=6.0, interference=(0.02, 0.02)), ring="bearing steel")
    assert light.seam.verdict == HOLDS
    assert light.seam.tension * light.seam.bent / light.seam.even < light.seam.carries
    between = put(replace(fit, seam_penetration=5.0), ring="bearing steel")
    assert between.seam.verdict == MAY_OPEN and between.seam.flagged


def test_a_steel_body_by_en_1993(put: Any) -> None:
    """S235, 10 mm wall: a partial seam carries s x 207.85 N/mm."""
    found = put(replace(PLUG, seam_penetration=3.0), body="S235")
    assert found.seam.carries == pytest.approx(3 * 207.85, rel=1e-3)
    assert found.seam.verdict == OPENS
    assert found.seam.tension == pytest.approx(found.held[1].pressure * 20)


def test_full_penetration_meets_lame_at_the_bore(put: Any) -> None:
    found = put(replace(PLUG, seam_penetration=10.0), body="S235")
    assert found.seam.bent == pytest.approx(found.held[1].body_bore)
    assert found.seam.even == pytest.approx(found.held[1].pressure * 20 / 10)


def test_a_shallower_seam_is_never_better(put: Any) -> None:
    shares = []
    for depth in (1.0, 2.0, 4.0, 6.0, 8.0, 9.9):
        seam = put(replace(PLUG, seam_penetration=depth)).seam
        shares.append(seam.share_bent)
    assert shares == sorted(shares, reverse=True)


def test_warm_aluminium_lets_go_of_steel(put: Any) -> None:
    """0.04 mm on 40 mm at a difference of 23.6 - 11.5 per million: gone at 20 + 82.6 degC."""
    found = put(replace(PLUG, service_c=(60.0, 120.0)))
    assert found.body.expansion - found.ring.expansion == pytest.approx(12.1)
    assert found.loosens_c == pytest.approx(20 + 0.04 / (12.1e-6 * 40))
    warm, hot = found.held[3], found.held[5]
    assert warm.pressure == pytest.approx(found.held[1].pressure * (1 - 40 / (0.04 / (12.1e-6 * 40))), rel=1e-6)
    assert hot.pressure == 0.0
    assert any(flag.startswith("LOOSE at 120") for flag in found.flags)


def test_a_cold_body_of_aluminium_grips_harder_and_the_seam_is_judged_there(put: Any) -> None:
    found = put(replace(PLUG, service_c=(-30.0,), seam_penetration=8.0))
    assert found.seam.celsius == -30.0
    assert found.seam.tension > found.held[1].pressure * 20


def test_smoothing_is_taken_from_grip_and_not_from_stress(put: Any) -> None:
    found = put(replace(PLUG, roughness=12.6e-3))
    assert found.held[0].interference == pytest.approx(0.04 - 0.8 * 12.6e-3)
    assert found.held[1].interference == pytest.approx(0.04)


def test_heat_stays_a_margin_below_the_limit_of_the_temper(put: Any) -> None:
    """AWS D1.2 as quoted in a guide (read): 120 degC for 6xxx; the naval rule 65 degC for 5083."""
    six = put(PLUG)
    assert six.heat_limit[0] == pytest.approx(120.0)
    for way in six.ways:
        assert not way.possible or way.body_c <= 100.0 + 1e-9
    assert not six.ways[0].possible  # 84.7 K and more would be 105 degC
    assert any(way.possible for way in six.ways[1:4])
    marine = put(PLUG, body="5083-O")
    assert marine.heat_limit[0] == pytest.approx(65.0)
    assert not marine.ways[0].possible
    huge = put(replace(PLUG, interference=(0.4, 0.4)))
    assert any(flag.startswith("NO WARM WAY") for flag in huge.flags)


def test_every_way_leaves_the_clearance_it_was_asked_for(put: Any) -> None:
    for way in put(PLUG).ways[:4]:
        assert way.clearance >= 0.04 - 1e-9


def test_metal_that_yields_is_said(put: Any) -> None:
    found = put(replace(PLUG, interference=(0.3, 0.3)))
    assert any(flag.startswith("BODY YIELDS") for flag in found.flags)
    seam = put(replace(PLUG, interference=(0.08, 0.08), seam_penetration=10.0))
    assert any("BESIDE ITS SEAM" in flag for flag in seam.flags)


def test_pressing_takes_more_than_pulling_out(put: Any) -> None:
    found = put(PLUG)
    assert found.press_force == pytest.approx(found.held[1].pull_out * 0.20 / 0.15)


def test_hazards_cannot_be_left_out(put: Any) -> None:
    found = put(PLUG)
    hazards = " ".join(caution.hazard for caution in found.cautions)
    for word in ("oven", "nitrogen", "splinters"):
        assert word in hazards
    assert put(PLUG, service="vehicle").restricted == ("vehicle",)


def test_a_body_that_must_not_be_welded(put: Any) -> None:
    assert put(replace(PLUG, seam_penetration=5.0), body="7075-T6").status == "refused"
    assert put(PLUG, body="7075-T6").status == "advised"


@pytest.mark.parametrize(
    "change",
    [
        {"ring_inner": 40.0},
        {"ring_inner": 45.0},
        {"body_outer": 40.0},
        {"interference": (-0.02, -0.01)},
        {"interference": (0.0, 0.0)},
        {"interference": (1.0, 1.0)},
        {"seam_penetration": 11.0},
    ],
)
def test_sizes_that_cannot_be(change: dict[str, Any]) -> None:
    with pytest.raises(PrestrikeError) as found:
        check(replace(PLUG, **change))
    assert found.value.diagnostics[0].help and found.value.diagnostics[0].subject.startswith("--")


def test_where_the_interference_is_from() -> None:
    assert interference_asked(InterferenceRequest(None, "H7/s6", 0.0), 50.0)[0] == pytest.approx((0.018, 0.059))
    assert interference_asked(InterferenceRequest((0.02, 0.05), "", 0.0), 50.0)[0] == (0.02, 0.05)
    assert interference_asked(InterferenceRequest(None, "", 50.03), 50.0)[0] == pytest.approx((0.03, 0.03))
    for asked in (
        InterferenceRequest(None, "", 0.0),
        InterferenceRequest((0.02, 0.05), "H7/s6", 0.0),
        InterferenceRequest(None, "", 55.0),
        InterferenceRequest(None, "H7p6", 0.0),
        InterferenceRequest(None, "p6/H7", 0.0),
    ):
        with pytest.raises(PrestrikeError):
            interference_asked(asked, 50.0)
