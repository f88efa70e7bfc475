"""How is a real balloon or jar timed in ten minutes, and what can hurt someone on the way?"""

from airlab.words import Caution

__all__ = ["BENCH_CAUTIONS", "BENCH_STEPS"]

BENCH_CAUTIONS = (
    Caution("latex", "Latex", "Ask for latex allergy before a balloon comes out of the bag."),
    Caution("eyes", "Eyes", "Everybody near wears eye protection. A balloon can burst at any size."),
    Caution("burst", "Bursting", "Holes go into a cap or through a tape patch, never into bare blown-up "
            "rubber: it tears. Mind ears, and small children with the pieces."),
)  # fmt: skip

BENCH_STEPS = (
    "Drill holes of 1.0, 2.0 and 2.5 mm (0.04, 0.08 and 0.1 in) in caps that fit the neck. A cap keeps its size.",
    "Fill with a pump, not with breath: warm wet air shrinks for minutes.",
    "Blow the balloon up and let it go three times first. New rubber pushes harder.",
    "Measure the slack balloon across. Then blow it up and put a tape round the waist.",
    "Pressure, if you can: water in a clear U-tube. 2.5 kPa are 255 mm (10 in).",
    "Film tape and clock together. Open the hole at 0 s. Read six times or more, to nearly slack.",
    "Type or load the readings. Expect 15 % either way: shape, soft rubber, edge of the hole.",
)
