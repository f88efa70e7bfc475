"""When does the check make sense, in which weather, with which fan, and what does it cost?

Each function turns a part of the plan into HTML or a drawing. What people typed is escaped.
"""

from datetime import timedelta
from html import escape

from airlab.plots.style import FLOW, GOOD, INK, PRESSURE, QUIET
from airlab.plots.svg import as_image, drawing, line, rect, text
from airlab.words import display_unit, from_si, show
from airlab.words.saying import listed

__all__ = ["fan_facts", "weather_strip", "when_view"]

_WIDTH, _LEFT, _RIGHT = 860.0, 118.0, 850.0
_TOP, _FLOOR, _READ, _CAMERA = 34.0, 134.0, 142.0, 164.0
_BOUND = 5.0  # Pa; the bound of the zero at the gauge
_SCALE = 10.0  # Pa at the top of the drawing
_HOUR = timedelta(hours=1)


def _day(day):
    return f"{day:%a %d %b %Y}" if day else "not known"


def _facts(rows):
    cells = "".join(f"<li><span>{escape(a)}</span><b>{escape(b)}</b></li>" for a, b in rows)
    return f'<ul class="airlab-facts">{cells}</ul>'


def when_view(plan, units="metric"):
    """Return dates, hold point, number of checks, weather and costs; no hours while no fan may run.

    Parameters
    ----------
    plan : CheckPlan
        The plan.
    units : str
        'metric' or 'us'.
    """
    strip = plan.weather is not None and plan.hazards.fan_may_run
    return (
        _dates(plan.dates)
        + (as_image(weather_strip(plan.weather)) if strip else "")
        + _weather(plan.weather, units)
        + _costs(plan.costs)
    )


def _dates(dates):
    if dates is None:
        return (
            "<p><b>No programme yet.</b> Enter work that makes, pierces and hides the layer, with "
            "its dates, in the table below.</p>"
        )
    rows = (
        ("earliest day", _day(dates.earliest)), ("because of", dates.after or "nothing entered"),
        ("latest day", _day(dates.latest)), ("because of", dates.before or "nothing entered"),
    )  # fmt: skip
    notes = [f"Your own day: {dates.judged}"] if dates.on else []
    notes += [
        f"{title}: {listed(found, most=6)}." for title, found in (
            ("Move, or check those areas first", dates.in_the_way),
            ("Search only, no number", dates.meaningless), ("Not said", dates.missing),
        ) if found
    ]  # fmt: skip
    notes += [dates.hold_point.sentence(), dates.pattern.sentence()]
    return _facts(rows) + "".join(f"<p>{_bold(note)}</p>" for note in notes)


def _bold(note):
    """The words up to the first colon in bold."""
    head, colon, rest = escape(note).partition(":")
    return f"<b>{head}:</b>{rest}" if colon else head


def _weather(weather, units):
    if weather is None:
        return "<p><b>No weather yet.</b> Enter hours of a forecast in the table below.</p>"
    calmest = min(weather.hours, key=lambda hour: hour.zero_reach)
    best = weather.windows[0] if weather.windows else (calmest,)
    wind = display_unit("m/s", units)

    def worst(name):
        return max(abs(getattr(hour, name)) for hour in best)

    rows = (
        ("best window" if weather.windows else "calmest hour", _span(best)),
        ("wind at the eaves, at most", show(from_si(worst("wind"), wind), wind, 2)),
        ("zero at the gauge, up to", show(worst("zero_reach"), "Pa", 2)),
        ("warm air over the height, at most", show(worst("stack"), "Pa", 2)),
        ("error at 50 Pa, one direction", f"up to {_share(worst('error'))}"),
        ("error at 50 Pa, mean of both", f"up to {_share(worst('error_both'))}"),
    )
    notes = "".join(f"<p>{escape(note)}</p>" for note in weather.warnings)
    return _facts(rows) + notes


def _span(hours):
    return f"{hours[0].at:%a %d %b, %H:%M} to {hours[-1].at + _HOUR:%H:%M}"


def _share(share):
    return f"{show(100.0 * share, digits=2)} %"


def _costs(costs):
    if costs is None:
        return "<p><b>Now or later?</b> Enter your prices of a check, of opening up and of another test.</p>"
    return f"<p><b>Now or later?</b> {escape(costs.sentence())}</p>"


