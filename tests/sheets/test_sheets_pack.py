"""The pack of a job: complete, its own, honest about hazards, safe with what people typed."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from html.parser import HTMLParser

import pytest
from sheet_jobs import (
    STOPPING,
    another,
    answered,
    complete,
    day_job,
    demo,
    poisoned,
    rough,
)  # fmt: skip

from airlab.files import data_folder, demo_job, jobs_folder, start_job
from airlab.files.settings import DEFAULTS, freeze
from airlab.leak_check import make_plan
from airlab.sheets import job_pages, lesson_pages, print_lesson, print_pack
from airlab.teaching import exercises_for
from airlab.words import InputError, show

NOON = datetime(2027, 4, 12, 12, 0, tzinfo=UTC)
SCRIPT = "<script>alert(1)</script>\"'&"
VOID = {"meta", "br", "wbr", "link", "img", "hr", "input", "circle", "rect", "path", "line"}


def pages_of(job, filled=False):
    return {page.key: page for page in job_pages(job, filled, NOON)}


class Checker(HTMLParser):
    """Notes tags that do not match, doubled ids and loads from outside."""

    def __init__(self):
        super().__init__()
        self.open, self.trouble, self.ids = [], [], []

    def handle_starttag(self, tag, attributes):
        for name, value in attributes:
            if name == "id":
                self.ids.append(value)
            if name in ("src", "href") and not value.startswith("#"):
                self.trouble.append(f"{tag} loads {value}")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        """An element of a drawing that closes itself."""
        self.handle_starttag(tag, attributes)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.trouble.append(f"</{tag}> does not match")


@pytest.mark.parametrize("filled", [False, True])
@pytest.mark.parametrize("job", [demo(), day_job(), rough(), demo(units="us")], ids=str)
def test_documents_are_well_formed_and_self_contained(job, filled, tmp_path):
    html = print_pack(job, tmp_path, filled, NOON).pack.read_text(encoding="utf-8")
    checker = Checker()
    checker.feed(html)
    assert not checker.trouble
    assert not checker.open
    assert len(checker.ids) == len(set(checker.ids))
    assert "http" not in html.split("</style>")[1]


def test_blank_pack_holds_every_page_of_the_check():
    assert list(pages_of(demo())) == [
        "geometry", "line", "budget", "materials", "when", "kit", "preparation", "route", "log-blank", "day", "release-blank",
        "holes", "trades", "skills", "owner", "glossary",
    ]  # fmt: skip


def test_filled_pack_adds_what_was_recorded():
    pages = pages_of(day_job(), filled=True)
    assert {"log", "log-blank", "day", "release"} <= set(pages)
    assert {key for key, page in pages.items() if page.filled} == {
        "preparation", "log", "day", "release", "holes", "open_rows", "lessons", "owner",
    }  # fmt: skip


def test_every_page_says_whose_it_is_and_what_was_computed():
    for page in pages_of(demo()).values():
        html = page.html()
        assert "Mossquill House (demo)" in html
        assert "invented example" in html
        assert "2027-04-12 12:00<br>" in html
        assert "not a certificate" in html
        assert page.computed, page.key


@pytest.mark.parametrize("filled", [False, True])
def test_two_jobs_give_two_different_packs(filled):
    first, second = pages_of(day_job(), filled), pages_of(
        replace(another(), readings=day_job().readings, leaks=day_job(480).leaks[:4]), filled
    )  # fmt: skip
    assert set(first) == set(second)
    for key, page in first.items():
        assert page.computed != second[key].computed, key
        assert page.body != second[key].body, key


@pytest.mark.parametrize("filled", [False, True])
def test_what_people_typed_is_escaped_everywhere(filled):
    job = poisoned(day_job(), SCRIPT)
    for page in (*job_pages(job, filled, NOON), *lesson_pages(job, NOON)):
        html = page.html()
        assert "<script" not in html.lower(), page.key
        assert html.count("</style>") == 1
        assert "&lt;script&gt;" in html, page.key


def test_typed_text_reaches_the_pages_it_belongs_to():
    pages = pages_of(poisoned(day_job(), SCRIPT), filled=True)
    for key in ("geometry", "line", "budget", "materials", "when", "preparation", "route", "log", "day", "release", "holes",
                "trades", "owner"):  # fmt: skip
        assert "&lt;script&gt;" in pages[key].body, key


def test_a_very_long_word_may_break():
    job = demo(rooms=(replace(demo_job().rooms[0], name="x" * 200), *demo_job().rooms[1:]))
    assert f"{'x' * 24}<wbr>{'x' * 24}" in pages_of(job)["geometry"].body


# Hazards


@pytest.mark.parametrize("answer", ["not safe", "don't know"])
@pytest.mark.parametrize("hazard", STOPPING)
def test_a_stopping_hazard_prints_no_go_and_no_expected_flow(hazard, answer):
    job = complete(day_job(), trades=())
    allowed = make_plan(job)
    clean = replace(job, openings=(), holes=(), leaks=())
    assert "● GO" in pages_of(clean, True)["release"].body
    stopped = answered(job, **{hazard: answer})
    name = next(one.name for one, _ in make_plan(stopped).hazards.answers if one.key == hazard)
    expected = show(3600 * allowed.expected.high, "m3/h")
    for filled in (False, True):
        for page in job_pages(stopped, filled, NOON):
            text = str(page.body)
            assert "● GO" not in text, page.key
            assert "GO WITH" not in text, page.key
            assert expected not in text, page.key
            assert "Pass: reading" not in text, page.key
            if page.key in ("preparation", "route", "day", "release", "release-blank"):
                assert "No fan, no flow, no go" in text, page.key
                assert f"{name}: {answer}".replace("'", "&#39;") in text, page.key


def test_safe_hazards_print_the_flow():
    body = pages_of(demo())["day"].body
    low, high = make_plan(demo()).expected.low, make_plan(demo()).expected.high
    assert f"{show(3600 * low)} to {show(3600 * high, 'm3/h')}" in body


def test_hazard_answers_are_crossed_on_a_filled_page_only():
    job = day_job()
    assert 'aria-label="done"' not in pages_of(job)["preparation"].body
    assert pages_of(job, True)["preparation"].body.count('aria-label="done"') == 10


# Rough start


def test_rough_page_gives_allowance_and_hole_of_a_hand_sum():
    # 140 m² × 2.5 m × 1 /h = 350 m³/h; 0.498 cm² of sharp hole for each m³/h at 50 Pa
    # (π/(π+2), 1.2 kg/m³: derived) makes 174 cm².
    job = answered(rough(), **dict.fromkeys(STOPPING, "safe"))
    pages = pages_of(job)
    body = pages["rough"].body
    assert "350 m³/h" in body
    assert "174 cm²" in body
    assert re.search(r"285 to 538|287 to 538", body)
    assert all("ROUGH until rooms are entered" in page.html() for page in pages.values())


def test_rough_page_without_answers_says_why_there_is_no_expected_flow():
    body = pages_of(rough(hazards=freeze(DEFAULTS["hazards"])))["rough"].body
    assert "No expected flow is printed" in body
    assert "538" not in body
    assert "350 m³/h" in body


def test_rooms_entered_end_the_rough_mark():
    assert "ROUGH" not in pages_of(demo())["geometry"].html()


# Single pages


def test_geometry_adds_up_and_says_what_is_out():
    body = pages_of(demo())["geometry"].body
    rooms = [room for room in demo_job().rooms if room.included]
    assert show(sum(room.air_volume for room in rooms)) in body
    assert "unheated lean-to, outside the airtight line" in body
    assert "OUT" in body
    assert "agreed for the test" in body


def test_preparation_counts_seals_and_names_what_they_hide():
    body = pages_of(demo())["preparation"].body
    sealed = [one for one in demo_job().openings if one.required == "sealed"]
    assert f"Seals on the list {len(sealed)}." in body
    assert "A LEAK" in body
    assert "kitchen hood sleeve" in body.split("belongs in the result")[-1]
    assert body.index("First: is it safe?") < body.index("Then: every opening")


def test_route_prints_every_stop_with_a_tick():
    body = pages_of(demo())["route"].body
    plan = make_plan(demo())
    assert body.count('class="tick"') == len(plan.route.stops)
    assert "all inner doors open and wedged" in body


def test_blank_log_starts_at_the_next_free_number():
    for job, first in ((demo(), 1), (day_job(), 3)):
        numbers = re.findall(r'data-label="no.">(\d+)<', pages_of(job)["log-blank"].body)
        assert [int(number) for number in numbers] == list(range(first, first + len(numbers)))
        assert len(numbers) >= 12


def test_filled_log_says_state_by_word_and_shape():
    body = pages_of(day_job(), True)["log"].body
    assert "○ closed" in body
    assert "□ sealed, awaiting re-check" in body
    assert "tight 2027-04-12 09:20" in body
    assert "014.jpg" in body


def test_filled_log_flags_rows_that_contradict():
    log = day_job().leaks
    job = demo(leaks=tuple(event for event in log if event.did != "sealed"))
    assert "contradict each other" in pages_of(job, True)["log"].body


def test_hole_register_reckons_each_hole():
    # 20 mm is 3.1416 cm²; at 2.008 m³/h for each cm² at 50 Pa (derived) that is 6.31 m³/h.
    body = pages_of(day_job(), True)["holes"].body
    row = body[body.index(">H1<") :].split("</tr>")[0]
    assert "6.31" in row
    assert "outside lamp" in row


def test_trade_cards_name_the_joints_a_trade_owns():
    job = demo_job()
    own = job.junctions[0].owner
    trades = (*job.trades, replace(job.trades[0], name=own))
    body = pages_of(demo(trades=trades))["trades"].body
    assert job.junctions[0].junction in body
    assert body.count('class="card"') == len(trades)


def test_glossary_holds_every_term_and_says_how_each_source_was_obtained():
    from airlab.sheets import all_sources, all_terms

    body = pages_of(demo())["glossary"].body
    assert len(all_terms()) > 30
    for term in all_terms().values():
        assert f">{term.words}<" in body
        assert not term.source or f"{term.source} ({all_sources()[term.source].status})" in body


def test_owner_page_compares_with_documents_that_were_read():
    body = pages_of(demo())["owner"].body
    assert "Denmark: BR18" in body
    assert "Settle the ventilation before praising a low number." in body


def test_kit_list_counts_seals_by_material():
    pages = pages_of(demo())
    sealed = [one.sealed_with for one in demo_job().openings if one.required == "sealed"]
    body = pages["kit"].body
    for material in set(sealed):
        row = body[body.index(f"seals for the day: {material}") :].split("</tr>")[0]
        assert f">{sealed.count(material)}<" in row


def test_us_job_prints_us_units():
    body = pages_of(demo(units="us"))["day"].body
    assert "cfm" in body
    assert "m³/h" not in body


# Lesson


def test_lesson_times_add_up():
    body = lesson_pages(moment=NOON)[0].body
    times = re.findall(r'data-label="minutes">(\d+)–(\d+)<', body)
    assert [int(start) for start, _ in times[1:]] == [int(end) for _, end in times[:-1]]
    assert int(times[0][0]) == 0
    assert int(times[-1][1]) == 45


def test_key_is_computed_and_stays_off_the_hand_out():
    _, handout, key = lesson_pages(moment=NOON)
    for exercise in exercises_for("01"):
        assert exercise.key in handout.body
        assert exercise.explain.split(".")[0] not in handout.body
        if hasattr(exercise, "expected"):
            assert show(exercise.expected(), exercise.unit) in key.body
        for slip in getattr(exercise, "slips", ()):
            assert slip.hint[:20] in key.body


def test_lesson_pages_are_three_files(tmp_path):
    printed = print_lesson(folder=tmp_path, moment=NOON)
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == ["handout.html", "key.html", "lesson.html"]
    assert printed.pack.name == "lesson.html"


# Files


def test_pack_goes_to_the_pages_of_the_job():
    job = start_job("My house")
    printed = print_pack(job, moment=NOON)
    assert printed.pack == job.folder / "pages" / "pack.html"
    assert len(printed.files) == len(printed.pages)


def test_nothing_is_written_beside_the_demo():
    before = sorted(data_folder().rglob("*"))
    printed = print_pack(demo_job(), moment=NOON)
    assert sorted(data_folder().rglob("*")) == before
    assert jobs_folder() in printed.pack.parents


def test_a_second_day_does_not_write_over_the_first(tmp_path):
    first = print_pack(day_job(), tmp_path, True, NOON)
    kept = first.pack.read_bytes()
    second = print_pack(day_job(600), tmp_path, True, NOON)
    assert second.pack.name == "pack-filled-2.html"
    assert first.pack.read_bytes() == kept
    assert second.notes


def test_job_without_target_says_what_is_missing():
    with pytest.raises(InputError, match="target"):
        print_pack(demo(target=None, limit=None))


def test_style_knows_black_white_and_grey_only():
    style = re.sub(r"/\*.*?\*/", "", demo_pages_style(), flags=re.S)
    for colour in re.findall(r"#([0-9a-f]{3,6})\b", style):
        wide = "".join(2 * c for c in colour) if len(colour) == 3 else colour
        assert wide[:2] == wide[2:4] == wide[4:], colour
    assert "background" not in style.replace("background: #fff", "")


def demo_pages_style():
    html = job_pages(demo_job(), moment=NOON)[0].html()
    return html.split("<style>")[1].split("</style>")[0]
