"""Conflicts, dead and masked rules on seeded rule sets, against asking every job of a fine grid one by one.

The grid uses the rulebook's own `holds` and tables (held to outside truth elsewhere), but nothing of `regions.py`: a
clash of two rules is looked for job by job.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import combinations, islice, product
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.rulebook.conditions import Fact, attributes_in, holds
from advisor.rulebook.review.conflicts import conflicts
from advisor.rulebook.review.inactive import masked, why_dead
from advisor.rulebook.review.regions import Box, Numbers, Sets, Words, World
from advisor.rulebook.source_values import interpolate
from advisor.rulebook.vocabulary import Attribute, Topic, Vocabulary

JOINTS = ("butt", "tee", "lap")
BASES = ("aluminium", "stainless")
SURFACES = ("clean", "oily")
STEP = 0.05
VOCABULARY = Vocabulary(
    {
        "joint": Attribute("joint", "choice", "", JOINTS),
        "base": Attribute("base", "choice", "", BASES),
        "alloy": Attribute("alloy", "text", ""),
        "cast": Attribute("cast", "flag", ""),
        "surface": Attribute("surface", "set", "", SURFACES),
        "thickness": Attribute("thickness", "quantity", "", (), "length"),
        "current": Attribute("current", "quantity", "", (), "current"),
    },
    {
        "current": Topic("current", "number", "Current", "current"),
        "gas": Topic("gas", "ranked", "Gas"),
    },
    {"handbook": 1.0, "shop-habit": 1.0},
    {"read": 1.0, "trial": 1.0, "common-practice": 1.0},
)
WORLD = World(VOCABULARY, frozenset(("joint", "base", "thickness", "cast")))
halves = st.integers(2, 12).map(lambda number: number / 2)


@st.composite
def terms(draw: st.DrawFn) -> list[Any]:
    kind = draw(st.sampled_from(("joint", "base", "alloy", "cast", "surface", "thickness", "thickness", "current")))
    if kind in ("thickness", "current"):
        low, high = sorted((draw(halves), draw(halves)))
        ends = draw(st.sampled_from(((low, high), (low, None), (None, high))))
        return ["range", kind, ends[0], draw(st.booleans()), ends[1], draw(st.booleans()), ""]
    if kind == "cast":
        return ["in", "cast", [draw(st.booleans())]]
    words = {"joint": JOINTS, "base": BASES, "surface": SURFACES, "alloy": ("x", "y")}[kind]
    return ["in", kind, draw(st.lists(st.sampled_from(words), min_size=1, max_size=2, unique=True))]


conditions = st.recursive(
    terms(),
    lambda inner: st.one_of(
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: ["all", parts]),
        st.lists(inner, min_size=1, max_size=2).map(lambda parts: ["any", parts]),
        inner.map(lambda part: ["not", part]),
    ),
    max_leaves=4,
)


@st.composite
def bodies(draw: st.DrawFn) -> tuple[str, str, str, dict[str, Any]]:
    """(topic, effect, carries, body)."""
    tens = st.integers(3, 12).map(lambda number: 10.0 * number)
    effect = draw(st.sampled_from(("start", "start", "start", "limit", "adjust", "choose")))
    if effect == "limit":
        key = draw(st.sampled_from(("floor", "ceiling")))
        return "current", "limit", "", {key: draw(tens)}
    if effect == "adjust":
        return "current", "adjust", draw(st.sampled_from(("joint", ""))), {"factor": draw(st.sampled_from((0.8, 1.2)))}
    if effect == "choose":
        key = draw(st.sampled_from(("only", "avoid", "first")))
        return "gas", "choose", "", {key: draw(st.lists(st.sampled_from("abc"), min_size=1, max_size=2, unique=True))}
    low, high = sorted((draw(tens), draw(tens)))
    form = draw(st.sampled_from(("plain", "rows", "sizes")))
    if form == "plain":
        return "current", "start", "", {"low": low, "high": high}
    ats = sorted(draw(st.lists(halves, min_size=1, max_size=3, unique=True)))
    if form == "rows":
        rows = [[at, *sorted((draw(tens), draw(tens)))] for at in ats]
        return "current", "start", "", {"over": "thickness", "rows": rows}
    return "current", "start", "", {"over": "thickness", "sizes": [[draw(tens), at, at + 1] for at in ats]}


@st.composite
def rule_sets(draw: st.DrawFn, most: int = 5) -> list[dict[str, Any]]:
    rules = []
    for number in range(draw(st.integers(2, most))):
        topic, effect, carries, body = draw(bodies())
        title = draw(st.sampled_from("AAB"))
        layer = draw(st.sampled_from(("built-in", "built-in", "shop")))
        evidence = draw(st.sampled_from(("read", "trial")))
        printed = draw(st.sampled_from(({}, {}, {"joint": ["butt"]}))) if effect == "start" else {}
        rules.append({
            "id": f"r.{number}", "topic": topic, "layer": layer, "file": "f", "line": number, "when": draw(conditions),
            "printed_for": printed, "carries": carries, "effect": effect, "body": body, "differs": "",
            "sources": [{"title": title, "lineage": title, "evidence": evidence, "kind": "handbook"}],
        })  # fmt: skip
    return rules


def grid() -> Iterator[dict[str, Fact]]:
    """Jobs of a fine grid; thickness on steps that hold every end a rule can have, and points beside them."""
    surfaces = [frozenset(some) for count in range(3) for some in combinations(SURFACES, count)]
    sizes = [round(number * STEP, 10) for number in range(18, 146)]
    for joint, base, alloy, surface in product(JOINTS, BASES, (None, "x", "y", "z"), surfaces):
        for cast, current in product((True, False), (None, *halves_of_grid())):
            for thickness in sizes:
                yield {
                    "joint": joint, "base": base, "alloy": alloy, "surface": surface, "cast": cast,
                    "thickness": thickness, "current": current,
                }  # fmt: skip


def halves_of_grid() -> list[float]:
    """Every end a range of the current can have, and a number between each two: the current may also be missing."""
    return [number / 4 for number in range(3, 26)]


# A prime stride: every joint, base, surface and size still meets the others.
GRID = list(islice(grid(), 0, None, 173))


def says(rule: Mapping[str, Any], facts: Mapping[str, Fact]) -> tuple[float, float] | None:
    """(low, high) of a start at one job, or None where it is silent."""
    body, at = rule["body"], float(str(facts["thickness"]))
    if "rows" in body:
        found = interpolate(body["rows"], at)
        return found[:2] if found else None
    if "sizes" in body:
        serving = [size for size, low, high in body["sizes"] if low <= at <= high]
        return (min(serving), max(serving)) if serving else None
    return body["low"], body["high"]


def same_voice(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    own = [rule["layer"] == "shop" and rule["sources"][0]["evidence"] == "trial" for rule in (one, other)]
    return all(own) or (not any(own) and one["sources"][0]["title"] == other["sources"][0]["title"])


def printed_here(rule: Mapping[str, Any], facts: Mapping[str, Fact]) -> bool:
    return all(facts.get(key) in values for key, values in rule["printed_for"].items())


def clash(one: Mapping[str, Any], other: Mapping[str, Any], facts: Mapping[str, Fact]) -> bool:
    """Whether two rules cannot both hold for one job, straight from the text of `conflicts.py`."""
    if any(one[key] != other[key] for key in ("layer", "topic", "effect")):
        return False
    if not (holds(one["when"], facts) and holds(other["when"], facts)):
        return False
    a, b = one["body"], other["body"]
    if one["effect"] == "limit":
        pairs = ((a, b), (b, a))
        return any(x.get("floor", -math.inf) > y.get("ceiling", math.inf) for x, y in pairs)
    if one["effect"] == "adjust":
        return bool(one["carries"]) and one["carries"] == other["carries"] and a != b
    if one["effect"] == "choose":
        for x, y in ((a, b), (b, a)):
            only = set(x.get("only", ()))
            if only and ((("only" in y) and not only & set(y["only"])) or only <= set(y.get("avoid", ()))):
                return True
        return False
    if not same_voice(one, other) or not (printed_here(one, facts) and printed_here(other, facts)):
        return False
    mine, theirs = says(one, facts), says(other, facts)
    if mine is None or theirs is None:
        return False
    return mine[1] < theirs[0] * 0.99 or theirs[1] < mine[0] * 0.99


def contains(box: Box, facts: Mapping[str, Fact]) -> bool:
    return all(term_holds(term, facts.get(name)) for name, term in box.items())


def term_holds(term: Any, fact: Fact) -> bool:
    if isinstance(term, Sets):
        assert isinstance(fact, frozenset)
        return all(fact & group for group in term.wanted) and not fact & term.banned
    if fact is None:
        return bool(term.missing)
    if isinstance(term, Words):
        return (term.allowed is None or fact in term.allowed) and fact not in term.banned
    assert isinstance(term, Numbers) and isinstance(fact, float)
    near = [
        (fact > low - 1e-9 if low_in else fact > low + 1e-9) and (fact < high + 1e-9 if high_in else fact < high - 1e-9)
        for low, low_in, high, high_in in term.intervals
    ]
    return any(near)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(rules=rule_sets())
def test_conflicts_are_those_that_asking_every_job_finds(rules: list[dict[str, Any]]) -> None:
    found = {(one.first["id"], one.second["id"]): one.boxes for one in conflicts(rules, WORLD)}
    for one, other in combinations(rules, 2):
        boxes = found.get((one["id"], other["id"]), ())
        for facts in GRID:
            assert clash(one, other, facts) == any(contains(box, facts) for box in boxes), (one, other, facts)


@st.composite
def two_tables(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Two tables of one voice that both speak everywhere: lines that cross, bands that overlap."""
    rules = draw(rule_sets(most=2))
    tens = st.integers(3, 12).map(lambda number: 10.0 * number)
    for rule in rules:
        ats = sorted(draw(st.lists(halves, min_size=2, max_size=4, unique=True)))
        rows = [[at, *sorted((draw(tens), draw(tens)))] for at in ats]
        body = draw(st.sampled_from(({"over": "thickness", "rows": rows}, {"low": rows[0][1], "high": rows[0][2]})))
        rule.update(
            topic="current", effect="start", layer="built-in", carries="", when=["all", []], printed_for={}, body=body
        )
        rule["sources"] = [{"title": "A", "lineage": "A", "evidence": "read", "kind": "handbook"}]
    return rules


