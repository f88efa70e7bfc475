"""Vocabulary and sources of the leak check."""

from airlab.words.terms import Source, Term

__all__ = ["SOURCES", "TERMS"]

TERMS = (
    Term("flow_50", "q₅₀", "m3/s", "leakage flow brought to 50 Pa", "ISO9972"),
    Term("drift_median", "m", "-", "final flow over today's flow, middle case", "AIRLAB"),
    Term("drift_spread", "s", "-", "spread of the drift as a logarithm", "AIRLAB"),
    Term("test_uncertainty", "u", "-", "spread of one fan test", "REPEAT_2011"),
    Term("extra_spread", "e", "-", "further spread, as from bringing a reading to 50 Pa", "DERIVED"),
    Term("confidence", "P", "-", "how sure one wants to be that the limit is kept", "AIRLAB"),
    Term("pass_flow", "q_pass", "m3/s", "most that today's reading at 50 Pa may be", "DERIVED"),
    Term("headroom", "q_left", "m3/s", "flow at 50 Pa that later holes may add", "DERIVED"),
    Term("hidden_flow", "q_hid", "m3/s", "flow at 50 Pa of leaks behind seals for the day", "DERIVED"),
    Term("limit_flow", "q_lim", "m3/s", "limit as a flow at 50 Pa, with the final sizes", "DERIVED"),
    Term("target_flow", "q_aim", "m3/s", "flow at 50 Pa that is aimed for", "DERIVED"),
    Term("zero", "Δp₀", "Pa", "zero-flow pressure: inside minus outside with the fan sealed", "ISO9972"),
)  # fmt: skip

SOURCES = (
    Source("PRIGNON2025", "Prignon, Roberts, Van Gelder, De Strycker and Novak", "how well fan tests "
           "repeat, IEQ 2025", "2025", "programme abstract: 1 to 2 % method alone, 4 % with own "
           "preparation, up to 20 % without check", "read"),
    Source("HOUSE_N", "Sherman and Dickerhoff; Orme", "flow exponents of houses", "1994",
           "mean 0.65 to 0.66, spread 0.06", "from memory"),
    Source("SINTEF_PATHS", "Gullbrekken and others, SINTEF", "Air leakage paths in buildings, review",
           "", "abstract, no percentages", "read"),
    Source("UK_TESTER", "a UK tester", "notes on how many tests and when", "", "timber frame with film "
           "up and exposed, else after first fix; masonry after taping, after first fix, final",
           "second-hand"),
    Source("US_SHEATHING", "a US maker of boards", "when to test a board-sheathed house", "",
           "sheathing and windows in, before insulation", "second-hand"),
    Source("FI_CLIENT", "a Finnish test firm", "checklist for clients: what must be ready", "",
           "layer complete, windows in, holes made and sealed, a doorway under 1 m (40 in), supports fixed",
           "second-hand"),
    Source("SINTEF_CLAMP", "Gullbrekken, Bergby, Uvsløkk, Geving and Time, and later SINTEF and NTNU",
           "clamped laps of membranes, BUILDAIR 2012", "2012", "abstracts: screws tighter than nails, "
           "600 mm leakier than 300 or 150; wetting and drying opens clamped joints", "read"),
    Source("PROSKIW_1995", "G. Proskiw", "treatments of rough openings, ASTM STP 1255", "1995",
           "abstract: 39 % of the leakage untreated, 14 % stuffed, under 1 % taped or foamed", "read"),
    Source("LBL_TAPES", "Sherman and Walker, LBL", "19 sealants aged in heat and cold", "1999",
           "only cloth-backed rubber tapes failed, 11 within days", "read"),
    Source("ABUSHAKRA_2002", "B. Abushakra", "tape on flat and bent joints", "2002",
           "worse the more the joint bends", "read"),
    Source("ADL_2021", "England", "Approved Document L volume 1", "2021",
           "4.21: plasterboard on dabs is not an air barrier", "read"),
    Source("RISE_AGED", "RISE, Sweden", "systems of foil, tape and collars, aged in heat", "",
           "abstract: all leakier after; cold, damp or dusty work changed every system", "read"),
    Source("E1186", "ASTM", "E1186, air leakage site detection", "", "scope: methods, all of them "
           "qualitative", "read"),
)  # fmt: skip
