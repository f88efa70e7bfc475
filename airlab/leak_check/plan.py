"""What does this job need for its check: flow, fan, preparation, hazards, route, decision?"""

from contextlib import suppress
from dataclasses import dataclass

from airlab.building import (
    EnvelopeElement,
    Geometry,
    RoughStart,
    counting_rule,
    geometry,
    rough_start,
    with_lengths,
)
from airlab.building.aim import above_limit
from airlab.building.site import site_from_settings
from airlab.leak_check.assumptions import Assumptions, assumptions_from
from airlab.leak_check.budget_number import budget_asker
from airlab.leak_check.expected import ExpectedFlow, expected_flow
from airlab.leak_check.fan_choice import FanChoice, below_range, fan_ranges
from airlab.leak_check.fan_set import FanPlace, FanSet, fan_places, fan_set
from airlab.leak_check.house_number import final_geometry, goal_flow
from airlab.leak_check.log import Log
from airlab.leak_check.prepare import HazardVerdict, Preparation, hazard_verdict, preparation
from airlab.leak_check.prices import Choices, check_or_not
from airlab.leak_check.readings import CorrectedReading, correct_reading
from airlab.leak_check.release import release
from airlab.leak_check.route import Route, search_route
from airlab.leak_check.stage import LayerState, layer_state, standing_areas
from airlab.leak_check.weather_window import WeatherWindow, weather_window
from airlab.leak_check.when import CheckDates, check_dates, own_day
from airlab.leak_check.where_leaks import NOWHERE, budget_places
from airlab.words import PRESSURE_REFERENCE, InputError
from airlab.words.saying import said

__all__ = ["CheckPlan", "decide", "make_plan"]

_PARTS = ("rooms", "envelope", "junctions", "trades", "openings", "holes", "readings", "leaks",
          "programme", "weather", "budget")  # fmt: skip


@dataclass(frozen=True, slots=True)
class CheckPlan:
    """Everything the check of one house needs.

    Parameters
    ----------
    name : str
        Name of the job.
    rough : RoughStart or None
        Set while no rooms are entered; every page then says ROUGH.
    geometry, final : Geometry
        Sizes today and at the end.
    areas : tuple of EnvelopeElement
        Areas that are counted.
    state : LayerState
        State of the layer.
    target_flow, limit_flow : float
        Flow at 50 Pa that is aimed for; that is allowed. [m3/s]
    limit : dict
        The limit the decision uses; the target where there is no limit.
    confidence : float
        How sure one wants to be of the limit. [-]
    hazards : HazardVerdict
        Whether the fan may run.
    expected : ExpectedFlow or None
        None where a hazard stops the fan.
    fan : FanChoice or None
        None without a fan, or where a hazard stops it.
    preparation : Preparation
        The schedule.
    route : Route
        The search.
    log : Log
        Leaks so far.
    readings : tuple of CorrectedReading
        Readings so far.
    assumptions : Assumptions
        All of them.
    warnings : tuple of str
        What to look at.
    fans : FanSet or None
        Rings or speeds, number of fans, load; `fan` is the one to begin with.
    places : tuple of FanPlace
        Openings the fan could stand in, the best first.
    dates : CheckDates or None
        When the check makes sense, hold point, how many checks; None without a programme.
    weather : WeatherWindow or None
        Hours that suit a reading or a camera; None without a weather table.
    costs : Choices or None
        Check or no check, by the user's prices; None where a price is missing.
    """

    name: str
    rough: RoughStart | None
    geometry: Geometry
    final: Geometry
    areas: tuple[EnvelopeElement, ...]
    state: LayerState
    target_flow: float
    limit_flow: float
    limit: dict
    confidence: float
    hazards: HazardVerdict
    expected: ExpectedFlow | None
    fan: FanChoice | None
    preparation: Preparation
    route: Route
    log: Log
    readings: tuple[CorrectedReading, ...]
    assumptions: Assumptions
    warnings: tuple[str, ...] = ()
    fans: FanSet | None = None
    places: tuple[FanPlace, ...] = ()
    dates: CheckDates | None = None
    weather: WeatherWindow | None = None
    costs: Choices | None = None

    @property
    def above_limit(self):
        """A warning where the target lies above the limit; empty where it does not."""
        return above_limit(self.target_flow, self.limit_flow)

    def sentence(self, units="metric"):
        """Return the plan in words; hazards go first."""
        parts = ["ROUGH: no rooms entered yet."] if self.rough else []
        parts.append(self.hazards.sentence(units))
        parts.append(
            f"The target allows {said(self.target_flow, 'm3/s', units)} at 50 Pa, the limit "
            f"{said(self.limit_flow, 'm3/s', units)}."
        )
        parts += [self.above_limit] if self.above_limit else []
        parts += [one.sentence(units) for one in (self.expected, self.fan) if one]
        if self.expected and not self.fan:
            parts.append("No fan is entered: give a few points of pressure and flow.")
        parts += [self.preparation.sentence(units), self.route.sentence(units), *self.warnings]
        return " ".join(parts)


