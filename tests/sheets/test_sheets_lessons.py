"""Lessons on paper: minutes add up, keys fit their sheets, students get no answers, changes show."""

import math
import re
from dataclasses import replace
from datetime import UTC, datetime
from html import unescape

import pytest
from sheet_jobs import demo as opened

from airlab.design import make_budget
from airlab.fan_test import analyse, without_points
from airlab.files import example_fan_test
from airlab.files.marks import class_folder, last_class
from airlab.sheets import altered_sheets, lesson_pages, match_sheet, print_class, print_workshop
from airlab.sheets.facts import facts_of
from airlab.sheets.lesson import handout_page
from airlab.sheets.lesson_room import height_of, room_on
from airlab.sheets.lessons import main
from airlab.sheets.lessons_class import _NUMBER, class_exercises, student_seed
from airlab.sheets.lessons_guesses import guesses
from airlab.sheets.rigs import rigs_page
from airlab.sheets.skills import skills_page
from airlab.teaching import OUTCOMES, exercise, exercises_for, variants_for
from airlab.teaching.lessons import DAY, LENGTHS, lesson_keys, lesson_plan, workshop
from airlab.words import InputError, display_unit, label, show_percent, us_worth
from airlab.words.units import UNITS

NOON = datetime(2027, 4, 12, 12, 0, tzinfo=UTC)
DEMO = opened()  # records are frozen: one reading of the tables serves all
FACTS = facts_of(DEMO, False, NOON)
NOTEBOOKS = [f"{number:02d}" for number in range(12)]
WITH_EXERCISES = [notebook for notebook in NOTEBOOKS if exercises_for(notebook)]
WRITTEN = [
    (key, length)
    for key in lesson_keys()
    for length in LENGTHS
    if not (key in ("00", "11") and length != 45)
]


def demo(**changes):
    return replace(DEMO, **changes)


def text_of(html):
    return unescape(re.sub(r"<[^>]+>", "", html))


# Plans


def test_every_notebook_and_path_has_its_plans():
    assert lesson_keys() == (*NOTEBOOKS, "apprentice", "self-builder", "designer")
    assert len(WRITTEN) == 10 * 4 + 2 + 3 * 4


@pytest.mark.parametrize(("key", "length"), WRITTEN)
def test_minutes_add_up(key, length):
    plan = lesson_plan(key, length)
    assert sum(step.minutes for step in plan.steps) == length
    assert min(step.minutes for step in plan.steps) > 0
    assert plan.steps[0].name == "hook"
    assert plan.steps[-1].name == "ticket"


@pytest.mark.parametrize(("key", "length"), WRITTEN)
def test_a_plan_leaves_nothing_open(key, length):
    plan = lesson_plan(key, length)
    for part in (plan.outcomes, plan.kit, plan.room, plan.care, plan.extension, plan.ticket):
        assert part
    for code, words in plan.outcomes:
        assert words
        assert code in OUTCOMES or re.fullmatch(r"B[1-4]|", code)
    for step in plan.steps:
        assert step.you
        assert bool(step.they and step.board) or step.name in ("pause", "lunch")


@pytest.mark.parametrize("key", [key for key in NOTEBOOKS if key not in ("00", "11")])
def test_a_longer_lesson_has_the_same_steps_none_of_them_shorter(key):
    plans = [{step.name: step.minutes for step in lesson_plan(key, length).steps if step.name != "pause"}
             for length in LENGTHS]  # fmt: skip
    for short, long in zip(plans, plans[1:]):
        assert set(short) <= set(long)
        assert all(long[name] >= minutes for name, minutes in short.items())


def test_unknown_lessons_and_lengths_are_refused():
    with pytest.raises(InputError, match="Choose one of: 00, 01"):
        lesson_plan("12")
    with pytest.raises(InputError, match="45, 60, 90"):
        lesson_plan("01", 50)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize(("key", "length"), [("01", 45), ("08", DAY), ("designer", 90)])
