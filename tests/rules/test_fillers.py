"""Fillers: every pair of weldable metals has a ranked rod, and the rod is one that published tables allow."""

from __future__ import annotations

import itertools
from functools import cache
from typing import Any

import pytest

from advisor.answer.steps import refusals
from advisor.job.facts import joint_facts
from advisor.job.job import Job, Member
from advisor.job.material import Material, all_materials, find_material
from advisor.rulebook.choices import Option, rank
from advisor.rulebook.library import Rulebook
from advisor.shop.rules_in_force import open_rules
from advisor.units.quantities import Quantity

SERVICES = ("ordinary", "leak-tight", "anodised-after", "heat-treated-after", "hot-service", "sea-water")
SILICON = {"ER4043", "ER4047", "ER4145", "ER4643", "ER4943"}
FIVE_PER_CENT = {"ER5356", "ER5183", "ER5556"}
NONE = "none (autogenous)"


@cache
def book() -> Rulebook:
    return open_rules()


def metal(name: str) -> Material:
    return find_material(name, book().index)


def facts_of(pair: tuple[str, str], thickness: float = 3.0, weld: str = "groove", **job: Any) -> dict[str, Any]:
    members = tuple(Member(name, Quantity(thickness, "length", "mm", f"{thickness} mm")) for name in pair)
    joint = job.pop("joint", "butt" if weld == "groove" else "tee")
    surface = job.pop("surface", None)
    facts = joint_facts(Job(members=members, joint=joint, weld=weld, **job), tuple(metal(name) for name in pair))
    return facts | ({"surface": frozenset({surface})} if surface else {})


def ranked(a: str, b: str = "", **job: Any) -> list[Option]:
    return rank(book().match("filler", facts_of((a, b or a), **job)))


def first(a: str, b: str = "", **job: Any) -> str:
    options = ranked(a, b, **job)
    return options[0].name if options and options[0].rank == 1 else ""


def avoided(a: str, b: str = "", **job: Any) -> set[str]:
    return {option.name for option in ranked(a, b, **job) if option.avoided}


@cache
def weldable_pairs() -> tuple[tuple[str, str], ...]:
    names = [item.id for item in all_materials(book().index)]
    every = itertools.combinations_with_replacement(sorted(names), 2)
    return tuple(pair for pair in every if not refusals(book(), facts_of(pair)))


def test_there_are_as_many_weldable_pairs_as_the_catalogue_makes() -> None:
    assert len(weldable_pairs()) > 250


@pytest.mark.parametrize("service", SERVICES)
@pytest.mark.parametrize("weld", ["groove", "fillet"])
def test_every_weldable_pair_has_a_ranked_rod_with_a_reason(service: str, weld: str) -> None:
    for pair in weldable_pairs():
        options = ranked(*pair, weld=weld, service=(service,))
        assert options, pair
        assert options[0].rank == 1, pair
        assert options[0].name != NONE, pair
        if service == "ordinary":
            assert "first" in {reason.verdict for reason in options[0].reasons}, pair


@pytest.mark.parametrize("thickness", [1.0, 6.0, 12.7])
def test_aluminium_rods_go_to_aluminium_and_steel_rods_to_steel(thickness: float) -> None:
    for pair in weldable_pairs():
        aluminium = metal(pair[0]).family == "aluminium"
        assert first(*pair, thickness=thickness)[2:3] in (set("1245") if aluminium else set("3788")), pair


def test_silicon_rods_never_lead_where_magnesium_is_high_nor_magnesium_rods_on_silicon_castings() -> None:
    # Mathers p. 49: no silicon rod over 2 % Mg (5052 lies at the line), no magnesium rod over 2 % Si.
    for (a, b), service in itertools.product(weldable_pairs(), SERVICES):
        sides = (metal(a), metal(b))
        magnesium, silicon = (max(side.most(element) for side in sides) for element in ("Mg", "Si"))
        best = first(a, b, service=(service,))
        if magnesium > 2.8 and silicon <= 2:
            assert best not in SILICON, (a, b, service)
        if silicon > 2 and magnesium <= 3.9:
            assert best in SILICON, (a, b, service)


def test_hot_parts_get_no_rod_of_five_per_cent_magnesium() -> None:
    # Mathers p. 49 and Armao: stress corrosion above 65 degC.
    for pair in weldable_pairs():
        if metal(pair[0]).family == "aluminium" and "2219" not in pair:
            best = first(*pair, service=("hot-service",))
            assert best not in FIVE_PER_CENT | {"ER5654"}, pair


def test_anodised_parts_get_no_silicon_rod_unless_a_casting_is_in_the_joint() -> None:
    for pair in weldable_pairs():
        sides = [metal(name) for name in pair]
        if sides[0].family == "aluminium" and not any(side.series in ("cast-si", "2xxx") for side in sides):
            assert first(*pair, service=("anodised-after",)) not in SILICON, pair


