"""Which pages plan the layer? Dates and weather of the check, material of every joint."""

from airlab.leak_check import film_loads, material_schedule
from airlab.plots.plan_when import weather_strip
from airlab.sheets.glossary import named_sources
from airlab.sheets.house import inline
from airlab.sheets.page import make_page, tick, two_lines
from airlab.words import show, show_percent

__all__ = ["materials_page", "when_page"]

_MOST_HOURS, _MOST_FILM = 24, 10
_UNITS = {"m": "m", "m2": "m2"}


def materials_page(facts):
    """Return the material schedule: every joint with both faces, material, quantity, wait.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    job, shown = facts.job, facts.shown
    found = material_schedule(job.junctions, job.envelope)
    still = [one for one in found.lines if not one.closed]
    computed = [("joints", show(len(found.lines))), ("of them open", show(len(still)))]
    computed += [
        (f"{name}, open joints", _amount(total, per, shown)) for name, per, total in found.totals
    ]
    if found.asking:
        computed.append(("joints to say more about", show(len(found.asking))))
    return make_page(
        "materials", "Material schedule",
        "What each joint is sealed with, how much of it, how long it waits before it is looked at.",
        facts.heading, computed=computed, sources=named_sources("TRADE", "AIRLAB"),
        figures=[(name, text, "") for name, text in computed],
        rows=[_material_row(one, shown) for one in found.lines], asking=found.asking,
        waste=show_percent(found.waste), advice=found.sentence(job.units).rpartition("Generic")[2],
    )  # fmt: skip


def _amount(quantity, per, shown):
    if quantity is None:
        return "size missing"
    return shown.value(quantity, _UNITS[per]) if per in _UNITS else f"{show(quantity)} pieces"


def _material_row(one, shown):
    best = one.fix.accepted[0] if one.fix and one.fix.accepted else None
    faces = f"{one.first or 'not said'} to {one.second or 'not said'}"
    return (
        two_lines(one.junction, faces), one.material or "say what both sides are made of",
        one.fix.prepare if best else "–", _amount(one.quantity, one.per, shown) if best else "–",
        f"{show(best.wait)} h" if best and best.wait else "–", tick(one.closed),
    )  # fmt: skip


def when_page(facts):
    """Return the page of dates: first and last day, hold point, hours that suit, cost, pull on film.

    Parameters
    ----------
    facts : Facts
        A job with a programme or a weather table.
    """
    plan, shown, units = facts.plan, facts.shown, facts.job.units
    dates, weather = plan.dates, plan.weather if facts.fan_may_run else None
    film = film_loads(plan.areas, facts.job.direction)
    largest = sorted(film.loads, key=lambda one: one.supported)[:_MOST_FILM]  # loose ones first
    computed = []
    if dates:
        computed += [
            ("earliest day", _day(dates.earliest)), ("latest day", _day(dates.latest)),
            ("work and joints that wait", ", ".join(dates.hold_point.waits) or "none entered"),
        ]  # fmt: skip
    if weather:
        computed += [
            ("hours in the table", show(len(weather.hours))),
            ("windows for a reading", show(len(weather.windows))),
            ("least zero at the gauge, up to",
             show(min(hour.zero_reach for hour in weather.hours), "Pa", 2)),
        ]  # fmt: skip
    if plan.costs:
        computed.append(("cheaper in the long run", plan.costs.cheapest.name))
    computed.append(
        ("pull of 50 Pa on film in sight", show(sum(one.force for one in film.loads), "N"))
    )
    return make_page(
        "when", "When to check, and in what weather",
        "The days on which a check makes sense, the work that waits for it, the hours that suit.",
        facts.heading, computed=computed,
        sources=named_sources("TRADE", "FI_CLIENT", "AIRLAB", "PASSIPEDIA", "DERIVED"),
        verdict=plan.hazards, dates=dates, said=dates.sentence(units) if dates else "",
        days=[("earliest day", _day(dates.earliest), dates.after),
              ("latest day", _day(dates.latest), dates.before)] if dates else [],
        weather=weather.sentence(units) if weather else "",
        strip=inline(weather_strip(weather)) if weather else "",
        hours=[_hour_row(hour, shown) for hour in _best(weather)] if weather else [],
        costs=plan.costs.sentence(units) if plan.costs else "", film=film.sentence(units),
        loads=[(one.area, show(one.force, "N", 2), facts.shown.value(one.weight, "kg", 2),
                tick(one.supported)) for one in largest],
        more_film=len(film.loads) - len(largest),
        places=[one.sentence(units) for one in plan.places],
        fans=plan.fans.sentence(units) if plan.fans else "",
    )  # fmt: skip


def _day(day):
    return f"{day:%a %d %b %Y}" if day else "not known"


def _best(weather):
    """Return the hours of the calmest windows, as many as fit a page, in the order of time."""
    hours = [hour for window in weather.windows for hour in window][:_MOST_HOURS]
    return sorted(hours, key=lambda hour: hour.at)


def _hour_row(hour, shown):
    return (
        f"{hour.at:%a %d %b, %H:%M}", shown.bare(hour.wind, "m/s", 2), show(hour.zero, digits=2),
        show(hour.zero_reach, digits=2), f"{show(100.0 * hour.error, digits=2)} %",
        shown.bare(hour.contrast, "K", 2), "yes" if hour.camera else "no", tick(False),
    )  # fmt: skip