def test_the_page_shows_the_clock_to_the_last_minute(key, length, units):
    page, *others = lesson_pages(demo(units=units), NOON, key, length)
    shown = re.findall(r"(\d+):?(\d\d)?–(\d+):?(\d\d)?<", page.body)
    clock = [
        (int(a) * 60 + int(b), int(c) * 60 + int(d)) if b else (int(a), int(c))
        for a, b, c, d in shown
    ]
    assert clock[0][0] == 0
    assert clock[-1][1] == length
    assert [start for start, _ in clock[1:]] == [end for _, end in clock[:-1]]
    assert len(others) == (2 if key.isdigit() else 0)


@pytest.mark.parametrize("notebook", WITH_EXERCISES)
def test_likely_wrong_answers_are_those_of_the_exercises(notebook):
    plan, handout, key = lesson_pages(demo(), NOON, notebook)
    hints = {hint for one in exercises_for(notebook) for _, hint in one.wrong()}
    told = re.findall(r'data-label="say">(.*?)</td>', plan.body, re.S)
    assert told
    assert {text_of(one) for one in told} <= {" ".join(hint.split()) for hint in hints}
    for one in exercises_for(notebook):
        assert one.key in handout.body
        assert one.told() in text_of(key.body)
        assert one.explain not in text_of(handout.body)


# A class


