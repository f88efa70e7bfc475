"""How is a fan typed: one pair a line, pressure and flow; a line `ring small` begins another ring.

A line `from 60` says the lowest flow that the ring is steady at.
"""

import re

import ipywidgets as widgets
import traitlets

from airlab.files.settings import thaw
from airlab.words import InputError, convert, label, show

__all__ = ["FanPoints", "changed_fan"]

_ENTRIES = ("lowest_m3_per_h", "ranges", "count", "efficiency", "supply_w")
_RING = re.compile(r"(?:ring|speed)\s+(\S.*)", re.IGNORECASE)
_FROM = re.compile(r"from\s+(\S+)", re.IGNORECASE)
_BETWEEN = re.compile(r"[;\t]|,\s|\s")


class FanPoints(widgets.VBox):
    """A box of lines; `value` is a tuple of (pressure [Pa], flow [m3/h]) pairs.

    Parameters
    ----------
    unit : str
        Unit of the flow that people type.
    refused : callable
        Called with the `InputError` of a line that cannot be read.

    Examples
    --------
    >>> points = FanPoints("m3/h")
    >>> points.box.value = "0 2200; 50, 1320"
    Traceback (most recent call last):
        ...
    airlab.words.errors.InputError: Fan, line 1: '0 2200; 50, 1320'. Write pressure in Pa, then flow in m³/h, as in: 50 1320.
    >>> points.box.value = "0 2200" + chr(10) + "50; 1320,5"
    >>> points.value
    ((0.0, 2200.0), (50.0, 1320.5))
    >>> points.box.value = chr(10).join(("0 2200", "from 300", "ring small", "0 400", "60 200"))
    >>> points.fan["lowest_m3_per_h"], points.fan["ranges"]
    (300.0, [{'name': 'small', 'points': [[0.0, 400.0], [60.0, 200.0]]}])
    """

    value = traitlets.Tuple()
    fan = traitlets.Dict()

    def __init__(self, unit, refused=None):
        self.unit, self._refused, self._moving = unit, refused, False
        self.box = widgets.Textarea(
            description=(
                f"Fan, one line a point: Pa, then {label(unit)}. 'ring small' begins another ring; "
                "'from 60' is its lowest steady flow."
            ),
            rows=7,
            continuous_update=False, style={"description_width": "initial"},
        )  # fmt: skip
        super().__init__([self.box])
        self.box.observe(self._typed, "value")
        self.observe(self._set, "value")

    def _typed(self, change):
        if self._moving:
            return
        try:
            fan = self._read(change.new)
        except InputError as error:
            if self._refused is None:
                raise
            self._refused(error)
            return
        self._moving = True
        self.value = tuple(map(tuple, fan["points"]))
        self._moving = False
        self.fan = fan

    def show(self, fan):
        """Show the fan of a job, with its rings."""
        rings = [dict(ring) for ring in (fan or {}).get("ranges") or ()]
        lines = []
        for number, one in enumerate((fan or {}, *rings)):
            lines += [f"ring {one.get('name') or f'range {number}'}"] if number else []
            lines += [self._line(*point) for point in one.get("points") or ()]
            if one.get("lowest_m3_per_h"):
                lines.append(f"from {self._flow(one['lowest_m3_per_h'])}")
        self._moving = True
        self.value = tuple(map(tuple, (fan or {}).get("points") or ()))
        self.box.value = "\n".join(lines)
        self._moving = False
        self.fan = self._read(self.box.value)

    def _set(self, change):
        if not self._moving:
            self.show({**self.fan, "points": change.new})

    def _line(self, pressure, flow):
        return f"{show(pressure, digits=6)} {self._flow(flow)}"

    def _flow(self, flow):
        return show(convert(flow, "m3/h", self.unit), digits=4)

    def _read(self, text):
        """Return points, lowest flow and further rings of what was typed."""
        fan = one = {"points": []}
        for number, line in enumerate(text.splitlines(), 1):
            line = line.strip()
            if ring := _RING.fullmatch(line):
                one = {"name": ring[1], "points": []}
                fan.setdefault("ranges", []).append(one)
            elif lowest := _FROM.fullmatch(line):
                one["lowest_m3_per_h"] = self._point(number, f"0 {lowest[1]}")[1]
            elif line:
                one["points"].append(list(self._point(number, line)))
        return fan

    def _point(self, number, line):
        parts = [part for part in _BETWEEN.split(line.strip()) if part]
        try:
            pressure, flow = (float(part.replace(",", ".")) for part in parts)
        except ValueError:
            raise InputError(
                f"Fan, line {number}: {line.strip()[:40]!r}. Write pressure in Pa, then flow in "
                f"{label(self.unit)}, as in: 50 1320."
            ) from None
        return pressure, convert(flow, self.unit, "m3/h")


def changed_fan(known, points, name, more):
    """Return the fan of a job with points, name and further entries changed; None for no fan.

    What is left out stays, an entry of None goes; an unknown one raises `InputError`.
    """
    unknown = set(more) - set(_ENTRIES)
    if unknown:
        raise InputError(
            f"A fan has no {', '.join(sorted(unknown))}. It has {', '.join(_ENTRIES)}."
        )
    fan = {
        key: value
        for key, value in {**thaw(known or {}), **thaw(more)}.items()
        if value is not None
    }
    fan["points"] = [list(point) for point in points]
    fan["name"] = name or fan.get("name") or "fan"
    return fan if fan["points"] or fan.get("ranges") else None
