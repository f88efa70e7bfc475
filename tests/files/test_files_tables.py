"""The generic reader and writer: what people and spreadsheets do to a table, and what comes back."""

import csv
import io
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.files import JOB_TABLES, read_table, save_copy, write_table
from airlab.files.cells import Habits, Refused, clean_text, parse_cell
from airlab.files.tables import parse_table, render_table
from airlab.words import Column, InputError, Table

SHEDS = Table("sheds", "an invented table with every kind of column", (
    Column("shed", "text", "name", required=True),
    Column("length_m", "number", "length", "m", required=True, low=0, high=200, slip="Type metres."),
    Column("doors", "integer", "doors", low=0, high=9),
    Column("state", "choice", "state", choices=("open laps", "complete and visible"), default="open laps"),
    Column("dry", "yes/no", "dry", default=True),
    Column("wet", "yes/no", "wet"),
    Column("built_on", "date", "day it was built"),
    Column("seen_at", "time", "when it was seen"),
    Column("note", "text", "anything else"),
), key="shed")  # fmt: skip


def read(text, encoding="utf-8"):
    return parse_table(text.encode(encoding), SHEDS, "sheds.csv")


def refused(text, *words, encoding="utf-8"):
    with pytest.raises(InputError) as caught:
        read(text, encoding)
    for word in words:
        assert word in str(caught.value), str(caught.value)
    return str(caught.value)


# ---- known answers: the same row however it was written ----------------------------------------

ROW = {
    "shed": "Tool shed", "length_m": 3.25, "doors": 2, "state": "complete and visible",
    "dry": True, "wet": False, "built_on": date(2026, 3, 24),
    "seen_at": datetime(2026, 3, 24, 9, 5, tzinfo=timezone(timedelta(hours=1))), "note": "",
}  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "shed,length_m,doors,state,dry,wet,built_on,seen_at,note\n"
        "Tool shed,3.25,2,complete and visible,yes,no,2026-03-24,2026-03-24 09:05+01:00,\n",
        # columns moved, one left out, capitals, blanks, blank lines, spreadsheet words for yes
        "\n,,\nWet , DOORS,length_m,shed,seen_at,built_on,state,note\n"
        "FALSE ,2.0,3.25,  Tool shed  ,2026-03-24T09:05+01:00,2026-03-24,Complete  And VISIBLE,\n"
        ",,,,,,,\n\n",
        # semicolons, decimal commas, mark at the start, Windows line ends, local dates
        "\ufeffshed;length_m;doors;state;dry;wet;built_on;seen_at;note\r\n"
        "Tool shed;3,25;2;complete and visible;x;0;24.03.2026;2026-03-24 09:05:00+01:00;\r\n",
        "sep=;\nshed;length_m;doors;state;built_on;seen_at\n"
        "Tool shed;3,25;2;complete and visible;24/3/2026;2026-03-24T08:05Z\n",
        "shed\tlength_m\tdoors\tstate\tdry\tbuilt_on\tseen_at\n"
        "Tool shed\t3,25\t2\tcomplete and visible\tTRUE\t3/24/2026\t2026-03-24T08:05Z\n",
        '"shed","length_m","doors","state","built_on","seen_at"\n'
        '"Tool shed","3,25","2","complete and visible","2026-03-24","2026-03-24T08:05Z"\n',
    ],
)
def test_same_row_however_it_was_written(text):
    assert read(text).rows == (ROW,)


def test_utf16_as_some_spreadsheets_save_text():
    content = "shed\tlength_m\nKüche\t3\n".encode("utf-16")
    assert parse_table(content, SHEDS, "sheds.csv").rows[0]["shed"] == "Küche"


def test_windows_letters_are_read_with_a_note():
    found = read("shed,length_m\nKüche,3\n", "cp1252")
    assert found.rows[0]["shed"] == "Küche"
    assert "cp1252" in found.notes[0]


def test_one_letter_two_spellings():
    # Unicode: "ü" is one code point or two; canonically equal, so one name.
    assert read("shed,length_m\nKu\u0308che,3\n").rows[0]["shed"] == "K\u00fcche"


@pytest.mark.parametrize("name", ["NA", "nan", "None", "null", "0", "-", "N/A", "#"])
def test_names_that_look_like_nothing_survive(name):
    assert read(f"shed,length_m\n{name},3\n").rows[0]["shed"] == name


def test_empty_cells_take_defaults():
    row = read("shed,length_m,state,dry,note\nA,1,,,\n").rows[0]
    assert row["state"] == "open laps"
    assert row["dry"] is True
    assert row["wet"] is False
    assert row["doors"] is None
    assert row["built_on"] is None
    assert row["note"] == ""


