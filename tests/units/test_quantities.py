"""The quantity grammar, its traps, and its factors against published definitions."""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.units.quantities import (
    HOUSE_UNITS,
    QuantityError,
    UnitTable,
    default_table,
    in_both_systems,
    inch_fraction,
    parse_quantity,
    range_in_both_systems,
)

TABLE = default_table()


def value(text: str, kind: str = "length") -> float:
    return parse_quantity(text, kind, table=TABLE).value


# NIST SP 811 (2008), appendix B.8: exact or to the digits printed there.
PUBLISHED = [
    ("1 in", "length", 25.4),
    ("1 ft", "length", 304.8),
    ("1 mil", "length", 0.0254),
    ("1 cfh", "gas_flow", 0.4719474),
    ("1 psi", "pressure", 6.894757),
    ("1 ksi", "stress", 6.894757),
    ("1 lb", "mass", 453.59237),
    ("1 lbf", "force", 4.448222),
    ("1 in/min", "speed", 25.4),
    ("32 degF", "temperature", 0.0),
    ("212 degF", "temperature", 100.0),
    ("273.15 K", "temperature", 0.0),
    ("9 Δ°F", "temperature_difference", 5.0),
]


@pytest.mark.parametrize(("text", "kind", "house"), PUBLISHED)
def test_factors_are_those_published(text: str, kind: str, house: float) -> None:
    assert value(text, kind) == pytest.approx(house, rel=1e-6, abs=1e-9)


FORMS = [("1/8 in", 3.175), ("1 1/2 in", 38.1), ("1-1/2 in", 38.1), ('0.125"', 3.175), ('1/8"', 3.175), (".5 mm", 0.5),
         ("3.2mm", 3.2), ("3. mm", 3.0), ("2 1/2 in", 63.5)]  # fmt: skip


@pytest.mark.parametrize(("text", "house"), FORMS)
def test_the_grammar(text: str, house: float) -> None:
    assert value(text) == pytest.approx(house, rel=1e-12)


REFUSED = [
    ("1,5 mm", "length", "decimal-comma"),
    ("12", "length", "missing-unit"),
    ("12 C", "temperature", "temperature-letter"),
    ("70 F", "temperature", "temperature-letter"),
    ("nan mm", "length", "not-finite"),
    ("inf mm", "length", "not-finite"),
    ("0 mm", "length", "not-positive"),
    ("-3 mm", "length", "not-positive"),
    ("1e3 mm", "length", "not-one-number"),
    ("3-4 mm", "length", "not-one-number"),
    ("3 4 mm", "length", "not-one-number"),
    ("1/0 in", "length", "no-number"),
    ("mm", "length", "no-number"),
    ("", "length", "no-number"),
    ("٣ mm", "length", "no-number"),
    ("5 inchs", "length", "unknown-unit"),
    ("7 L/min", "speed", "wrong-dimension"),
    ("900 m", "length", "absurd-size"),
    ("0.001 mm", "length", "absurd-size"),
    ("16 ga", "length", "ambiguous-gauge"),
    ("9" * 80 + " mm", "length", "too-long"),
    ("400 %", "percent", "absurd-size"),
]


@pytest.mark.parametrize(("text", "kind", "code"), REFUSED)
def test_traps_are_refused_with_a_repair(text: str, kind: str, code: str) -> None:
    with pytest.raises(QuantityError) as caught:
        value(text, kind)
    finding = caught.value.diagnostics[0]
    assert finding.code == code
    assert finding.help


GAUGES = {"carbon-steel": {16: 1.519}, "aluminium": {16: 1.291}}


def test_gauges_need_a_metal() -> None:
    found = parse_quantity("16 ga", "length", table=TABLE, metal_family="aluminium", gauges=GAUGES)
    assert found.value == 1.291
    with pytest.raises(QuantityError) as caught:
        parse_quantity("16 ga", "length", table=TABLE, gauges=GAUGES)
    assert "1.52 mm" in caught.value.diagnostics[0].help and "1.29 mm" in caught.value.diagnostics[0].help
    with pytest.raises(QuantityError):
        parse_quantity("99 ga", "length", table=TABLE, metal_family="aluminium", gauges=GAUGES)


@given(st.text(max_size=70), st.sampled_from(sorted(HOUSE_UNITS)))
def test_any_text_parses_or_is_refused(text: str, kind: str) -> None:
    with contextlib.suppress(QuantityError):
        assert math.isfinite(parse_quantity(text, kind, table=TABLE).value)


LENGTHS = [spelling for kind, spelling in TABLE.factors if kind == "length"]


@given(st.decimals("0.5", "900", places=3), st.sampled_from([unit for unit in LENGTHS if unit not in ("m", "km")]))
def test_round_trip_through_any_unit(number: object, unit: str) -> None:
    try:
        found = parse_quantity(f"{number} {unit}", "length", table=TABLE)
    except QuantityError as error:
        assert error.diagnostics[0].code == "absurd-size"
        return
    assert found.in_unit(unit, TABLE) == pytest.approx(float(str(number)), rel=1e-9)


@given(st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(0, 9))
def test_fractions_equal_decimals(over: int, under: int, whole: int) -> None:
    mixed = f"{whole} {over}/{under} in" if whole else f"{over}/{under} in"
    assert value(mixed) == pytest.approx(value(f"{whole + over / under:.8f} in"), rel=1e-6)


def test_the_table_survives_being_kept() -> None:
    assert UnitTable.from_rows(TABLE.as_rows()).factors == TABLE.factors


SAID = [(3.2, "1/8"), (3.175, "1/8"), (1.5875, "1/16"), (6.35, "1/4"), (9.525, "3/8"), (38.1, "1 1/2"), (25.4, "1"),
        (1.2, "3/64"), (0.8, "1/32"), (1.0, None), (2.0, "5/64"), (4.0, "5/32")]  # fmt: skip


@pytest.mark.parametrize(("mm", "fraction"), SAID)
def test_fractions_a_shop_would_say(mm: float, fraction: str | None) -> None:
    assert inch_fraction(mm) == fraction


def test_both_systems_the_users_first() -> None:
    assert in_both_systems(3.2, "length", table=TABLE) == "3.2 mm (1/8 in)"
    assert in_both_systems(3.175, "length", inch_first=True, table=TABLE) == "1/8 in (3.2 mm)"
    assert in_both_systems(7, "gas_flow", table=TABLE) == "7 L/min (15 cfh)"
    assert in_both_systems(120, "temperature", table=TABLE) == "120 °C (250 °F)"
    assert in_both_systems(131.4, "current", table=TABLE) == "131 A"
    assert range_in_both_systems(5, 8, "gas_flow", table=TABLE) == "5-8 L/min (11-17 cfh)"
