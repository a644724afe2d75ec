"""Physics: pure functions of SI floats (m, s, W, J, K; degrees Celsius where a name ends in `_c`).

Ratios, limits and times; absolute settings come from published tables. Knows no rules, reads no file,
prints nothing. Outside a formula's valid range it raises `PhysicsRangeError` and gives no number.
"""
