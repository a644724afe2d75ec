"""prestrike: what to decide before striking an arc.

Floors, top to bottom: cli, report, advice, journal, rulebook, physics, then the ground
(diagnostics, quantities, job). Each imports only from floors below it.
"""

__version__ = "0.1.0"
