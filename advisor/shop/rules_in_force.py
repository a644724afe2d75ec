"""The rulebook in force: shipped rules, the layers above them, units and computations."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.resources import cache_folder, rules_folder, schema_file
from advisor.rulebook.library import Rulebook, open_rulebook
from advisor.rulebook.listing import Layer
from advisor.rulebook.rule import LAYERS
from advisor.rulebook.vocabulary import Vocabulary
from advisor.shop.layers import standing_layers
from advisor.units.quantities import UnitTable

if TYPE_CHECKING:
    from advisor.rulebook.reading.rule_reader import Tools

# Dimensions whose numbers stand bare in a rule.
BARE = ("count", "ratio", "")


def default_layers(extra: Sequence[Layer] = ()) -> list[Layer]:
    """The shipped rules and then the layers above them, lowest first: those that always stand, and `extra`."""
    above = sorted([*standing_layers(), *extra], key=lambda layer: LAYERS.index(layer.name))
    return [Layer(LAYERS[0], rules_folder()), *above]


def open_rules(extra: Sequence[Layer] = ()) -> Rulebook:
    """The compiled rulebook of all layers in force."""
    return open_rulebook(default_layers(extra), schema_file, cache_folder(), make_tools)


def open_shipped() -> Rulebook:
    """The shipped rules alone: what is published, whatever stands above it."""
    return open_rulebook([Layer(LAYERS[0], rules_folder())], schema_file, cache_folder(), make_tools)


def units_of(rulebook: Rulebook) -> UnitTable:
    """The unit table kept in the index (made by the unit library when the index was written)."""
    return UnitTable.from_rows([tuple(row) for row in rulebook.index.meta("units")])


def make_tools(vocabulary: Vocabulary) -> Tools:
    """What compiling rules needs. Imports the unit library: not for the way to an answer."""
    from advisor.rulebook.reading.rule_reader import Tools
    from advisor.shop.computations import COMPUTATIONS
    from advisor.units.quantities import parse_quantity
    from advisor.units.spellings import build_unit_table

    table = build_unit_table()

    def parse(value: Any, dimension: str) -> float:
        if dimension in BARE:
            return _bare(value)
        if not isinstance(value, str):
            message = f"{value!r} has no unit"
            raise PrestrikeError(
                Diagnostic("missing-unit", message, help=f"write a quantity of {dimension} with its unit")
            )
        return parse_quantity(value, dimension, table=table, allow_zero=True).value

    return Tools(vocabulary, parse, COMPUTATIONS, [list(row) for row in table.as_rows()])


def _bare(value: Any) -> float:
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value)
    raise PrestrikeError(Diagnostic("wrong-type", f"{value!r} is no bare number", help="write the number alone"))


def compute(name: str, given: Mapping[str, Any]) -> float:
    """The value of a computation that a rule names, from parameters in house units."""
    from advisor.shop.computations import COMPUTATIONS

    return COMPUTATIONS[name].function(**given)
