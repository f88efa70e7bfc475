"""What does the fan read beside another zone? Two boxes for each state, with pressures and flows."""

from html import escape

from airlab.leak_check import OTHER_STATES
from airlab.plots.style import FAINT, FLOW, INK, PRESSURE, QUIET
from airlab.plots.svg import arrow, drawing, line, rect, text
from airlab.words import display_unit, from_si, label, show

__all__ = ["two_zones_drawing"]

_WIDE, _TALL = 286.0, 236.0
_LEFT, _WALL, _RIGHT, _TOP, _FLOOR = 66.0, 154.0, 242.0, 46.0, 150.0
_OPEN, _SHUT, _HELD = OTHER_STATES
_MOST = 7.0  # px of the thickest arrow


def two_zones_drawing(zones, units="metric"):
    """Return the states side by side: tested zone to the left, the other to the right.

    Parameters
    ----------
    zones : TwoZones
        What the fan reads in each state.
    units : str
        'metric' or 'us'.
    """
    unit = display_unit("m3/s", units)
    largest = max(one.flow for one in zones.readings)

    def shown(flow):
        return show(from_si(flow, unit))

    def thick(flow):
        return max(_MOST * flow / largest, 1.5)

    parts = []
    for index, one in enumerate(zones.readings):
        parts += _state(index * _WIDE, one, shown, thick)
        if index:  # flows of two states must not be read as one
            parts.append(
                line(index * _WIDE, 10, index * _WIDE, _FLOOR + 58, stroke=FAINT, stroke_width=1.5)
            )
    words = f"Flows in {label(unit)} at 50 Pa, the zone on the left tested; grey is the pressure"
    parts.append(text(8, _TALL - 8, f"{words}.", size=14, fill=QUIET))
    return drawing(len(zones.readings) * _WIDE, _TALL, escape(zones.sentence(units)), *parts)


def _state(x, one, shown, thick):
    """Return the parts of one state, from the left edge x on."""
    full = abs(one.pressure_difference)
    yield text(x + _WALL, 26, one.state, size=16, anchor="middle", font_weight="bold")
    for left, pressure, name in (
        (_LEFT, one.pressure_difference, "tested"), (_WALL, one.other_pressure, "other"),
    ):  # fmt: skip
        box = {"fill": PRESSURE.css, "fill_opacity": f"{0.28 * abs(pressure) / full:.3f}"}
        yield rect(x + left, _TOP, _WALL - _LEFT, _FLOOR - _TOP, **box)
        middle = x + left + (_WALL - _LEFT) / 2.0
        yield text(middle, _TOP + 20, name, size=14, anchor="middle")
        yield text(
            middle, _TOP + 42, _pascal(pressure), size=16, anchor="middle", font_weight="bold"
        )
    yield rect(
        x + _LEFT, _TOP, _RIGHT - _LEFT, _FLOOR - _TOP, fill="none", stroke=INK, stroke_width=3
    )
    yield line(x + _WALL, _TOP, x + _WALL, _FLOOR, stroke=INK, stroke_width=3)
    if one.state == _OPEN:
        yield line(x + _RIGHT, _TOP + 14, x + _RIGHT, _TOP + 54, stroke=FAINT, stroke_width=7)
        yield text(x + _RIGHT + 8, _TOP + 38, "open", size=14)
    yield from _flow(x + 10, x + _LEFT - 3, 116.0, one.outside_flow, shown, thick, x + 6, "start")
    if one.between_flow > 0.0:
        middle = x + _WALL
        yield from _flow(
            middle + 32,
            middle - 32,
            108.0,
            one.between_flow,
            shown,
            thick,
            middle + 46,
            "middle",
            26,
        )
        if one.state == _SHUT:
            edge = x + _WIDE - 8
            yield from _flow(
                edge, x + _RIGHT + 3, 116.0, one.between_flow, shown, thick, edge, "end"
            )
    centre = x + (_LEFT + _WALL) / 2.0
    yield arrow(centre, _FLOOR + 4, centre, _FLOOR + 36, FLOW.css, thick(one.flow))
    yield text(
        centre, _FLOOR + 54, f"fan {shown(one.flow)}", size=16, anchor="middle", font_weight="bold"
    )
    if one.state == _HELD:
        other = x + (_WALL + _RIGHT) / 2.0
        yield arrow(other, _FLOOR + 4, other, _FLOOR + 36, QUIET, 4.0)
        yield text(other + 4, _FLOOR + 54, "second fan", size=14, anchor="middle")


def _flow(start, end, y, flow, shown, thick, at, anchor, below=-14):
    """Return an arrow with its flow beside it."""
    return (
        arrow(start, y, end, y, FLOW.css, thick(flow)),
        text(at, y + below, shown(flow), size=14, anchor=anchor),
    )


def _pascal(pressure):
    return "0 Pa" if abs(pressure) < 0.05 else show(pressure, "Pa", 2)
