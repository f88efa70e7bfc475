"""Vocabulary and sources of the fan test."""

from airlab.words.terms import Source, Term

__all__ = ["SOURCES", "TERMS"]

TERMS = (
    Term("induced_pressure", "Δp", "Pa", "pressure difference made by the fan: as measured minus the "
         "zero-flow pressure", "ISO9972"),
    Term("zero_flow_pressure", "Δp₀", "Pa", "pressure difference with the fan sealed", "ISO9972"),
    Term("exponent_spread", "s_n", "-", "standard uncertainty of the flow exponent"),
    Term("pressure_spread", "u_p", "Pa", "standard uncertainty of a pressure difference"),
    Term("reference_density", "ρ₀", "kg/m3", "density of dry air at 20 °C (68 °F) and 101 325 Pa", "ISO9972"),
    Term("calibration_density", "ρ_cal", "kg/m3", "density for which the fan's flow reading is right",
         "ATTMA2010"),
    Term("altitude", "z", "m", "height above sea level"),
    Term("degrees_of_freedom", "ν", "-", "points minus what was fitted to them"),
)  # fmt: skip

SOURCES = (
    Source("EN13829", "CEN", "EN 13829, determination of air permeability of buildings, fan "
           "pressurization method", "2000", "limits and annexes", "from memory"),
    Source("E779_TEXT", "ASTM", "E779, air leakage rate by fan pressurization", "2010",
           "conduct and limits", "from memory"),
    Source("CGSB149", "CAN/CGSB", "149.10, airtightness of building envelopes by the fan "
           "depressurization method", "", "conduct and limits; only the title was read", "from memory"),
    Source("ATTMA2010", "ATTMA", "TSL1 and TSL2, appendix A", "2010",
           "fan and envelope density corrections, equations 4 to 6", "read"),
    Source("PASSIPEDIA", "Passive House Institute", "checklist for a test report, online encyclopedia",
           "", "zero-flow within 5 Pa, five points, 50 Pa, exponent, wind", "read"),
    Source("ROULET2008", "C.-A. Roulet", "Ventilation and Airflow in Buildings", "2008",
           "p. 65-66, eq. 4.12 to 4.18, and the table of Student's factor", "read"),
    Source("ISOTS28037", "ISO", "TS 28037, determination and use of straight-line calibration "
           "functions", "2010", "examples of clauses 6 and 7 and annex E, through a library's "
           "documentation", "second-hand"),
    Source("NIST_STRD", "NIST", "Statistical Reference Datasets: Norris, NoInt1, NoInt2, DanWood", "",
           "certified values", "read"),
    Source("YORK2004", "York, Evensen, Martinez and De Basabe Delgado", "Unified equations for the "
           "slope, intercept, and standard errors of the best straight line, Am. J. Phys. 72", "2004",
           "equations", "from memory"),
    Source("DELMOTTE2013", "C. Delmotte", "34th AIVC conference, Athens", "2013",
           "errors in both readings, iteration; abstract", "read"),
    Source("PRIGNON2018", "Prignon, Dawans and van Moeseke", "39th AIVC conference", "2018",
           "30 tests of one flat; abstract", "read"),
    Source("OKUYAMA2012", "Okuyama and Onishi", "Building and Environment 47", "2012",
           "iterated weights", "from memory"),
    Source("WALKER2013", "Walker, Sherman, Joh and Chan", "Applying large datasets to developing a "
           "better understanding of air leakage measurement", "2013",
           "measure n; fix it above 6 m/s of wind; abstract", "read"),
    Source("CARRIE2014", "Carrié and Leprince", "steady wind and the error of a fan test", "2014",
           "3 % at 50 Pa below 6 m/s, 35 % at 10 Pa; abstract", "read"),
    Source("GENGE2011", "C. Genge", "32nd AIVC conference", "2011",
           "under wind the 95 % interval held 60 % at best; abstract", "read"),
    Source("GUM", "JCGM", "100, Guide to the expression of uncertainty in measurement", "2008",
           "sum of squares, effective degrees of freedom", "from memory"),
    Source("MATTSSON2007", "Mattsson and Claesson", "pressure decay of a building", "2007",
           "dependence on volume, temperature drop and stiffness; abstract", "read"),
    Source("ETHERIDGE1984", "D. Etheridge", "quadratic law of air leakage", "1984",
           "extrapolates better; abstract, and Roulet eq. 4.12 to 4.14", "read"),
)  # fmt: skip
