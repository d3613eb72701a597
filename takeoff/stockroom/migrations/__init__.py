"""How the tables of the stock room came to be, step by step; run by Alembic.

A change of the tables is a new file in `versions`; HEAD is the revision of the last.
"""

HEAD = "0001"
