"""The editor of a table: fields by kind, saving, taking back, refusals that lose nothing."""

import csv
from datetime import date

import ipywidgets as widgets
import pytest
from ipywidgets.widgets.widget import _instances

from airlab.building import ENVELOPE, JUNCTIONS, ROOMS
from airlab.files import JOB_TABLES, demo_job, open_job, save_table, start_job
from airlab.leak_check.tables import HOLES, OPENINGS, READINGS, TRADES
from airlab.panels.desk import Desk
from airlab.panels.table_cells import column_words
from airlab.panels.table_editor import TableEditor
from airlab.words import InputError

ROWS = (
    {"room": "Kitchen", "storey": "ground", "length_m": 4.0, "width_m": 3.0, "height_m": 2.4,
     "volume_m3": None, "floor_area_m2": None, "included": True, "why": "", "colour": "green"},
    {"room": "Bath <b>", "storey": "first", "length_m": 2.0, "width_m": 2.0, "height_m": 2.4,
     "volume_m3": None, "floor_area_m2": None, "included": True, "why": ""},
)  # fmt: skip


@pytest.fixture(autouse=True)
def jobs(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    return tmp_path


def kept(rows):
    return rows


def press(editor, words):
    """Press a button as a person does: faults must not pass unseen, refusals become a message."""
    for box in editor.children:
        for child in getattr(box, "children", ()):
            if isinstance(child, widgets.Button) and child.description == words:
                child.click()
                return
    raise AssertionError(words)


@pytest.mark.parametrize("table", [ROOMS, ENVELOPE, JUNCTIONS, OPENINGS, TRADES, HOLES, READINGS])
def test_every_table_can_be_edited_with_few_controls_each_with_a_name(table):
    editor = TableEditor(table, (), save=kept, reload=tuple)
    controls = [
        w for w in (*editor.fields.values(), *editor.children, *editor.children[3].children)
        if not isinstance(w, widgets.Box | widgets.HTML)
    ]  # fmt: skip
    assert len(controls) <= 20
    assert all(control.description for control in controls)
    names = [field.description for field in editor.fields.values()]
    assert len(set(names)) == len(names)


def test_headers_say_the_unit():
    assert column_words(ENVELOPE.column("area_m2")) == "Area [m²]"
    assert column_words(READINGS.column("flow_m3_per_h")) == "Flow [m³/h]"
    assert column_words(READINGS.column("pressure_pa")) == "Pressure [Pa]"
    assert column_words(TRADES.column("hole_diameter_mm")) == "Hole diameter [mm]"
    html = TableEditor(ROOMS, ROWS, save=kept)._table.value
    assert (
        '<th scope="col" class="number" title="height, floor to ceiling: the mean in a box, the greatest under a slope">Height [m]</th>'
        in html
    )
    assert "Bath &lt;b&gt;" in html and "<b>" not in html
    assert 'tabindex="0" role="region"' in html


def test_a_field_for_each_kind_of_column():
    fields = TableEditor(JUNCTIONS, (), save=kept).fields
    assert isinstance(fields["closed"], widgets.Checkbox)
    assert fields["hidden_on"].placeholder == "2027-03-24"
    fields = TableEditor(ENVELOPE, (), save=kept).fields
    assert isinstance(fields["status"], widgets.Dropdown)
    assert "" not in fields["status"].options
    assert TableEditor(OPENINGS, (), save=kept).fields["height"].options[0] == ""


def test_save_row_hands_all_rows_on_and_keeps_unknown_columns():
    saved, told = [], []
    editor = TableEditor(
        ROOMS, ROWS, save=lambda rows: saved.append(rows) or rows, changed=told.append
    )
    editor.fields["length_m"].value = "5,25"
    assert not saved
    assert "not saved" in editor._table.value
    press(editor, "Save row")
    blank = {"shape": None, "low_height_m": None, "flat_width_m": None}
    assert saved[0][0] == {**ROWS[0], "length_m": 5.25, **blank}
    assert saved[0][1] == ROWS[1]
    assert told == saved
    assert editor.message == "Saved Kitchen. 2 rows."
    assert "5.25" in editor._table.value and "not saved" not in editor._table.value


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"length_m": "4 m"}, "Length [m] is '4 m'; expected a number alone"),
        ({"height_m": "2400"}, "2400 mm is 2.4"),
        ({"width_m": "1.234"}, ""),
        ({"width_m": "1,234"}, "can be read as 1.234 or as 1234"),
        ({"room": "  "}, "Room is empty; expected an entry"),
        ({"room": "Bath <b>"}, "There is a row 'Bath <b>' already"),
    ],
)
def test_a_bad_cell_goes_to_the_message_and_nothing_is_lost(typed, said):
    saved = []
    editor = TableEditor(ROOMS, ROWS, save=lambda rows: saved.append(rows) or rows)
    editor.set(**typed)
    press(editor, "Save row")
    if not said:
        assert len(saved) == 1
        return
    assert said in editor.message
    assert 'role="alert"' in editor._line.value
    assert not saved and editor.rows == ROWS
    assert {name: editor.fields[name].value for name in typed} == typed
    with pytest.raises(InputError):
        editor.save_row()