def test_header_alone_is_an_empty_table():
    assert read("shed,length_m\n").rows == ()


def test_unknown_columns_are_carried_through(tmp_path):
    path = tmp_path / "sheds.csv"
    path.write_text("colour,length_m,,shed\n=red,1,lone,A\n-5,2,,B\n", "utf-8")
    found = read_table(path, SHEDS)
    assert found.extra_columns == ("colour", "column 3")
    assert found.rows[0]["colour"] == "=red"
    again = write_table(path, SHEDS, found.rows, found)
    assert again.rows == found.rows
    assert path.read_text("utf-8").splitlines()[0].startswith("colour,length_m,column 3,shed,doors")
    assert "'=red" in path.read_text("utf-8")
    assert "\n-5," in path.read_text("utf-8")


# ---- numbers: what can be read two ways ---------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("shed,length_m\nA,1.234\n", [1.234]),  # commas part cells: the point is the decimal sign
        ("shed;length_m\nA;1,234\n", [1.234]),
        ("shed\tlength_m\nA\t12,5\nB\t1,234\n", [12.5, 1.234]),  # another cell decides
        ("shed\tlength_m\nA\t12.5\nB\t1.234\n", [12.5, 1.234]),
        ("shed;length_m\nA;12.5\nB;1.234\n", [12.5, 1.234]),
        ("shed,length_m\nA,0.125\nB,\"0,5\"\n", [0.125, 0.5]),  # a leading zero is no thousand
        ("shed,length_m\nA,−0\nB,+2\nC,1e2\nD,.5\n", [0.0, 2.0, 100.0, 0.5]),
    ],
)  # fmt: skip
def test_numbers_the_file_decides(text, values):
    assert [row["length_m"] for row in read(text).rows] == values


BIG = Table("big", "large numbers", (Column("n", "number", "n", required=True),))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("n\n1.234.567\n", 1234567.0),
        ("n;m\n1.234,5;\n", 1234.5),
        ('n\n"1,234.5"\n', 1234.5),
        ("n;m\n1.234;\n12,5;\n", 1234.0),  # decimal commas elsewhere: the point groups
        ("n;m\n12 345,5;\n", 12345.5),
        ("n\n-1.5\n", -1.5),
    ],
)
def test_grouped_numbers(text, value):
    assert parse_table(text.encode(), BIG, "big.csv").rows[0]["n"] == value


@pytest.mark.parametrize(
    "text",
    [
        "shed\tlength_m\nA\t1,234\n",
        "shed\tlength_m\nA\t1.234\n",
        'shed,length_m\nA,"1,234"\n',
        "shed;length_m\nA;1.234\n",
        'shed,length_m\nA,12.5\nB,"12,5"\nC,1.234\n',  # the file contradicts itself
    ],
)
def test_ambiguous_numbers_are_refused(text):
    refused(text, "length_m", "1.234", "or as 1234")


@pytest.mark.parametrize("bad", ["3 m", "3,2,1", "1.2.3", "nan", "inf", "1e999", "--3", "three",
                                 "#DIV/0!", "0x10", "1_000", "٣", "12,34.5.6", "1.2,345"])  # fmt: skip
def test_what_is_no_number(bad):
    refused(f'shed,length_m\nA,"{bad}"\n', "row 2", "length_m", f"'{bad}'", "expected")


def test_out_of_range_says_range_and_slip():
    refused("shed,length_m\nA,2400\n", "'2400'", "0 to 200 m", "Type metres.")


# ---- dates and times ----------------------------------------------------------------------------


def test_local_date_with_two_readings_is_refused():
    refused("shed,length_m,built_on\nA,1,04.03.2026\n", "row 2", "built_on", "2026-03-24")


@pytest.mark.parametrize("text", ["24.3.2026", "3/24/2026", "24-03-2026"])
def test_local_date_with_one_reading(text):
    assert read(f"shed,length_m,built_on\nA,1,{text}\n").rows[0]["built_on"] == date(2026, 3, 24)


def test_another_date_of_the_file_decides():
    rows = read("shed,length_m,built_on\nA,1,24.03.2026\nB,1,04.03.2026\n").rows
    assert rows[1]["built_on"] == date(2026, 3, 4)
    refused("shed,length_m,built_on\nA,1,24/3/2026\nB,1,3/24/2026\nC,1,4/3/2026\n", "row 4")