@pytest.fixture(scope="module", params=WITH_EXERCISES)
def sheets(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp(f"class{request.param}")
    return print_class(request.param, 4, 7, folder, demo(), NOON)


def sections(sheets):
    html = sheets.handouts.pack.read_text(encoding="utf-8")
    return ["<section" + part for part in html.split("<section")[1:]]


@pytest.mark.parametrize("notebook", WITH_EXERCISES)
def test_hand_outs_and_keys_agree_for_200_seeds(notebook):
    for seed in range(1, 201):
        for one in class_exercises(notebook, seed, 1 + seed % 99):
            again = exercise(one.key)  # as a learner types the printed key
            assert (again.question, again.parts()) == (one.question, one.parts())
            assert again.judge(one.answer()).state == "right", one.key


def test_printed_key_holds_every_students_answers(sheets):
    body = text_of(sheets.key.pages[0].body)
    rows = re.findall(r"<tr>(.*?)</tr>", str(sheets.key.pages[0].body), re.S)
    for number, (section, mark) in enumerate(zip(sections(sheets), sheets.marks), start=1):
        keys = re.findall(r"<b>(\d\d-\w+/\d+)</b>", section)
        assert keys
        assert mark in section
        row = next(text_of(row) for row in rows if mark in row)
        for key in keys:
            one = exercise(key)
            assert key.endswith(f"/{student_seed(7, number)}")
            assert one.question in text_of(section)
            letters = hasattr(one, "options")
            short = one.answer().replace(" ", ", ") if hasattr(one, "places") else one.told()
            assert (short.split(" ")[0] if letters else short) in row
            assert one.question in body or number > 1


def test_guesses_answer_what_the_plan_asks():
    """Fan test: each point really left out. Basic model: [ASHRAE_BASIC] tables, by hand."""
    ((what, share),) = guesses("06", FACTS)
    budget = make_budget(FACTS.job, 20_000)
    layer = [
        one
        for one in budget.shares
        if one.name in ("walls", "loft ceiling", "slab", "floor edge wrap")
    ]
    assert len(layer) == 4 and "layer" in what
    assert share == show_percent(sum(one.share for one in layer))
    (_, moved), _ = guesses("09", FACTS)
    test = example_fan_test("final")
    whole = analyse(test).flow(50.0)
    moves = [
        analyse(without_points(test, way, point)).flow(50.0) / whole - 1.0
        for way in ("depressurise", "pressurise") for point in range(1, 11)
    ]  # fmt: skip
    assert moved == show_percent(max(map(abs, moves)))
    calm, windy = (float(seen.split()[1].rstrip(",")) for _, seen in guesses("10", FACTS))
    house, kelvin, wind = FACTS.plan, (25.0, 10.0), (0.0, 8.0)
    area = house.target_flow * (4 / 50) ** 0.65 / math.sqrt(2 * 4 / 1.2) * 10  # in 1000 cm2
    for told, dt, v in zip((calm, windy), kelvin, wind):
        flow = area * math.sqrt(0.000290 * dt + 0.000231 * v**2)  # two storeys, third class
        assert told == pytest.approx(
            3600 * flow / house.geometry.internal_volume, abs=0.006
        )  # two digits


def test_student_files_hold_no_answers(sheets):
    for section in sections(sheets):
        keys = re.findall(r"<b>(\d\d-\w+/\d+)</b>", section)
        left = text_of(
            re.sub(r'<span class="q">.*?</span>|<b>\d\d-\w+/\d+</b>', "", section, flags=re.S)
        )
        for key in keys:
            one = exercise(key)
            for words in (one.explain, *(hint for _, hint in one.wrong())):
                assert words not in text_of(section), key
            assert not re.search(rf"(?<![\d.]){re.escape(one.told())}(?!\w)", left), key
        assert "×" not in left
        for what, seen in guesses(sheets.notebook, FACTS):
            assert what in text_of(section)
            assert f">{seen}<" not in section


def test_folders_are_apart_and_the_teachers_holds_the_key(sheets):
    students, teacher = sheets.handouts.pack.parent, sheets.key.pack.parent
    assert (students.name, teacher.name) == ("students", "teacher")
    assert [path.name for path in students.iterdir()] == [sheets.handouts.pack.name]
    assert "for the class" not in sheets.handouts.pack.read_text(encoding="utf-8")
    assert "for the class" in sheets.key.pack.read_text(encoding="utf-8")


def test_neighbours_differ_and_the_same_command_prints_the_same(sheets, tmp_path):
    assert len(set(sheets.marks)) == 4
    again = print_class(sheets.notebook, 4, 7, tmp_path, demo(), NOON)
    assert again.marks == sheets.marks
    assert again.handouts.pack.read_text(encoding="utf-8") == sheets.handouts.pack.read_text(
        encoding="utf-8"
    )
    assert print_class(sheets.notebook, 4, 8, tmp_path, demo(), NOON).marks != sheets.marks


def test_a_changed_sheet_is_noticed(sheets, tmp_path):
    assert altered_sheets(sheets.handouts.pack) == ()
    parts = sections(sheets)
    question = re.search(r'<span class="q">(.*?)</span>', parts[2], re.S)[1]
    html = sheets.handouts.pack.read_text(encoding="utf-8")
    changed = tmp_path / "changed.html"
    changed.write_text(
        html.replace(parts[2], parts[2].replace(question, question + " 9", 1)), encoding="utf-8"
    )
    assert altered_sheets(changed) == (3,)
    first, second = sheets.marks[:2]
    changed.write_text(html.replace(f">{first}<", f">{second}<"), encoding="utf-8")
    assert altered_sheets(changed) == (1,)
    changed.write_text(html.replace("student 2 of", "student 4 of"), encoding="utf-8")
    assert altered_sheets(changed) == (2, 4)  # 2 is missing, 4 stands twice
    changed.write_text(html.replace("number: 703<", "number: 704<"), encoding="utf-8")
    assert altered_sheets(changed) == (3,)
    changed.write_text(html.replace(parts[1], ""), encoding="utf-8")
    assert altered_sheets(changed) == (2,)
    changed.write_text(html.replace(parts[1], parts[1] + parts[1]), encoding="utf-8")
    assert altered_sheets(changed) == (2,)


@pytest.mark.parametrize(
    ("question", "values"),
    [
        ("a leak blows at 9.13 m/s.", ["9.13 m/s"]), ("A fan draws 20 L/s with all shut", ["20 L/s"]),
        ("change 0.4 of the 350 m³", ["0.4", "350 m³"]), ("takes 0.333 Wh for each", ["0.333 Wh"]),
        ("at 3.0 m³/(h·m²) of envelope", ["3.0 m³/(h·m²)"]), ("1.2 kg/m³, −12 Pa", ["1.2 kg/m³", "−12 Pa"]),
        ("by the 2/3 law of ISO 9972, 3 or more, first answer to 01-1. 7", ["3", "7"]),
    ],
)  # fmt: skip
def test_values_asked_keep_their_whole_unit_and_no_word(question, values):
    assert [found.group() for found in _NUMBER.finditer(question)] == values


def test_a_changed_number_in_a_drawing_is_noticed(tmp_path):
    sheets = print_class("03", 2, 7, tmp_path, demo(), NOON)
    html = sheets.handouts.pack.read_text(encoding="utf-8")
    number = re.search(r"<svg.*?>(\d+)</text>", html, re.S)
    html = html[: number.start(1)] + "77" + html[number.end(1) :]
    sheets.handouts.pack.write_text(html, encoding="utf-8")
    assert altered_sheets(sheets.handouts.pack) == (1,)


def test_marking_exercises_come_with_their_drawing_and_no_answer():
    asked_in = [one for one in class_exercises("03", 7, 3) if hasattr(one, "places")]
    assert 1 <= len(asked_in) <= 2
    page = handout_page(FACTS, "03")
    for one in (one for one in exercises_for("03") if hasattr(one, "places")):
        box = page.body[page.body.index(f"<b>{one.key}</b>") :].split('<div class="box">')[0]
        assert box.count("<svg") == 1
        assert all(f">{number}<" in box for number in one.places())
        if not one.told_names:
            told = text_of(re.search(r"<svg.*</svg>", box, re.S)[0])
            assert not any(one.places()[number].name in told for number in one.right())
            assert not any(word in told for word in ("not closed", "missing"))


def test_one_number_is_on_the_sheet_and_opens_the_same_exercises(sheets):
    for student, section in enumerate(sections(sheets), start=1):
        number = int(re.search(r"Your number: (\d+)<", section)[1])
        assert number == student_seed(7, student)
        again = {one.question for one in variants_for(sheets.notebook, number, whole=True)}
        printed = re.findall(r"<b>\d\d-\w+/\d+</b> <span class=\"q\">(.*?)</span>", section, re.S)
        assert {unescape(one) for one in printed} <= again


@pytest.mark.parametrize("notebook", WITH_EXERCISES)
def test_exercises_leave_room_for_the_ticket_whatever_the_seed(notebook):
    """Heights as measured in a browser; every drawn version is counted, not the book's alone."""
    for seed in range(1, 21):
        front = [one for one in class_exercises(notebook, seed, 3) if not hasattr(one, "places")]
        assert len(front) >= 4
        assert sum(map(height_of, front)) <= room_on(notebook) + 4.5  # own numbers may take a line


def test_check_mark_says_whose_sheet_it_is(sheets):
    notebook, marks = sheets.notebook, sheets.marks
    own = match_sheet(7, 3, f" {marks[2].lower()} ", notebook)
    assert own.belongs
    assert match_sheet(1, 703, marks[2], notebook) == own  # the whole number says the class
    assert f"the sheet of student 3, notebook {notebook}" in own.sentence()
    other = match_sheet(7, 3, marks[0], notebook)
    assert (other.belongs, other.owner) == (False, 1)
    assert "not the sheet of student 3 but of student 1" in other.sentence()
    nobody = match_sheet(8, 3, marks[2], notebook)
    assert (nobody.belongs, nobody.owner) == (False, 0)
    assert "no student of this class" in nobody.sentence()


def test_check_mark_alone_finds_its_notebook():
    marks = {notebook: match_mark(notebook) for notebook in WITH_EXERCISES[:3]}
    assert {match_sheet(7, 5, mark).notebook for mark in marks.values()} == set(marks)


def match_mark(notebook):
    from airlab.sheets.lessons_class import _mark_of

    return _mark_of(notebook, 7, 5)


@pytest.mark.parametrize(
    ("students", "seed"), [(0, 7), (100, 7), (5, 0), (5, 10_000), (2.5, 7), (True, 7)]
)
def test_numbers_out_of_range_write_nothing(students, seed, tmp_path):
    with pytest.raises(InputError, match="whole number from 1 to"):
        print_class("01", students, seed, tmp_path / "new")
    assert not (tmp_path / "new").exists()


def test_a_lesson_without_exercises_or_a_file_without_sheets_is_refused(tmp_path):
    with pytest.raises(InputError, match="01"):
        print_class("nothing", 3, 7, tmp_path)
    (tmp_path / "other.html").write_text("<section>no sheets</section>", encoding="utf-8")
    with pytest.raises(InputError, match="no hand-outs"):
        altered_sheets(tmp_path / "other.html")


# Command


def test_one_command_prints_a_class(tmp_path, capsys):
    assert main(["1", "--students", "3", "--seed", "7", "--folder", str(tmp_path)]) == 0
    assert sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*.html")) == [
        "students/handouts-01-seed-7.html", "teacher/key-01-seed-7.html", "teacher/lesson.html",
    ]  # fmt: skip
    assert "3 hand-outs in students/handouts-01-seed-7.html" in capsys.readouterr().out
    mark = altered_sheets(tmp_path / "students" / "handouts-01-seed-7.html")
    assert mark == ()
    assert main(["01", "--seed", "7", "--match", "2", "ZZZZZZ"]) == 0
    assert "no student of this class" in capsys.readouterr().out


