"""Sheets: the pages people print, sign and keep.

Each page is filled from a job by the floors below and rendered by a template that escapes what
people typed. `print_pack` writes a whole pack; the pages need no network and no colour.
"""

from airlab.sheets.glossary import all_sources, all_terms
from airlab.sheets.pack import PackPages, write_pages
from airlab.sheets.page import Heading, Page, Shown, document

__all__ = [
    "Heading",
    "PackPages",
    "Page",
    "Shown",
    "all_sources",
    "all_terms",
    "document",
    "write_pages",
]
