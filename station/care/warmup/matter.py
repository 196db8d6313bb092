"""What conducts and stores heat."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Matter:
    """Density in kg/m3, specific heat capacity in J/(kg K), thermal conductivity in W/(m K)."""

    density: float
    heat_capacity: float
    conductivity: float

    @property
    def diffusivity(self) -> float:
        """In m2/s."""
        return self.conductivity / (self.density * self.heat_capacity)