@settings(max_examples=200, deadline=None, derandomize=True)
@given(rules=two_tables())
def test_tables_of_one_voice_are_apart_just_where_asking_every_size_says(rules: list[dict[str, Any]]) -> None:
    boxes = [box for one in conflicts(rules, WORLD) for box in one.boxes]
    for number in range(90, 1460):
        facts: dict[str, Fact] = {"thickness": number / 200}
        assert clash(rules[0], rules[1], facts) == any(contains(box, facts) for box in boxes), (rules, facts)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(rules=rule_sets())
def test_every_region_told_holds_a_job_for_which_the_rules_do_clash(rules: list[dict[str, Any]]) -> None:
    for one in conflicts(rules, WORLD):
        for box in one.boxes:
            facts = a_job_in(box)
            assert clash(one.first, one.second, facts), (one, facts)


def a_job_in(box: Box) -> dict[str, Fact]:
    """A job within a box: of a word the first one that fits, of a number the middle of its first stretch."""
    facts: dict[str, Fact] = {"joint": "butt", "base": "aluminium", "cast": False, "surface": frozenset()}
    facts["thickness"] = 3.0
    for name, term in box.items():
        if isinstance(term, Sets):
            facts[name] = frozenset(sorted(group - term.banned)[0] for group in term.wanted)
        elif isinstance(term, Words):
            words = sorted((term.allowed or {"z"}) - term.banned, key=str)
            facts[name] = words[0] if words else None
        else:
            low, _, high, _ = term.intervals[0]
            facts[name] = 3.0 if (low, high) == (-math.inf, math.inf) else _middle(low, high)
    return facts


