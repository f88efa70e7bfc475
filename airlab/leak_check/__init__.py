"""Leak check: plan the check, prepare, search, log, measure the gain, decide, protect.

What to expect on the day, whether the fan can hold the house, what to close, where to walk, what
was found and sealed, what it gained, and whether the layer may be covered.
"""