def _gather(job, parts):
    """Return the parts of a job, from its attributes or as given, and its settings."""
    unknown = set(parts) - {*_PARTS, "settings"}
    if unknown:
        raise InputError(f"A plan has no part {', '.join(sorted(unknown))}.")
    found = {}
    for name in _PARTS:
        value = parts.get(name, getattr(job, name, ()))
        found[name] = value if isinstance(value, Log) else tuple(value or ())
    settings = parts.get("settings", getattr(job, "settings", None)) or {}
    with suppress(InputError):  # no room or area yet: typed lengths alone
        found["junctions"] = with_lengths(found["rooms"], found["envelope"], found["junctions"])
    log = found["leaks"]
    found["leaks"] = log if isinstance(log, Log) else Log(log)
    return found, dict(settings)


def _sizes(found, settings):
    """Return geometry, counted areas, rough start, warnings."""
    rooms, envelope = found["rooms"], found["envelope"]
    target, warnings, rough = settings.get("target") or {}, [], None
    if rooms:
        counting = settings.get("counting") or {}
        rule = counting_rule(
            counting.get("rule", "ISO 9972"), counting.get("party"), counting.get("lowest_floor")
        )
        size = geometry(rooms, envelope, rule)
    elif settings.get("rough"):
        sizes = settings["rough"]
        rough = rough_start(
            sizes["floor_area_m2"],
            sizes["mean_height_m"],
            target.get("metric"),
            target.get("value"),
        )
        size = rough.geometry
    else:
        raise InputError("No rooms are entered. Enter rooms, or floor area and mean height.")
    areas = standing_areas(rooms, envelope)
    if not areas:
        warnings.append(
            "No areas of the envelope are entered: the plan takes the layer as complete. "
            "Enter them before anything is decided."
        )
        whole = size.envelope_area or 1.0
        areas = (
            EnvelopeElement("whole envelope", "envelope", "other", "", whole,
                            status="complete and visible"),
        )  # fmt: skip
    return size, areas, rough, (*size.warnings, *warnings)


