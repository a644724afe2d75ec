"""`prestrike setup`: the whole answer for a job."""

from __future__ import annotations

import sys

from advisor.cli.answering import answer
from advisor.cli.options import AsJson, Brief, Flags, takes_job


@takes_job
def command(flags: Flags, brief: Brief = False, json: AsJson = False) -> None:
    """Settings, joint preparation, cleaning, holding, a coupon to run first, cautions and codes for a job.

    Example: prestrike setup --metal 5052-H32 --thickness "3.2 mm" --metal 6061-T6 --thickness "6.4 mm"
    --joint tee --service leak-tight
    """
    sys.exit(answer(flags, as_json=json, brief=brief))
