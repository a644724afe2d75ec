"""Sheets in a real browser: nothing runs over at phone, tablet and desk width; nothing is fetched; nothing serious by
axe-core; two pages on both papers. And on the text alone: no address outside, all parts there, names shown as text."""

from __future__ import annotations

import re
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from advisor.journal.store import Journal
from advisor.journal.trial import Trial, TrialCase
from advisor.plain_text import shown as safe
from advisor.resources import journal_file
from advisor.sheet import page as sheet
from tests.sheet.browser import looked_at, printed_pages
from tests.sheet.conftest import Made

HOSTILE = [
    '<script>alert("x")</script>',
    "\"quotes\" and 'quotes' & <b>bold</b> {{ 7 * 7 }}",
    "خزان تبريد ‮ mixed with English",
    "tank 🔥🛠️ " + "x" * 80,
    "long " * 2000,
    "W" * 10_000,
]


@pytest.fixture(scope="module", params=[False, True], ids=["light", "dark"])
def seen(request: pytest.FixtureRequest, sheets: dict[str, Made], tmp_path_factory: pytest.TempPathFactory) -> Any:
    pages = {name: made.html for name, made in sheets.items()}
    if request.param:
        pages = {name: pages[name] for name in ("tee-tank", "butt-steel-v", "refused")}
    found, console = looked_at(tmp_path_factory.mktemp("pages"), pages, dark=request.param)
    assert found["dark"] is request.param
    assert set(found["jobs"]) == set(pages)
    return found["jobs"], console


def test_nothing_runs_over_at_any_width(seen: Any) -> None:
    for name, widths in seen[0].items():
        for width, found in widths.items():
            assert found["inner"] == int(width)
            assert found["scroll"] <= found["inner"], (name, width, found["wide"])
            assert not found["wide"], (name, width)
            assert not found["clipped"], (name, width)


def test_letters_in_drawings_stay_inside_and_large_enough(seen: Any) -> None:
    for name, widths in seen[0].items():
        for width, found in widths.items():
            assert not found["outside"], (name, width)
            assert found["letters"] is None or found["letters"] >= 9, (name, width, found["letters"])


def test_nothing_is_fetched_and_the_console_stays_empty(seen: Any) -> None:
    assert not [found["fetched"] for widths in seen[0].values() for found in widths.values() if found["fetched"]]
    assert not seen[1]


def test_axe_finds_nothing_serious(seen: Any) -> None:
    for name, widths in seen[0].items():
        for width in ("360", "1280"):
            assert widths[width]["passed"] > 10
            serious = [item for item in widths[width]["axe"] if item[0] in ("serious", "critical")]
            assert not serious, (name, width, serious)


def test_paper_is_white_by_day_and_dark_by_night(seen: Any, request: pytest.FixtureRequest) -> None:
    colours = {widths["360"]["paper"] for widths in seen[0].values()}
    assert colours in ({"rgb(255, 255, 255)"}, {"rgb(18, 18, 18)"})
    assert (colours == {"rgb(18, 18, 18)"}) == request.node.name.endswith("[dark]")


def test_each_sheet_prints_on_at_most_two_pages(sheets: dict[str, Made], tmp_path: Path) -> None:
    def count(item: tuple[str, str]) -> tuple[str, str, int]:
        name, paper = item
        return name, paper, printed_pages(tmp_path, f"{name}-{paper}", sheet.html(sheets[name].data, paper))

    with ThreadPoolExecutor(2) as pool:
        counts = list(pool.map(count, [(name, paper) for name in sheets for paper in sheet.PAPERS]))
    assert [item for item in counts if not 1 <= item[2] <= 2] == []


def test_a_page_names_nothing_outside_itself(sheets: dict[str, Made]) -> None:
    for made in sheets.values():
        page = re.sub(r'xmlns(:xlink)?="http://www\.w3\.org/[^"]+"', "", made.html)
        assert not re.search(r"(?:src|href|srcset|action)\s*=\s*[\"'](?!#)", page)
        assert not re.search(r"url\((?!#)|@import|<script|<link|<iframe|<object|\son\w+=\"", page)
        identifiers = re.findall(r'\bid="([^"]+)"', page)
        assert len(identifiers) == len(set(identifiers))


def test_an_advised_sheet_holds_all_its_parts(sheets: dict[str, Made]) -> None:
    made = sheets["tee-tank"]
    advice, page = made.answer.advice, made.html
    for setting in advice.settings.values():
        assert f">{setting.label}" in page
    for rule in {said.rule_id for setting in advice.settings.values() for said in setting.said}:
        assert f"<code>{rule}</code>" in page
    for ruleset in advice.rulesets:
        assert ruleset["name"] in page
    assert advice.content_hash in page and "2026-01-02" in page
    steps = sum(len(found) for found in advice.steps.values())
    assert page.count('type="checkbox"') == steps > 20
    assert page.count("<figure") == 5 + 2
    assert page.count('class="log"') == 3