def _middle(low: float, high: float) -> float:
    return high - 1 if low == -math.inf else low + 1 if high == math.inf else (low + high) / 2


@settings(max_examples=150, deadline=None, derandomize=True)
@given(condition=conditions)
def test_a_rule_is_dead_just_when_no_job_of_the_grid_meets_it(condition: list[Any]) -> None:
    rule = {"when": condition, "printed_for": {}, "effect": "limit", "body": {"floor": 1.0}}
    # A job of another alloy than any rule names is among them: names of alloys have no end.
    met = any(holds(condition, facts) for facts in GRID) or any(holds(condition, facts) for facts in grid())
    assert (why_dead(rule, WORLD) == "") == met, condition


def test_what_only_a_job_without_a_fact_meets_is_not_dead() -> None:
    low, high = (["range", "current", *ends, ""] for ends in ((None, True, 5.0, True), (5.0, False, None, True)))
    neither = {"when": ["all", [["not", low], ["not", high]]], "printed_for": {}, "effect": "limit", "body": {}}
    assert holds(neither["when"], {"current": None}) and not holds(neither["when"], {"current": 5.0})
    assert why_dead(neither, WORLD) == ""
    # A fact that every job states cannot be missing: the same rule is dead then.
    assert why_dead(neither, WORLD._replace(stated=frozenset(("current",))))


