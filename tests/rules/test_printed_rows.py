"""What the program answers against rows as the cited page prints them.

Outside: G. Mathers, The Welding of Aluminium and its Alloys (2002), Table 3.3 p. 49 and p. 113; TWI Job Knowledge 36,
Distortion control - prevention by fabrication techniques (tack welding sequences).
"""

from __future__ import annotations

import pytest

from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import units_of
from tests.rules.test_fillers import first

# Table 3.3 p. 49: strength, sea water, least cracking, anodising. 1050 is sold as ER1100 at nearest; row 6063 prints
# 6356, which is no rod, and is read as 5356.
TABLE_3_3 = {
    "1100": ("ER4043", "ER1100", "ER4043", "ER1100"),
    "2219": ("ER2319", "ER2319", "ER2319", "ER2319"),
    "3103": ("ER4043", "ER1100", "ER4043", "ER1100"),
    "5052": ("ER5356", "ER5554", "ER5356", "ER5356"),
    "5083": ("ER5183", "ER5183", "ER5356", "ER5356"),
    "5086": ("ER5356", "ER5183", "ER5356", "ER5356"),
    "5454": ("ER5356", "ER5554", "ER5356", "ER5554"),
    "6061": ("ER5356", "ER4043", "ER4043", "ER5654"),
    "6063": ("ER5356", "ER4043", "ER4043", "ER5356"),
    "6082": ("ER4043", "ER4043", "ER4043", "ER4043"),
    "7005": ("ER5556", "ER5356", "ER5356", "ER5356"),
}
COLUMNS = ("ordinary", "sea-water", "leak-tight", "anodised-after")
# Where another document that was read comes first; the rule's `differs` says so.
DEPARTURES = {
    ("1100", "ordinary"): "ER1100",
    ("6061", "ordinary"): "ER4043",
    ("6063", "ordinary"): "ER4043",
    ("6061", "anodised-after"): "ER5356",
    ("6082", "anodised-after"): "ER5356",
}
CELLS = [(alloy, service, rods[at]) for alloy, rods in TABLE_3_3.items() for at, service in enumerate(COLUMNS)]


@pytest.mark.parametrize(("alloy", "service", "printed"), CELLS)
def test_filler_is_the_one_of_the_printed_cell(alloy: str, service: str, printed: str) -> None:
    answered = first(alloy, service=(service,))
    if (alloy, service) in DEPARTURES:
        assert answered == DEPARTURES[alloy, service] != printed
    else:
        assert answered == printed


@pytest.mark.parametrize(
    ("joint", "thickness"),
    [
        ("butt", "0.8 mm"),
        ("butt", "1.5 mm"),
        ("butt", "3 mm"),
        ("butt", "6.3 mm"),
        ("tee", "2.4 mm"),
        ("tee", "6.3 mm"),
    ],
)
def test_helium_on_aluminium_takes_the_tip_and_nozzle_of_its_page(
    rulebook: Rulebook, joint: str, thickness: str
) -> None:
    """Mathers p. 113: electrode negative, 45 degrees, a flat of about half the diameter, a nozzle of 12.7 mm."""
    data = {"members": [{"metal": "6061-T6", "thickness": thickness}], "joint": joint, "gas": "helium"}
    advice = advise(rulebook, JobBuilder(rulebook, units_of(rulebook)).build(data))
    assert advice.choices["polarity"][0].name == "DCEN"
    tip, flat, nozzle = (advice.settings[name] for name in ("tungsten_tip_angle", "tungsten_tip_flat", "nozzle_bore"))
    assert (tip.low, tip.start, tip.high) == (45, 45, 45)
    assert flat.start == pytest.approx(advice.settings["tungsten_diameter"].start / 2, abs=0.05)
    assert nozzle.start == pytest.approx(12.7, abs=0.05)


@pytest.mark.parametrize("process", ["141", "131", "135", "111"])
def test_tack_order_is_one_of_the_three_that_are_printed(rulebook: Rulebook, process: str) -> None:
    """TWI: straight through with the gap held; one end, then back-step; the centre, then back-step. Never by halves."""
    rules = [
        rule
        for rule in rulebook.match("holding_step", {"process": process, "bases": frozenset({"carbon-steel"})})
        if "tack-sequence" in rule.id
    ]
    (step,) = [rule.body for rule in rules]
    assert any(source.title.startswith("TWI") for source in rules[0].sources)
    assert "middle" in step["do"] and step["do"].count("back-step") == 2
    assert "straight through unless" in step["never"]
    assert "halve" not in step["do"]


@pytest.mark.parametrize("process", ["141", "135", "111"])
def test_stainless_is_tacked_at_the_ends_and_the_middle(rulebook: Rulebook, process: str) -> None:
    """ASSDA, Thermal expansion and design of stainless steel fabrications: ends and middle, closely spaced."""
    facts = {"process": process, "bases": frozenset({"stainless"})}
    (step,) = [rule.body for rule in rulebook.match("holding_step", facts) if "tack-sequence" in rule.id]
    assert step["do"].startswith("Tack the ends, then the middle, then close together")
