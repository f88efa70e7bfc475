"""The panels of a teacher: a class printed, a sheet that came back, the board, points, last class."""

import re
import shutil

import pytest

from airlab.files.marks import Marks, class_folder, demo_class, last_class, read_class
from airlab.panels import BalloonPanel, ClassBoardPanel, ExercisesPanel, HousePanel, TeachPanel
from airlab.panels.class_board import VIEWS
from airlab.sheets.lessons_class import class_exercises
from airlab.teaching import Justify, check, exercise, exercises_for
from airlab.teaching.lessons import lesson_keys, lesson_plan


def press(panel, words):
    """Press the button of that name, wherever it stands."""
    found = [panel]
    while found:
        one = found.pop()
        if getattr(one, "description", "") == words:
            return one.click()
        found += getattr(one, "children", ())
    raise AssertionError(f"no button {words!r}")


# ---- a class for tomorrow -----------------------------------------------------------------------


def test_every_lesson_has_its_minutes_on_show():
    panel = TeachPanel()
    for key in lesson_keys():
        panel.set(lesson=key)
        assert panel.message == ""
        plan = lesson_plan(key, panel.length.value)
        assert panel.sentence == plan.sentence()
        assert all(step.you.split(".")[0][:20] in panel.still().replace("&#x27;", "'").replace("&quot;", '"')
                   for step in plan.steps)  # fmt: skip


def test_a_length_that_is_not_written_is_not_offered():
    panel = TeachPanel().set(lesson="01", length=90).set(lesson="11")
    assert [value for _, value in panel.length.options] == [45]
    assert panel.message == ""


def test_one_button_prints_plan_hand_outs_and_key():
    panel = TeachPanel().set(lesson="01", length=60, students=5, seed=7)
    press(panel, "Print plan, hand-outs, key")
    pages = class_folder() / "pages"
    handouts, key = (
        (pages / where).read_text("utf-8")
        for where in ("students/handouts-01-seed-7.html", "teacher/key-01-seed-7.html")
    )
    assert (pages / "teacher" / "plan-01-60.html").is_file()
    marks = re.findall(r'check mark <b class="mark">(\w+)</b>', handouts)
    assert len(set(marks)) == 5
    assert all(mark in key for mark in marks)
    assert panel.sentence.startswith("Printed for 5 students, class seed 7")
    assert "its number, 701, 702 and so on" in panel.sentence
    assert "Your number: 701<" in handouts  # typed in a panel, it finds the numbers of the sheet
    asked = [one.question for one in class_exercises("01", 7, 1)]
    assert set(asked) <= {one.question for one in ExercisesPanel("01", seed=701)._all.values()}
    assert panel.still().count("airlab-link") == 3
    assert panel.whose(2, marks[1]).belongs and panel.whose(702, marks[1]).belongs
    assert (
        "not the sheet of student 2 but of student 4" in panel.whose(2, marks[3].lower()).sentence()
    )
    assert "no student of this class" in panel.whose(2, "AAAAAA").sentence()
    panel.set(seed=8)
    assert panel.student.value == 801  # the next sheet looked up is of the class on show
    panel.set(students=6)  # what was printed is no longer what is shown
    assert "Printed" not in panel.sentence and "airlab-link" not in panel.still()


def test_a_path_prints_the_notebooks_on_its_way():
    made = TeachPanel().set(lesson="apprentice", length=45, students=2).print_all()
    assert [path.name for path in made] == [
        "plan-apprentice-45.html", "handouts-01-seed-1.html", "key-01-seed-1.html",
        "handouts-03-seed-1.html", "key-03-seed-1.html",
    ]  # fmt: skip


def test_a_sheet_without_a_mark_is_asked_for():
    panel = TeachPanel()
    press(panel, "Whose sheet is it?")
    assert "Type the check mark" in panel.message


def test_the_last_class_comes_back():
    TeachPanel().set(lesson="03", length=90, students=17, seed=42).print_all()
    again = TeachPanel()
    assert (again.lesson.value, again.length.value, again.students.value, again.seed.value) == (
        "03",
        90,
        17,
        42,
    )
    assert "notebook 03, 17 students, class seed 42. Carry on" in again.sentence


def test_a_last_class_of_a_lesson_that_is_gone_is_no_trouble():
    TeachPanel().set(students=3).print_all()
    state = class_folder() / "last_class.json"
    state.write_text(state.read_text().replace('"01"', '"99"').replace("45", "44"))
    assert TeachPanel().lesson.value == "01"


# ---- the class of today -------------------------------------------------------------------------


@pytest.mark.parametrize("view", [key for _, key in VIEWS])
def test_every_view_of_the_invented_class(view):
    panel = ClassBoardPanel(view=view)
    assert panel.message == ""
    assert panel.value is not None
    if view != "task":
        assert "this class is invented" in panel.sentence
        assert "marks-9.csv" in panel.still()


def test_the_board_takes_up_its_own_class_as_soon_as_there_is_one():
    panel = ClassBoardPanel()
    Marks(7).keep(check("01-1", 30), 30)
    press(panel, "Read the files")
    assert panel.sentence.startswith("1 file read. 1 learner. Fewest hits: 01-1: 0 of 1")
    assert "invented" not in panel.sentence
    Marks(7).keep(check("01-1", 15), 15)
    assert "No slip is alive" in panel.read().show_view("slips").sentence


def test_a_folder_is_read_by_name(tmp_path):
    shutil.copytree(demo_class(), tmp_path / "monday")
    panel = ClassBoardPanel()
    panel.folder.value = str(tmp_path / "monday")
    assert "invented" not in panel.sentence and "13 files read" in panel.sentence
    panel.folder.value = str(tmp_path / "tuesday")
    assert "There is no folder 'tuesday'" in panel.message


