"""The shop's trials in one SQLite file: what was dialled in, what was seen, how it was judged.

Rows are only ever added. A correction is a new row that names the one it stands for.
"""
