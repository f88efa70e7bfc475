"""Jobs: the demo, one's own house, settings, tables, logs of several people, broken folders."""

import errno
import json
import os
import shutil
import subprocess
import sys
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from airlab import files
from airlab.building import Room, counting_rule, geometry, leakage_flow_from
from airlab.files import (
    FileChanged,
    append_events,
    current_job,
    demo_job,
    jobs_folder,
    keep_copy,
    list_jobs,
    open_job,
    save_settings,
    save_table,
    settings,
    start_job,
    switch_job,
)
from airlab.leak_check.tables import Hole, LeakEvent, Reading
from airlab.words import InputError, from_si, hazards, m3_per_h

KEPT = Path(__file__).parent / "schema_1"
AT = datetime(2026, 3, 24, 9, 5, tzinfo=UTC)


@pytest.fixture
def job():
    return start_job("My house")


@pytest.fixture
def kept(tmp_path):
    return open_job(shutil.copytree(KEPT, tmp_path / "kept"))


def on_disk(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


# ---- the demo -----------------------------------------------------------------------------------


def test_demo_is_one_house():
    # Independent of the tables: two inside rectangles of 9.6 × 6.8 m, 2.5 and 2.4 m high, a floor
    # of 0.3 m between them; elementary geometry of a box.
    demo = demo_job()
    length, width, height = 9.6, 6.8, 2.5 + 0.3 + 2.4
    box = 2.0 * (length * width + (length + width) * height)
    house = geometry(demo.rooms, demo.envelope)
    assert house.warnings == ()
    assert house.envelope_area == pytest.approx(box, rel=2e-4)  # areas are kept to 0.01 m²
    assert house.lowest_floor_area == pytest.approx(length * width, rel=2e-4)
    # Walls between rooms, 0.12 m thick: one along the house, the rest across its two halves.
    ground = length * width - 0.12 * (9.6 + 3.9 + 2.78)
    first = length * width - 0.12 * (9.6 + 3.9 + 2 * 2.78)
    void = 3.0 * 1.0
    assert house.floor_area == pytest.approx(ground + first - void, abs=0.05)
    assert house.internal_volume == pytest.approx(2.5 * ground + 2.4 * first + 0.3 * void, abs=0.1)
    assert len(house.rooms_in) == 9
    assert [name for name, _ in house.rooms_out] == ["Store"]


def test_demo_holds_together():
    demo = demo_job()
    rooms, areas = {r.name for r in demo.rooms}, {e.area for e in demo.envelope}
    elements = {e.element for e in demo.envelope}
    assert {e.room for e in demo.envelope} | {o.room for o in demo.openings} <= rooms
    assert {e for j in demo.junctions for e in (j.element_a, j.element_b)} == elements
    assert len(areas) == len(demo.envelope)
    statuses = [e.status for e in demo.envelope]
    assert (statuses.count("open laps"), statuses.count("covered")) == (2, 1)
    assert "not started" not in statuses
    assert {o.required for o in demo.openings} == {"closed", "sealed", "as found"}
    assert (demo.holes, demo.readings, demo.leaks) == ((), (), ())
    assert demo.notes == ()
    # Target below limit, within reach of the fan at 50 Pa, and not on a bad day (factor 3).
    flow = leakage_flow_from("qE50", demo.target["value"], geometry(demo.rooms, demo.envelope))
    at_50 = m3_per_h(dict(demo.fan["points"])[50.0])
    assert demo.target["value"] < demo.limit["value"]
    assert flow < at_50 < 3.0 * flow


def test_demo_says_it_is_invented():
    demo = demo_job()
    assert demo.invented
    assert "does not exist" in demo.about
    readme = (files.data_folder() / "README.md").read_text("utf-8")
    assert "invented" in readme
    for path in (files.data_folder() / "demo_job").iterdir():
        assert path.name in readme


def test_demo_stays_as_it_is():
    demo = demo_job()
    before = on_disk(demo.folder)
    for act in (
        lambda: save_table(demo, "rooms", demo.rooms),
        lambda: append_events(demo, [LeakEvent(1, "found", at=AT)]),
        lambda: save_settings(demo, name="mine"),
        lambda: keep_copy(demo, "rooms", demo.rooms),
    ):
        with pytest.raises(InputError, match="Start my own house"):
            act()
    assert on_disk(demo.folder) == before


# ---- one's own house ----------------------------------------------------------------------------


def test_own_house_begins_as_the_demo_with_no_hazard_answered(job):
    demo = demo_job()
    assert (job.rooms, job.envelope, job.trades) == (demo.rooms, demo.envelope, demo.trades)
    assert job.name == "My house"
    assert job.invented
    assert set(job.hazards) == {hazard.key for hazard in hazards()}
    assert set(job.hazards.values()) == {"don't know"}
    assert job.folder == jobs_folder() / "My-house"
    assert sorted(p.name for p in jobs_folder().iterdir()) == ["My-house", "open_job.txt"]
    assert sorted(on_disk(job.folder)) == sorted(p.name for p in demo.folder.iterdir())


def test_empty_house():
    job = start_job("Nothing yet", like="empty")
    assert job.rooms == job.envelope == job.openings == ()
    assert not job.invented
    assert job.target is None


@pytest.mark.parametrize(
    "name", ["Haus 7/Küche", "../../etc", "家", "بيت", "con", "x" * 300, "a. "]
)
def test_names_in_any_script_become_safe_folders(name):
    job = start_job(name, like="empty")
    assert job.name == name.strip()
    assert job.folder.parent == jobs_folder()
    assert job.folder.name.casefold() != "con"
    assert current_job().name == name.strip()


def test_refused_names(job):
    for name in ("", "  ", "../..", "---", "\x00"):
        with pytest.raises(InputError, match="at least one letter"):
            start_job(name)
    for name in ("My house", "my HOUSE"):
        with pytest.raises(InputError, match="already"):
            start_job(name)
    with pytest.raises(InputError, match="Choose 'demo' or 'empty'"):
        start_job("Another", like="castle")
    assert [listing.folder for listing in list_jobs()] == ["My-house"]


def test_a_start_that_fails_leaves_nothing(monkeypatch):
    def refuse(source, target):
        raise OSError(errno.EROFS, "Read-only file system")

    monkeypatch.setattr(os, "rename", refuse)
    with pytest.raises(InputError, match="could not be started"):
        start_job("My house")
    assert list(jobs_folder().iterdir()) == []


def test_open_list_switch():
    assert current_job().folder == demo_job().folder
    assert "demo house" in current_job().notes[-1]
    assert list_jobs() == ()
    start_job("One")
    two = start_job("Two", like="empty")
    assert current_job() == two
    assert [(entry.name, entry.is_open) for entry in list_jobs()] == [("One", False), ("Two", True)]
    assert switch_job("One").name == "One"
    assert current_job().name == "One"
    (two.folder / "job.json").write_text("{", "utf-8")
    assert "half-written" in list_jobs()[1].trouble
    with pytest.raises(InputError):
        switch_job("Two")
    assert current_job().name == "One"
    shutil.rmtree(jobs_folder() / "One")
    assert "One is gone" in current_job().notes[-1]


@pytest.mark.parametrize("name", ["../elsewhere", "..", ".", "/etc", "a/../../b", "..\\b", "C:b"])
def test_a_job_outside_the_jobs_folder_is_not_opened(name):
    mine = start_job("Mine")
    elsewhere = jobs_folder().parent / "elsewhere"
    shutil.copytree(mine.folder, elsewhere, dirs_exist_ok=True)
    with pytest.raises(InputError, match="no folder among your jobs"):
        switch_job(name)
    (jobs_folder() / "open_job.txt").write_text(name, "utf-8")
    found = current_job()
    assert found.folder == demo_job().folder
    assert "no folder among your jobs" in found.notes[-1]
    assert not any(entry.is_open for entry in list_jobs())


def test_no_job_in_a_folder(tmp_path):
    with pytest.raises(InputError, match=r"no job\.json"):
        open_job(tmp_path)


# ---- tables of a job ----------------------------------------------------------------------------


def test_save_table_takes_records_and_rows(job):
    rooms = (*job.rooms, Room("NA", "first", 2.0, 1.5, 2.4))
    now = save_table(job, "rooms", rooms)
    assert now.rooms == rooms == open_job(job.folder).rooms
    rows = [{"room": "Hut", "storey": "ground", "length_m": "3,5", "width_m": 2, "height_m": 2.4}]
    now = save_table(now, "rooms", rows)
    assert now.rooms == (Room("Hut", "ground", 3.5, 2.0, 2.4),)
    assert now.notes == ()
    assert job.rooms != now.rooms
    reading = Reading("1", 50.0, m3_per_h(602.0), "depressurise", AT)
    assert save_table(now, "readings", [reading]).readings == (reading,)
    hole = Hole("h1", "plumber", diameter=0.04, made_on=date(2027, 4, 22))
    assert save_table(now, "holes", [hole]).holes == (hole,)


def test_every_table_of_the_demo_survives_a_round_trip(job):
    for name in files.JOB_TABLES:
        before = getattr(job, name)
        job = save_table(job, name, before)
        assert getattr(job, name) == before == getattr(open_job(job.folder), name)


def test_rows_that_cannot_be_used_are_not_written(job):
    before = on_disk(job.folder)
    for rows, word in (
        ([{"room": "A", "storey": "g", "length_m": -1}], "length_m"),
        ([job.rooms[0], job.rooms[0]], "rows 2 and 3"),
    ):
        with pytest.raises(InputError, match=word):
            save_table(job, "rooms", rows)
    with pytest.raises(InputError, match=r"readings\.csv, reading '1'"):
        save_table(job, "readings", [{"reading": "1", "pressure_pa": 0, "flow_m3_per_h": 5}])
    with pytest.raises(InputError, match="A job has: rooms"):
        save_table(job, "attic", [])
    assert on_disk(job.folder) == before


def test_unknown_columns_follow_their_rows(kept):
    first, second, shed = kept.rooms
    renamed = Room("Kitchen", "ground", 4.0, 3.0, 2.5)
    now = save_table(kept, "rooms", [shed, first])
    assert [row["colour"] for row in now.files["rooms"].rows] == ["", "blue"]
    now = save_table(now, "rooms", [shed, first, second])
    assert [row["colour"] for row in now.files["rooms"].rows] == ["", "blue", ""]
    kept = open_job(shutil.copytree(KEPT, kept.folder.with_name("again")))
    now = save_table(kept, "rooms", [first, renamed, shed])
    assert [row["colour"] for row in now.files["rooms"].rows] == ["blue", "red", ""]


def test_two_people_one_table(job):
    other = open_job(job.folder)
    save_table(other, "trades", other.trades[:1])
    with pytest.raises(FileChanged, match="reload, or keep mine as a copy"):
        save_table(job, "trades", job.trades[:2])
    copy = keep_copy(job, "trades", job.trades[:2])
    assert copy.name.startswith("trades.mine-")
    assert len(open_job(job.folder).trades) == 1
    with pytest.raises(FileChanged):
        save_settings(save_settings(other, name="Theirs") and job, name="Mine")
    assert open_job(job.folder).name == "Theirs"


# ---- the log of several people ------------------------------------------------------------------


def acts(*numbers, did="found"):
    return [LeakEvent(number, did, at=AT, room="Hall") for number in numbers]


def test_logs_of_two_people_are_joined(job):
    other = open_job(job.folder)
    first, second = acts(1), acts(2)
    job = append_events(job, first)
    other = append_events(other, second)
    assert [event.leak for event in other.leaks] == [1, 2]
    job = append_events(job, acts(3))
    assert {event.event for event in first + second} < {event.event for event in job.leaks}
    assert open_job(job.folder).leaks == job.leaks
    assert append_events(job, first).leaks == job.leaks  # the same act counts once


def test_two_programs_write_one_log_and_lose_nothing(job):
    script = (
        "import sys; from airlab.files import append_events, open_job\n"
        "from airlab.leak_check.tables import LeakEvent\n"
        "job, first = open_job(sys.argv[1]), int(sys.argv[2])\n"
        "for number in range(first, first + 25):\n"
        "    job = append_events(job, [LeakEvent(number, 'found')])\n"
    )
    running = [
        subprocess.Popen([sys.executable, "-c", script, str(job.folder), str(first)])
        for first in (1, 1001)
    ]
    assert [program.wait(60) for program in running] == [0, 0]
    numbers = {event.leak for event in open_job(job.folder).leaks}
    assert numbers == {*range(1, 26), *range(1001, 1026)}


def test_one_number_given_twice_gets_another(job):
    other = open_job(job.folder)
    append_events(job, acts(1))
    other = append_events(other, acts(1))
    assert [event.leak for event in other.leaks] == [1, 2]
    assert "number 1 on the other sheet" in other.leaks[1].note


def test_unknown_columns_of_the_log_stay(kept):
    path = kept.folder / "leaks.csv"
    path.write_text(path.read_text("utf-8").replace("entered_later", "weather", 1), "utf-8")
    mine = open_job(kept.folder)
    path.write_text(path.read_text("utf-8").replace(",AB,,,no\n", ",AB,,,rain\n"), "utf-8")
    now = append_events(mine, acts(2))
    assert [row.get("weather") for row in now.files["leaks"].rows] == ["rain", "rain", None]
    assert [row["weather"] for row in open_job(kept.folder).files["leaks"].rows] == ["rain"] * 2 + [
        ""
    ]


def test_log_held_by_a_spreadsheet_is_caught_up_later(job, monkeypatch):
    real = os.replace

    def held(source, target):
        if str(target).endswith("leaks.csv"):
            raise PermissionError(errno.EACCES, "held")
        return real(source, target)

    monkeypatch.setattr(os, "replace", held)
    monkeypatch.setattr(files.saving, "REPLACE_PAUSE", 0.0)
    job = append_events(job, acts(1))
    assert "held open by another program" in job.notes[0]
    assert len(job.leaks) == 1
    monkeypatch.undo()
    monkeypatch.setenv("AIRLAB_JOBS", str(job.folder.parent))
    job = append_events(job, acts(2))
    assert job.notes == ()
    assert [event.leak for event in open_job(job.folder).leaks] == [1, 2]


def test_log_broken_meanwhile_is_not_written_over(job):
    path = job.folder / "leaks.csv"
    path.write_bytes(b"event,leak,did\nx,one,found\n")
    with pytest.raises(InputError, match="row 2, column leak: 'one'"):
        append_events(job, acts(1))
    assert path.read_bytes() == b"event,leak,did\nx,one,found\n"


def test_acts_typed_without_a_name_keep_the_name_they_are_given(job):
    path = job.folder / "leaks.csv"
    typed = (
        b'leak,did,at,note,colour\n1,found,2026-03-24 09:05,"a, b",red\n2,found,,,\n2,found,,,\n'
    )
    path.write_bytes(typed)
    first, again = open_job(job.folder), open_job(job.folder)
    names = [event.event for event in first.leaks]
    assert names == [event.event for event in again.leaks]
    assert len(set(names)) == 3  # two rows alike stay two acts
    assert all(name[0] == "r" and len(name) == 13 for name in names)
    assert path.read_bytes() == typed  # reading changes nothing
    # another program writes the same rows another way: other order of columns, quotes, offset
    path.write_bytes(b'colour;note;leak;did;at\nred;"a, b";1;found;2026-03-24 09:05+05:00\n')
    assert open_job(job.folder).leaks[0].event == names[0]
    path.write_bytes(typed)
    saved = append_events(first, acts(9))
    assert [event.event for event in open_job(job.folder).leaks][:3] == names
    assert saved.files["leaks"].rows[0]["colour"] == "red"
    merged = append_events(again, acts(10))  # the other person's sheet, opened before
    assert [event.event for event in merged.leaks][:3] == names
    assert len(merged.leaks) == 5
    path.write_bytes(typed.replace(b"a, b", b"a, c"))
    assert open_job(job.folder).leaks[0].event != names[0]


def test_names_are_written_where_a_table_is_saved(job):
    job = save_table(job, "leaks", [{"leak": 1, "did": "found"}])
    name = job.leaks[0].event
    assert name in (job.folder / "leaks.csv").read_text(encoding="utf-8")
    assert open_job(job.folder).leaks[0].event == name


def test_programme_weather_site_and_prices_are_kept(job):
    for name in ("programme", "weather"):
        (job.folder / f"{name}.csv").unlink()
    job = open_job(job.folder)  # as a folder that was made before there were such tables
    assert not job.programme and not job.weather
    assert not any("programme" in note or "weather" in note for note in job.notes)
    path = job.folder / "weather.csv"
    path.write_bytes(b"at;temperature_c;wind_m_per_s\n2027-04-12 08:00;7,5;3,2\n")
    job = save_table(
        open_job(job.folder), "programme",
        [{"task": "boards", "does": "covering", "starts_on": date(2027, 4, 19)}],
    )  # fmt: skip
    job = save_settings(job, site={"terrain": "city", "eaves_height_m": 6},
                        prices={"check": 350, "currency": "€"}, released_by="A. Lead")  # fmt: skip
    again = open_job(job.folder)
    assert (again.weather[0].temperature, again.weather[0].wind_speed) == (7.5, 3.2)
    assert again.programme[0].starts_on == date(2027, 4, 19)
    assert again.settings["site"] == {"terrain": "city", "eaves_height_m": 6}
    assert again.settings["prices"] == {"check": 350.0, "currency": "€"}
    again = save_settings(again, prices={"round": 500})
    assert open_job(job.folder).settings["prices"]["check"] == 350.0
    path.write_bytes(b"at,temperature_c,wind_m_per_s\n2027-04-12 08:00,45,468\n")
    with pytest.raises(InputError, match=r"weather\.csv(?s:.*)wind_m_per_s: '468'.*km/h"):
        open_job(job.folder)


def test_notes_in_any_script(job):
    notes = [
        "Fuge am Fenster, 3 mm",
        "دخان قرب الباب",
        "漏れ\n二行",
        "=1+1",
        "<script>x</script>",
        "'q",
    ]
    job = append_events(job, [LeakEvent(i, "found", at=AT, note=n) for i, n in enumerate(notes, 1)])
    assert [event.note for event in open_job(job.folder).leaks] == notes


def test_five_thousand_acts(job):
    many = [LeakEvent(i // 2 + 1, ("found", "marked")[i % 2], at=AT, note="ü") for i in range(5000)]
    job = append_events(job, many)
    assert open_job(job.folder).leaks == tuple(many) == job.leaks
    job = append_events(job, acts(9000))
    assert len(open_job(job.folder).leaks) == 5001


# ---- settings -----------------------------------------------------------------------------------


def test_kept_job_of_schema_1(kept):
    # A job as this version wrote it; every later version must still open it.
    assert (kept.name, kept.units, kept.direction) == ("Kept as it was", "us", "pressurise")
    assert kept.rooms[0].name == "NA"
    assert kept.hazards["combustion"] == "not safe"
    assert kept.hazards["asbestos"] == "don't know"
    assert kept.fan["points"] == ((0.0, 900.0), (50.0, 400.0))
    assert kept.extra["their_own"] == {"colour": "green"}
    assert kept.leaks[1].material == "tape"
    assert any("trades.csv is not there" in note for note in kept.notes)
    rule = counting_rule(**{"name": kept.counting["rule"], "lowest_floor": True})
    assert geometry(kept.rooms, rule=rule).internal_volume == pytest.approx(80.0)
    assert from_si(leakage_flow_from("n50", 1.5, geometry(kept.rooms)), "m3/h") == pytest.approx(
        120
    )


def test_settings_change_one_by_one_and_unknown_ones_stay(kept):
    now = save_settings(
        kept, hazards={"film": "safe"}, assumptions={"bad_day_low": 2.0}, rough=None
    )
    assert now.hazards["film"] == "safe"
    assert now.hazards["combustion"] == "not safe"
    assert now.assumptions == {"bad_day_high": 2.5, "bad_day_low": 2.0}
    assert now.rough is None
    now = save_settings(
        now, assumptions={"bad_day_high": None}, target={"metric": "qE50", "value": 2}
    )
    assert now.assumptions == {"bad_day_low": 2.0}
    assert now.target == {"metric": "qE50", "value": 2.0}
    again = open_job(now.folder)
    assert again.settings == now.settings
    assert again.settings["their_own"] == {"colour": "green"}
    assert json.loads((now.folder / "job.json").read_text("utf-8"))["schema"] == 1
    assert (now.folder / "job.previous.json").exists()


def test_settings_cannot_be_changed_in_place(kept):
    with pytest.raises(TypeError):
        kept.hazards["combustion"] = "safe"
    kept.settings["hazards"]["combustion"] = "safe"
    assert kept.hazards["combustion"] == "not safe"


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"confidence": 90}, "write 0.9"),
        ({"flow_exponent": 0.2}, "0.5 to 1"),
        ({"units": "imperial"}, "'metric', 'us'"),
        ({"direction": "up"}, "depressurise"),
        ({"target": {"metric": "q50", "value": 3}}, "q50_flow or qE50"),
        ({"target": {"metric": "n50"}}, "a value"),
        ({"target": {"metric": 50, "value": 3}}, "Text is needed"),
        ({"limit": {"metric": "n50", "value": -3}}, "above zero"),
        ({"limit": 3}, "Named entries"),
        ({"hazards": {"combustion": "probably"}}, "'safe', 'not safe'"),
        ({"fan": {"points": [[50]]}}, "pairs of pressure"),
        ({"site": {"terrain": "moon"}}, "Choose one of"),
        ({"site": {"eaves_height_m": -2}}, "Eaves height"),
        ({"prices": {"check": -350}}, "Price check is −350"),
        ({"released_by": 7}, "Text is needed"),
        ({"fan": {"points": [[50, float("nan")]]}}, "not a number"),
        ({"fan": {"points": [], "ranges": {"name": "ring"}}}, "are a list"),
        ({"fan": {"points": [], "ranges": [{"points": [[50]]}]}}, "pairs of pressure"),
        ({"fan": {"points": [], "lowest_m3_per_h": -5}}, "Lowest flow is −5"),
        ({"fan": {"points": [], "count": 9}}, "Choose one of"),
        ({"fan": {"points": [], "efficiency": 30}}, "Fan efficiency"),
        ({"temperatures": {"inside": 200}}, "−60 to 60 °C"),
        ({"rough": {"floor_area_m2": 120}}, "Mean height m"),
        ({"counting": {"rule": "mine"}}, "Counting rule"),
        ({"invented": "no"}, "true or false"),
        ({"name": 7}, "Text is needed"),
        ({"assumptions": {"bedrooms": float("inf")}}, "cannot hold"),
        ({"assumptions": {"drift_services": -1}}, "takes 0.2 to 5"),
        ({"assumptions": {"open_laps_low": 9.0}}, "must not be above open laps high"),
        ({"assumptions": {"x": 1}}, "no 'x'. Known: bad_day_low"),
        ({"prices": {"foo": 3}}, "no 'foo'. Known: check, round"),
        ({"hazards": {"fires": "safe"}}, "no 'fires'. Known: combustion"),
        ({"colour": "red"}, "A job has: name"),
    ],
)
def test_settings_refused(kept, change, word):
    before = on_disk(kept.folder)
    with pytest.raises(InputError, match=word):
        save_settings(kept, **change)
    assert on_disk(kept.folder) == before


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"", "half-written"),
        (b'{"schema": 1, "name": "A', "half-written"),
        (b'{"schema": 1, "confidence": NaN}', "NaN"),
        (b"[1]", "no schema"),
        (b'{"name": "A"}', "no schema"),
        (b'{"schema": true}', "no schema"),
        (b'{"schema": 0}', "schema 0"),
        (b'{"schema": 1, "units": "x", "confidence": 3}', "2 settings"),
        (b"\xff\xfe", "cannot be read"),
        (b"[" * 100_000, "cannot be read"),
    ],
)
def test_broken_job_json(kept, content, word):
    (kept.folder / "job.json").write_bytes(content)
    with pytest.raises(InputError, match=word):
        open_job(kept.folder)


