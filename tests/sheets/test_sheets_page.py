"""Pages: escaping, self-contained documents, digests, files that lose nothing."""

import re
from datetime import UTC, datetime

import pytest

from airlab.sheets.keeping import write_pages
from airlab.sheets.page import Heading, Shown, document, make_page, tick
from airlab.words import InputError, cfm, cm2, m3_per_h

NOON = datetime(2026, 3, 4, 12, 0, tzinfo=UTC)
SCRIPT = '<script>alert("x")</script>\'"&'


def a_page(name="Mill Lane", rows=(("word", "", "", "meaning", "", ""),), filled=False, **more):
    heading = Heading(name, moment=more.pop("moment", NOON), **more)
    return make_page("glossary", "Glossary", "Words.", heading, computed=[("volume", "12 m³")],
                     rows=rows, sources_table=[], filled=filled)  # fmt: skip


def test_head_says_job_place_date_units_and_marks():
    html = a_page(place="Northfield", rough=True, invented=True, units="us").html()
    for text in ("Mill Lane", "Northfield", "2026-03-04 12:00<br>", "US: ft, cfm, Pa",
                 "ROUGH until rooms are entered", "invented example"):  # fmt: skip
        assert text in html


def test_no_marks_where_none_apply():
    html = a_page().html()
    assert "ROUGH" not in html
    assert "invented example" not in html


def test_foot_says_what_a_result_is_and_what_was_computed():
    html = a_page().html()
    assert "An estimate for learning and planning, not a certificate." in html
    assert "volume: 12 m³" in html


def test_typed_text_is_escaped_in_head_body_title_and_style():
    page = a_page(name=SCRIPT + "</style>", place=SCRIPT, rows=[(SCRIPT,) * 6])
    html = page.html()
    assert "<script" not in html.lower()
    assert html.lower().count("</style") == 1
    assert "&lt;script&gt;" in html


def test_job_name_reaches_the_running_head_as_a_css_string():
    html = a_page(name='A"b').html()
    assert r'@page { @top-right { content: "A\22 b"; } }' in html


def test_document_needs_nothing_from_outside():
    html = a_page().html()
    assert '<meta charset="utf-8">' in html
    assert not re.search(r"https?://|@import|url\(|src=|<link", html)


def test_units_of_the_job_are_printed():
    assert Shown().flow(m3_per_h(180)) == "180 m³/h"
    assert Shown("us").flow(cfm(250)) == "250 cfm"
    assert Shown().hole(cm2(150)) == "150 cm²"
    # 1 in = 2.54 cm exactly, so 6.4516 cm² is 1 in²
    assert Shown("us").hole(cm2(6.4516)) == "1 in²"
    assert Shown().value(None, "m2") == "–"


def test_flow_per_area_converts_for_us_pages():
    # 0.3048 m to the foot, exact: 1 cfm/ft² = 18.288 m³/(h·m²)
    assert Shown("us").indicator(18.288, "m3/(h.m2)") == "1 cfm/ft²"
    assert Shown("us").indicator(3.0, "1/h") == "3 /h"


def test_tick_says_in_words_whether_it_is_done():
    assert 'aria-label="done"' in tick(True)
    assert 'aria-label="to tick"' in tick(False)


def test_digest_leaves_the_moment_out_and_sees_the_content():
    later = datetime(2027, 1, 1, tzinfo=UTC)
    assert a_page().digest == a_page(moment=later).digest
    assert a_page().digest != a_page(name="Other").digest


def test_pages_are_written_whole_and_one_by_one(tmp_path):
    pack = write_pages([a_page()], tmp_path / "pages")
    assert pack.pack.name == "pack.html"
    assert [path.name for path in pack.files] == ["glossary.html"]
    assert "Mill Lane" in pack.pack.read_text(encoding="utf-8")
    assert pack.sentence().startswith("1 page for Mill Lane: pack.html in the folder pages.")


def test_a_blank_page_is_printed_over_itself(tmp_path):
    write_pages([a_page()], tmp_path)
    write_pages([a_page(name="Other")], tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["glossary.html", "pack.html"]
    assert "Other" in (tmp_path / "pack.html").read_text(encoding="utf-8")


def test_a_page_someone_wrote_into_is_kept(tmp_path):
    first = write_pages([a_page()], tmp_path)
    page = first.files[0]
    changed = page.read_text(encoding="utf-8").replace("meaning", "found 240 m³/h by pen")
    page.write_text(changed, encoding="utf-8")
    second = write_pages([a_page(name="Other")], tmp_path)
    assert page.read_text(encoding="utf-8") == changed
    assert second.files[0].name == "glossary-2.html"
    assert "glossary-2.html" in second.sentence()


def test_a_filled_page_is_never_written_over(tmp_path):
    first = write_pages([a_page(filled=True)], tmp_path)
    kept = first.files[0].read_text(encoding="utf-8")
    second = write_pages([a_page(name="Other", filled=True)], tmp_path)
    assert first.files[0].name == "glossary-filled.html"
    assert second.files[0].name == "glossary-filled-2.html"
    assert first.files[0].read_text(encoding="utf-8") == kept


def test_the_same_filled_page_is_not_copied(tmp_path):
    first = write_pages([a_page(filled=True)], tmp_path)
    second = write_pages([a_page(filled=True, moment=datetime(2027, 1, 1, tzinfo=UTC))], tmp_path)
    assert second.files == first.files


def test_folder_that_cannot_be_made_is_said(tmp_path):
    (tmp_path / "pages").write_text("a file")
    with pytest.raises(InputError, match="pages were not written"):
        write_pages([a_page()], tmp_path / "pages")


def test_no_page_is_refused(tmp_path):
    with pytest.raises(InputError, match="no page"):
        write_pages([], tmp_path)


def test_unknown_page_lists_those_there_are(tmp_path):
    with pytest.raises(InputError, match="glossary"):
        write_pages([a_page()], tmp_path).page("nothing")


def test_document_has_one_title_and_a_section_for_each_page():
    html = document([a_page(), a_page(name="Second")], "Pack")
    assert html.count("<section") == 2
    assert html.count("<title>") == 1