def test_all_bad_cells_are_named_at_once():
    editor = TableEditor(ROOMS, ROWS, save=kept).set(length_m="x", height_m="y")
    press(editor, "Save row")
    assert "Length [m] is 'x'" in editor.message and "Height [m] is 'y'" in editor.message


def test_what_was_typed_for_a_row_waits_while_another_is_chosen():
    editor = TableEditor(ROOMS, ROWS, save=kept)
    editor.fields["length_m"].value = "9"
    editor._picker.value = 1
    assert "Kitchen is not saved yet" in editor.message
    assert editor.fields["room"].value == "Bath <b>"
    editor.fields["why"].value = "tiles"
    press(editor, "Save row")
    assert [row["length_m"] for row in editor.rows] == [4.0, 2.0]
    editor.choose("Kitchen")
    assert editor.fields["length_m"].value == "9"
    press(editor, "Undo")
    assert editor.fields["length_m"].value == "4"
    assert editor.rows[1]["why"] == "tiles", "undo takes back what was typed before what was saved"
    press(editor, "Undo")
    assert editor.rows[1]["why"] == ""


def test_a_new_row_starts_with_the_words_of_the_row_before_and_no_numbers():
    editor = TableEditor(ROOMS, ROWS, save=kept)
    editor.choose("Bath <b>")
    press(editor, "Add row")
    assert editor.fields["storey"].value == "first"
    assert editor.fields["room"].value == editor.fields["length_m"].value == ""
    assert editor.fields["included"].value is True
    editor.choose("Kitchen")
    assert "not saved" not in editor.message, "an untouched new row is nothing to keep"
    editor.add_row(room="Study", storey="first", length_m=3, width_m="2.5", height_m=2.4)
    assert editor.rows[2]["width_m"] == 2.5
    assert editor._picker.value == 2
    assert editor.message == "Saved Study. 3 rows."


def test_add_row_puts_the_keyboard_into_the_first_field():
    editor, sent = TableEditor(ROOMS, ROWS, save=kept), []
    for name, field in editor.fields.items():
        field.send = lambda content, name=name: sent.append((name, content))
    press(editor, "Add row")
    assert sent == [("room", {"do": "focus"})]
    editor.add_row()  # in code the page is left alone
    press(editor, "Save row")
    assert len(sent) == 1


def test_remove_and_undo():
    editor = TableEditor(ROOMS, ROWS, save=kept)
    editor.remove_row("Kitchen")
    assert [row["room"] for row in editor.rows] == ["Bath <b>"]
    assert "Undo brings it back" in editor.message
    editor.remove_row()
    assert editor.rows == () and "No rows yet" in editor._table.value
    editor.undo().undo()
    assert editor.rows == ROWS
    assert editor.undo().message == "There is nothing to take back."


def test_unknown_names_are_refused_in_code():
    editor = TableEditor(ENVELOPE, (), save=kept)
    with pytest.raises(InputError, match="no area 'loft'"):
        editor.choose("loft")
    with pytest.raises(InputError, match="no field 'lenght'"):
        editor.set(lenght=1)
    with pytest.raises(InputError, match="'open laps'"):
        editor.set(status="half done")


