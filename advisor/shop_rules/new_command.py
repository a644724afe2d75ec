"""`prestrike rules new`: a rule of one's own, started from a job or from an answer."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError, did_you_mean
from advisor.flags.options import Flags, job_from, takes_job
from advisor.flags.telling import no_effect_text, told

Said = Annotated[str, typer.Argument(help="What you use: '135 A', '9 L/min', ER5356, or a sentence for a step.")]
TopicName = Annotated[
    str, typer.Option("--topic", help="What it is about: current, gas_flow, filler, cleaning_step ...")
]
Saved = Annotated[
    Path | None, typer.Option("--from", help="A saved answer (JSON). Else the flags, else the last answer.")
]
LayerName = Annotated[str, typer.Option("--layer", help="shop, machine or job: how far the rule reaches.")]
Because = Annotated[str, typer.Option("--because", help="One sentence: why.")]
Write = Annotated[bool, typer.Option("--write", help="Write it into the layer's folder; else it is only printed.")]


@takes_job
def command(
    said: Said,
    flags: Flags,
    topic: TopicName = "current",
    saved: Saved = None,
    layer: LayerName = "shop",
    because: Because = "",
    write: Write = False,
) -> None:
    """A commented rule with its example filled in: `I use 135 A here`, for the job given or the last answer.

    Example: prestrike rules new "135 A" --metal 5052 --thickness "3.2 mm" --joint tee
    """
    from advisor.shop.new_rule import folder_of, scaffold, write_new
    from advisor.shop.scope import scope_of

    if layer not in ("shop", "machine", "job"):
        repair = did_you_mean(layer, ("shop", "machine", "job"))
        raise PrestrikeError(Diagnostic("unknown-value", f"'{layer}' is no layer of one's own", help=repair))
    rulebook, units, job = job_from(flags, _given(saved))
    name = topic.strip().casefold().replace("-", "_")
    if name not in rulebook.vocabulary.topics:
        repair = did_you_mean(name, rulebook.vocabulary.topics)
        raise PrestrikeError(Diagnostic("unknown-topic", f"'{topic}' is no topic", help=repair))
    if layer == "machine" and (job.machine is None or not job.machine.name):
        text = "a machine rule needs a machine with a name"
        raise PrestrikeError(Diagnostic("missing-machine", text, help="add --machine MACHINE.yaml, with name: in it"))
    scope = scope_of(rulebook, job, of_machine=layer == "machine")
    made = scaffold(scope, rulebook.vocabulary.topics[name], said, units, because, layer)
    if not write:
        print(made.text, end="")
        print(f"# not written; --write puts it into {folder_of(layer, Path.cwd())}", file=sys.stderr)
    else:
        path = write_new(folder_of(layer, Path.cwd()), made)
        print(f"written: {path}")
        print("next: prestrike rules check, then prestrike setup for the same job")
    idle = told(job, lambda other: scope_of(rulebook, other, of_machine=layer == "machine"))
    print(no_effect_text(idle, flags), end="", file=sys.stderr)
    sys.exit(Exit.ADVISED)


def _given(saved: Path | None) -> Any:
    from advisor.answer.last_answer import last_job, saved_job

    def job() -> Mapping[str, Any]:
        return saved_job(saved) if saved is not None else last_job()

    return job
