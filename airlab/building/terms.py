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
    Term("extract_flow", "q_ext", "m3/s", "flow of all extract fans together"),
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
    Source("FI_ENERGY", "Finland", "decree on the energy performance of new buildings", "",
           "sections 17, 25 and 27, unofficial translation", "read"),
    Source("DK_BR18", "Denmark", "BR18, the authority's collection of examples", "2018", "", "read"),
    Source("DE_GEG", "Germany", "GEG 2020, text of 2022", "2022", "§26", "read"),
    Source("AIVC_ANSWERS", "AIVC", "national answers on ISO 9972", "", "", "second-hand"),
    Source("CA_NBC", "Canada", "research council abstract on the building code's 9.36", "2020", "",
           "second-hand"),
    Source("EN_ADJ", "England", "Approved Document J", "", "1.20, 1.21, table 1, appendix D", "read"),
    Source("LBNL_NL", "Chan, Joh and Sherman", "Analysis of air leakage measurements of US houses, "
           "Energy and Buildings 66, 616-625", "2013", "equation 2", "read"),
    Source("JIS_A2201", "Japan", "JIS A 2201, αA = 0.7 q at 9.8 Pa", "2017", "", "from memory"),
    Source("REPEAT_2011", "Delmotte and Laverge", "Interlaboratory tests of the fan pressurization "
           "method, AIVC conference 32", "2011", "abstract: 2.4 % at 50 Pa", "read"),
    Source("LOVE_2017", "Love et al.", "Hitting the target and missing the point, Energy and "
           "Buildings 155, 88-97", "2017", "abstract and highlights", "read"),
    Source("CRAWLEY_2019", "Crawley et al.", "Inferring the as-built air permeability of new UK "
           "dwellings, Int. J. Building Pathology and Adaptation 38(1)", "2019", "abstract", "read"),
    Source("GUPTA", "Gupta and Kotopouleas", "results of low-energy homes, as told in a trade "
           "journal", "", "", "second-hand"),
    Source("BSRIA_NEWS", "BSRIA", "Future building regulations: airtightness compliance", "",
           "news article, data of 2007 to 2010", "read"),
    Source("MOUJALLED_2018", "Moujalled, Leprince and Melois", "French database of airtightness "
           "tests, AIVC conference 39", "2018", "abstract", "read"),
    Source("HOLOS_BEST2", "Holos and Relander", "Airtightness measurements of wood frame low energy "
           "row houses, BEST2 conference", "", "session WB6-3, abstract", "read"),
    Source("STAGE_PAIRS", "a self-build diary and a trade blog", "mid-build and final results of one "
           "house each", "2016 and 2022", "0.20 to 0.13 and 3.2 to 3.9 per hour at 50 Pa", "read"),
    Source("VANDENBOSSCHE_2012", "Van Den Bossche, Huyghe, Moens and Janssens", "joint between window "
           "and cavity brick wall, Energy and Buildings 45, 32-42", "2012",
           "abstract: 13 ways to join, 0 to 31 m³/(h·m) at 50 Pa", "read"),
    Source("HALLIK_2019", "Hallik, Gustavson and Kalamees", "timber joints filled with foam, "
           "Buildings 9(7), 172", "2019", "abstract: up to 28 % and 50 % of specimens failed", "read"),
    Source("GULLBREKKEN_2012", "Gullbrekken and others", "clamped laps of membranes while timber "
           "dries, BUILDAIR", "2012", "abstract: fixings at 600 mm leak more than at 300 or 150 mm",
           "read"),
    Source("JUCIENE_2024", "Jucienė and others", "tapes on boards, Buildings 14, 1346", "2024",
           "strand board under tape let 2 to 7 times more air past", "read"),
    Source("SITE_NOTES", "testers and housing guidance", "pages on where dwellings leak", "",
           "joist ends in walls, boards on dabs, under stairs", "second-hand"),
    Source("ASHRAE_ELA", "ASHRAE", "Handbook: Fundamentals, effective leakage areas at 4 Pa, a short "
           "selection", "1997", "chapter 25, table 3", "from memory"),
    Source("OBC_AIR_BARRIER", "Ontario", "Building Code: air barrier system properties", "",
           "0.02 L/(s·m²) at 75 Pa for a material", "read"),
    Source("DIN_18542", "DIN", "DIN 18542, compressed joint tapes", "", "0.1 m³/(h·m) at 10 Pa",
           "from memory"),
    Source("BS_9250", "BSI", "BS 9250, airtightness of ceilings in pitched roofs", "2007",
           "loft hatch under 1 m³/h at 2 Pa", "from memory"),
    Source("EN_ADF_2021", "England", "Approved Document F volume 1", "2021", "table 1.3", "read"),
    Source("IE_TGDF", "Ireland", "TGD F", "2009 and 2019", "whole-dwelling rate, background vents",
           "second-hand"),
    Source("NO_TEK17", "Norway", "TEK17", "2017", "13-2", "read"),
    Source("FI_VENT", "Finland", "rules on the ventilation of dwellings", "", "outdoor air flow",
           "read"),
    Source("AU_H6V3", "Australia", "NCC volume 2", "2022", "H6V3", "read"),
    Source("US_62_2", "ASHRAE", "62.2, as quoted by a web primer", "2013", "", "second-hand"),
    Source("CMHC", "CMHC", "technical series 04-121, on chimneys that draw backwards", "2004", "",
           "second-hand"),
    Source("NREL_62_2", "NREL and DOE", "work specification page: calculation of the infiltration "
           "credit", "2016", "Table A-1", "second-hand"),
)  # fmt: skip
