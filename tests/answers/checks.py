"""What must hold of every finished answer. A check yields (kind, detail) for each contradiction it finds."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise
from types import MappingProxyType

from advisor.answer.answer import Setting
from tests.answers.finished import Finished
from tests.answers.pairs import opposite_words
from tests.answers.repeats import said_twice

Found = Iterator[tuple[str, str]]
NEAR = 0.01
# Heat that is not preheat of the joint: what is not to be held, and a part warmed before it is fitted up.
_FREE = re.compile("not hold them|warm the casting alone")


def aim(answer: Finished) -> Found:
    """The computed aim, the steps that aim and the words about both agree."""
    unequal = answer.advice.unequal
    if unequal is None:
        return
    toward = [rule for rule in answer.has("aim") + answer.has("favour") if "unequal" in rule or "lap" in rule]
    offset = unequal.detail.get("offset_mm")
    text = unequal.message
    thickness = [member.thickness.value for member in answer.job.members]
    if offset is None:
        return
    if abs(offset) < 0.5:
        if re.search(r"Aim [\d.]+ (mm|in)", text):
            yield "an aim below half a millimetre is called a distance", text[:80]
        if toward:
            yield "aimed on the seam by one line and at a member by another", f"{offset} {toward}"
        return
    if "on the joint line" in text or "on the seam" in text:
        yield "an aim off the seam is called on the seam", text[:80]
    more = thickness[-1] if offset > 0 else thickness[0]
    if more < max(thickness) and answer.has("thicker member"):
        yield "aimed at the thinner by one line and at the thicker by another", f"{offset} {toward}"
    if answer.job.joint == "lap" and offset < 0 and answer.has("favour the lower"):
        yield "aimed at the upper sheet by one line and at the lower by another", f"{offset}"


def pair_current(answer: Finished) -> Found:
    """What fits the pair, by the sentence, is the start of the table."""
    unequal = answer.advice.unequal
    if unequal is None:
        return
    start = answer.advice.settings["current"].start
    said = re.search(r"About (\d+) A fits", unequal.message)
    if said and abs(float(said.group(1)) - start) > 1:
        yield "the sentence of the pair gives another current than the table", f"{said.group(0)} against {start:.0f} A"


def heat_limits(answer: Finished) -> Found:
    """Nothing is heated further before the arc than it may be between runs; nothing wanted is above what is allowed."""
    found = answer.advice.preparation
    most = [found[name] for name in ("preheat", "interpass") if name in found]
    if len(most) == 2 and most[0].high > most[1].high + NEAR:
        yield "preheat may be hotter than interpass", f"{most[0].high:.0f} against {most[1].high:.0f} degC"
    wanted = found.get("preheat_wanted")
    for limit in most:
        if wanted is not None and wanted.high > limit.high + NEAR:
            yield "preheat is wanted above a limit", f"{wanted.high:.0f} against {limit.name} {limit.high:.0f} degC"
    lowest = min((limit.high for limit in most), default=math.inf)
    for rule, text in ((rule, text) for rule, text in answer.said() if not _FREE.search(text)):
        for degrees in re.findall(r"(?:[Pp]reheat|[Ww]arm|[Hh]eat)[^.;]*?(\d+) °C", text):
            if float(degrees) > lowest + 1:
                yield f"a step heats above the limit: {rule}", f"{degrees} against {lowest:.0f} degC"
    for reach in answer.heat.reach:
        said = re.search(r"limit of (\d+)", reach.text)
        if said and float(said.group(1)) > lowest + 1:
            yield "heat preheats above the limit of setup", f"{reach.text[:60]} against {lowest:.0f}"


def clean_time(answer: Finished) -> Found:
    """How long cleaned metal stays good is one number."""
    lasting = answer.advice.preparation.get("clean_lasts")
    for step in answer.steps():
        if step.lasts is None or lasting is None:
            continue
        if abs(step.lasts - lasting.start) > 1:
            yield "clean for one time, good for another", f"{lasting.start / 3600:g} h against {step.lasts / 3600:g} h"


def clean_width(answer: Finished) -> Found:
    """How wide is cleaned is one number; only the stripping of a coating names its own."""
    width = answer.advice.preparation.get("clean_width")
    if width is None:
        return
    for rule, text in answer.said():
        for said in re.findall(r"(\d+) mm(?: \(1 in\))? each side", text):
            if abs(float(said) - width.start) > 1:
                yield f"cleaned to two widths: {rule}", f"{said} mm against {width.start:.0f} mm"


def gap(answer: Finished) -> Found:
    """A gap that is set is not shut by a step, nor shut by one that is set."""
    found = answer.advice.preparation.get("root_gap")
    if found is None:
        return
    shut = ("gaps shut", "leave no gap", "close the gap")
    for word in shut:
        for rule in answer.has(word):
            if found.start > NEAR:
                yield f"a gap is set and shut: {rule}", f"{found.start:.1f} mm"
    groove = _first(answer, "groove")
    if "close" in groove and found.start > NEAR:
        yield f"a gap beside '{groove}'", f"{found.start:.1f} mm"
    if "gapped" in groove and found.high < NEAR:
        yield f"no gap beside '{groove}'", f"{found.high:.1f} mm"


def groove(answer: Finished) -> Found:
    """A square edge has no angle and no root face; a root face is left only under a bevel."""
    first, numbers = _first(answer, "groove"), answer.advice.preparation
    for name in ("groove_angle", "root_face"):
        if first.startswith(("square", "flanged", "edges flush")) and name in numbers:
            yield f"{name} beside '{first}'", f"{numbers[name].start:g}"
    if "both sides" in first and answer.job.access == "one-side":
        yield "both sides welded where only one is reached", first
    said = re.search(r"(\d+) to (\d+) deg", first)
    angle = numbers.get("groove_angle")
    if said and angle and not float(said.group(1)) - 1 <= angle.start <= float(said.group(2)) + 1:
        yield "two groove angles", f"{first} against {angle.start:.0f}"


def backing(answer: Finished) -> Found:
    """Steps about a bar, or about gas behind the root, only where that is what stands there."""
    mine = answer.job.backing
    best = _first(answer, "backing")
    for rule in answer.has("cut the bar's groove") + answer.has("over a bar"):
        if mine in ("none", "purge") or (not mine and best.startswith(("none", "argon"))):
            yield f"a step about a bar where none stands: {rule}", f"{mine or best}"
    for rule in answer.has("argon in behind") + answer.has("purge with argon"):
        if mine in ("none", "temporary-bar", "grooved-bar", "copper"):
            yield f"a step about purging where a bar or nothing stands: {rule}", mine
    first = _first(answer, "groove")
    if "bar" in first and mine in ("none", "purge"):
        yield "edges prepared for a bar where none stands", f"{first}; {mine}"
    said = any(note.startswith("behind the root") for note in answer.advice.notes)
    if mine == "none" and best and not best.startswith("none") and not said:
        yield "a backing is advised first, the job says none, and nothing is said of it", best


def leg(answer: Finished) -> Found:
    """The leg of a lap is no larger than the sheet whose edge it lies on."""
    found = answer.advice.preparation.get("fillet_leg")
    if found is None or any("more than the" in note for note in answer.advice.notes):
        return  # a leg the user asks for, beside a note that it is more than fits
    upper = answer.job.members[0].thickness.value
    if answer.has("no larger than the upper sheet") and found.start > upper + NEAR:
        yield "a lap's leg larger than its sheet", f"{found.start:.1f} mm on {upper:g} mm"
    if answer.has("short of the plate's upper edge") and found.start > upper - 1.6 + NEAR:
        yield "a lap's leg up to the plate's edge", f"{found.start:.1f} mm on {upper:g} mm"


def machine(answer: Finished) -> Found:
    """No range reaches beyond the machine, and what it cannot give is said."""
    mine, verdict = answer.job.machine, answer.advice.machine
    current = answer.advice.settings.get("current")
    if mine is None or current is None or answer.advice.status != "advised":
        return
    if mine.high is not None and current.high > mine.high + NEAR:
        one = current.high - current.low < NEAR
        if not (one and verdict is not None and verdict.status in ("short", "wrong-current")):
            yield "a range above the machine's most", f"{current.low:.0f}-{current.high:.0f} A of {mine.high:.0f} A"
        elif f"{mine.high:g} A" not in verdict.message:
            yield "a current above the machine's most without a word", verdict.message
    if mine.low is not None and current.low < mine.low - NEAR and current.high > mine.low:
        yield "a range below the machine's least", f"{current.low:.0f}-{current.high:.0f} A of {mine.low:.0f} A"
    most = math.inf if mine.high is None else mine.high + NEAR
    if verdict is not None and verdict.status == "reaches" and current.start > most:
        yield "said to reach what it does not", verdict.message
    for name, control in (("ac_balance", mine.balance_control), ("ac_frequency", mine.frequency_control)):
        if control is False and name in answer.advice.settings:
            yield f"{name} is set on a machine that cannot", mine.name
    warm = answer.advice.warm
    said = warm is not None and mine.high is not None and f"ends at {mine.high:g} A" in warm.message
    if warm is not None and not said and max(warm.first_current, warm.last_current) > most:
        yield "the box is started above the machine's most", f"{warm.first_current:.0f} A of {most:.0f} A"


def duty(answer: Finished) -> Found:
    """One duty for one current, in setup, heat and consumables."""
    verdict = answer.advice.machine
    shares = [verdict.duty_percent if verdict else None, answer.heat.seam.duty_percent if answer.heat.seam else None]
    if answer.used is not None and answer.job.part is None:
        shares += [joint.duty.percent for joint in answer.used.joints if joint.duty]
    known = [share for share in shares if share is not None]
    if known and max(known) - min(known) > 0.5:
        yield "two duties for one seam", f"{known}"


def tacks(answer: Finished) -> Found:
    """The pitch and size of tacks are those of the plan and of the drawing."""
    plan, numbers = answer.heat.tacks, answer.advice.preparation
    if plan is None:
        return
    size, pitch = numbers["tack_length"].start, numbers["tack_pitch"].start
    if abs(plan.size - size) > NEAR:
        yield "two tack lengths", f"{size:.1f} against {plan.size:.1f} mm"
    places = [tack.place for tack in plan.tacks]
    spaces = [second - first for first, second in pairwise(places)]
    if spaces and abs(spaces[0] - pitch) > 0.06:
        yield "two tack pitches", f"{pitch:.1f} in the table, {spaces[0]:.1f} mm in the drawing"
    if not spaces and answer.has("tack the middle") + answer.has("tack the ends"):
        yield "ends and middle tacked in a step, one tack in the plan", f"{plan.tacks}"
    first = min(plan.tacks, key=lambda tack: tack.turn).place
    if len(plan.tacks) > 2 and answer.has("tack the ends") and first > places[0]:
        yield "the ends first by a step, the middle in the plan", f"{first:.0f} mm"
    if len(plan.tacks) > 2 and answer.has("tack the middle") and first == places[0]:
        yield "the middle first by a step, an end in the plan", f"{first:.0f} mm"
    if answer.heat.lengths and answer.has("from the middle outwards"):
        middle = answer.job.length.value / 2 if answer.job.length else 0
        away = [round(abs((item.begins + item.ends) / 2 - middle), 3) for item in answer.heat.lengths]
        if away != sorted(away):
            yield "from the middle by a step, from an end in the drawing", f"{away}"


def corners(answer: Finished) -> Found:
    """Seams of a box end at its corners."""
    if answer.job.part is not None and answer.has("never at a corner"):
        yield "never at a corner, where all seams of a box end", answer.job.joint


def tip(answer: Finished) -> Found:
    """The taper a step grinds is that of the tip angle."""
    angle = answer.advice.settings.get("tungsten_tip_angle")
    if angle is None:
        return
    for rule, text in answer.said():
        word = re.search(r"taper,? (two|2\.5|three)(?: to (three))? diameters", text)
        if not word:
            continue
        numbers = {"two": 2.0, "2.5": 2.5, "three": 3.0}
        longest, shortest = numbers[word.group(2) or word.group(1)], numbers[word.group(1)]
        least, most = (math.degrees(2 * math.atan(0.5 / length)) for length in (longest, shortest))
        if angle.high < least - 2 or angle.low > most + 2:
            yield (
                f"a taper of another angle: {rule}",
                f"{least:.0f}-{most:.0f} against {angle.low:.0f}-{angle.high:.0f}",
            )


def gas(answer: Finished) -> Found:
    """The gas the steps name is the gas chosen."""
    chosen = answer.job.gas or _choice(answer, "gas")
    if chosen in ("helium", "co2") and answer.has("use welding argon"):
        yield "argon in a step, another gas chosen", chosen


def puddle(answer: Finished) -> Found:
    """The puddle comes in the time that is computed."""
    strike = answer.heat.strike
    if strike is None or strike.puddle is None:
        return
    for rule, text in answer.said():
        said = re.search(r"within about (?:(\d+) to )?(\d+) seconds", text)
        if said and (strike.puddle[0] > 1.2 * float(said.group(2)) or strike.puddle[1] < float(said.group(1) or 0)):
            span = f"{strike.puddle[0]:.1f} to {strike.puddle[1]:.1f} s"
            yield f"two times for the puddle: {rule}", f"{said.group(0)} against {span}"


def seam_current(answer: Finished) -> Found:
    """Heat and consumables are counted at the settings of the table."""
    if answer.used is None or answer.job.part is not None:
        return
    mine = answer.advice.settings
    for joint in answer.used.joints:
        for name, setting in joint.advice.settings.items():
            if not _same(setting, mine[name]):
                yield f"consumables use another {name}", f"{setting.start:g} against {mine[name].start:g}"
        for name, setting in joint.advice.preparation.items():
            # Tacks stand evenly along a seam of known length; consumables count them seam by seam.
            if not name.startswith("tack") and not _same(setting, answer.advice.preparation[name]):
                was = answer.advice.preparation[name].start
                yield f"consumables prepare another {name}", f"{setting.start:g} against {was:g}"


def ranges(answer: Finished) -> Found:
    """A start lies in its range."""
    for setting in (*answer.advice.settings.values(), *answer.advice.preparation.values()):
        if not setting.low - 1e-6 <= setting.start <= setting.high + 1e-6:
            yield f"a start outside its range: {setting.name}", f"{setting.low} {setting.start} {setting.high}"


def warm_box(answer: Finished) -> Found:
    """A box of such corners starts at the current of the table."""
    warm, job = answer.advice.warm, answer.job
    if warm is None or job.joint != "corner-half-open" or job.position != "PA" or len(job.members) > 1:
        return
    start = answer.advice.settings["current"].start
    if (job.gas or "argon") == "argon" and abs(warm.first_current - start) > 1:
        yield "the box starts at another current than the table", f"{warm.first_current:.0f} against {start:.0f} A"


def drawn(answer: Finished) -> Found:
    """What the sheet prints large or small is what the answer holds, and each number is there once."""
    sheet = answer.sheet
    names = [item["name"] for item in (*sheet["large"], *sheet["small"])]
    names += [sheet["current"]["name"]] if sheet["current"] else []
    for name in {name for name in names if names.count(name) > 1}:
        yield f"printed twice on the sheet: {name}", ""


def position(answer: Finished) -> Found:
    """A seam called vertical down is not also told to go uphill without a word that this differs from the job."""
    if answer.job.position == "PG":
        for rule, text in answer.said():
            if "uphill" in text.casefold() and "downhill" not in text.casefold():
                yield f"vertical down, and uphill: {rule}", text[:60]


def do_not(answer: Finished) -> Found:
    """Settings are not given for what a caution says not to do at all."""
    if answer.advice.status == "advised":
        for word in ("do not weld it", "never heat one"):
            for rule in (rule for rule in answer.has(word) if not rule.startswith("identify")):
                yield f"settings beside a caution that says not to: {rule}", f"practice {answer.advice.practice_only}"


def _same(first: Setting, second: Setting) -> bool:
    return all(abs(getattr(first, end) - getattr(second, end)) < 1e-6 for end in ("low", "start", "high"))


def _first(answer: Finished, topic: str) -> str:
    options = answer.advice.preparation_choices.get(topic, [])
    return next((option.name for option in options if option.rank == 1), "")


def _choice(answer: Finished, topic: str) -> str:
    return next((option.name for option in answer.advice.choices.get(topic, []) if option.rank == 1), "")


def opposite(answer: Finished) -> Found:
    """No two lines of opposite sense."""
    yield from opposite_words(answer)


def repeated(answer: Finished) -> Found:
    """Nothing is said twice in the same words."""
    yield from said_twice(answer)


CHECKS: Mapping[str, Callable[[Finished], Found]] = MappingProxyType(
    {
        check.__name__: check
        for check in (
            aim, pair_current, heat_limits, clean_time, clean_width, gap, groove, backing, leg, machine, duty, tacks,
            corners, tip, gas, puddle, seam_current, ranges, warm_box, drawn, position, do_not, opposite, repeated,
        )
    }
)  # fmt: skip
