"""Every job of the first release has an edge; ceilings hold; what keeps people from harm is never left out."""

from __future__ import annotations

from functools import cache
from itertools import product
from typing import Any

import pytest

from advisor.answer.steps import cautions, codes, steps
from advisor.rulebook.choices import rank
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.settle import Settled, settle
from advisor.shop.rules_in_force import compute, open_rules

JOINTS = {
    "butt": "groove",
    "corner-open": "groove",
    "corner-half-open": "groove",
    "edge": "groove",
    "corner-closed": "groove",
    "corner-inside": "fillet",
    "tee": "fillet",
    "lap": "fillet",
}
METALS = {"aluminium": "6061", "carbon-steel": "A36", "low-alloy-steel": "4130", "stainless": "304"}
THICKNESSES = (0.8, 0.9, 1.0, 1.2, 1.5, 1.6, 2.0, 2.4, 3.0, 3.175, 3.2, 4.0, 4.1, 4.8, 5.0, 6.0, 6.35, 6.4, 8.0, 9.5)
SURFACES = (
    "mill-finish",
    "clean",
    "anodised",
    "galvanised",
    "painted",
    "plated",
    "mill-scale",
    "rusty",
    "oily",
    "weathered",
    "unknown-scrap",
)
LONGEST_LINE = 110


@cache
def rulebook() -> Rulebook:
    return open_rules()


def job(base: str = "aluminium", joint: str = "butt", thickness: float = 3.0, **more: Fact) -> dict[str, Fact]:
    """Facts of a plain TIG job with like members."""
    facts: dict[str, Fact] = {
        "process": "141",
        "base": base,
        "bases": frozenset({base}),
        "alloy": METALS[base],
        "alloys": frozenset({METALS[base]}),
        "heat_treatable": base == "aluminium",
        "thickness": thickness,
        "thinner": thickness,
        "thicker": thickness,
        "thickness_ratio": 1.0,
        "joint": joint,
        "weld": JOINTS[joint],
        "access": "one-side",
        "surface": frozenset({"mill-finish"}),
        "service": frozenset({"ordinary"}),
        "place": "indoors",
    }
    return {**facts, **more}


def number(topic: str, facts: dict[str, Fact]) -> Settled | None:
    return settle(rulebook(), topic, facts, compute)


def best(topic: str, facts: dict[str, Fact]) -> str:
    options = rank(rulebook().match(topic, facts))
    return options[0].name if options and not options[0].avoided else ""


@pytest.mark.parametrize(("base", "joint", "access"), list(product(METALS, JOINTS, ("one-side", "both-sides"))))
def test_every_joint_has_an_edge_a_gap_and_tacks(base: str, joint: str, access: str) -> None:
    for thickness in THICKNESSES:
        facts = job(base, joint, thickness, access=access)
        assert best("groove", facts), f"no edge at {thickness} mm"
        for topic in ("root_gap", "clean_width", "clean_lasts", "tack_length", "tack_pitch"):
            assert number(topic, facts) is not None, f"no {topic} at {thickness} mm"


def test_edges_follow_bs_3019_as_mathers_quotes_it() -> None:
    """Mathers 2002 Table 6.1: square to 1.6 mm; both sides at 3.8 mm without a bar; 70 to 90 deg from 4.8 mm."""
    assert best("groove", job(thickness=1.6)) == "square, close"
    assert best("groove", job(thickness=3.8, access="both-sides")) == "square, close, welded both sides"
    assert "single V" in best("groove", job(thickness=4.8))
    angle = number("groove_angle", job(thickness=4.8))
    assert angle is not None and 70 <= angle.start <= 90


def test_pipe_ends_follow_asme_b16_9() -> None:
    """ASME B16.9: austenitic pipe is bevelled from 1/8 in, carbon steel pipe from 3/16 in."""
    tube: Any = frozenset({"tube"})
    assert "single V" in best("groove", job("stainless", thickness=3.175, form=tube))
    assert "square" in best("groove", job("carbon-steel", thickness=3.175, form=tube))
    assert "single V" in best("groove", job("carbon-steel", thickness=4.8, form=tube))


@pytest.mark.parametrize("thickness", [0.8, 0.99, 1.0, 1.27, 1.5, 1.6, 2.0, 2.9, 3.2, 4.0, 5.0, 6.0, 6.4, 9.5])
def test_aluminium_tacks_keep_mathers_multiples(thickness: float) -> None:
    """Mathers 2002 p. 88: tacks about 8 thicknesses long and not over 35 thicknesses apart."""
    pitch, length = number("tack_pitch", job(thickness=thickness)), number("tack_length", job(thickness=thickness))
    assert pitch is not None and length is not None
    assert pitch.high <= 35 * thickness * (1 + 1e-9)
    assert length.start == pytest.approx(8 * thickness)