def test_the_command_prints_where_the_panel_does_and_the_panel_carries_on(capsys):
    assert main(["3", "--students", "5", "--seed", "42", "--minutes", "60"]) == 0
    pages = class_folder() / "pages"
    assert (pages / "students" / "handouts-03-seed-42.html").is_file()
    assert f"All of it lies in {pages.resolve()}" in capsys.readouterr().out
    last = last_class()
    assert (last.lesson, last.minutes, last.students, last.seed) == ("03", 60, 5, 42)


def test_one_command_prints_every_notebook_of_a_path(tmp_path, capsys):
    assert main(["apprentice", "--students", "2", "--seed", "7", "--folder", str(tmp_path)]) == 0
    assert sorted(path.name for path in tmp_path.rglob("*.html")) == [
        "handouts-01-seed-7.html", "handouts-03-seed-7.html", "key-01-seed-7.html", "key-03-seed-7.html",
        "lesson-apprentice.html",
    ]  # fmt: skip
    assert "Notebook 03, class seed 7: 2 hand-outs" in capsys.readouterr().out


@pytest.mark.parametrize(("words", "said"), [
    (["77"], "Choose one of: 00, 01"), (["01", "--students", "300"], "from 1 to 99"),
    (["01", "--minutes", "50"], "45, 60, 90"), (["01", "--minutes", "long"], "A whole number is needed"),
    (["01", "--match", "x", "ABCDEF"], "A whole number is needed"),
])  # fmt: skip
def test_a_wrong_command_says_what_to_change(words, said, tmp_path, capsys):
    assert main([*words, "--folder", str(tmp_path / "new")]) == 2
    assert said in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