def make_plan(job=None, **parts):
    """Return the plan of the check for a job or for its parts.

    Parameters
    ----------
    job : object or None
        Anything with the attributes rooms, envelope, junctions, trades, openings, holes, readings,
        leaks, settings; programme and weather where there are any.
    parts : dict
        The same by name; a part given here replaces the job's.

    Returns
    -------
    CheckPlan
        Flow, fan, preparation, hazards, route. Where a hazard is not safe or not known on
        combustion, asbestos, lead or loose film there is no fan and no flow.

    Raises
    ------
    InputError
        If no rooms and no rough sizes are entered, no target is set, or a part cannot be used.
    """
    found, settings = _gather(job, parts)
    given = assumptions_from(settings)
    size, areas, rough, warnings = _sizes(found, settings)
    limit = settings.get("limit") or settings.get("target")
    target_flow = goal_flow(settings.get("target") or limit, size, given)
    limit_flow = goal_flow(limit, size, given)
    confidence = settings.get("confidence") or 0.9
    direction = settings.get("direction") or "depressurise"
    openings, trades = found["openings"], found["trades"]
    hazards = hazard_verdict(settings.get("hazards") or {}, areas, openings)
    ready = preparation(openings)
    expected = fans = fan = None
    own = settings.get("fan") or {}
    curves = fan_ranges(own)
    if hazards.fan_may_run:
        expected = expected_flow(
            target_flow,
            areas,
            openings,
            trades,
            found["holes"],
            given,
            limit_flow,
            confidence,
            found["junctions"],
        )
        if curves:
            fans = fan_set(
                curves, expected, given["flow_exponent"], own.get("count") or 2,
                own.get("efficiency") or 0.3, own.get("supply_w"), ready.faults,
            )  # fmt: skip
            fan = fans.first
    reached = float(fan.at_low.pressure_difference) if fan else PRESSURE_REFERENCE
    places, left_out = _places(found)
    route = search_route(
        found["rooms"], areas, openings, found["junctions"], trades, found["leaks"], direction,
        reached, settings.get("temperatures"), hazards.fan_may_run, given,
        settings.get("units") or "metric",
        places,
    )  # fmt: skip
    return CheckPlan(
        settings.get("name") or getattr(job, "name", "") or "",
        rough,
        size,
        final_geometry(size, given),
        areas,
        layer_state(areas, trades, given),
        target_flow,
        limit_flow,
        dict(limit),
        confidence,
        hazards,
        expected,
        fan,
        ready,
        route,
        found["leaks"],
        tuple(correct_reading(one, given, direction=direction) for one in found["readings"]),
        given,
        (
            *warnings,
            *ready.warnings,
            *route.warnings,
            *left_out,
            *(fans.warnings if fans else ()),
            *filter(None, (below_range(one, curves) for one in found["readings"])),
        ),
        fans,
        fan_places(openings, found["rooms"]) if hazards.fan_may_run else (),
        *_around(found, settings, size, areas, given, target_flow, limit_flow, confidence),
    )


def _places(found):
    """Return where the budget leaks; nowhere, and why, if a line of it cannot be used."""
    names = ("budget", "rooms", "envelope", "junctions", "openings")
    try:
        return budget_places(*(found[name] for name in names)), ()
    except InputError as error:
        return NOWHERE, (f"The budget does not order the route: {error}",)


def _around(found, settings, size, areas, given, target_flow, limit_flow, confidence):
    """Return dates, weather and costs of the check, None for each that nobody has entered."""
    dates = weather = costs = None
    if found["programme"]:
        dates = check_dates(
            found["programme"], areas, found["junctions"], given, settings.get("construction"),
            own_day(settings.get("check_on") or ""),
            settings.get("released_by") or "",
        )  # fmt: skip
    if found["weather"]:
        site = site_from_settings(settings.get("site"))
        inside = (settings.get("temperatures") or {}).get("inside")
        weather = weather_window(
            found["weather"], site, size.building_height or site.eaves_height,
            20.0 if inside is None else inside, given,
        )  # fmt: skip
    prices = settings.get("prices") or {}
    if all(prices.get(key) is not None for key in ("check", "open_up", "retest")):
        costs = check_or_not(prices, target_flow, limit_flow, confidence)
    return dates, weather, costs


def decide(job=None, weigh=True, ask=None, **parts):
    """Return the release of a job or of its parts: per area, and the number for the house.

    Parameters
    ----------
    job : object or None
        As for `make_plan`.
    weigh : bool
        Whether to work out which assumptions move the probability most; it takes most of the time.
    ask : callable or None
        Asks the budget; None takes the budget of the job, where it has one.
    parts : dict
        As for `make_plan`.

    Returns
    -------
    Release
        The decision on the last reading.

    Raises
    ------
    InputError
        If rooms, envelope areas or a limit are missing.
    """
    found, settings = _gather(job, parts)
    given = assumptions_from(settings)
    size, _, _, _ = _sizes(found, settings)
    areas = standing_areas(found["rooms"], found["envelope"])
    return release(
        areas,
        size,
        settings.get("limit") or settings.get("target"),
        found["readings"],
        found["leaks"],
        found["openings"],
        found["trades"],
        found["holes"],
        found["junctions"],
        hazard_verdict(settings.get("hazards") or {}, areas, found["openings"]),
        given,
        settings.get("confidence") or 0.9,
        settings.get("direction"),
        weigh,
        ask
        or budget_asker(*(found[name] for name in ("budget", "rooms", "envelope", "junctions"))),
    )
