"""`prestrike learn`: what the shop's own trials teach, as a rule that is written only when told."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean, exit_for
from advisor.flags.options import AsJson, Joint, Metal, Position, Process, RulesFolder, Units, print_json, rules_opened
from advisor.trials.command import JournalFile

LAYERS_OF_ONES_OWN = ("shop", "machine", "job")
MachineName = Annotated[str, typer.Option("--machine", help="Only trials on the machine of this name.")]
From = Annotated[str, typer.Option("--from", help="Thinnest to learn from, such as '2 mm'.")]
To = Annotated[str, typer.Option("--to", help="Thickest to learn from, such as '1/4 in'.")]
TopicNames = Annotated[list[str] | None, typer.Option("--topic", help="Only this setting: current, gas_flow ...")]
LayerName = Annotated[str, typer.Option("--layer", help="shop, machine or job: how far the rule reaches.")]
Write = Annotated[bool, typer.Option("--write", help="Write the rule into the layer's folder; else it is only shown.")]
Replace = Annotated[bool, typer.Option("--replace", help="With --write: put it in place of the one learnt before.")]


def command(
    metal: Metal = None,
    joint: Joint = "",
    position: Position = "",
    process: Process = "",
    machine: MachineName = "",
    thinnest: From = "",
    thickest: To = "",
    topic: TopicNames = None,
    layer: LayerName = "",
    write: Write = False,
    replace: Replace = False,
    units: Units = "",
    rules: RulesFolder = None,
    journal: JournalFile = None,
    json: AsJson = False,
) -> None:
    """The shop's own factor on each setting, from its good trials of one kind of seam, and the rule it would make.

    Example: prestrike learn --metal 5052 --joint tee --topic current
    """
    from advisor.trials.answer import LearnRequest, learn_from

    if layer and layer not in LAYERS_OF_ONES_OWN:
        repair = did_you_mean(layer, LAYERS_OF_ONES_OWN)
        raise PrestrikeError(Diagnostic("unknown-value", f"'{layer}' is no layer of one's own", help=repair))
    words = {"joint": joint, "position": position, "process": process, "machine": machine}
    asked = LearnRequest(tuple(metal or ()), words, thinnest, thickest, tuple(topic or ()), units, tuple(rules or ()))
    chosen = layer or ("machine" if machine else "shop")
    book = rules_opened(rules)
    answer = learn_from(_trials(journal), asked, chosen, Path.cwd())
    if write:
        answer = answer.written(replace=replace)
    if json:
        from advisor.trials.learn_text import learn_json

        print_json(learn_json(answer))
    else:
        from advisor.trials.learn_text import learn_text

        print(learn_text(answer))
    status = "advised" if answer.made is not None or len(answer.seams) > 1 else "no-rule"
    sys.exit(exit_for(status, bool(book.left_out)))


def _trials(path: Path | None) -> Any:
    from advisor.trials.read import standing_trials

    return standing_trials(path)