@pytest.mark.parametrize("name", ["tee-tank", "refused", "no-rule", "butt-steel-v"])
def test_cautions_and_codes_are_on_every_sheet(sheets: dict[str, Made], name: str) -> None:
    made = sheets[name]
    for caution in made.answer.advice.cautions:
        assert sheet_text(caution.hazard.rstrip(".")) in made.html
    for code in made.answer.advice.codes:
        assert sheet_text(code.code) in made.html
    assert made.answer.advice.cautions


def sheet_text(text: str) -> str:
    from markupsafe import escape

    return str(escape(text))


def test_a_refused_sheet_gives_no_number_and_says_what_instead(sheets: dict[str, Made]) -> None:
    page = sheets["refused"].html
    assert "Not advised" in page and "Instead:" in page
    assert 'class="large"' not in page and "<figure" not in page
    assert "No rule covers this" in sheets["no-rule"].html
    assert 'class="large"' not in sheets["no-rule"].html


def test_restricted_work_says_stop_above_the_settings(sheets: dict[str, Made]) -> None:
    page = sheets["butt-steel-v"].html
    assert page.index("STOP: structural work") < page.index('class="large"')


@pytest.mark.parametrize("name", HOSTILE, ids=["script", "quotes", "rtl", "emoji", "long", "unbroken"])
def test_hostile_names_are_shown_as_text(make_sheet: Callable[[dict[str, Any]], Made], name: str) -> None:
    made = make_sheet({"metal": ["A36"], "thickness": ["2 mm"], "joint": "tee", "name": name})
    # A character that turns the direction of what follows is never shown.
    shown = " ".join(safe(name).split())
    assert "<script" not in made.html and "<b>bold" not in made.html and "49" not in made.data["title"]
    assert sheet_text(shown[:100]) in made.html
    assert len(made.html) < 300_000
    text = sheet.markdown(made.data)
    assert "<script" not in text and "<b>" not in text


def test_hostile_names_do_not_run_over(make_sheet: Callable[[dict[str, Any]], Made], tmp_path: Path) -> None:
    job = {"metal": ["A36"], "thickness": ["2 mm"], "joint": "tee"}
    pages = {f"h{index}": make_sheet({**job, "name": name}).html for index, name in enumerate(HOSTILE)}
    found, console = looked_at(tmp_path, pages, dark=False, check=False)
    assert not console
    for name, widths in found["jobs"].items():
        for width, item in widths.items():
            assert item["scroll"] <= item["inner"], (name, width, item["wide"])


def test_the_command_writes_each_form(prestrike: Callable[..., Any], tmp_path: Path) -> None:
    job = ("--metal", "304", "--thickness", "2 mm", "--joint", "butt")
    for ending, start in ((".html", b"<!DOCTYPE html>"), (".md", b"# Bench sheet"), (".pdf", b"%PDF-")):
        ran = prestrike("sheet", *job, "-o", str(tmp_path / f"s{ending}"))
        assert ran.code == 0, ran.err
        assert (tmp_path / f"s{ending}").read_bytes().startswith(start)
    assert prestrike("sheet", *job, "-o", str(tmp_path / "s.docx")).code == 2
    assert prestrike("sheet", *job, "-o", str(tmp_path / "none" / "s.html")).code == 2
    assert prestrike("sheet", "--metal", "7075", *job[2:], "-o", str(tmp_path / "r.html")).code == 4


def test_what_the_seam_uses_up_is_that_of_the_single_command(
    sheets: dict[str, Made], prestrike: Callable[..., Any]
) -> None:
    job = ("--metal", "6061-T6", "--thickness", "1/8 in", "--joint", "corner-closed", "--length", "12 in")
    told = prestrike("consumables", *job, "--json").json
    minutes = told["together"]["arc_s"]["start"] / 60
    assert f"arc {minutes:.1f} min" in sheets["corner-closed"].data["uses"]
    assert sheet_text(sheets["corner-closed"].data["uses"]) in sheets["corner-closed"].html
    assert sheets["corner-open"].data["uses"] == ""


def test_own_trials_lie_on_the_curve_of_their_metal(make_sheet: Callable[[dict[str, Any]], Made]) -> None:
    job = {"metal": ["5052"], "thickness": ["2 mm"], "joint": "butt"}
    bare = make_sheet(job)
    with Journal(journal_file()) as journal:
        case = TrialCase("141", ("5052",), "butt", "PA", 2.0, 2.0)
        for number, (verdict, at) in enumerate([("good", case), ("bad", case), ("good", case._replace(joint="tee"))]):
            used = {"current": 90.0 + number}
            journal.add(Trial(f"20260101-000000-0000000{number}", "2026-01-01T00:00:00+00:00", at, used, verdict))
        journal.add(
            Trial("20260101-000000-00000009", "2026-01-01T00:00:01+00:00", case, {"current": 91.0}, "bad",
                  corrects="20260101-000000-00000001", withdrawn=True)
        )  # fmt: skip
    try:
        page = make_sheet(job).html
    finally:
        journal_file().unlink()
    assert "Own trial" not in bare.html
    assert "Own trials: filled good" in page
    assert re.findall(r"Own trial, (\w+): 2 mm (\d+) A", page) == [("good", "90")]
