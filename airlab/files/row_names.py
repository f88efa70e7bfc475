"""What is a row called that somebody typed without a name?"""

import hashlib
from collections import Counter
from datetime import datetime
from functools import partial

from airlab.files.cells import render_cell

__all__ = ["name_rows"]


def name_rows(table, rows):
    """Return rows whose blank names are made from their content: the same row, the same name.

    Rows that are alike are numbered in their order. Times count as the clock shows them.
    """
    if not table.named_by:
        return tuple(rows)
    seen, named = Counter(), []
    for row in rows:
        if not str(row.get(table.key) or "").strip():
            cells = [row.get(column.name) for column in table.columns if column.name != table.key]
            cells = [c.replace(tzinfo=None) if isinstance(c, datetime) else c for c in cells]
            text = "\x1f".join(map(partial(render_cell, None), cells))
            seen[text] += 1
            made = hashlib.sha256(f"{text}\x1f{seen[text]}".encode()).hexdigest()[:12]
            row = {**row, table.key: f"{table.named_by}{made}"}
        named.append(row)
    return tuple(named)
