"""`prestrike cracks`: what the literature says of known beads, laws of mixing, and what no rule covers."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.cracks import knowledge as k
from advisor.cracks.answer import CracksAnswer, cracks_answer
from advisor.cracks.dilution import Dilution
from advisor.cracks.dilution import given as own_dilution
from advisor.diagnostics import PrestrikeError
from advisor.job.material import all_materials, find_material
from advisor.job.reader import JobBuilder, no_place
from advisor.physics.dilution import CRACK_PEAKS, bead_composition
from advisor.rulebook.choices import rank
from advisor.rulebook.library import Rulebook
from advisor.units.quantities import UnitTable

PLATE = {"thickness": "3.2 mm", "joint": "butt"}


@pytest.fixture(scope="module")
def ask(rulebook: Rulebook, units: UnitTable) -> Any:
    def answer(metal: str, filler: str = "", share: float | None = None, **how: Any) -> CracksAnswer:
        bare, loose = how.pop("bare", False), how.pop("loose", False)
        job = {**PLATE, **how}
        members = [{"metal": name, "thickness": job.pop("thickness")} for name in metal.split("+")[:1]]
        members += [{**members[0], "metal": name} for name in metal.split("+")[1:]]
        data = {"members": members, **job, **({"filler": filler} if filler else {})}
        own = None if share is None else Dilution(share, share, share, "own", "trial")
        built = JobBuilder(rulebook, units, no_place).build(data)
        return cracks_answer(rulebook, built, loose=loose, autogenous=bare, own=own)

    return answer


def zones_of(answer: CracksAnswer) -> set[str]:
    assert answer.mix is not None
    return {zone.id for zone in answer.mix.zones}


def titles_of(answer: CracksAnswer) -> str:
    assert answer.mix is not None
    brittle = [answer.mix.brittle] if answer.mix.brittle else []
    return " | ".join(source for zone in (*answer.mix.zones, *brittle) for source in zone.sources)


def test_6061_without_filler_cracks(ask: Any) -> None:
    """Mathers p. 50: 6xxx welded without filler cracks as it solidifies."""
    answer = ask("6061", bare=True)
    assert answer.mix.verdict == answer.mix.worst == "peak"
    assert "al-mg-si-peak" in zones_of(answer)
    assert "Mathers" not in titles_of(answer) and "The Welding of Aluminium and its Alloys, p. 50" in titles_of(answer)


@pytest.mark.parametrize("joint", ["butt", "tee", "corner-open", "lap"])
def test_6061_with_4043_leaves_the_peak(ask: Any, joint: str) -> None:
    """Mathers Table 3.3: 4043 is the filler of least cracking tendency for 6061."""
    answer = ask("6061", "4043", joint=joint)
    assert answer.mix.verdict in ("shoulder", "clear")
    assert answer.mix.verdict == "clear" or joint == "butt"


def test_6061_with_4043_needs_about_a_third_of_rod(ask: Any) -> None:
    """Rod maker: over 2 % Si in the bead. By hand (2 - 0.6)/(5.25 - 0.6) = 0.301."""
    assert ask("6061", "4043").mix.clear_from == pytest.approx(0.31, abs=0.011)


def test_6061_with_5356_wants_half_of_rod(ask: Any) -> None:
    """Textbook (recalled): at least 50 % of 5356 on 6xxx; a guide's square butt at 20 % reaches 1.7 % Mg only."""
    assert ask("6061", "5356").mix.clear_from == pytest.approx(0.50, abs=0.011)
    assert ask("6061", "5356", share=0.8).mix.measured["Mg"].middle == pytest.approx(1.7, abs=0.2)
    assert ask("6061", "5356", share=0.8).mix.verdict == "shoulder"
    assert ask("6061", "5356", share=0.4).mix.verdict == "clear"


def test_5052_with_4043_is_brittle_and_the_sources_disagree(ask: Any) -> None:
    """Mathers p. 49: no silicon rod above 2 % Mg; a workshop column calls 4043 good for 5052. Both are named."""
    answer = ask("5052", "4043")
    assert answer.mix.brittle is not None and answer.mix.verdict != "peak"
    assert "p. 49" in titles_of(answer) and "4043 called good for 5052" in titles_of(answer)
    assert answer.mix.standing == "avoid"
    assert answer.others[0].rod == "ER5356" and answer.others[0].verdict == "clear"


def test_5052_without_filler_is_not_clear(ask: Any) -> None:
    """Workshop column: 2.5 % Mg cracks often, less than 6061; keep above about 3 %."""
    assert ask("5052", bare=True).mix.verdict == "shoulder"


@pytest.mark.parametrize("alloy", ["5083", "5086"])
def test_higher_magnesium_welds_without_filler(ask: Any, alloy: str) -> None:
    """The same column, and the 6061 one: 5083 and 5086 may be welded without filler."""
    assert ask(alloy, bare=True).mix.verdict == "clear"


@pytest.mark.parametrize("alloy", ["2024", "2014", "7075"])
def test_copper_alloys_are_refused_and_say_why(ask: Any, alloy: str) -> None:
    answer = ask(alloy, loose=True)
    assert answer.status == "refused" and answer.refusals
    assert "al-cu-mg-peak" in zones_of(answer) and "TWI" in titles_of(answer)


def test_order_of_the_lap_weld_test(ask: Any) -> None:
    """Susceptibility 2219 < 2014, 2024, 7075, 6061 (paper's abstract): the first is clear, the others peak."""
    assert ask("2219", "2319").mix.verdict == "clear"
    for alloy in ("2014", "2024", "7075", "6061"):
        assert ask(alloy, bare=True).mix.verdict == "peak"


