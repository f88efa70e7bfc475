"""Sheets: the pages people print, sign and keep.

Each page is filled from a job by the floors below and rendered by a template that escapes what
people typed. `print_pack` writes a whole pack, `print_lesson` the pages of a lesson,
`print_class` hand-outs with numbers of each student's own and one key. The pages need no network
and no colour.
"""

from airlab.sheets.glossary import all_sources, all_terms
from airlab.sheets.keeping import PackPages, write_pages
from airlab.sheets.lessons_class import ClassSheets, altered_sheets, match_sheet, print_class
from airlab.sheets.pack import (
    job_pages,
    lesson_pages,
    print_fan_test,
    print_geometry,
    print_lesson,
    print_pack,
    print_workshop,
)
from airlab.sheets.page import Heading, Page, Shown, document

__all__ = [
    "ClassSheets",
    "Heading",
    "PackPages",
    "Page",
    "Shown",
    "all_sources",
    "all_terms",
    "altered_sheets",
    "document",
    "job_pages",
    "lesson_pages",
    "match_sheet",
    "print_class",
    "print_fan_test",
    "print_geometry",
    "print_lesson",
    "print_pack",
    "print_workshop",
    "write_pages",
]
