"""One file a decision: setup, settings, preparation, cleaning, holding, cautions, machine, why.

Each asks the rulebook and physics and returns plain answers (`answer.py`); nothing here prints.
"""
