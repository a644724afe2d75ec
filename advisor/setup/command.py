"""`prestrike setup`: the whole answer for a job, or for many."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.flags.options import AsJson, Brief, Flags, takes_job
from advisor.setup.printing import answer

Jobs = Annotated[
    Path | None, typer.Option("--jobs", help="Many jobs: FILE.csv (a row a job) or a folder of job files.")
]
Output = Annotated[Path, typer.Option("--output", "-o", help="With --jobs: the folder for the answers.")]


@takes_job
def command(
    flags: Flags, brief: Brief = False, json: AsJson = False, jobs: Jobs = None, output: Output = Path("answers")
) -> None:
    """Settings, joint preparation, cleaning, holding, a coupon to run first, cautions and codes for a job.

    Example: prestrike setup --metal 5052-H32 --thickness "3.2 mm" --metal 6061-T6 --thickness "6.4 mm"
    --joint tee --service leak-tight
    """
    if jobs is not None:
        from advisor.setup.batch import batch

        sys.exit(batch(jobs, output, flags, as_json=json, brief=brief))
    sys.exit(answer(flags, as_json=json, brief=brief))
