"""A tester's CSV read through the files: any order, unit and sign; bad input refused by name."""

import numpy as np
import pytest

from airlab.fan_test import analyse, fan_test_from_rows
from airlab.files import example_fan_test, open_job, read_fan_tests, save_table, start_job
from airlab.words import InputError

PRESSURES = (60.0, 50.0, 40.0, 30.0, 20.0, 12.0)
FLOWS = tuple(60.0 * p**0.65 for p in PRESSURES)  # m3/h


def read(folder, points, test="test\nmine\n"):
    (folder / "fan_tests.csv").write_text(test, encoding="utf-8")
    (folder / "fan_test_points.csv").write_text(points, encoding="utf-8")
    tests, rows = read_fan_tests(folder)
    return fan_test_from_rows(tests.rows[0], rows.rows)


def table(heads, rows, mark=","):
    return "\n".join(mark.join(map(str, row)) for row in (heads, *rows)) + "\n"


@pytest.mark.parametrize(
    ("column", "size"),  # of one unit in m3/h; the foot is 0.3048 m, exact by definition
    [("flow_m3_per_h", 1.0), ("flow_l_per_s", 3.6), ("flow_m3_per_s", 3600.0),
     ("flow_cfm", 60.0 * 0.3048**3)],
)  # fmt: skip
def test_any_order_unit_and_sign_give_the_same_line(tmp_path, column, size):
    rows = [(round(q / size, 9), -p, "mine", "depressurise", "x") for p, q in zip(PRESSURES, FLOWS)]
    made = read(tmp_path, table((column, "pressure_pa", "test", "direction", "my own"), rows))
    fit = analyse(made).results[0].fit
    assert fit.flow_exponent == pytest.approx(0.65, abs=1e-7)
    assert made.series[0].flow == pytest.approx(np.array(FLOWS) / 3600.0, rel=1e-6)


def test_decimal_commas_with_semicolons(tmp_path):
    rows = [("mine", "depressurise", f"{p:.1f}".replace(".", ","), f"{q:.1f}".replace(".", ","))
            for p, q in zip(PRESSURES, FLOWS)]  # fmt: skip
    made = read(tmp_path, table(("test", "direction", "pressure_pa", "flow_m3_per_h"), rows, ";"))
    assert made.series[0].pressure == PRESSURES


def test_a_zero_that_was_not_read_is_worked_out_and_said(tmp_path):
    rows = [("mine", "depressurise", p, q) for p, q in zip(PRESSURES, FLOWS)]
    made = read(tmp_path, table(("test", "direction", "pressure_pa", "flow_m3_per_h"), rows))
    assert any("No zero-flow pressure was read" in note for note in analyse(made).notes)


def test_four_thousand_points(tmp_path):
    p = np.linspace(60.0, 10.0, 4000)
    rows = [("mine", "pressurise", round(a, 4), round(60.0 * a**0.65, 4)) for a in p]
    made = read(tmp_path, table(("test", "direction", "pressure_pa", "flow_m3_per_h"), rows))
    assert analyse(made).flow_exponent == pytest.approx(0.65, abs=1e-4)


HEADS = ("test", "direction", "pressure_pa", "flow_m3_per_h", "flow_l_per_s")
GOOD = [("mine", "depressurise", p, q, "") for p, q in zip(PRESSURES, FLOWS)]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (GOOD[:2], "needs three"),
        ([(*row[:2], 50.0, *row[3:]) for row in GOOD], "several pressures"),
        ([*GOOD[:3], ("mine", "depressurise", -30.0, 500.0, "")], "both signs"),
        ([*GOOD[:3], ("mine", "depressurise", 30.0, 0, "")], "needs a flow"),
        ([*GOOD[:3], ("mine", "depressurise", 30.0, "", "")], "no flow is typed"),
        ([*GOOD[:3], ("mine", "depressurise", 30.0, "", 140.0)], "Use one unit"),
        ([*GOOD[:3], ("mine", "depressurise", 30.0, 500.0, 140.0)], "flow_m3_per_h and flow_l"),
        ([(a, b, q, p, "") for a, b, p, q, _ in GOOD], "may be swapped"),
        (
            [*GOOD[:3], ("mine", "depressurise", '"1,234"', 500.0, "")],
            "'1,234'; expected −500 to 500 Pa",
        ),
        ([*GOOD[:3], ("mine", "depressurise", "30,5", 500.0, "")], "decimal comma needs"),
        ([("mine", "sideways", 30.0, 500.0, "")], "depressurise"),
    ],
)
def test_bad_input_is_refused_by_name(tmp_path, rows, said):
    with pytest.raises(InputError, match=said):
        read(tmp_path, table(HEADS, rows))


def test_a_job_keeps_its_tests():
    job = start_job("tested")
    tests, points = read_fan_tests()
    job = save_table(job, "fan_tests", tests.rows)
    job = save_table(job, "fan_test_points", points.rows)
    again = open_job(job.folder)
    assert [row.row["test"] for row in again.fan_tests] == ["before the boards", "final"]
    assert len(again.fan_test_points) == 64
    with pytest.raises(InputError, match="no flow is typed"):
        save_table(
            job, "fan_test_points", [{"test": "a", "direction": "pressurise", "pressure_pa": 9}]
        )


def test_invented_tests_say_so():
    tests, _ = read_fan_tests()
    assert all("Invented" in row["note"] for row in tests.rows)
    assert len(example_fan_test().series) == 2
    with pytest.raises(InputError, match="There are: before the boards, final"):
        example_fan_test("third")