def test_time_without_offset_is_this_computers_with_a_note():
    found = read("shed,length_m,seen_at\nA,1,2026-03-24 09:05\n")
    assert found.rows[0]["seen_at"] == datetime(2026, 3, 24, 9, 5).astimezone()
    assert "without an offset" in found.notes[0]


# ---- refused: named by row, column, value, expectation ------------------------------------------


def test_all_bad_cells_in_one_message():
    message = refused(
        "shed,length_m,doors,state,dry,built_on,seen_at\n"
        "A,abc,1.5,ajar,perhaps,2026-02-30,noon\n,1,,,,,\n",
        "7 entries",
        "row 2, column length_m: 'abc'; expected a number",
        "row 2, column doors: '1.5'; expected a whole number",
        "row 2, column state: 'ajar'; expected one of: open laps, complete and visible",
        "row 2, column dry: 'perhaps'; expected yes or no",
        "row 2, column built_on: '2026-02-30'; expected a date",
        "row 2, column seen_at: 'noon'; expected date and time",
        "row 3, column shed: empty; expected an entry",
    )
    assert message.startswith("sheds.csv")


def test_first_ten_and_a_count():
    message = refused(
        "shed,length_m\n" + "".join(f"s{i},x\n" for i in range(25)), "... and 15 more"
    )
    assert "25 entries" in message
    assert message.count("column length_m") == 10


def test_missing_column_is_named_with_what_is_there():
    refused("shed,width_m\nA,1\n", "no column length_m", "It has: shed, width_m")


def test_doubled_key_names_both_rows():
    refused("shed,length_m\nA,1\n\nB,1\n a ,2\n", "rows 2 and 5", "shed")


def test_doubled_column():
    refused("shed,length_m,length_m\nA,1,1\n", "length_m twice")


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"", "half-written"),
        (b"\n\n", "half-written"),
        (b"shed,length_m,doors\nA,1,2\nB,1", "last row, 3, stops after 2 of 3"),
        (b"shed,length_m\nA,1\n\x00\x00\x00", "half-written"),
        (b'shed,length_m\n"A,1\nB', "half-written"),
        ("shed,length_m\nA,1\nü".encode()[:-1], "half-written"),
        (b"PK\x03\x04rest of a workbook", "save it as CSV"),
        (b"shed,length_m\n\x81,1\n", "character set"),
        (b"shed,length_m\nA,1,5\n", "3 cells and there are 2"),
        (b"shed,length_m,doors,note\nA,1,5,,\n", "5 cells and there are 4"),  # 1,5 was one cell
        (b'shed,length_m\n"A" b,1\n', "taken apart"),
        (b"shed,length_m\n" + b"A" * 200_000 + b",1\n", "taken apart"),
    ],
)
def test_broken_files(content, word):
    with pytest.raises(InputError, match=word):
        parse_table(content, SHEDS, "sheds.csv")


def test_short_row_inside_the_file_is_read_with_a_note():
    found = read("shed,length_m,note\nA,1\nB,2,x\n")
    assert [row["note"] for row in found.rows] == ["", "x"]
    assert "row 2" in found.notes[0]


# ---- writing ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text", ["=1+1", "+1+1", "-1+1", "@sum", "＝1", "'=1", "''@x", "=cmd|' /C x'!A0"]
)
def test_formulas_are_kept_from_running(text):
    content = render_table(SHEDS, [{"shed": "A", "length_m": 1.0, "note": text}])
    cells = list(csv.reader(io.StringIO(content.decode("utf-8-sig"))))
    assert cells[1][-1] == "'" + text
    assert parse_table(content, SHEDS, "sheds.csv").rows[0]["note"] == text


def test_negative_numbers_stay_numbers():
    content = render_table(BIG, [{"n": -1.5, "extra": "-7"}])
    assert content == b"n,extra\n-1.5,-7\n"


def test_bad_rows_are_never_written(tmp_path):
    path = tmp_path / "sheds.csv"
    first = write_table(path, SHEDS, [ROW])
    before = path.read_bytes()
    with pytest.raises(InputError, match="length_m"):
        write_table(path, SHEDS, [{"shed": "A", "length_m": -1.0}], first)
    assert path.read_bytes() == before


def test_semicolons_stay_semicolons(tmp_path):
    path = tmp_path / "sheds.csv"
    path.write_bytes("\ufeffshed;length_m\r\nKüche;1,5\r\n".encode())
    found = read_table(path, SHEDS)
    write_table(path, SHEDS, [*found.rows, {"shed": "B", "length_m": 1.234}], found)
    assert 'B;"1,234"' in path.read_text("utf-8-sig")
    assert [row["length_m"] for row in read_table(path, SHEDS).rows] == [1.5, 1.234]


