"""A job written back and read again is the same job."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.job.reader import JobBuilder, read_job_data
from advisor.job.writer import job_data
from advisor.resources import schema_file
from advisor.shop.rules_in_force import open_rules, units_of

DEMO = Path(__file__).resolve().parents[2] / "advisor" / "demo"
SIZES = ("3.2 mm", "1/8 in", "16 ga", "1 1/2 in", '0.125"')


@pytest.mark.parametrize("name", ["coolant-tank.yaml", "guard-bracket.yaml"])
def test_the_demo_jobs_come_back(name: str) -> None:
    book = open_rules()
    units = units_of(book)
    data, _ = read_job_data(DEMO / name, units, schema_file)
    job = JobBuilder(book, units).build(data)
    assert JobBuilder(book, units).build(job_data(job)) == job


@settings(max_examples=60, deadline=None)
@given(
    metals=st.lists(st.sampled_from(["5052-H32", "6061-T6", "A36", "304"]), min_size=1, max_size=2),
    sizes=st.lists(st.sampled_from(SIZES), min_size=2, max_size=2),
    joint=st.sampled_from(["butt", "tee", "lap", "corner-closed"]),
    extra=st.fixed_dictionaries(
        {},
        optional={
            "gas": st.just("argon"), "filler": st.just("ER4043"), "leg": st.sampled_from(SIZES[:2]),
            "length": st.just("300 mm"), "service": st.just(["leak-tight", "vehicle"]), "units": st.just("inch"),
            "used_container": st.just(True), "access": st.just("both-sides"), "place": st.just("outdoors"),
        },
    ),
)  # fmt: skip
def test_any_job_comes_back(metals: list[str], sizes: list[str], joint: str, extra: dict[str, object]) -> None:
    if joint not in ("tee", "lap", "corner-inside"):
        extra.pop("leg", None)  # a groove has no leg: that is an error
    book = open_rules()
    units = units_of(book)
    members = [{"metal": metal, "thickness": size} for metal, size in zip(metals, sizes, strict=False)]
    job = JobBuilder(book, units).build({"members": members, "joint": joint, **extra})
    again = JobBuilder(book, units).build(job_data(job))

    def plain(value: object) -> str:
        return str(job_data(value))  # type: ignore[arg-type]

    assert plain(again) == plain(job)
    pairs = zip(again.members, job.members, strict=True)
    assert all(abs(a.thickness.value - b.thickness.value) < 1e-5 for a, b in pairs)
    assert again.service == job.service and again.inch_first == job.inch_first
