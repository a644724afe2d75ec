"""What a seam carries: worked examples through the whole answer, what governs, loads, and where no rule speaks."""

from __future__ import annotations

import math
from typing import Any

import pytest

from advisor.diagnostics import PrestrikeError
from advisor.job.material import find_material
from advisor.job.reader import JobBuilder
from advisor.physics.tables import NotCoveredError
from advisor.rulebook.library import Rulebook
from advisor.strength.answer import Load, StrengthAnswer, StressedSeam, strength_answer, strength_beside
from advisor.strength.parts import ACROSS, ALONG, WORST
from advisor.units.quantities import UnitTable


@pytest.fixture(scope="module")
def ask(rulebook: Rulebook, units: UnitTable) -> Any:
    def answer(
        metal: str | list[str],
        thickness: str | list[str],
        joint: str,
        seam: StressedSeam | None = None,
        load: Load | None = None,
        **words: Any,
    ) -> StrengthAnswer:
        metals = metal if isinstance(metal, list) else [metal]
        sizes = thickness if isinstance(thickness, list) else [thickness] * len(metals)
        form = words.pop("form", "")
        members = [{"metal": m, "thickness": t, "form": form} for m, t in zip(metals, sizes, strict=True)]
        job = JobBuilder(rulebook, units).build({"members": members, "joint": joint, **words})
        return strength_answer(rulebook, job, seam or StressedSeam(), load)

    return answer


def place(answer: StrengthAnswer, part: str) -> Any:
    assert answer.seam is not None
    everything = (*answer.seam.places, *answer.seam.other_methods)
    return next(item for item in everything if part in item.name)


def test_blue_book_s275_6_mm_leg(ask: Any) -> None:
    """SCI P363 (memory): 0.94 kN/mm along, 1.15 across."""
    found = ask("S275", "10 mm", "tee", StressedSeam(leg=6.0))
    assert place(found, "simplified").along / 1e3 == pytest.approx(0.94, abs=0.016)
    assert place(found, "directional").across / 1e3 == pytest.approx(1.15, abs=0.02)


def test_c10_1_two_side_fillets_golden(ask: Any) -> None:
    found = ask("S235", "12 mm", "lap", StressedSeam(throat=3.0, length=100.0, count=2))
    assert found.seam.effective == pytest.approx(94.0)
    assert found.seam.force(ALONG) / 1e3 == pytest.approx(117.225, abs=0.01)


def test_c10_3_6061_butt_golden(ask: Any) -> None:
    """fu,haz t/gamma_Mw = 336.0 against parent fo t/gamma_M1 = 654.55 N/mm."""
    found = ask("6061-T6", "3 mm", "butt")
    assert place(found, "toe").across == pytest.approx(336.0)
    assert place(found, "base metal").across == pytest.approx(654.55, abs=0.01)
    assert found.seam.governing(ACROSS).kind == "haz"


def test_c10_4_two_fillets_with_4043_golden(ask: Any) -> None:
    found = ask(
        "6061-T6", "10 mm", "lap", StressedSeam(throat=3.0, length=80.0, count=2), filler="ER4043", process="MIG"
    )
    assert place(found, "weld metal, throat").along * 80 / 1e3 == pytest.approx(37.69, abs=0.01)


def test_the_weaker_metal_and_the_thinner_part_decide(ask: Any) -> None:
    pair = ask(["S235", "S355"], ["8 mm", "8 mm"], "tee", StressedSeam(throat=4.0))
    alone = ask("S235", "8 mm", "tee", StressedSeam(throat=4.0))
    assert place(pair, "simplified").along == pytest.approx(place(alone, "simplified").along)
    unequal = ask("6061-T6", "3 mm", "butt")
    both = ask(["6061-T6", "6061-T6"], ["3 mm", "6 mm"], "butt")
    assert both.seam.per_mm(ACROSS) == pytest.approx(unequal.seam.per_mm(ACROSS))
    mixed = ask(["5083-O", "6061-T6"], ["4 mm", "4 mm"], "butt", filler="ER5356")
    assert place(mixed, "weld metal").across == pytest.approx(4 * 190 / 1.25)


