"""Jobs for the sheet tests, made from the invented demo house."""

from dataclasses import fields, replace
from datetime import datetime, timedelta, timezone

from airlab.files import JOB_TABLES, demo_job
from airlab.files.settings import DEFAULTS, freeze
from airlab.leak_check import Hole, Log, Reading
from airlab.words import m3_per_h, mm

MORNING = datetime(2027, 4, 12, 8, 30, tzinfo=timezone(timedelta(hours=2)))
STOPPING = ("combustion", "asbestos", "lead", "film")


def at(minutes):
    return MORNING + timedelta(minutes=minutes)


def demo(**changes):
    return replace(demo_job(), **changes)


def answered(job, **answers):
    return replace(job, hazards=freeze(dict(job.hazards) | answers))


def reading(flow, pressure=50.0, name="r", direction="depressurise", zeros=(None, None), stage=""):
    return Reading(name, pressure, m3_per_h(flow), direction, at(70), stage, *zeros)


def day_log():
    log = Log().found(1, at=at(10), area="south wall kitchen", room="Kitchen", place="hob cable",
                      height="mid", strength=2, method="smoke", by="AM")  # fmt: skip
    log = log.sealed(1, "cable collar", at=at(30), by="JK").rechecked(1, at=at(50), by="AM")
    log = log.found(2, at=at(31), area="north wall hall", room="Hall", place="joist end",
                    height="high", strength=3, photo="014.jpg")  # fmt: skip
    return log.sealed(2, "lap tape", at=at(60))


def day_job(flow=515.0):
    job = demo_job()
    hole = Hole("H1", "electrician", "north wall hall", mm(20), "outside lamp", at(0).date())
    readings = (reading(640, name="1", stage="first reading"),
                reading(flow, name="2", stage="after sealing"))  # fmt: skip
    openings = tuple(replace(one, found=one.required, initials="AM") for one in job.openings)
    return replace(job, readings=readings, leaks=day_log().events, holes=(hole,), openings=openings)


def complete(job, **changes):
    """The job with its layer complete, its joints closed, no seal that hides a leak."""
    return replace(
        job,
        envelope=tuple(replace(one, status="complete and visible") for one in job.envelope),
        junctions=tuple(replace(one, closed=True) for one in job.junctions),
        openings=tuple(replace(one, hides_leak=False) for one in job.openings),
        **changes,
    )


def rough(metric="n50", value=1.0, **changes):
    rows = dict.fromkeys(JOB_TABLES, ())
    return demo(
        **(rows | {
            "rough": freeze({"floor_area_m2": 140.0, "mean_height_m": 2.5}), "limit": None,
            "target": freeze({"metric": metric, "value": value}), "invented": False,
        } | changes)
    )  # fmt: skip


def another():
    """A second house under the same name: other rooms, envelope, openings, joints, trades, target."""
    job = demo_job()
    gone = ("door frames", "hatch frame", "loft hatch")  # lines of what the second house lacks
    return replace(
        job,
        rooms=(replace(job.rooms[0], length=9.0), *job.rooms[1:]),
        envelope=tuple(replace(one, area_m2=1.3 * one.area_m2) for one in job.envelope[:-1]),
        openings=job.openings[:-3],
        junctions=tuple(replace(one, closed=False) for one in job.junctions[:-2]),
        budget=tuple(one for one in job.budget if one.item not in gone),
        trades=tuple(replace(one, hole_diameter=mm(32)) for one in job.trades[:-1]),
        target=freeze({"metric": "qE50", "value": 1.7}),
        limit=freeze({"metric": "qE50", "value": 2.6}),
    )


def poisoned(job, text):
    """The job with every text a person may type replaced by the same text."""

    def poison(record, keep):
        choices = {column.name for column in keep.columns if column.choices} | {"event", "undoes"}
        given = {
            field.name: f"{text}{getattr(record, field.name)}"
            for field in fields(record)
            if isinstance(getattr(record, field.name), str) and field.name not in choices
            and field.name not in ("kind", "status", "required", "height", "did", "direction", "component")
        }  # fmt: skip
        return replace(record, **given)

    tables = {
        name: tuple(poison(record, table) for record in getattr(job, name))
        for name, (table, _) in JOB_TABLES.items()
    }
    limit = freeze(dict(job.limit) | {"name": text}) if job.limit else None
    fan = freeze(dict(job.fan) | {"name": text}) if job.fan else None
    return replace(job, name=text, place=text, about=text, limit=limit, fan=fan, **tables)


__all__ = ["DEFAULTS", "STOPPING", "another", "answered", "at", "complete", "day_job", "day_log",
           "demo", "poisoned", "reading", "rough"]  # fmt: skip
