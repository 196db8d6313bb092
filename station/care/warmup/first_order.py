"""First order with dead time: what the floor works with, two figures for each container kind."""

import math
from dataclasses import dataclass

from station.care.warmup.faults import Unreckonable


@dataclass(frozen=True, slots=True)
class FirstOrder:
    """Nothing for the dead time, then exp(-(t - dead time) / time constant); both in seconds."""

    time_constant: float
    dead_time: float

    def left(self, seconds: float) -> float:
        """The share of the starting difference left after `seconds`."""
        return math.exp(-max(0.0, seconds - self.dead_time) / self.time_constant)

    def seconds_until(self, left: float) -> float:
        """When this share is left; raises Unreckonable for 0 or less, which never comes, and for 1 or more."""
        if not 0 < left < 1:
            raise Unreckonable(f"A share of {left:g} is never reached. Ask for one between 0 and 1, neither included.")
        return self.dead_time - self.time_constant * math.log(left)