def test_stainless_is_recalled_and_says_so(ask: Any) -> None:
    """EN 1993-1-4 (memory): beta_w 1.0; 1.4301 fu 520 -> 240.2 MPa on the throat."""
    found = ask("304", "6 mm", "tee", StressedSeam(throat=4.0))
    assert place(found, "simplified").along / 4 == pytest.approx(520 / math.sqrt(3) / 1.25)
    assert "EN 1993-1-4" in found.seam.standard


def test_partial_butt_straight_and_tilting(ask: Any) -> None:
    """EN 1993-1-8 cl. 4.7.2: throat the depth reached; a one-sided one is bent about its root unless held."""
    free = ask("S235", "8 mm", "butt", StressedSeam(penetration=4.0))
    held = ask("S235", "8 mm", "butt", StressedSeam(penetration=4.0, held=True))
    assert held.seam.per_mm(ACROSS) == pytest.approx(4 * 360 / (math.sqrt(3) * 0.8 * 1.25))
    assert free.seam.per_mm(ACROSS) == pytest.approx(held.seam.per_mm(ACROSS) / 4)
    assert free.seam.per_mm(ALONG) == pytest.approx(held.seam.per_mm(ALONG))
    through = ask("S235", "8 mm", "butt", StressedSeam(penetration=4.0, count=2))
    assert through.seam.kind == "full-penetration butt"


def test_hanging_weight_on_a_bracket_by_hand(ask: Any) -> None:
    """50 kg at 200 mm on one 94 mm effective seam, throat 3: M/(L2/6) and F/L, resultant over 207.85 MPa x 3."""
    found = ask("S235", "8 mm", "tee", StressedSeam(throat=3.0, length=100.0), Load(mass=50.0, arm=200.0))
    force = 50 * 9.80665
    out, along = force * 200 / (94**2 / 6), force / 94
    use = next(item for item in found.loaded.uses if "simplified" in item.place)
    assert use.share == pytest.approx(math.hypot(out, along) / (3 * 207.846), rel=1e-4)
    assert found.loaded.governs.margin == pytest.approx(1 / found.loaded.governs.share)
    directional = next(item for item in found.loaded.uses if "directional" in item.place)
    root2 = math.sqrt(2)
    stress = math.sqrt((out / 3 / root2) ** 2 + 3 * ((out / 3 / root2) ** 2 + (along / 3) ** 2))
    assert directional.share == pytest.approx(stress / 360, rel=1e-4)
    assert found.loaded.share_factored == pytest.approx(1.5 * found.loaded.governs.share)


def test_twice_the_load_uses_twice(ask: Any) -> None:
    seam = StressedSeam(leg=4.0, length=80.0)
    one = ask("6061-T6", "3 mm", "tee", seam, Load(force=500.0, arm=100.0))
    two = ask("6061-T6", "3 mm", "tee", seam, Load(force=1000.0, arm=100.0))
    for a, b in zip(one.loaded.uses, two.loaded.uses, strict=True):
        assert b.share == pytest.approx(2 * a.share)


def test_a_clamp_pulls_across_and_a_weight_the_worse_way(ask: Any) -> None:
    seam = StressedSeam(leg=4.0, length=80.0)
    clamp = ask("6061-T6", "3 mm", "tee", seam, Load(clamp=2000.0))
    weight = ask("6061-T6", "3 mm", "tee", seam, Load(force=2000.0))
    assert clamp.loaded.governs.share == pytest.approx(2000 / clamp.seam.force(ACROSS))
    assert weight.loaded.governs.share == pytest.approx(2000 / weight.seam.force(WORST))