@pytest.mark.parametrize(
    ("pair", "types"),
    [
        # EN 1011-4 Table B.2 and AWS D1.2 filler table (both memory): type of rod by its first digit.
        (("1100", "1100"), "14"),
        (("3003", "3003"), "145"),
        (("5754", "5754"), "5"),
        (("5083", "5083"), "5"),
        (("6082", "6082"), "45"),
        (("7020", "7020"), "5"),
        (("A356", "A356"), "4"),
        (("A356", "6061"), "4"),
        (("1050A", "5083"), "5"),
        (("6060", "5083"), "5"),
        (("6061", "7020"), "5"),
        (("A356", "7020"), "4"),
        (("A356", "5083"), "5"),
        (("2219", "2219"), "2"),
    ],
)
def test_first_choice_is_of_a_type_the_standards_list(pair: tuple[str, str], types: str) -> None:
    assert first(*pair)[2] in types


@pytest.mark.parametrize(
    ("pair", "cell"),
    [
        # Cells of Mathers (2002) Table 3.2 p. 48 as read.
        (("1050A", "6061"), {"ER5356", "ER4043"}),
        (("1050A", "7020"), {"ER5556", "ER5356", "ER5183"}),
        (("3103", "5251"), {"ER5356"}),
        (("3103", "6082"), {"ER4043", "ER5356"}),
        (("3103", "7020"), {"ER5556", "ER5356", "ER5183"}),
        (("5251", "6082"), {"ER5356"}),
        (("5083", "7020"), {"ER5356"}),
        (("6082", "7020"), {"ER5556", "ER5356", "ER5183"}),
        (("2219", "3103"), {"ER2319", "ER4043"}),
        (("2219", "1050A"), {"ER2319", "ER4043"}),
    ],
)
def test_unlike_pairs_take_a_rod_of_the_textbooks_cell(pair: tuple[str, str], cell: set[str]) -> None:
    assert first(*pair) in cell


@pytest.mark.parametrize(
    ("pair", "job", "rod"),
    [
        # Mathers Table 3.3 p. 49: sea water, least cracking, anodise match.
        (("1100", ""), {"service": ("anodised-after",)}, "ER1100"),
        (("5052", ""), {"service": ("sea-water",)}, "ER5554"),
        (("5083", ""), {"service": ("sea-water",)}, "ER5183"),
        (("6061", ""), {"service": ("sea-water",)}, "ER4043"),
        (("5083", ""), {"service": ("leak-tight",)}, "ER5356"),
        (("6061", ""), {"service": ("leak-tight",), "weld": "fillet"}, "ER4043"),
        # Armao: 6061 fillets 5356 for shear, anodised 5356, heat treated 4043 (4643 in thick plate), hot 4043 or 5554.
        (("6061", ""), {"weld": "fillet"}, "ER5356"),
        (("6061", ""), {"service": ("anodised-after",)}, "ER5356"),
        (("6061", ""), {"service": ("heat-treated-after",)}, "ER4043"),
        (("6061", ""), {"service": ("heat-treated-after",), "thickness": 16.0}, "ER4643"),
        (("5083", ""), {"service": ("hot-service",)}, "ER5554"),
        (("6061", ""), {"service": ("hot-service",)}, "ER4043"),
        # Steel and stainless: Welding Journal July 2016, the maker's bulletin on 4130 tube, AWS A5.18 and A5.9.
        (("A36", ""), {}, "ER70S-6"),
        (("S355", ""), {}, "ER70S-6"),
        (("A36", ""), {"surface": "mill-scale"}, "ER70S-2"),
        (("4130", ""), {}, "ER80S-D2"),
        (("4130", "A36"), {}, "ER70S-2"),
        (("304", ""), {}, "ER308L"),
        (("316L", ""), {}, "ER316L"),
        (("304", "316"), {}, "ER316L"),
        (("304", "S235"), {}, "ER309L"),
        (("316L", "4130"), {}, "ER309L"),
        (("stainless steel", "mild steel"), {}, "ER309L"),
        # Unknown metals: shop practice.
        (("aluminium", ""), {}, "ER4043"),
        (("marine grade aluminium", ""), {}, "ER5356"),
        (("cast aluminium", ""), {}, "ER4043"),
        (("aluminium", "5083"), {}, "ER5356"),
        (("marine grade aluminium", "cast aluminium"), {}, "ER4043"),
        (("steel", ""), {}, "ER70S-2"),
        (("stainless steel", ""), {}, "ER309L"),
        # Under two per cent magnesium: the five per cent rod (Mathers p. 50).
        (("5005", ""), {}, "ER5356"),
    ],
)
def test_known_answers(pair: tuple[str, str], job: dict[str, Any], rod: str) -> None:
    assert first(*pair, **job) == rod


def test_what_the_sources_warn_of_is_marked() -> None:
    assert NONE in avoided("6061")
    assert NONE not in avoided("5083", joint="edge")
    assert SILICON - {"ER4145"} <= avoided("5083")
    assert SILICON - {"ER4145"} <= avoided("5052")
    assert "ER4043" not in avoided("5052", "6061")
    assert "ER4043" in avoided("7005")
    assert "ER308L" in avoided("304", "A36")
    assert "4130 rod" in avoided("4130")
    assert "4130 rod" not in avoided("4130", service=("heat-treated-after",))


def test_thin_edges_may_be_melted_down_without_rod() -> None:
    for name in ("A36", "304", "1100"):
        assert NONE in {option.name for option in ranked(name, joint="edge", thickness=1.5)}
        assert NONE not in {option.name for option in ranked(name, joint="edge", thickness=3.0)}
