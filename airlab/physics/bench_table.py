"""What does a person write down while a real balloon or jar drains? The table and how it is read."""

from airlab.physics.bench import BENCH_QUANTITIES
from airlab.words import Column, InputError, Table, to_si

__all__ = ["BENCH", "bench_readings"]

BENCH = Table(
    "bench", "readings of a real balloon or jar while it drains, in one of four quantities",
    (
        Column("time_s", "number", "time since the hole was opened", "s", required=True, low=0.0,
               high=1e5),
        Column("circumference_cm", "number", "tape round the waist of the balloon", "cm", low=0.0,
               high=1000.0, slip="if you read mm or m, turn it into cm"),
        Column("diameter_cm", "number", "across the balloon", "cm", low=0.0, high=300.0,
               slip="if you read mm or m, turn it into cm"),
        Column("volume_l", "number", "air left in the balloon", "L", low=0.0, high=1e5,
               slip="if you read mL or m³, turn it into litres"),
        Column("pressure_pa", "number", "gauge on the jar", "Pa", low=0.0, high=1e5,
               slip="10 mm of water are about 98 Pa"),
        Column("note", "text", "anything you saw"),
    ),
)  # fmt: skip
_COLUMNS = dict(zip(BENCH_QUANTITIES, BENCH.columns[1:5]))  # in the same order


def bench_readings(rows):
    """Return time, readings and quantity of a filled bench table, in SI.

    Parameters
    ----------
    rows : iterable of dict
        Column name to value, as the table was read; rows without any number are left out.

    Returns
    -------
    tuple
        Times, readings, and one of `BENCH_QUANTITIES`.

    Raises
    ------
    InputError
        If nothing was read, two quantities are mixed, or a row has a time and no reading.

    Examples
    --------
    >>> bench_readings([{"time_s": 0.0, "diameter_cm": 28.0}, {"time_s": 9.0, "diameter_cm": 20.0}])
    ((0.0, 9.0), (0.28, 0.2), 'diameter')
    """
    names = {quantity: column.name for quantity, column in _COLUMNS.items()}
    filled = [row for row in rows if any(row.get(n) is not None for n in names.values())]
    used = [q for q, n in names.items() if any(row.get(n) is not None for row in filled)]
    if not used:
        raise InputError(
            f"The table has no readings yet. Fill one of: {', '.join(names.values())}."
        )
    if len(used) > 1:
        both = " and ".join(names[quantity] for quantity in used)
        raise InputError(f"The table holds {both}. Keep one quantity and clear the other.")
    column = _COLUMNS[used[0]]
    for number, row in enumerate(rows, 1):
        if row.get(column.name) is None:
            raise InputError(
                f"{column.name} is missing in reading {number}, at {row.get('time_s'):g} s. Fill it "
                "in or delete the row."
            )
    times = tuple(float(row["time_s"]) for row in rows)
    return times, tuple(float(to_si(row[column.name], column.unit)) for row in rows), used[0]
