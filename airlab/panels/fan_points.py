"""How are the points of a fan typed: one pair a line, pressure and flow."""

import re

import ipywidgets as widgets
import traitlets

from airlab.words import InputError, convert, label, show

__all__ = ["FanPoints"]

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
    """

    value = traitlets.Tuple()

    def __init__(self, unit, refused=None):
        self.unit, self._refused, self._moving = unit, refused, False
        self.box = widgets.Textarea(
            description=f"Fan, one line a point: Pa, then {label(unit)}", rows=7,
            continuous_update=False, style={"description_width": "initial"},
        )  # fmt: skip
        super().__init__([self.box])
        self.box.observe(self._typed, "value")
        self.observe(self._set, "value")

    def _typed(self, change):
        if self._moving:
            return
        try:
            value = tuple(
                self._point(number, line)
                for number, line in enumerate(change.new.splitlines(), 1)
                if line.strip()
            )
        except InputError as error:
            if self._refused is None:
                raise
            self._refused(error)
            return
        self._moving = True
        self.value = value
        self._moving = False

    def _set(self, change):
        if not self._moving:
            self._moving = True
            self.box.value = "\n".join(
                f"{show(pressure, digits=6)} {show(convert(flow, 'm3/h', self.unit), digits=4)}"
                for pressure, flow in change.new
            )
            self._moving = False

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