def test_newer_job_opens_read_only(kept):
    path = kept.folder / "job.json"
    found = json.loads(path.read_text("utf-8")) | {"schema": 7, "units": "cubits"}
    path.write_text(json.dumps(found), "utf-8")
    newer = open_job(kept.folder)
    assert "newer version" in newer.notes[-1]
    assert newer.units == "metric"
    assert newer.rooms == kept.rooms
    before = on_disk(kept.folder)
    with pytest.raises(InputError, match="not changed here"):
        save_table(newer, "rooms", newer.rooms)
    assert on_disk(kept.folder) == before


def test_older_job_is_brought_up_to_date(kept, monkeypatch):
    monkeypatch.setattr(settings, "SCHEMA", 3)
    steps = {
        1: lambda found: {**found, "name": found["name"] + ", stepped"},
        2: lambda found: {**found, "name": found["name"] + " twice"},
    }
    monkeypatch.setattr(settings, "MIGRATIONS", steps)
    assert open_job(kept.folder).name == "Kept as it was, stepped twice"


def test_every_broken_table_is_named_at_once(job):
    (job.folder / "rooms.csv").write_bytes(b"room,storey,length_m\nA,g,wide\n")
    (job.folder / "trades.csv").write_bytes(b"trade,holes_expected\nA,many\n")
    with pytest.raises(InputError) as caught:
        open_job(job.folder)
    assert "rooms.csv: 1 entry" in str(caught.value)
    assert "trades.csv: 1 entry" in str(caught.value)


def test_jobs_folder_is_chosen(monkeypatch, tmp_path):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path / "mine"))
    assert jobs_folder() == tmp_path / "mine"
    assert start_job("A", like="empty").folder == tmp_path / "mine" / "A"
    monkeypatch.delenv("AIRLAB_JOBS")
    assert jobs_folder().parts[-2:] == ("notebooks", "jobs")


def test_a_day_of_ones_own_and_stops_that_are_done():
    job = save_settings(start_job("Mine"), check_on=" 2027-04-13 ", stops_done=["a", "b", "a"])
    assert open_job(job.folder).check_on == "2027-04-13"
    assert open_job(job.folder).stops_done == ("a", "b")
    for bad in ({"check_on": "13 April"}, {"check_on": "2027-02-30"}, {"stops_done": "a"}):
        with pytest.raises(InputError, match="cannot be used"):
            save_settings(job, **bad)
    assert save_settings(job, check_on="").check_on == ""