def weather_strip(weather):
    """Return the hours as a drawing: zero at the gauge, hours for a reading and for a camera.

    Parameters
    ----------
    weather : WeatherWindow
        Hours and windows.
    """
    first, last = weather.hours[0].at, weather.hours[-1].at + _HOUR
    scale = (_RIGHT - _LEFT) / ((last - first) / _HOUR)
    read = {hour.at for window in weather.windows for hour in window}
    seen = {hour.at for window in weather.camera_windows for hour in window}
    rise = (_FLOOR - _TOP) / _SCALE
    parts = [text(8, 22, "Zero at the gauge, up to [Pa]", size=14, font_weight="bold")]
    day = None
    for hour in weather.hours:
        x = _LEFT + scale * ((hour.at - first) / _HOUR)
        if hour.at.date() != day:
            day = hour.at.date()
            parts.append(line(x, _TOP - 6, x, _CAMERA + 16, stroke=QUIET, stroke_width=1))
            if scale * 24.0 > 60.0:
                parts.append(text(x + 3, _CAMERA + 32, f"{hour.at:%a %d %b}", size=13))
        tall = rise * min(hour.zero_reach, _SCALE)
        kind = FLOW if hour.zero_reach > _BOUND else PRESSURE
        parts.append(
            rect(x + 0.5, _FLOOR - tall, max(scale - 1.0, 0.5), tall, fill=kind.css)
        )  # fmt: skip
        for y, chosen, look in ((_READ, read, GOOD), (_CAMERA, seen, PRESSURE)):
            if hour.at in chosen:
                parts.append(rect(x, y, scale, 16, fill=look.css))
    bound = _FLOOR - rise * _BOUND
    parts += [
        line(_LEFT, bound, _RIGHT, bound, stroke=INK, stroke_width=1.5, stroke_dasharray="5 4"),
        line(_LEFT, _FLOOR, _RIGHT, _FLOOR, stroke=INK, stroke_width=1),
        text(_LEFT - 6, bound + 5, show(_BOUND), size=13, anchor="end"),
        text(_LEFT - 6, _FLOOR + 4, "0", size=13, anchor="end"),
        text(8, _READ + 13, "read", size=14), text(8, _CAMERA + 13, "camera", size=14),
    ]  # fmt: skip
    return drawing(_WIDTH, _CAMERA + 42, weather.sentence(), *parts)


def fan_facts(plan, units="metric"):
    """Return rings or speeds, number of fans, load, and where the fan stands, as HTML.

    Parameters
    ----------
    plan : CheckPlan
        The plan.
    units : str
        'metric' or 'us'.
    """
    fans, flow = plan.fans, display_unit("m3/s", units)
    if fans is None:
        return ""
    rows = "".join(
        f"<tr{' aria-current=true' if one is fans.first else ''}>"
        f'<th scope="row">{escape(one.fan.name)}</th>'
        f"<td>{show(from_si(float(one.at_high.flow_at_50), flow), flow)}</td>"
        f"<td>{show(float(one.at_low.pressure_difference), 'Pa')}</td>"
        f"<td>{show(float(one.at_high.pressure_difference), 'Pa')}</td>"
        f"<td>{_lowest(one, flow)}</td></tr>"
        for one in fans.choices
    )
    names = (
        "Ring or speed",
        "Moves at 50 Pa",
        "At the low end",
        "At the high end",
        "Lowest steady",
    )
    head = "".join(f'<th scope="col">{name}</th>' for name in names)
    table = f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    places = "".join(
        f"<li><b>{'■' if one.fits else '□'} {escape(one.sentence().partition('. ')[0].rstrip('.'))}.</b> "
        f"{escape(' '.join(one.notes))}</li>"
        for one in plan.places
    ) or "<li>No door or window is entered.</li>"  # fmt: skip
    return (
        f'<div class="airlab-scroll airlab-list">{table}</div><p>{escape(fans.sentence(units))}</p>'
        f'<p><b>Where it stands</b></p><ul class="airlab-steps">{places}</ul>'
    )


def _lowest(one, flow):
    if not one.fan.lowest_flow:
        return "not said"
    mark = "" if one.steady else ", too much for the low end"
    return show(from_si(one.fan.lowest_flow, flow), flow) + mark
