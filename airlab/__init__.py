"""airlab: a workbook for people who teach and practise airtight building."""

__version__ = "0.1.0"