def spreadsheet(content, separator, decimal):
    """Do what a spreadsheet in another country does: reorder, quote, mark, decimal sign, capitals."""
    rows = list(csv.reader(io.StringIO(content.decode("utf-8-sig"))))
    head = rows[0]
    order = list(reversed(range(len(head))))
    numbers = {head.index("length_m")}
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    for row in rows:
        cells = [c.replace(".", decimal) if i in numbers else c for i, c in enumerate(row)]
        writer.writerow([{"yes": "TRUE", "no": "FALSE"}.get(cells[i], cells[i]) for i in order])
    writer.writerow([""] * len(head))
    return ("\ufeff" + out.getvalue()).encode()


@pytest.mark.parametrize(
    ("separator", "decimal"), [(";", ","), (",", "."), ("\t", ","), (",", ",")]
)
def test_through_a_spreadsheet_and_back(separator, decimal):
    rows = [ROW, {**ROW, "shed": "NA", "length_m": 12.5, "note": '50 Pa; "sealed", \n twice'}]
    back = spreadsheet(render_table(SHEDS, rows), separator, decimal)
    assert parse_table(back, SHEDS, "sheds.csv").rows == tuple(rows)


# ---- invariants ---------------------------------------------------------------------------------

ANY_TEXT = st.text(max_size=30)
NAMES = st.text(min_size=1, max_size=12).filter(lambda text: clean_text(text))
ANY_TIME = st.datetimes(
    min_value=datetime(1971, 1, 2), max_value=datetime(2100, 1, 1),
    timezones=st.sampled_from([UTC, timezone(timedelta(hours=5, minutes=45))]),
)  # fmt: skip
ROWS = st.lists(
    st.fixed_dictionaries({
        "shed": NAMES,
        "length_m": st.floats(0, 200),
        "doors": st.none() | st.integers(0, 9),
        "state": st.sampled_from(("open laps", "complete and visible")),
        "dry": st.booleans(), "wet": st.booleans(),
        "built_on": st.none() | st.dates(), "seen_at": st.none() | ANY_TIME,
        "note": ANY_TEXT, "their own": ANY_TEXT,
    }),
    max_size=6, unique_by=lambda row: " ".join(clean_text(row["shed"]).split()).casefold(),
)  # fmt: skip


@given(rows=ROWS, separator=st.sampled_from(",;"))
@settings(max_examples=80, deadline=None)
def test_what_is_written_reads_back(rows, separator):
    content = render_table(SHEDS, rows, separator=separator)
    found = parse_table(content, SHEDS, "sheds.csv")
    kept = [{k: clean_text(v) if isinstance(v, str) else v for k, v in row.items()} for row in rows]
    assert list(found.rows) == kept
    assert render_table(SHEDS, found.rows, found.columns, separator) == content


@given(
    content=st.binary(max_size=80),
    head=st.sampled_from([b"", b"shed,length_m\n", b"shed;length_m\n"]),
)
@settings(max_examples=150, deadline=None)
def test_any_bytes_are_read_or_refused(content, head):
    try:
        found = parse_table(head + content, SHEDS, "sheds.csv")
    except InputError as error:
        said = str(error)
    else:
        said = found.path.name
        assert all(row["shed"] for row in found.rows)
    assert "sheds.csv" in said


def test_no_file_is_an_empty_table_and_a_copy_touches_nothing(tmp_path):
    path = tmp_path / "sheds.csv"
    found = read_table(path, SHEDS)
    assert found.rows == ()
    assert "not there" in found.notes[0]
    write_table(path, SHEDS, [ROW], found)
    before = path.read_bytes()
    first, second = (save_copy(path, SHEDS, [{**ROW, "shed": s}]) for s in "BC")
    assert path.read_bytes() == before
    assert [read_table(p, SHEDS).rows[0]["shed"] for p in (first, second)] == ["B", "C"]


@pytest.mark.parametrize("table", [table for table, _ in JOB_TABLES.values()], ids=lambda t: t.name)
def test_what_a_number_may_be_ends_without_a_full_stop_for_the_sentence_it_stands_in(table):
    for column in table.columns:
        if column.low is not None or column.high is not None:
            wild = str(column.low - 1e9) if column.low is not None else str(column.high + 1e9)
            with pytest.raises(Refused) as caught:
                parse_cell(column, wild, Habits())
            assert not str(caught.value).endswith("."), column.name
            assert ".." not in f"{column.name}: expected {caught.value}."