# Workshop


def rows_of(body, head):
    return re.findall(rf'data-label="{re.escape(head)}">(.*?)</td>', str(body), re.S)


def test_rig_times_are_those_of_the_orifice_equation():
    """Q = Cd A sqrt(2 p / rho), Cd = pi / (pi + 2), air of 1.2 kg/m3: textbook, worked here by hand."""
    body = rigs_page(FACTS).body
    seconds = rows_of(body, "100 Pa: predicted")
    for diameter, shown in list(zip((2, 3, 4, 5, 6), seconds))[1:]:
        flow = (
            math.pi
            / (math.pi + 2)
            * math.pi
            / 4
            * (diameter / 1000) ** 2
            * math.sqrt(2 * 100 / 1.2)
        )
        assert float(shown.split()[0]) == pytest.approx(math.pi / 4 * 0.2**2 * 0.1 / flow, rel=0.01)


@pytest.mark.parametrize(("units", "inside"), [("metric", 0.2), ("us", 0.2032)])
def test_a_sinking_bell_loses_pressure_and_keeps_its_time_if_set_half_way(units, inside):
    """Weight = pressure on the area + water pushed away by the wall (Archimedes); worked here by hand."""
    body = text_of(rigs_page(facts_of(demo(units=units), False, NOON)).body)
    way, area = inside / 2, math.pi / 4 * inside**2
    fall = 1000 * 9.81 * math.pi * inside * 0.001 * way / area  # Pa, wall of 1 mm
    said = float(re.search(r"falls, by ([\d.]+) Pa over the way", body)[1])
    assert said == pytest.approx(fall, rel=0.03)
    grams = {"metric": 1.0, "us": 28.3495}[units]
    loads = re.search(
        r"weigh about ([\d.]+) \w+ for 50 Pa, ([\d.]+) \w+ for 100 Pa, ([\d.]+)", body
    )
    wanted = [1000 * p * area / 9.81 / grams for p in (50, 100, 200)]
    assert [float(one) for one in loads.groups()] == pytest.approx(wanted, rel=0.03)

    def longer(
        start,
    ):  # time over that at an even 50 Pa; the flow goes with the root of the pressure
        steps = [start - fall * (n + 0.5) / 1000 for n in range(1000)]
        return sum(math.sqrt(50 / p) for p in steps) / 1000

    assert longer(50) == pytest.approx(1.13, abs=0.01)  # set at the top of the way
    assert longer(50 + fall / 2) == pytest.approx(1.0, abs=0.01)  # set half way, as the sheet asks


