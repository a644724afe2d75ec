"""`prestrike prep`: edge, cleaning and holding only."""

from __future__ import annotations

import sys

from advisor.flags.options import AsJson, Flags, takes_job
from advisor.setup.printing import answer


@takes_job
def command(flags: Flags, json: AsJson = False) -> None:
    """Edge preparation, cleaning steps in order, holding and tacks, with the cautions that go with them.

    Example: prestrike prep --metal A36 --thickness "1/8 in" --joint butt --surface mill-scale
    """
    sys.exit(answer(flags, as_json=json, prep_only=True))
