"""Vocabulary and sources of the building floor."""

from airlab.words.terms import Source, Term

__all__ = ["SOURCES", "TERMS"]

TERMS = (
    Term("internal_volume", "V", "m3", "air volume inside the tested zone, furniture ignored", "ISO9972"),
    Term("envelope_area", "A_E", "m2", "all floors, walls and ceilings that border the tested volume, "
         "by inside dimensions", "ISO9972"),
    Term("floor_area", "A_F", "m2", "net floor area inside the tested volume", "ISO9972"),
    Term("lowest_floor_area", "A_low", "m2", "part of the envelope that is the lowest floor", "FR_2010"),
    Term("party_area", "A_party", "m2", "part of the envelope with a neighbour on the other side", "TIGHTVENT"),
    Term("mean_height", "h", "m", "volume divided by floor area", "DERIVED"),
    Term("building_height", "H", "m", "height of the topmost ceiling above the lowest floor", "NREL_62_2"),
    Term("n50", "n₅₀", "1/h", "air changes per hour at 50 Pa: leakage flow at 50 Pa over volume", "TIGHTVENT"),
    Term("qE50", "q_E50", "m3/(h.m2)", "leakage flow at 50 Pa per envelope area, also called air "
         "permeability", "TIGHTVENT"),
    Term("qF50", "q_F50", "m3/(h.m2)", "leakage flow at 50 Pa per floor area", "TIGHTVENT"),
)  # fmt: skip

SOURCES = (
    Source("ASHRAE_F16", "ASHRAE", "Handbook: Fundamentals, chapter 16", "2017",
           "effective and equivalent leakage area, equations 41 to 46", "read"),
    Source("FR_2010", "France", "arrêté du 26 octobre 2010", "2010", "article 17", "read"),
    Source("BE_EPB", "Belgium, Flanders", "EPB: energy performance rules", "", "heat-loss area",
           "second-hand"),
    Source("LBNL_NL", "Chan, Joh and Sherman", "Analysis of air leakage measurements of US houses, "
           "Energy and Buildings 66, 616-625", "2013", "equation 2", "read"),
    Source("JIS_A2201", "Japan", "JIS A 2201, αA = 0.7 q at 9.8 Pa", "2017", "", "from memory"),
    Source("NREL_62_2", "NREL and DOE", "work specification page: calculation of the infiltration "
           "credit", "2016", "Table A-1", "second-hand"),
)  # fmt: skip
