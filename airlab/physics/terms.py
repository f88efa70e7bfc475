"""Vocabulary and sources of the physics floor."""

from airlab.words.terms import Source, Term

__all__ = ["SOURCES", "TERMS"]

TERMS = (
    Term("leakage_flow", "q", "m3/s", "air that leaks in or out; said with its pressure", "ISO9972"),
    Term("flow_coefficient", "C", "m3/(s.Pa^n)", "flow at a pressure difference of 1 Pa in the power "
         "law", "ISO9972"),
    Term("flow_exponent", "n", "-", "power of the pressure in the flow: 0.5 for holes, 1 for hairlines",
         "ISO9972"),
    Term("discharge_coefficient", "C_d", "-", "flow through a hole over the ideal flow through its area",
         "EB1911"),
    Term("hole_area", "A", "m2", "area of all holes together, as one sharp hole"),
    Term("diameter", "d", "m", "width of a round hole or a ball across its middle"),
    Term("permeance", "K", "m3/(s.Pa.m2)", "flow through a porous sheet per area and pressure"),
    Term("jet_speed", "v", "m/s", "speed of the air in the throat of a sharp hole"),
    Term("refills_per_hour", "R", "1/h", "one hour over the time to drain: the mean flow over the "
         "starting volume", "DERIVED"),
    Term("phi", "Φ", "-", "flow at the start over the mean flow of a drain", "DERIVED"),
    Term("time_to_flat", "T", "s", "time until a vessel is flat, by the definition beside it"),
    Term("half_time", "t_½", "s", "time until half of the air that can leave has left; half of the "
         "pressure in a sealed vessel"),
    Term("stretch", "λ", "-", "radius of a balloon over its unstretched radius", "MERRITT1978"),
    Term("stiffness", "p*", "Pa", "pressure that scales the curve of a rubber balloon", "MULLER2004"),
    Term("stiffening", "α", "-", "second constant of the rubber over the first", "MULLER2004"),
    Term("kappa", "κ", "-", "1 if air keeps its temperature as it expands, 1.4 if it cools"),
    Term("ach50", "ACH₅₀", "1/h", "air changes per hour at 50 Pa", "TIGHTVENT"),
    Term("wind_speed", "U", "m/s", "speed of the undisturbed wind at the height of the eaves"),
    Term("wind_direction", "φ_w", "deg", "compass direction the wind comes from"),
    Term("pressure_coefficient", "C_p", "-", "share of the wind's pressure that a face feels; negative "
         "where it is sucked", "SWAMI1988"),
    Term("side_ratio", "S", "-", "width of a wall over width of the next one", "SWAMI1988"),
)  # fmt: skip

SOURCES = (
    Source("EB1911", "Encyclopaedia Britannica, 11th ed.", "Hydraulics", "1911",
           "tables of coefficients of orifices and mouthpieces, in water", "read"),
    Source("SAMPSON1891", "R. A. Sampson", "On Stokes's current function, Phil. Trans. R. Soc. A 182",
           "1891", "creeping flow through a round hole, quoted in an encyclopaedia", "second-hand"),
    Source("HASIMOTO1958", "H. Hasimoto", "On the flow of a viscous fluid past a thin screen, "
           "J. Phys. Soc. Japan 13", "1958", "creeping flow through a slit", "from memory"),
    Source("DAGAN1982", "Dagan, Weinbaum and Pfeffer", "An infinite-series solution for the creeping "
           "motion through an orifice of finite length, J. Fluid Mech. 115", "1982",
           "hole and tube resistances add to about 1 %", "from memory"),
    Source("HOLLINGSHEAD2011", "Hollingshead and others", "Discharge coefficient performance of "
           "Venturi, standard concentric orifice and other meters at small Reynolds numbers", "2011",
           "table as carried in a general fluids library", "second-hand"),
    Source("LICHTAROWICZ1965", "Lichtarowicz, Duggins and Markland", "Discharge coefficients for "
           "incompressible non-cavitating flow through long orifices, J. Mech. Eng. Sci. 7, 210-219",
           "1965", "formula for 2 to 10 diameters", "from memory"),
    Source("BAKER1987", "Baker, Sharples and Ward", "Air flow through cracks, Building and Environment "
           "22", "1987", "quadratic form, constant 1.5 plus bends", "from memory"),
    Source("MERRITT1978", "Merritt and Weinhaus", "The pressure curve for a rubber balloon, Am. J. "
           "Phys. 46, 976-977", "1978", "one-constant form, peak at the sixth root of 7", "read"),
    Source("MULLER2004", "Müller and Strehlow", "Rubber and Rubber Balloons, Springer", "2004",
           "two-constant form, 3 bar and -0.3 bar", "from memory"),
    Source("HOLE2024", "Mathematics and Mechanics of Solids", "Equibiaxially stretched thin neo-Hookean "
           "circular membrane with a hole", "2024", "abstract: rim stretch tends to twice the far stretch",
           "read"),
    Source("CDC2003", "CDC", "Guidelines for environmental infection control in health-care facilities",
           "2003", "table B.1, time to clear the air", "read"),
    Source("E779", "ASTM", "E779, air leakage rate by fan pressurization", "",
           "density and viscosity formulas, as repeated by Roulet, eq. 4.17 and 4.18", "second-hand"),
    Source("WINDOW_CLASSES", "EN 12207", "Windows and doors: air permeability, classification", "",
           "limits of classes 1 to 4 per length of joint", "second-hand"),
    Source("BALLOON_DATA", "teaching experiments", "pressure sensors and water gauges on toy balloons",
           "", "2000 to 5000 Pa", "read"),
    Source("SWAMI1988", "M. V. Swami and S. Chandra", "Correlations for pressure distribution on "
           "buildings, ASHRAE Transactions 94", "1988", "low-rise walls", "from memory"),
    Source("LIDDAMENT", "M. Liddament, AIVC", "Air infiltration calculation techniques", "1986",
           "face-averaged pressure coefficients by shielding", "from memory"),
    Source("RAJARATNAM1976", "N. Rajaratnam", "Turbulent Jets", "1976", "decay of round and plane "
           "jets, 6.2 and 2.47", "from memory"),
    Source("SHERMAN1980", "M. Sherman and D. Grimsrud", "Measurement of infiltration using fan "
           "pressurization and weather data", "1980", "terrain table", "from memory"),
    Source("NISTIR6585", "A. Persily and E. Ivy", "Input data for multizone airflow and IAQ analysis, "
           "NISTIR 6585", "2001", "closet-door crack, 0.9 cm2 per metre, from an archived web table",
           "second-hand"),
)  # fmt: skip
