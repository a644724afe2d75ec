"""Rules of one's own replace numbers and steps, never what keeps people from harm."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
JOB = ("--thickness", "3 mm", "--joint", "butt")
FILE = """\
kind: rules
ruleset: my-own
version: 1.0.0
schema: 1
history:
  - {{version: 1.0.0, date: 2026-11-25, change: first}}
sources:
  - {{id: own, title: Own, kind: shop-habit, evidence: common-practice}}
rules:
  - id: my.rule
    topic: {topic}
    when: {{process: "942"}}
    overrides: {target}
    reason: to see whether it can be switched off
    {body}
    source: [{{doc: own}}]
    because: "A try."
    examples:
      - {{job: {{process: "942"}}, fires: true}}
      - {{job: {{process: "141"}}, fires: false}}
"""
CAUTION = "caution: {level: note, hazard: none, do: nothing}"
CASES = [
    ("caution", "caution.eyes-skin", CAUTION, "6061", "ordinary"),
    ("code", "code.pressure", "refer: {code: none, about: nothing, defer_to: nobody}", "6061", "pressure"),
    ("refusal", "refusal.aluminium.7075", "refuse: {reason: none, instead: nothing}", "7075", "ordinary"),
]


@pytest.mark.parametrize(("topic", "target", "body", "metal", "service"), CASES)
def test_cautions_codes_and_refusals_cannot_be_replaced(
    prestrike: Run, tmp_path: Path, topic: str, target: str, body: str, metal: str, service: str
) -> None:
    (tmp_path / "own.yaml").write_text(FILE.format(topic=topic, target=target, body=body), encoding="utf-8")
    job = ("setup", "--metal", metal, *JOB, "--service", service)
    shipped = prestrike(*job, "--json").json
    part = {"caution": "cautions", "code": "codes", "refusal": "refusals"}[topic]
    assert target in {item["rule_id"] for item in shipped[part]}, "there is something to switch off"
    for command in (job, ("rules", "check")):
        ran = prestrike(*command, "--rules", str(tmp_path))
        said = ran.out + ran.err
        assert ran.code == 2 and "cannot be replaced" in said and "own.yaml:13" in said and "DIAL IN" not in said


def test_a_step_can_be_replaced(prestrike: Run, tmp_path: Path) -> None:
    """So that the refusal above is of harm, not of every replacement."""
    body = "step: {order: 27, do: Weld corners as this shop does}"
    (tmp_path / "own.yaml").write_text(
        FILE.format(topic="holding_step", target="hold.frame-order", body=body), encoding="utf-8"
    )
    ran = prestrike("setup", "--metal", "6061", *JOB, "--rules", str(tmp_path))
    assert ran.code == 0 and "hold.frame-order replaced by my.rule" in " ".join(ran.out.split())