def test_rig_pressures_share_by_the_square_of_the_areas():
    """Two sharp holes in a row: p1 / p = A2**2 / (A1**2 + A2**2), so with the fourth power of the diameters."""
    body = rigs_page(FACTS).body
    shown = [float(text.split()[0]) for text in rows_of(body, "on the partition, of 200 Pa")]
    wanted = [200 * d**4 / (6**4 + d**4) for d in (3, 4, 6, 8, 12)]
    assert shown == pytest.approx(wanted, rel=0.01)


def test_us_pages_of_the_workshop_hold_no_metric_lengths():
    facts = facts_of(demo(units="us"), False, NOON)
    for page in (rigs_page(facts), skills_page(facts)):
        assert not re.search(r"\d\s?(mm|cm)\b", text_of(page.body)), page.key
        assert "{" not in page.body
    assert "1/8 in" in rigs_page(facts).body


@pytest.mark.parametrize("units", ["metric", "us"])
def test_workshop_is_one_file_of_four_pages(units, tmp_path):
    printed = print_workshop(demo(units=units), tmp_path, NOON)
    assert [page.key for page in printed.pages] == ["rigs", "skills", "symbols", "glossary"]
    assert [path.name for path in tmp_path.iterdir()] == ["workshop.html"]
    symbols = printed.page("symbols").body
    assert "1.7 m³/h" in symbols
    assert rows_of(symbols, "US").count("cfm") > 5
    glossary = printed.page("glossary").body
    assert ("cfm/ft²" in glossary) is (units == "us")


def test_skill_cards_count_what_this_job_needs():
    more = replace(demo(), junctions=demo().junctions[:-2])
    first, second = (skills_page(facts_of(job, False, NOON)) for job in (demo(), more))
    assert first.computed != second.computed
    assert [card["name"] for card in workshop()["cards"]] == [
        "Inside corner of a membrane", "Pipe through the layer", "Window reveal", "Peel test",
    ]  # fmt: skip
    for card in workshop()["cards"]:
        assert all(card[part] for part in ("kit", "steps", "looked", "faults"))
        assert card["name"] in first.body


def test_a_class_in_us_units_is_told_what_the_metric_ones_are_worth(tmp_path):
    metric, us = (
        print_class("04", 3, 7, tmp_path / units, demo(units=units)) for units in ("metric", "us")
    )
    assert metric.marks == us.marks and altered_sheets(us.handouts.pack) == ()
    for pages in (us.handouts, us.key):
        assert "1 m³ is 35.3 ft³, 1 m² is 10.8 ft²" in text_of(pages.pack.read_text("utf-8"))
    assert "In US units" not in metric.handouts.pack.read_text("utf-8")


def test_no_metric_unit_of_a_question_is_passed_over():
    known = {label(key) for key in UNITS if display_unit(key, "us") != key} | {"cm", "L"}
    for notebook in WITH_EXERCISES:
        for one in (*exercises_for(notebook), *variants_for(notebook, 701)):
            after = (word.strip(".,;:?!)'\"") for word in re.findall(r"\d\s(\S+)", one.question))
            for unit in known.intersection(after) - {"°C"}:
                assert f"1 {unit} is " in us_worth(one.question), one.question