def test_a_fault_of_ours_is_said_and_raised():
    editor = TableEditor(ROOMS, ROWS, save=lambda rows: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        editor.set(length_m=5).save_row()
    assert "not your doing" in editor.message


# on a job ---------------------------------------------------------------------------------


def test_edits_reach_the_file_of_the_job_and_are_read_again():
    desk = Desk(start_job("My house"))
    editor = desk.editor("rooms")
    editor.choose("Kitchen").set(length_m=5.0).save_row()
    editor.add_row(room="=cmd", storey="first", length_m=2, width_m=2, height_m=2)
    again = open_job(desk.job.folder)
    assert {room.name: room.length for room in again.rooms}["Kitchen"] == 5.0
    assert again.rooms[-1].name == "=cmd"
    assert desk.job.rooms == again.rooms
    with (desk.job.folder / "rooms.csv").open(encoding="utf-8-sig") as file:
        assert list(csv.DictReader(file))[-1]["room"] == "'=cmd"


def test_dates_and_numbers_of_a_job_come_back_as_they_were_typed():
    desk = Desk(start_job("My house"))
    editor = desk.editor("holes")
    editor.add_row(
        hole="h1", trade="plumber", diameter_mm="110", made_on="2027-05-03", checked=True
    )
    hole = open_job(desk.job.folder).holes[0]
    assert (hole.diameter, hole.made_on, hole.checked) == (0.11, date(2027, 5, 3), True)
    editor.set(made_on="3 May").fields["diameter_mm"].value = "110"
    press(editor, "Save row")
    assert "expected a date as year-month-day" in editor.message


def test_the_demo_is_never_written():
    before = (demo_job().folder / "rooms.csv").read_bytes()
    editor = Desk(demo_job()).editor("rooms")
    editor.set(length_m=9)
    press(editor, "Save row")
    assert "The demo house stays as it is" in editor.message
    assert editor.fields["length_m"].value == "9"
    assert (demo_job().folder / "rooms.csv").read_bytes() == before


def test_a_file_changed_meanwhile_is_not_written_over():
    job = start_job("My house")
    editor = Desk(job).editor("rooms")
    others = save_table(job, "rooms", (*job.rooms[:-1],))
    editor.set(length_m=9)
    press(editor, "Save row")
    assert "changed on disk" in editor.message
    assert editor.fields["length_m"].value == "9"
    assert editor._keeper.layout.display == ""
    press(editor, "Keep mine as a copy")
    copy = next(path for path in job.folder.iterdir() if path.name in editor.message)
    assert "9" in copy.read_text(encoding="utf-8-sig")
    press(editor, "Reload from file")
    assert len(editor.rows) == len(others.rooms)
    assert editor.fields["length_m"].value == "9", "still in the field"
    assert editor._keeper.layout.display == "none"
    press(editor, "Save row")
    assert open_job(job.folder).rooms[0].length == 9.0


def test_two_editors_of_one_desk_see_each_other_and_tell_the_panel():
    told = []
    desk = Desk(start_job("My house"), told=lambda: told.append(1))
    rooms, envelope = desk.editor("rooms"), desk.editor("envelope")
    assert desk.editor("rooms") is rooms
    rooms.set(length_m=6).save_row()
    envelope.set(note="seen").save_row()
    assert len(told) == 2
    assert (desk.job.rooms[0].length, desk.job.envelope[0].note) == (6.0, "seen")
    desk.save_table("rooms", desk.rows("rooms")[:3])
    assert len(rooms.rows) == 3


def test_close_leaves_nothing_behind():
    held = set(_instances)
    TableEditor(ENVELOPE, (), save=kept, reload=tuple).close()
    assert set(_instances) == held


def test_names_of_catalogue_and_job_are_offered_and_others_may_be_typed():
    desk = Desk(start_job("Offers"))
    budget = desk.editor("budget")
    component, sizes = budget.fields["component"], budget.fields["sizes_from"]
    assert "joint sealed" in component.options and "sill joint" not in component.options
    junctions = [row["junction"] for row in desk.rows("junctions")]
    elements = {row["element"] for row in desk.rows("envelope")}
    assert set(sizes.options) == {*junctions, *elements}
    budget.choose("sill joint")
    budget.set(sizes_from="sill", component="joint sealed").save_row()  # the beginning is enough
    assert desk.rows("budget")[budget._place]["sizes_from"] == "sill"
    rooms = desk.editor("rooms")
    rooms.add_row(room="Attic", storey="top", length_m="2", width_m="2", height_m="2")
    envelope = desk.editor("envelope")
    assert "Attic" in envelope.fields["room"].options
    rooms.remove_row("Attic")
    assert "Attic" not in envelope.fields["room"].options


@pytest.mark.parametrize("table", [table for table, _ in JOB_TABLES.values()], ids=lambda t: t.name)
def test_what_a_column_offers_stands_in_the_job(table):
    desk = Desk(demo_job())
    for column in table.columns:
        if column.offers:
            assert column.kind == "text" and len(desk.offers(column)) > 1, column.name
        for place in column.offers:
            there, _, name = place.partition(".")
            assert place == "components" or JOB_TABLES[there][0].column(name).required
