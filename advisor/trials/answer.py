"""From the words of the command to what was learnt: the scope asked for, every setting in it, the file, the change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.material import find_material
from advisor.job.words import GROOVE_JOINTS, JOINTS, POSITIONS, PROCESSES, standard_word
from advisor.journal.trial import Trial
from advisor.rulebook.library import Rulebook
from advisor.rulebook.listing import Layer
from advisor.rulebook.vocabulary import Topic, Vocabulary
from advisor.shop.new_rule import folder_of
from advisor.shop.rules_in_force import open_rules, open_shipped, units_of
from advisor.trials.effect import SettingChange, changes
from advisor.trials.factors import Learnt, learn, topics_in, why_not_learnt
from advisor.trials.rule import LearntFile, Writer, learnt_file, standing_file, write_learnt
from advisor.trials.scope import Published, ScopeRequest, SeamKind, seams_of
from advisor.units.quantities import UnitTable, parse_quantity


class LearnRequest(NamedTuple):
    """The flags as typed. words: joint, position, process, machine."""

    metals: tuple[str, ...] = ()
    words: Mapping[str, str] = {}
    thinnest: str = ""
    thickest: str = ""
    topics: tuple[str, ...] = ()
    units: str = ""
    rules: tuple[Path, ...] = ()


class LearnAnswer(NamedTuple):
    """What came of it. seams: kinds of seam found, one of them or several; learnt: each setting of the one; made: the
    file proposed, for `target`; changed: what it would change; done: it was written."""

    seams: tuple[SeamKind, ...]
    learnt: tuple[Learnt, ...]
    made: LearntFile | None
    target: Path | None
    layer: str
    changed: tuple[SettingChange, ...]
    units: UnitTable
    vocabulary: Vocabulary
    inch: bool = False
    done: bool = False

    def written(self, *, replace: bool) -> LearnAnswer:
        """Write the file proposed. Raises PrestrikeError where nothing is, or where a file stands in the way."""
        if len(self.seams) > 1:
            text = f"the trials are of {len(self.seams)} kinds of seam: a rule is learnt for one"
            raise PrestrikeError(Diagnostic("several-scopes", text, help="narrow it: --metal, --joint, --position"))
        if self.made is None or self.target is None:
            return self
        write_learnt(self.target, self.made, replace=replace)
        return self._replace(done=True)


def learn_from(trials: Sequence[Trial], asked: LearnRequest, layer: str, project: Path) -> LearnAnswer:
    """What the trials teach of what was asked. Raises PrestrikeError for words that do not hold, or no trial."""
    extra = [Layer("shop", path) for path in asked.rules]
    force = open_rules(extra)
    units, vocabulary = units_of(force), force.vocabulary
    wanted = wanted_of(asked, force, units)
    inch = _inch(asked)
    topics = [_topic(name, vocabulary) for name in asked.topics]
    seams = seams_of(trials, wanted)
    if not seams:
        text = "no trial is of the kind asked for" if trials else "the journal holds no trial"
        repair = "prestrike trial list shows what there is" if trials else "log a seam: prestrike trial add"
        raise PrestrikeError(Diagnostic("no-trial", text, help=repair))
    empty = LearnAnswer(tuple(seams), (), None, None, layer, (), units, vocabulary, inch)
    if len(seams) > 1:
        return empty
    published = Published(open_shipped(), units)
    found = tuple(learn(seams[0], topic, published) for topic in topics or topics_in(seams[0], vocabulary))
    if not any(item.status == "proposed" for item in found):
        return empty._replace(learnt=found)
    return _proposed(empty._replace(learnt=found), project, extra, force)


def _proposed(learning: LearnAnswer, project: Path, extra: Sequence[Layer], force: Rulebook) -> LearnAnswer:
    scope, layer = learning.seams[0].scope, learning.layer
    if layer == "machine" and not scope.machine:
        text = "a machine rule needs the machine it is of"
        raise PrestrikeError(Diagnostic("missing-machine", text, help="name it as the trials do: --machine NAME"))
    writer = Writer(learning.units, learning.inch)
    made = learnt_file(scope, learning.learnt, writer, layer)
    target = folder_of(layer, project) / made.file_name
    before = standing_file(target)
    if before is not None:
        made = learnt_file(scope, learning.learnt, writer, layer, before)
    changed = changes(learning.learnt, made, target, layer, extra, force)
    return learning._replace(made=made, target=target, changed=tuple(changed))


def wanted_of(asked: LearnRequest, book: Rulebook, units: UnitTable) -> ScopeRequest:
    """The scope asked for, in standard words. Raises PrestrikeError."""
    vocabulary = book.vocabulary
    words = asked.words

    def size(text: str) -> float:
        return parse_quantity(text, "length", table=units).value if text else 0.0

    def word(name: str, aliases: Mapping[str, str]) -> str:
        return standard_word(words[name], name, vocabulary, aliases) if words.get(name) else ""

    joint = word("joint", JOINTS)
    wanted = ScopeRequest(
        tuple(sorted({find_material(metal, book.index).id for metal in asked.metals})),
        joint,
        word("position", POSITIONS["groove" if joint in GROOVE_JOINTS else "fillet"]),
        word("process", PROCESSES),
        words.get("machine", ""),
        size(asked.thinnest),
        size(asked.thickest),
    )
    if wanted.thinnest and wanted.thickest and wanted.thinnest > wanted.thickest:
        text = f"--from {asked.thinnest} is above --to {asked.thickest}"
        raise PrestrikeError(Diagnostic("reversed-range", text, help="swap them"))
    return wanted


def _inch(asked: LearnRequest) -> bool:
    if asked.units.strip().casefold() not in ("", "metric", "inch"):
        repair = did_you_mean(asked.units, ("metric", "inch"))
        raise PrestrikeError(Diagnostic("unknown-value", f"'{asked.units}' is no system of units", help=repair))
    return asked.units.strip().casefold() == "inch"


def _topic(name: str, vocabulary: Vocabulary) -> Topic:
    word = name.strip().casefold().replace("-", "_").replace(" ", "_")
    if word not in vocabulary.topics:
        repair = did_you_mean(word, vocabulary.topics)
        raise PrestrikeError(Diagnostic("unknown-topic", f"'{name}' is no setting", help=repair))
    why = why_not_learnt(vocabulary.topics[word])
    if why:
        raise PrestrikeError(Diagnostic("not-learnt", f"'{word}' is not learnt from trials: {why}"))
    return vocabulary.topics[word]
