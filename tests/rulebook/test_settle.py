"""Settling: what the module's text promises about start, range and trail."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from advisor.rulebook.rule import Rule, Source
from advisor.rulebook.settle import _counts, _together_text, combine, plain_median, smooth_median, usable_window
from advisor.rulebook.source_values import SourceValue, interpolate, middle_of
from advisor.rulebook.vocabulary import Topic

MOST_RATIO = 1.7
CURRENT = Topic("current", "number", "Current", "current", usable_ratio=MOST_RATIO, least_spread=1.2)
ROD = Topic("filler_diameter", "number", "Rod", "length", (1.6, 2.4, 3.2))


def voice(low: float, high: float, weight: float = 1.0, lineage: str = "") -> SourceValue:
    name = lineage or f"{low}-{high}-{weight}"
    source = Source("D", name, "", 0, "handbook", name, "", "read")
    rule = Rule(
        f"r.{name}", "current", "built-in", "s", "1.0.0", "f", 1, ["all", []], {}, "", "start", {}, (source,), "b"
    )
    return SourceValue(rule, low, middle_of(low, high), high, weight, "as printed")


spans = st.tuples(st.floats(10, 300), st.floats(1, 1.6), st.sampled_from([0.5, 1.0, 3.0])).map(
    lambda item: voice(item[0], item[0] * item[1], item[2])
)


@given(st.lists(spans, min_size=1, max_size=8))
def test_range_holds_start_and_is_one_a_person_can_use(voices: list[SourceValue]) -> None:
    low, start, high = combine(voices, CURRENT)
    assert low <= start <= high
    assert high / low <= MOST_RATIO * (1 + 1e-9)


@given(st.lists(spans, min_size=1, max_size=6), st.randoms())
def test_order_of_sources_does_not_matter(voices: list[SourceValue], random: object) -> None:
    shuffled = list(voices)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert combine(voices, CURRENT) == pytest.approx(combine(shuffled, CURRENT))


@settings(max_examples=400, deadline=None)
@example([voice(10, 10, 0.5), voice(23, 23, 0.5)], 2.0)
@example([voice(10, 10, 0.5), voice(10, 15, 0.5), *[voice(44.25, 66.375, w) for w in (0.5, 0.5, 0.5, 1.0)]], 0.21875)
@given(st.lists(spans, min_size=1, max_size=6), st.floats(0.2, 5))
def test_scale_does_not_matter(voices: list[SourceValue], factor: float) -> None:
    scaled = [SourceValue(v.rule, v.low * factor, v.middle * factor, v.high * factor, v.weight, v.row) for v in voices]
    assert combine(scaled, CURRENT) == pytest.approx([value * factor for value in combine(voices, CURRENT)], rel=1e-9)


def test_one_outlier_does_not_drag_the_start() -> None:
    close = [voice(98, 102, lineage="a"), voice(99, 103, lineage="b"), voice(97, 101, lineage="c")]
    _, start, _ = combine(close, CURRENT)
    _, with_outlier, _ = combine([*close, voice(300, 320, lineage="d")], CURRENT)
    assert abs(with_outlier - start) < 3


def test_documents_that_repeat_one_another_count_once() -> None:
    once = combine([voice(100, 120, lineage="a"), voice(200, 220, lineage="b")], CURRENT)
    thrice = combine([voice(100, 120, lineage="a")] * 3 + [voice(200, 220, lineage="b")], CURRENT)
    assert once == pytest.approx(thrice)


def test_weighted_median_of_two_equals_is_their_geometric_mean() -> None:
    assert smooth_median([(100, 1), (144, 1)]) == pytest.approx(120)


@given(st.lists(st.tuples(st.floats(1, 100), st.floats(0.5, 3)), min_size=1, max_size=9))
def test_medians_lie_within_the_values(pairs: list[tuple[float, float]]) -> None:
    values = [value for value, _ in pairs]
    assert min(values) * (1 - 1e-9) <= smooth_median(pairs) <= max(values) * (1 + 1e-9)
    assert plain_median(pairs) in values


def test_stocked_sizes_keep_the_whole_span() -> None:
    low, start, high = combine([voice(1.6, 1.6, 3), voice(3.2, 3.2, 1)], ROD)
    assert (low, start, high) == (1.6, 1.6, 3.2)


def test_tables_are_linear_between_rows_and_stop_at_their_ends() -> None:
    """Hand-worked: half way from 60-80 to 125-145 is 92.5-112.5; 3.175 mm counts as the 3.2 mm end row; 4 mm is off."""
    rows = [[1.6, 60, 80], [3.2, 125, 145]]
    found = interpolate(rows, 2.4)
    assert found is not None and found[:2] == pytest.approx((92.5, 112.5))
    assert interpolate(rows, 3.23) is not None
    assert interpolate(rows, 3.24) is None
    assert interpolate(rows, 1.5) is None


@given(st.floats(1.6, 3.2), st.floats(1.6, 3.2))
def test_interpolation_rises_with_its_rows(a: float, b: float) -> None:
    rows = [[1.6, 60, 80], [2.0, 70, 85], [3.2, 125, 145]]
    first, second = interpolate(rows, min(a, b)), interpolate(rows, max(a, b))
    assert first is not None and second is not None
    assert first[0] <= second[0] + 1e-9 and first[1] <= second[1] + 1e-9
    assert math.isfinite(first[0])


def test_the_window_touches_both_camps_where_it_can() -> None:
    """Hand-worked: 70-95 and 135-153 with the start at 112: 90 to 153 has high/low 1.7 and touches both."""
    low, high = usable_window([(70, 95, 1), (135, 153, 1)], 112, 1.7, 1.2)
    assert low <= 95 and high >= 135
    assert high / low <= 1.7 * (1 + 1e-9)


def test_a_lone_figure_gets_the_spread_that_tables_have() -> None:
    assert combine([voice(100, 100)], CURRENT) == pytest.approx((100 / 1.2, 100, 120))


def test_the_strictest_ceiling_holds() -> None:
    ceiling = Topic("interpass", "number", "Interpass", "temperature", strictest=True)
    assert combine([voice(120, 120, lineage="a"), voice(65, 65, lineage="b")], ceiling) == (65, 65, 65)


def remembered(item: SourceValue) -> SourceValue:
    """The same source, known from memory."""
    return item._replace(rule=item.rule._replace(sources=(item.rule.sources[0]._replace(evidence="memory"),)))


def test_sources_are_counted_by_lineage_and_not_by_rule() -> None:
    one, copy, other = voice(98, 102, lineage="a"), voice(90, 95, lineage="a"), voice(99, 103, lineage="b")
    assert "2 independent sources" in _together_text([one, copy, other], CURRENT, 98, 103)
    assert _together_text([one, copy], CURRENT, 90, 102).startswith("one source")
    assert _counts([one, copy, other]) == {"read": 2}
    # Read in one place and remembered of the same table elsewhere: one source, known by the better of the two.
    assert _counts([one, remembered(copy)]) == {"read": 1}
    assert _counts([remembered(one), remembered(other), other]) == {"memory": 1, "read": 1}