def test_pressure_on_a_wall_by_hand(ask: Any) -> None:
    """Edge force at most 0.505 p b; a square supported plate has 0.2874 p b2/t2 at its middle (Roark, memory)."""
    load = Load(pressure=2000.0, panel=(200.0, 200.0))
    found = ask("5052-H32", "3 mm", "corner-open", StressedSeam(), load)
    assert found.loaded.line.out / 1e3 == pytest.approx(0.505 * 2e-3 * 200)
    middle = next(item for item in found.loaded.uses if "middle" in item.place)
    assert middle.share == pytest.approx(0.2874 * 2e-3 * (200 / 3) ** 2 / (130 / 1.1), rel=1e-3)
    assert not found.practice_only
    hard = ask("5052-H32", "6 mm", "corner-open", StressedSeam(), Load(pressure=60e3, panel=(100.0, 100.0)))
    assert hard.practice_only and "pressure" in hard.job.service


@pytest.mark.parametrize(
    ("metal", "thickness", "joint", "seam", "words", "says"),
    [
        ("S235", "3 mm", "tee", StressedSeam(leg=4.0), {}, "starts at 4 mm"),
        ("S235", "6 mm", "tee", StressedSeam(leg=3.0), {}, "no fillet under 3 mm throat"),
        ("S235", "6 mm", "tee", StressedSeam(leg=5.0, length=30.0), {}, "effective length"),
        ("6061", "3 mm", "tee", StressedSeam(leg=4.0), {}, "temper"),
        ("6061-T6", "1 mm", "tee", StressedSeam(leg=2.0), {}, "1.5 mm"),
        ("6061-T6", "3 mm", "tee", StressedSeam(leg=4.0, length=20.0), {}, "8 throats"),
        ("4130", "6 mm", "tee", StressedSeam(leg=5.0), {}, "no standard strength"),
        ("A356", "6 mm", "butt", StressedSeam(), {}, "casting"),
        ("unknown steel", "6 mm", "tee", StressedSeam(leg=5.0), {}, "no standard strength"),
        ("A36", "6 mm", "tee", StressedSeam(leg=5.0), {"filler": "ER308L"}, "filler's name"),
        ("S235", "6 mm", "tee", StressedSeam(leg=5.0), {"process": "912"}, "process 912"),
        (["S235", "A36"], "6 mm", "tee", StressedSeam(leg=5.0), {}, "no one standard"),
    ],
)
def test_outside_the_standards_there_is_no_figure(
    ask: Any, metal: Any, thickness: str, joint: str, seam: StressedSeam, words: dict[str, Any], says: str
) -> None:
    sizes = [thickness] * len(metal) if isinstance(metal, list) else thickness
    found = ask(metal, sizes, joint, seam, **words)
    assert found.status == "no-rule"
    assert found.seam is None
    assert any(says in text for text in found.missing), found.missing


@pytest.mark.parametrize(
    ("joint", "seam", "load"),
    [
        ("butt", StressedSeam(leg=4.0), None),
        ("butt", StressedSeam(penetration=9.0), None),
        ("tee", StressedSeam(leg=4.0, throat=4.0), None),
        ("tee", StressedSeam(leg=5.0), Load(mass=5.0)),
        ("tee", StressedSeam(leg=5.0), Load(pressure=1000.0)),
        ("tee", StressedSeam(leg=5.0, length=100.0), Load(mass=5.0, clamp=5.0)),
    ],
)
def test_slips_are_bad_input(ask: Any, joint: str, seam: StressedSeam, load: Load | None) -> None:
    with pytest.raises(PrestrikeError) as found:
        ask("S235", "6 mm", joint, seam, load)
    assert found.value.diagnostics[0].help