def test_castings_and_pure_metal_are_easy(ask: Any) -> None:
    assert ask("A356", "4043").mix.verdict == "clear"
    assert ask("1100", bare=True).mix.verdict == "clear"
    assert ask("A356", "5356").mix.brittle is not None


@pytest.mark.parametrize("alloy", ["12L14", "1215", "303"])
def test_free_machining_steel_is_refused(ask: Any, alloy: str) -> None:
    answer = ask(alloy, loose=True)
    assert answer.status == "refused" and "sulphur-free-machining" in zones_of(answer)


def test_stainless_with_its_rod_freezes_as_ferrite(ask: Any) -> None:
    assert ask("304").mix.verdict == "clear"
    assert ask("304").mix.measured["Creq/Nieq"].middle > 1.5


@pytest.mark.parametrize(("metal", "filler"), [("4130", ""), ("unknown aluminium", "4043"), ("304+A36", "ER309L")])
def test_what_no_rule_covers(ask: Any, metal: str, filler: str) -> None:
    answer = ask(metal, filler)
    assert answer.status == "no-rule"
    assert answer.mix is None or answer.mix.verdict == "unknown"


def test_unlike_metals_melt_in_equal_parts(ask: Any) -> None:
    alone = [ask(name, bare=True).mix.measured["Mg"].middle for name in ("5052", "6061")]
    assert ask("5052+6061", bare=True).mix.measured["Mg"].middle == pytest.approx(sum(alone) / 2)


def test_an_unknown_rod_is_an_error(ask: Any) -> None:
    with pytest.raises(PrestrikeError, match="ER9999"):
        ask("6061", "9999")


@pytest.mark.parametrize(("text", "low", "high"), [("70 %", 0.7, 0.7), ("60 % to 80 %", 0.6, 0.8), ("0 %", 0, 0)])
def test_own_dilution(text: str, low: float, high: float, units: UnitTable) -> None:
    found = own_dilution(text, units)
    assert (found.low, found.high) == (low, high)


@settings(max_examples=50, deadline=None)
@given(st.floats(0.0, 1.0))
def test_the_bead_lies_on_the_line_from_rod_to_base(rulebook: Rulebook, share: float) -> None:
    base = k.contents_at(find_material("6061", rulebook.index).composition, k.MIDDLE)
    rod = k.contents_at(next(rod for rod in k.rods(rulebook) if rod.name == "ER4043").limits, k.MIDDLE)
    bead = bead_composition(base, rod, share)
    for element in {*base, *rod}:
        expected = share * base.get(element, 0.0) + (1 - share) * rod.get(element, 0.0)
        assert bead[element] == pytest.approx(expected)
    assert sum(bead.values()) == pytest.approx(share * sum(base.values()) + (1 - share) * sum(rod.values()))


def test_all_base_is_the_bead_without_rod(ask: Any) -> None:
    bare, all_base = ask("6061", bare=True).mix, ask("6061", "4043", share=1.0).mix
    for name in ("Si", "Mg", "Cu", "Mg2Si"):
        assert all_base.measured[name].middle == pytest.approx(bare.measured[name].middle)
    all_rod = ask("6061", "4043", share=0.0).mix
    assert all_rod.measured["Si"].middle == pytest.approx(5.25)


ELEMENTS = st.fixed_dictionaries(
    {"Si": st.floats(0.0, 13.0), "Mg": st.floats(0.0, 6.0), "Cu": st.floats(0.0, 7.0), "Zn": st.floats(0.0, 6.0)}
)


@settings(max_examples=50, deadline=None)
@given(ELEMENTS)
def test_zones_of_one_curve_never_contradict(rulebook: Rulebook, bead: dict[str, float]) -> None:
    """No bead is at once in the peak and clear of the same system."""
    found = [zone for zone in k.zones(rulebook) if "aluminium" in zone.metals and zone.verdict != "brittle"]
    held = [zone for zone in found if zone.holds(k.measures(bead, "aluminium"), {}, {})]
    for system in {zone.system for zone in held}:
        assert len({zone.verdict for zone in held if zone.system == system}) == 1


def test_every_filler_ranked_for_tig_has_a_composition(rulebook: Rulebook) -> None:
    known = {rod.name for rod in k.rods(rulebook)}
    for material in all_materials(rulebook.index):
        facts = {"process": "141", "pair": material.filler_group, "base": material.family, "alloy": material.id}
        ranked = {option.name for option in rank(rulebook.match("filler", facts)) if option.name.startswith("ER")}
        assert ranked <= known, material.id


def test_no_rod_is_guessed_for_stick(ask: Any) -> None:
    answer = ask("A36", process="111")
    assert answer.mix is None or answer.mix.rod != "no filler"


@pytest.mark.parametrize("process", ["912", "942"])
def test_brazing_has_no_crack_curve(ask: Any, process: str) -> None:
    with pytest.raises(PrestrikeError, match="melts no base metal"):
        ask("A36", process=process, joint="lap")


def test_peaks_of_the_rules_are_those_of_the_physics_floor(rulebook: Rulebook) -> None:
    """The classic curves (recalled): Si 0.5 to 0.8 %, Mg 1 to 1.5 %, Cu about 3 %, each alone in aluminium."""
    for element, peak in CRACK_PEAKS.items():
        if element == "Mg2Si":
            continue
        for content in (peak.low, 0.5 * (peak.low + peak.high), peak.high):
            bead = k.measures({element: content}, "aluminium")
            assert "peak" in {zone.verdict for zone in k.zones(rulebook) if zone.holds(bead, {}, {})}, (
                element,
                content,
            )