def test_what_was_on_show_comes_back():
    Marks(7).keep(check("01-1", 30), 30)
    ClassBoardPanel().show_view("slips")
    assert last_class().view == "slips"
    assert ClassBoardPanel().view.value == "slips"


def test_points_of_an_open_task_are_kept():
    panel = ClassBoardPanel(view="task")
    assert panel.sentence == "Type 5 points, 0 to 2 each, from the top. Next: surface."
    kept = panel.keep_points("7", "D9", (2, 2, 1, 0, 1))
    assert (kept.points, kept.out_of) == (6, 10)
    assert panel.sentence == "Kept. Learner 7, D9: 6 of 10 points."
    assert panel.learner.value == ""
    press(panel, "Keep the points")  # a second press keeps nothing twice
    assert "A name is not needed" in panel.message
    panel.points.value = "022"  # the next learner: the sentence is of what is typed now
    assert panel.sentence.endswith("Next: what would change it.")
    assert panel.still().count("●") == 3
    panel.points.value = "0, 2 2,21"
    assert panel.sentence.endswith("safety is at 0.")
    press(panel, "Keep the points")
    assert "A name is not needed" in panel.message
    for slip, words in (
        ("2 2 x 1 1", "'2 2 x 1 1'"),
        ("-1", "'-1'"),
        ("22223", "0, 1 or 2"),
        ("222222", "There are 5 criteria"),
    ):
        panel.points.value = slip
        assert words in panel.message
    assert [mark.points for mark in read_class().marks] == [6]
    assert "6/10" in panel.show_view("learners").still()


def test_export_writes_one_table_and_says_where():
    panel = ClassBoardPanel(demo_class())
    press(panel, "Export one table")
    assert (class_folder() / "class_export.csv").is_file()
    assert panel.sentence.startswith("Written: class_export.csv")
    assert "Open the table" in panel.still()


def test_what_learners_wrote_is_escaped(tmp_path):
    folder = tmp_path / "class"
    Marks(7, folder).keep_guess("<script>alert(1)</script>", 1.0, 2.0)
    (folder / "<b>broken.csv").write_text("a,b\n1,2\n")
    for view in ("guesses", "learners"):
        shown = ClassBoardPanel(folder, view)._picture.value
        assert "<script>" not in shown and "<b>broken" not in shown


# ---- guesses of learners ------------------------------------------------------------------------


def test_a_guess_is_kept_under_a_number_and_stands_on_the_board():
    for number, said in (("7", 10.0), ("8", 60.0)):
        panel = BalloonPanel()
        panel.number.value = number
        panel.guess(said).skip()
        panel.set(hole_diameter=0.005)  # what is tried afterwards is no guess
    HousePanel().guess(HousePanel.options[0][0]).skip()  # without a number nothing is kept
    kept = read_class().guesses
    assert [(one.learner, one.guess, one.unit) for one in kept] == [
        ("7", 10.0, "s"),
        ("8", 60.0, "s"),
    ]
    flat = BalloonPanel().skip().value.time_to_flat
    assert {one.result for one in kept} == {flat}
    board = ClassBoardPanel().read().show_view("guesses")
    assert "Time until the balloon is flat: 1 of 2 within a tenth" in board.sentence


def test_a_guess_of_the_house_goes_to_the_same_board():
    panel = HousePanel()
    panel.number.value = "9"
    panel.guess(panel.options[1][0]).skip()
    (one,) = read_class().guesses
    assert one.result == panel.value.fan_off.half_time
    assert "half" in one.question


# ---- tries of learners --------------------------------------------------------------------------


def test_a_try_is_kept_under_the_learners_number_with_reason_and_hint():
    panel = ExercisesPanel("01", seed=703)
    panel.answer("01-1", 1.0)  # not ticked: nothing is kept
    assert not class_folder().exists()
    panel.keep.value, panel.reason.value = True, "it is twice as wide"
    wrong, hint = exercise("01-1/703").wrong()[0]
    panel.answer("01-1", wrong)
    assert panel.reason.value == ""
    panel.answer("01-1", exercise("01-1/703").answer())
    first, last = Marks(703).marks()
    assert (first.exercise, first.hint, first.reason) == ("01-1/703", hint, "it is twice as wide")
    assert last.right and last.time_s is not None
    assert ClassBoardPanel().value.items[0].tries == {"703": (2, True)}


def test_without_a_number_a_try_is_not_kept_and_it_says_so():
    panel = ExercisesPanel("01")
    panel.keep.value, panel.box.value = True, "15"
    press(panel, "Check answer")
    assert panel.message.startswith("Not kept: type your number first.")
    assert panel.sentence.startswith("Right.")
    assert not class_folder().exists()


def test_numbers_of_the_book_can_be_kept_too(tmp_path):
    ExercisesPanel("01", marks=Marks("B2", tmp_path)).answer("01-5", "the same")
    (mark,) = Marks("B2", tmp_path).marks()
    assert (mark.exercise, mark.answer, mark.right) == ("01-5", "the same", True)


def test_a_decision_and_its_reason_are_kept_as_words(tmp_path):
    one = next(e for n in range(1, 12) for e in exercises_for(f"{n:02d}") if isinstance(e, Justify))
    option, ground = one.options[0], one.grounds[0]
    ExercisesPanel(one.key[:2], marks=Marks(4, tmp_path)).answer(one.key, (option, ground))
    (mark,) = Marks(4, tmp_path).marks()
    assert mark.answer == f"{option} {ground}"


def test_a_question_says_what_its_units_are_worth_to_a_us_class():
    assert "1 m³ is 35.3 ft³" in ExercisesPanel("04", units="us").still()
    assert "In US units" not in ExercisesPanel("04").still()