@pytest.mark.parametrize(("alloy", "treatable", "preheat", "interpass"), [
    ("6061", True, 120, 100),
    ("5052", False, 120, 120),
    ("7005", True, 100, 80),
    ("5086", False, 65, 65),
])  # fmt: skip
def test_aluminium_heat_ceilings(alloy: str, treatable: bool, preheat: float, interpass: float) -> None:
    """Filler maker's table 120/120, 120/100, 100/80 degC; NAVSEA keeps 5086 out of 65 to 205 degC."""
    facts = job(alloy=alloy, alloys=frozenset({alloy}), heat_treatable=treatable, base_mg=2.8)
    found = [number(topic, facts) for topic in ("preheat", "interpass")]
    assert [item.high for item in found if item] == [preheat, interpass]


@pytest.mark.parametrize(("current", "least"), [(20, 8), (140, 8), (160, 10), (300, 10)])
def test_lens_shade_is_never_under_the_legal_minimum(current: float, least: float) -> None:
    """29 CFR 1910.133(a)(5): TIG 8 to 150 A, 10 above."""
    shade = number("lens_shade", job(current=float(current), tungsten_diameter=2.4))
    assert shade is not None and shade.low >= least - 1e-9


@pytest.mark.parametrize(("base", "joint"), list(product(METALS, ("butt", "tee"))))
def test_the_general_dangers_show_with_every_job(base: str, joint: str) -> None:
    found = {item.rule_id.removeprefix("caution.") for item in cautions(rulebook(), job(base, joint))}
    assert found >= {"eyes-skin", "fume", "shock", "fire", "hot-metal", "cylinder", "pacemaker", "no-chlorinated"}
    assert "code.local" in {item.rule_id for item in codes(rulebook(), job(base, joint))}


@pytest.mark.parametrize(("facts", "wanted"), [
    (job("carbon-steel", surface=frozenset({"galvanised"})), "caution.galvanised"),
    (job("stainless"), "caution.stainless.chromium"),
    (job("carbon-steel", surface=frozenset({"plated"})), "caution.plated"),
    (job("carbon-steel", surface=frozenset({"painted"})), "caution.painted"),
    (job("carbon-steel", surface=frozenset({"unknown-scrap"})), "caution.unknown-scrap"),
    (job(solvent="chlorinated"), "caution.chlorinated"),
    (job(), "caution.aluminium.ozone"),
    (job(), "caution.aluminium.grinding"),
    (job(tungsten_type="WTh10"), "caution.thoriated"),
    (job(tungsten_type="WTh20"), "caution.thoriated"),
    (job(tungsten_type="WTh30"), "caution.thoriated"),
    (job(place="outdoors"), "caution.voltage"),
    (job(closed_volume=True), "caution.argon-closed"),
    (job(closed_volume=True), "caution.closed-volume"),
    (job(place="confined"), "caution.confined"),
    (job(used_container=True), "caution.used-container"),
    (job(service=frozenset({"fuel"})), "caution.fuel"),
    (job(service=frozenset({"leak-tight"})), "caution.leak-test"),
])  # fmt: skip
def test_special_dangers_show_where_they_arise(facts: dict[str, Fact], wanted: str) -> None:
    assert wanted in {item.rule_id for item in cautions(rulebook(), facts)}


@pytest.mark.parametrize("service", ["structural", "pressure", "lifting", "vehicle", "occupied-space", "food", "fuel"])
def test_restricted_work_is_sent_to_its_code_and_to_qualification(service: str) -> None:
    found = codes(rulebook(), job("carbon-steel", service=frozenset({service}), restricted=True))
    named = [item for item in found if item.restricted and item.rule_id != "code.qualification"]
    assert named and "code.qualification" in {item.rule_id for item in found}


def test_a_used_fuel_container_is_refused() -> None:
    assert rulebook().match("refusal", job(used_container=True, service=frozenset({"fuel"})))
    assert not rulebook().match("refusal", job(service=frozenset({"ordinary"})))


@pytest.mark.parametrize(("base", "surface"), list(product(METALS, SURFACES)))
def test_grease_goes_before_the_brush_and_coatings_go_far_back(base: str, surface: str) -> None:
    facts = job(base, surface=frozenset({surface}))
    done = steps(rulebook(), "cleaning_step", facts)
    degrease = next(i for i, step in enumerate(done) if "egrease" in step.do)
    assert "chlorinated" in done[degrease].never
    if base == "aluminium":
        assert degrease < next(i for i, step in enumerate(done) if step.do.startswith("Remove oxide"))
    width = number("clean_width", facts)
    assert width is not None
    assert width.low == pytest.approx(100 if surface in ("galvanised", "painted", "plated") else 25)


def test_words_of_edges_cleaning_holding_and_safety_fit_a_line_pair() -> None:
    """Two lines of an 80-column terminal."""
    topics = ("edge_step", "cleaning_step", "holding_step", "coupon_step", "reach_step", "caution", "code")
    folders = ("preparation", "cleaning", "holding", "safety")
    long = []
    for topic in topics:
        for rule in rulebook().index.rules(topic):
            if any(f"rules/{folder}/" in rule.file for folder in folders):
                texts = [text for text in rule.body.values() if isinstance(text, str)]
                long += [(rule.id, text) for text in texts if len(text) > LONGEST_LINE]
    assert not long
