"""What looks metric in US units, and the few things that stay metric, with why."""

import re
from dataclasses import fields
from html import unescape

from airlab.building import limits, ventilation_needs
from airlab.files import JOB_TABLES
from airlab.sheets import all_sources

__all__ = ["left_over", "plain"]

METRIC = re.compile(
    r"m³|m²|cm²|mm²|°C|\bm/s|\bkm|kPa|hPa|\bL/s|\bL/\(|(?<=\d) K\b|\[K\]|, K\b|\bkW\b|\bkg\b|\bmm\b|\bcm\b"
    r"|\d (?:m|g|L)(?![\w/])|\bmetres?\b|\blitres?\b"
)
STAYS = (
    # Both units stand side by side: "100 mm (4 in)", "30 °C at 50 Pa (86 °F)".
    r"[\d.,½]+(?: (?:to|or|and) [\d.]+)? ?[^\s\d]+(?: [^\s(]+){0,4} \([^()]*\d? ?(?:in|ft|°F|lb on every square foot|cfm|cfm/ft|mph)\)",
    # A gauge may show m³/h: the mark is said in both.
    r"That is \d+ m³/h\.",
    # A rule of one document, as it stands there.
    r"[^|]*Approved Document J[^|]*", r"[^|]*background vents of \d+ mm² together[^|]*",
    # A condition of a test standard is quoted in the standard's units, and what was found beside it.
    r"Wind at most [^.;|]*", r"Outside temperature [^.;|]*", r"Thermometer, error [\d.]+ K at most",
    r"Temperature difference times height \d+ m·K at most", r"[\d.]+ (?:m·K|K|m/s [\w ]+)(?=[ ,]*\d?[\w ]*\|)",
    # Findings of published studies, as they stand there.
    r"by almost 2 m³/\(h·m²\) at 50 Pa on average",
    # The logarithm of a flow is that of SI: another unit would move the line that is fitted.
    r"ln q \(m³/s\)",
    # Definitions of indicators, as their documents write them.
    r"H / 2\.5 m", r"0\.7 × q9\.8 \[m³/h\]",
    # What is chosen is the unit of somebody's paper, so every unit is offered.
    r"\[(?:m³/h|L/s|m³/\(h·m²\)|L/\(s·m²\)|cm²|m³/\(h·Paⁿ\)|cm²/m²)\]",
)  # fmt: skip


def plain(html):
    """Return the words of HTML; cells and lines apart by bars."""
    text = re.sub(r"<style.*?</style>|<script.*?</script>", "", html, flags=re.S)
    text = re.sub(r'<img alt="([^"]*)"[^>]*>', r"| \1 |", text)
    text = re.sub(r"</?(?:b|i|em|small|sub|sup|span|tspan)\b[^>]*>", "", text)
    return " ".join(unescape(re.sub(r"<[^>]+>", " | ", text)).split())


def quoted(job):
    """Return what is quoted as written: published figures, rules, sources, what people typed."""
    found = [one.shown() for one in limits(with_memory=True, with_superseded=True)]
    found += [one.applies_to for one in limits(with_memory=True, with_superseded=True)]
    found += [source.sentence() for source in all_sources().values()]
    found += [one.rule for one in ventilation_needs(100.0, 3)]
    found += [source.locator for source in all_sources().values()]
    for table in JOB_TABLES:
        for record in getattr(job, table):
            found += [v for f in fields(record) if isinstance(v := getattr(record, f.name), str)]
    return sorted({one for one in found if METRIC.search(one)}, key=len, reverse=True)


def left_over(texts, job):
    """Return what is metric in the texts and has no reason to be, each with what stands round it."""
    known, found = quoted(job), []
    for text in dict.fromkeys(map(plain, texts)):
        for one in known:
            text = text.replace(one, "")
        for pattern in STAYS:
            text = re.sub(pattern, "", text)
        found += [text[max(0, m.start() - 60) : m.end() + 20] for m in METRIC.finditer(text)]
    return sorted(set(found))
