"""Sheets made once for all tests that look at them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any, NamedTuple

import pytest

from advisor.flags.options import Flags, job_from
from advisor.heat.answer import HeatAnswer, heat_answer
from advisor.heat.text import heat_json
from advisor.setup.as_json import advice_json
from advisor.sheet import page as sheet
from advisor.sheet.command import curves_of, uses_of
from advisor.sheet.data import sheet_data
from tests.sheet.jobs import FILES, JOBS


class Made(NamedTuple):
    """A sheet with what it was made from."""

    answer: HeatAnswer
    data: dict[str, Any]
    html: str
    advice: dict[str, Any]
    heat: dict[str, Any]


def make(flags: Flags) -> Made:
    rulebook, units, job = job_from(flags)
    answer = heat_answer(rulebook, job)
    curves, uses = curves_of(rulebook, answer), uses_of(rulebook, answer, units)
    data = sheet_data(answer, units, curves, date(2026, 1, 2), True, uses)
    return Made(answer, data, sheet.html(data), advice_json(answer.advice), heat_json(answer))


def flags_of(words: dict[str, Any]) -> Flags:
    words = dict(words)
    return Flags(metal=words.pop("metal"), thickness=words.pop("thickness"), words=words)


@pytest.fixture(scope="session")
def sheets(cache: Any) -> dict[str, Made]:
    made = {name: make(flags_of(words)) for name, words in JOBS.items()}
    return made | {name: make(Flags(job=path)) for name, path in FILES.items()}


@pytest.fixture(scope="session")
def make_sheet(cache: Any) -> Callable[[dict[str, Any]], Made]:
    return lambda words: make(flags_of(words))
