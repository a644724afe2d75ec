"""`prestrike learn`: what trials teach, and above all what it does not propose."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from advisor.job.reader import JobBuilder
from advisor.journal.exchange import to_json
from advisor.journal.store import standing
from advisor.journal.trial import Trial, TrialCase
from advisor.rulebook.library import Rulebook
from advisor.rulebook.listing import Layer
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import open_rules, open_shipped
from advisor.trials.factors import Learnt, learn
from advisor.trials.scope import Published, ScopeRequest, seams_of
from advisor.units.quantities import UnitTable

Run = Callable[..., Any]
ROOT = Path(__file__).resolve().parents[2]
ALUMINIUM = ("--metal", "5052", "--joint", "tee")


def trial(
    amps: float, size: float = 3.2, verdict: str = "good", metals: Sequence[str] = ("5052",), **more: Any
) -> Trial:
    trial.number += 1  # type: ignore[attr-defined]
    joint, gas, machine = more.pop("joint", "tee"), more.pop("gas", ""), more.pop("machine", "")
    case = TrialCase("141", tuple(metals), joint, "PA", size, more.pop("thicker", size), gas, machine)
    name = f"20261125-{trial.number:06d}-aa"  # type: ignore[attr-defined]
    used = {"current": amps, **more.pop("used", {})}
    return Trial(name, "2026-11-25T10:00:00+00:00", case, used, verdict)._replace(**more)


trial.number = 0  # type: ignore[attr-defined]


@pytest.fixture(scope="module")
def published(rulebook: Rulebook, units: UnitTable) -> Published:
    return Published(open_shipped(), units)


@pytest.fixture
def own(prestrike: Run, tmp_path: Path) -> Run:
    """The command with a configuration of its own; `rows` are the trials it reads."""

    def run(*arguments: str, rows: Sequence[Trial] | None = None) -> Any:
        if rows is not None:
            (tmp_path / "trials.json").write_text(to_json(rows), encoding="utf-8")
            arguments = (*arguments, "--journal", "trials.json")
        return prestrike(*arguments, cwd=tmp_path, env={"PRESTRIKE_CONFIG": str(tmp_path / "config")})

    return run


def current_of(published: Published, rows: Sequence[Trial], wanted: ScopeRequest = ScopeRequest()) -> Learnt:  # noqa: B008
    (seam,) = seams_of(standing(rows), wanted)
    return learn(seam, published.shipped.vocabulary.topics["current"], published)


def start_at(published: Published, row: Trial) -> float:
    settings = published.settings(row)
    assert not isinstance(settings, str)
    return settings["current"].start


@pytest.mark.parametrize(("metal", "joint"), [("5052", "tee"), ("A36", "butt"), ("304", "lap")])
def test_the_factor_is_on_the_published_start_of_each_size(published: Published, metal: str, joint: str) -> None:
    sizes = (1.6, 2.4, 3.2)
    starts = {size: start_at(published, trial(1, size, metals=(metal,), joint=joint)) for size in sizes}
    ratios = (1.17, 1.2, 1.23)
    rows = [trial(starts[size] * ratio, size, metals=(metal,), joint=joint) for size in sizes for ratio in ratios]
    found = current_of(published, rows)
    assert found.status == "proposed" and found.found is not None
    assert found.found.low < 1.2 < found.found.high and found.factor == pytest.approx(1.2, rel=0.02)
    assert [row.size for row in found.rows] == list(sizes)
    for row in found.rows:
        assert row.start == pytest.approx(1.2 * starts[row.size], rel=0.02)
        assert 1.17 * starts[row.size] <= row.low * 1.0001 and row.high <= 1.2301 * starts[row.size]


def layers_of(folder: Path, units: UnitTable) -> Callable[..., str]:
    """By metal, size and joint: the layer whose rule gives the current, with what was learnt in force."""
    book = open_rules([Layer("shop", folder / "config" / "rules")])

    def layer(metal: str, size: str, joint: str) -> str:
        job = JobBuilder(book, units).build({"members": [{"metal": metal, "thickness": size}], "joint": joint})
        return advise(book, job).settings["current"].layer

    return layer


def test_nothing_is_proposed_beyond_what_was_tried(own: Run, tmp_path: Path, units: UnitTable) -> None:
    rows = [trial(amps, size) for size, amps in ((2.0, 75), (2.0, 78), (3.2, 118), (3.2, 121), (3.175, 120))]
    made = own("learn", *ALUMINIUM, "--write", rows=rows)
    assert made.code == 0 and "written:" in made.out
    layers = layers_of(tmp_path, units)
    for size, tried in (("1.8 mm", False), ("2 mm", True), ("2.6 mm", True), ("1/8 in", True), ("3.6 mm", False)):
        assert (layers("5052", size, "tee") == "shop") is tried, size
    assert layers("5052", "3.2 mm", "butt") == layers("6061", "3.2 mm", "tee") == "built-in"


def test_no_line_is_drawn_over_a_gap_in_which_nothing_was_tried(own: Run, tmp_path: Path, units: UnitTable) -> None:
    rows = [trial(amps, size) for size, amps in ((1.6, 60), (1.6, 62), (3.2, 118), (3.2, 121), (4.8, 160))]
    found = own("learn", *ALUMINIUM, "--write", "--json", rows=rows)
    assert len(found.json["rule"]["ids"]) == 2
    layers = layers_of(tmp_path, units)
    found_in = [layers("5052", size, "tee") for size in ("1.6 mm", "2.4 mm", "4 mm")]
    assert found_in == ["shop", "built-in", "shop"]


@pytest.mark.parametrize("inch", [False, True])
def test_the_file_passes_the_check_names_its_trials_and_is_used(own: Run, inch: bool) -> None:
    flows = [{"gas_flow": flow} for flow in (9.0, 9.5, 9.2, 9.4)]
    rows = [trial(amps, used=used) for amps, used in zip((118, 121, 119, 122), flows, strict=True)]
    rows += [trial(140, verdict="bad"), trial(126, verdict="usable")]
    units = ("--units", "inch") if inch else ()
    shown = own("learn", *ALUMINIUM, *units, rows=rows)
    assert shown.code == 0 and "Not written" in shown.out
    assert own("rules", "where", "--json").json["layers"][1]["files"] == []
    assert max(len(line) for line in shown.out.split("THE RULE")[0].splitlines()) <= 80
    for line in ("published", "now", "with the rule"):
        assert line in shown.out
    written = own("learn", *ALUMINIUM, *units, "--write", "--json", rows=rows).json
    text = Path(written["rule"]["file"]).read_text(encoding="utf-8")
    assert text == written["rule"]["text"] and written["written"]
    assert "evidence: trial" in text and "kind: own-trials" in text
    joined = " ".join(text.split())
    assert all(row.id in joined for row in rows)
    assert ("cfh" in text) is inch and ("at: 0.126 in" in text) is inch
    checked = own("rules", "check")
    assert checked.code == 0, checked.out
    setting = own("setup", "--metal", "5052", "--thickness", "1/8 in", "--joint", "tee", "--json").json["settings"]
    after = written["learnt"][0]["rows"][0]["with_rule"]
    assert [setting["current"][key] for key in ("low", "start", "high")] == pytest.approx(after, rel=2e-3)
    assert setting["current"]["evidence"] == "trial" and setting["gas_flow"]["layer"] == "shop"
    assert setting["current"]["low"] >= 117.5 and setting["current"]["high"] <= 122.5


def test_what_was_learnt_before_teaches_nothing_and_its_history_goes_on(own: Run) -> None:
    rows = [trial(amps) for amps in (118, 121, 119)]
    first = own("learn", *ALUMINIUM, "--write", "--json", rows=rows).json
    again = own("learn", *ALUMINIUM, "--json", rows=rows).json
    assert again["learnt"][0]["factor"] == first["learnt"][0]["factor"]
    assert again["learnt"][0]["rows"][0]["now"] == first["learnt"][0]["rows"][0]["with_rule"]
    more = [*rows, trial(120), trial(122)]
    assert "exists" in own("learn", *ALUMINIUM, "--write", rows=more).err
    new = own("learn", *ALUMINIUM, "--write", "--replace", "--json", rows=more).json
    text = Path(new["rule"]["file"]).read_text(encoding="utf-8")
    assert "version: 1.1.0" in text and re.findall(r"learnt from (\d) good", text) == ["5", "3"]


def test_a_file_with_rules_of_the_persons_own_is_not_replaced(own: Run, tmp_path: Path) -> None:
    rows = [trial(amps) for amps in (118, 121, 119)]
    made = Path(own("learn", *ALUMINIUM, "--write", "--json", rows=rows).json["rule"]["file"])
    made.write_text(made.read_text(encoding="utf-8").replace("shop.learnt.", "shop.mine."), encoding="utf-8")
    again = own("learn", *ALUMINIUM, "--write", "--replace", rows=rows)
    assert again.code == 2 and "was not learnt" in again.err and "shop.mine." in made.read_text(encoding="utf-8")


def test_too_few(own: Run) -> None:
    found = own("learn", *ALUMINIUM, "--write", rows=[trial(118), trial(121), trial(90, verdict="bad")])
    assert found.code == 3 and "Too few" in found.out
    assert own("rules", "where", "--json").json["layers"][1]["files"] == []


def test_three_of_which_one_is_a_slip_are_two(published: Published) -> None:
    found = current_of(published, [trial(118), trial(121), trial(11.9)])
    assert found.status == "too-few" and len(found.slips) == 1


def test_bad_and_usable_trials_never_pull_the_factor(published: Published) -> None:
    good = [trial(amps) for amps in (118, 121, 119, 124)]
    alone = current_of(published, good)
    others = [trial(150, verdict="bad"), trial(152, verdict="bad"), trial(145, verdict="usable")]
    found = current_of(published, [*good, *others])
    assert found.found == alone.found
    near = current_of(published, [*good, trial(126, verdict="bad")])
    assert near.rows[0].high < 126 and near.rows[0].high <= alone.rows[0].high
    assert any("apart" in note for note in near.notes)


def test_bad_ones_set_like_good_ones_are_said(published: Published) -> None:
    found = current_of(published, [*(trial(amps) for amps in (118, 121, 119, 124)), trial(120, verdict="bad")])
    assert any("not this setting alone" in note for note in found.notes)


def test_only_bad_ones_propose_nothing(own: Run) -> None:
    found = own("learn", *ALUMINIUM, rows=[trial(amps, verdict="bad") for amps in (118, 121, 119)])
    assert found.code == 3 and "no good trial" in found.out


def test_corrections_are_respected(published: Published) -> None:
    first = trial(12.1)
    rows = [trial(118), trial(121), first, trial(121, corrects=first.id)]
    found = current_of(published, rows)
    assert found.status == "proposed" and first.id not in found.ids() and not found.slips
    taken_back = current_of(published, [*rows, trial(121, corrects=first.id, withdrawn=True)])
    assert taken_back.status == "too-few"


def test_trials_that_disagree_are_said_and_not_averaged(own: Run) -> None:
    rows = [trial(amps, machine="old") for amps in (98, 100, 101)] + [trial(a, machine="new") for a in (138, 140, 141)]
    both = own("learn", *ALUMINIUM, "--write", rows=rows)
    assert both.code == 3 and "by machine they differ: old" in " ".join(both.out.split())
    one = own("learn", *ALUMINIUM, "--machine", "old", "--write", "--json", rows=rows)
    assert one.code == 0 and "machine: old" in one.json["rule"]["text"] and "machine-rules" in one.json["rule"]["file"]


def test_two_camps_and_a_lean(published: Published) -> None:
    camps = current_of(published, [trial(amps) for amps in (98, 99, 100, 101, 140, 141, 142, 143)])
    assert camps.status == "disagree" and "two camps" in camps.disagree[0]
    starts = {size: start_at(published, trial(1, size)) for size in (1.6, 2.4, 3.2)}
    rows = [trial(starts[size] * ratio * wobble, size) for size, ratio in ((1.6, 1.3), (2.4, 1.1), (3.2, 0.9))
            for wobble in (0.99, 1.01)]  # fmt: skip
    leaning = current_of(published, rows)
    assert leaning.status == "disagree" and "lean with thickness" in leaning.disagree[0]
    band = current_of(published, [*rows, trial(starts[3.2] * 0.9)], ScopeRequest(thinnest=3.0))
    assert band.status == "proposed" and [row.size for row in band.rows] == [3.2]


def test_gas_that_was_really_used_makes_another_kind_of_seam(published: Published) -> None:
    rows = [trial(118), trial(95, chosen={"gas": "argon-helium"})]
    assert len(seams_of(rows, ScopeRequest())) == 2


def test_an_unequal_pair_is_held_to_its_sizes(own: Run, rulebook: Rulebook, units: UnitTable, tmp_path: Path) -> None:
    flags = ("--metal", "5052", "--thickness", "3.2 mm", "--metal", "6061", "--thickness", "1/4 in", "--joint", "tee")
    journal = ("--journal", "own.sqlite")
    for amps in ("160 A", "162 A", "164 A"):
        assert own("trial", "add", *flags, "--current", amps, "--verdict", "good", *journal).code == 0
    found = own("learn", "--write", "--json", *journal)
    assert found.code == 0 and "thinner:" in found.json["rule"]["text"]
    assert own("rules", "check").code == 0
    assert own("setup", *flags, "--json").json["settings"]["current"]["start"] == pytest.approx(162, rel=0.02)


def test_work_that_is_not_advised_teaches_nothing(published: Published) -> None:
    rows = [trial(120, metals=("7075",)) for _ in range(3)]
    found = current_of(published, rows)
    assert found.status == "nothing" and len(found.left_out) == 3


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--topic", "preheat"), "keeps metal and people from harm"),
        (("--topic", "lens-shade"), "keeps metal and people from harm"),
        (("--topic", "tungsten_diameter"), "stocked sizes"),
        (("--topic", "curent"), "did you mean 'current'?"),
        (("--from", "4 mm", "--to", "2 mm"), "swap them"),
        (("--from", "2"), "missing-unit"),
        (("--joint", "te"), "did you mean 'tee'?"),
        (("--metal", "6061"), "no trial is of the kind asked for"),
        (("--layer", "shp"), "did you mean 'shop'?"),
        (("--layer", "machine"), "--machine NAME"),
        (("--units", "imperial"), "no system of units"),
    ],
)
def test_words_that_do_not_hold_are_told(own: Run, arguments: tuple[str, ...], said: str) -> None:
    ran = own("learn", *arguments, rows=[trial(amps) for amps in (118, 121, 119)])
    assert ran.code == 2 and said in ran.err and "Traceback" not in ran.err


def test_several_kinds_of_seam_are_listed(own: Run) -> None:
    rows = [trial(118), trial(90, joint="butt", metals=("A36",))]
    assert own("learn", rows=rows).out.count("prestrike learn --metal") == 2
    assert len(json.loads(own("learn", "--json", rows=rows).out)["seams"]) == 2
    assert "several-scopes" in own("learn", "--write", rows=rows).err


def test_no_trial_at_all(own: Run) -> None:
    assert "trial add" in own("learn", "--journal", "none.sqlite").err
    assert "no trial" in own("learn", rows=[]).err


def test_the_trials_of_the_demo_teach(own: Run) -> None:
    found = own("learn", "--journal", str(ROOT / "advisor" / "demo" / "trials.csv"), "--json")
    assert found.code == 0 and [item["status"] for item in found.json["learnt"]] == ["proposed", "proposed"]
    assert found.json["learnt"][0]["slips"] == ["demo-09"]
