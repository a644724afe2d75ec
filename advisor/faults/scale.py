"""The numbers behind the words of the fault knowledge: how common, how strong, how often an answer is wrong.

They are judgement, not published (evidence: common-practice): no handbook gives percentages. They were set so that
the mean probability of the causes that sources name is highest on the tune half of the cases (`tests/faults`), with
stated probabilities kept below the share of cases that come out right; the test half was not used for it.
"""

from __future__ import annotations

from typing import NamedTuple

# How common a sign is, whatever the cause: probability that it is there.
COMMON = {"rare": 0.005, "seldom": 0.018, "sometimes": 0.06, "often": 0.2, "usual": 0.5}
# How a sign bears on a cause: shift of its log odds of being there.
SPEAKS = {"strongly-for": 3.4, "for": 1.9, "against": -1.2, "strongly-against": -2.8}
# A sign that speaks for a cause is there at least this often under it, however rare it is otherwise.
LEAST = {"strongly-for": 0.70, "for": 0.22, "against": 0.0, "strongly-against": 0.0}
# A symptom that only shop habit, and no document that was read, ties to a cause counts this much of that.
JUDGED = 0.8
# How common a cause is before anything is known, as shares.
PRIOR = {"high": 4.0, "medium": 2.0, "low": 1.0}
# Share of cases that no single cause of the list explains: several at once, or one that is not listed.
UNSETTLED = 0.06


class StatementTrust(NamedTuple):
    """How far to trust a statement: probability that it is made where the sign is there, and where it is not."""

    when_there: float
    when_not: float


# `seen` is volunteered: what is not mentioned says nothing. A bead shows few of the many signs, so that a false mention
# of one in sixty signs that are not there already makes a fifth of all mentions wrong (checked by simulation).
SEEN = StatementTrust(1.0, 0.016)
# Volunteered in words that the catalogue does not quite know: the sign itself may be another one.
GUESSED = StatementTrust(1.0, 0.04)
# Answers to a question, and denials: one in five is wrong.
YES = StatementTrust(0.8, 0.2)
NO = StatementTrust(0.2, 0.8)
# What the job itself says: the alloy, the settings beside their advised range.
FACT = StatementTrust(0.97, 0.03)
NO_FACT = StatementTrust(0.03, 0.97)
# A setting inside its advised range: the range is wide, and this seam may still have wanted another.
INSIDE = StatementTrust(0.4, 0.9)

# One cause is named as settled from this probability on, and only where it leads the second by this factor.
SETTLED = 0.36
LEADS_BY = 1.4
# Work for having to change over to a check at all [minutes]: two looks cost more than one.
CHANGEOVER = 3.0
# A check that tells less than this [bit] is not worth naming.
LEAST_GAIN = 0.003