@settings(max_examples=100, deadline=None, derandomize=True)
@given(rules=rule_sets(most=6))
def test_masked_rules_are_those_that_no_job_of_the_grid_lets_speak(rules: list[dict[str, Any]]) -> None:
    starts = [rule for rule in rules if rule["effect"] == "start"]
    told = {item.rule["id"] for item in masked(rules, WORLD) if item.rule["effect"] == "start"}
    for rule in starts:
        above = [other for other in starts if rule["layer"] == "built-in" and other["layer"] == "shop"]
        speaks = [facts for facts in GRID if holds(rule["when"], facts) and says(rule, facts)]
        heard = [facts for facts in speaks if not any(holds(o["when"], facts) and says(o, facts) for o in above)]
        if rule["id"] in told:
            assert not heard, (rule, heard[0])
        elif speaks and above:
            # Not told though no job of the grid lets it speak: only where rules for named alloys would have to add up.
            assert heard or any("alloy" in attributes_in(other["when"]) for other in above), rule


def _starting(name: str, layer: str, body: dict[str, Any]) -> dict[str, Any]:
    source = {"title": name, "lineage": name, "evidence": "read", "kind": "handbook"}
    return {"id": name, "layer": layer, "topic": "current", "when": ["all", []], "effect": "start", "body": body,
            "printed_for": {}, "sources": [source]}  # fmt: skip


def test_a_rule_is_not_called_unheard_where_it_still_counts() -> None:
    """A guarded number of the shipped rules holds under any layer, and a rule that computes may have nothing to say."""
    low = _starting("low", "built-in", {"low": 1.0, "high": 2.0})
    plain = _starting("plain", "shop", {"low": 3.0, "high": 4.0})
    computes = _starting("computes", "shop", {"compute": "filler_rate", "with": {"current": "current"}})
    assert [item.rule["id"] for item in masked([low, plain], WORLD)] == ["low"]
    assert list(masked([low, computes], WORLD)) == []
    for guard in ("strictest", "never_below"):
        topics = {"current": VOCABULARY.topics["current"]._replace(**{guard: True})}
        world = WORLD._replace(vocabulary=VOCABULARY._replace(topics=topics))
        assert list(masked([low, plain], world)) == []