def test_sheet_laps_by_both_standards(ask: Any) -> None:
    """EN 1993-1-3 (memory): t (0.9 - 0.45 L/b) fu/1.25; AISI S100 (memory): 0.60 (1 - 0.01 L/t) t Fu."""
    en = ask("S235", "2 mm", "lap", StressedSeam(leg=2.0, length=40.0, lap_width=80.0))
    assert en.seam.force(ALONG) == pytest.approx(2 * 40 * (0.9 - 0.225) * 360 / 1.25)
    assert en.seam.force(ACROSS) == pytest.approx(2 * 40 * (1 - 0.15) * 360 / 1.25)
    us = ask("A36", "2 mm", "lap", StressedSeam(leg=2.0, length=40.0))
    assert us.seam.force(ALONG) == pytest.approx(0.60 * 0.80 * 2 * 40 * 58 * 6.894757, rel=1e-5)
    for metal in ("S235", "A36"):
        with pytest.raises(PrestrikeError, match="whole length"):
            ask(metal, "2 mm", "lap", StressedSeam(leg=2.0))


def test_sizes_outside_the_rules_are_warned_of(ask: Any) -> None:
    assert ask("S235", "6 mm", "lap", StressedSeam(leg=5.0)).seam.warnings
    assert not ask("S235", "6 mm", "tee", StressedSeam(leg=5.0)).seam.warnings
    assert ask("A36", "10 mm", "tee", StressedSeam(leg=3.0)).seam.warnings


def test_every_figure_has_its_formula_and_source(ask: Any) -> None:
    for metal in ("S235", "304", "A36", "6061-T6"):
        found = ask(metal, "6 mm", "tee", StressedSeam(leg=6.0, length=100.0), Load(mass=20.0, arm=100.0))
        for item in (*found.seam.places, *found.seam.other_methods):
            assert item.formula and item.source.document
        assert all(use.formula for use in found.loaded.uses)
        assert any("falls when it lets go" in caution.hazard for caution in found.cautions)


def test_restricted_work_is_for_coupons_and_names_its_codes(ask: Any) -> None:
    found = ask("S235", "6 mm", "tee", StressedSeam(leg=5.0, length=100.0), service="lifting")
    assert found.practice_only
    assert any(code.restricted for code in found.codes)


def test_what_is_left_beside_a_seam(rulebook: Rulebook) -> None:
    """EN 1999-1-1 (memory): 6061-T6 sheet MIG 175/290, TIG a fifth less; 5083-O keeps all; steel keeps all."""
    six = find_material("6061-T6", rulebook.index)
    assert strength_beside(six, 3.0, "131").tensile == pytest.approx(175 / 290)
    assert strength_beside(six, 3.0, "141").tensile == pytest.approx(140 / 290)
    assert strength_beside(find_material("5083-O", rulebook.index), 3.0).tensile == 1.0
    assert strength_beside(find_material("S235", rulebook.index), 3.0).tensile == 1.0
    for name in ("4130", "6061", "A356"):
        with pytest.raises(NotCoveredError):
            strength_beside(find_material(name, rulebook.index), 3.0)


@pytest.mark.parametrize(
    ("metal", "ways"), [("5083-H116", ("MIG", "TIG")), ("5086-H116", ("MIG", "TIG")), ("5086-H32", ("MIG", "TIG"))]
)
def test_boat_plate_has_an_answer(ask: Any, metal: str, ways: tuple[str, ...]) -> None:
    """Welded, least: 275 MPa for 5083-H116, 240 MPa for 5086 (Lloyd's Register, Rules for Linkspans, Table 2.1.2)."""
    least = 275 if metal.startswith("5083") else 240
    for process in ways:
        found = ask(metal, "4 mm", "butt", process=process)
        assert found.status == "advised" and not found.missing
        assert place(found, "softened zone").across == pytest.approx(4 * least / 1.25)
        assert found.beside[0].tensile_after == pytest.approx(least)
        assert ask(metal, "4 mm", "tee", StressedSeam(leg=4.0, length=80.0), Load(mass=20.0), process=process).loaded
