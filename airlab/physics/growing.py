"""What passes many openings at once while the wall they sit in shrinks? Laws added up by kind.

Openings of one kind share the factor by which their area has grown since the start. Power laws of
one exponent are added up, two-term laws are stacked, so that a whole set of holes costs a few
array operations.
"""

import numpy as np

from airlab.physics.laws import (
    LOWEST_PRESSURE,
    FittedHoleLaw,
    PowerLaw,
    TwoTermLaw,
    fitted_discharge_coefficient,
)

__all__ = ["GrowingLaws"]


class GrowingLaws:
    """Laws side by side, each of a kind; `flow` takes an area factor for each kind that grows.

    Openings one behind another are no simple function of their area: they stay in `left_out`, as
    places in the list that was given.
    """

    def __init__(self, laws, kinds):
        self.powers, pairs, self.fitted, self.left_out = {}, [], [], []
        for place, (law, kind) in enumerate(zip(laws, kinds)):
            if isinstance(law, PowerLaw) and law.straight_below == LOWEST_PRESSURE:
                grown = self.powers.setdefault(law.exponent, {})
                grown[kind] = grown.get(kind, 0.0) + law.coefficient
            elif isinstance(law, TwoTermLaw):
                pairs.append((law.creeping, law.inertia, law.walls, kind))
            elif isinstance(law, FittedHoleLaw):
                self.fitted.append((law, kind))
            else:
                self.left_out.append(place)
        if pairs:
            creeping, inertia, walls, self.kinds = zip(*pairs)
            self.pairs = np.array([creeping, inertia, walls])
        else:
            self.pairs = None

    def flow(self, pressure_difference, factors):
        """Return the flow at pressures of zero or more, of all that are not left out. [m3/s].

        `factors` holds area over area at the start for each kind that grows; others keep theirs.
        """
        p = pressure_difference
        shelf = np.maximum(p, LOWEST_PRESSURE)
        straight = np.minimum(p, LOWEST_PRESSURE) / LOWEST_PRESSURE
        total = 0.0
        for exponent, grown in self.powers.items():
            power = np.sqrt(shelf) if exponent == 0.5 else shelf**exponent
            total = total + power * sum(c * factors.get(kind, 1.0) for kind, c in grown.items())
        total = total * straight
        if self.pairs is not None:
            creeping, inertia, walls = self.pairs.reshape((3, -1) + (1,) * p.ndim)
            if factors:
                one = np.ones(p.shape)
                factor = np.array([factors.get(kind, one) for kind in self.kinds])
                shrink = 1.0 / np.square(factor)
                creeping = creeping * (walls + (1.0 - walls) * np.sqrt(factor)) * shrink
                inertia = inertia * shrink
            root = np.sqrt(np.square(creeping) + 4.0 * inertia * p)
            total = total + 2.0 * p * (1.0 / np.maximum(creeping + root, 1e-300)).sum(axis=0)
        for law, kind in self.fitted:
            speed, factor = np.sqrt(2.0 / law.density * p), factors.get(kind, 1.0)
            reynolds = law.density * law.diameter / law.viscosity * np.sqrt(factor) * speed
            coefficient = fitted_discharge_coefficient(reynolds, law.coefficient)
            total = total + coefficient * law.area * factor * speed
        return total
