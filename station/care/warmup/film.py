"""How heat gets from the room to a container's outer face: surface coefficients in W/(m2 K).

In still air it falls as the container warms: the draught it makes itself dies away, what is left is radiation.
"""

from collections.abc import Callable

import numpy

from station.care.warmup.roots import Values

Film = Callable[[Values, float], Values]

_ZERO_C = 273.15
_GRAVITY = 9.81
_STEFAN_BOLTZMANN = 5.670374e-8
_AIR_GAS_CONSTANT = 287.05
_AIR_HEAT_CAPACITY = 1006.0
_PRESSURE = 101_325.0
# Plastic, paper labels and paint in the infra-red.
EMISSIVITY = 0.9


def constant(coefficient: float) -> Film:
    """The same whatever the temperatures."""
    return lambda surface, _room: numpy.full_like(surface, coefficient)


def still_air(height: float, emissivity: float = EMISSIVITY) -> Film:
    """Natural convection on an upright wall of `height` metres, plus radiation to walls at room temperature.

    Convection: laminar relation of Churchill and Chu (1975), Nu = 0.68 + 0.67 Ra^(1/4) / (1 + (0.492/Pr)^(9/16))^(4/9),
    air properties at the mean of face and room. It is used on top and side alike. Temperatures in degrees Celsius.
    """

    def film(surface: Values, room: float) -> Values:
        return _convection(surface, room, height) + _radiation(surface, room, emissivity)

    return film


def _convection(surface: Values, room: float, height: float) -> Values:
    mean = (surface + room) / 2 + _ZERO_C
    conductivity, viscosity, density = _air(mean)
    diffusivity = conductivity / (density * _AIR_HEAT_CAPACITY)
    spread = viscosity / density
    rayleigh = _GRAVITY / mean * numpy.abs(room - surface) * height**3 / (spread * diffusivity)
    nusselt = 0.68 + 0.67 * rayleigh**0.25 / (1 + (0.492 * diffusivity / spread) ** (9 / 16)) ** (4 / 9)
    return nusselt * conductivity / height


def _radiation(surface: Values, room: float, emissivity: float) -> Values:
    cold, warm = surface + _ZERO_C, room + _ZERO_C
    return emissivity * _STEFAN_BOLTZMANN * (cold**2 + warm**2) * (cold + warm)


def _air(kelvin: Values) -> tuple[Values, Values, Values]:
    """Conductivity, dynamic viscosity and density of dry air; Sutherland's law, constants as in White, Viscous Flow."""
    conductivity = 0.0241 * (kelvin / 273) ** 1.5 * (273 + 194) / (kelvin + 194)
    viscosity = 1.716e-5 * (kelvin / 273) ** 1.5 * (273 + 111) / (kelvin + 111)
    return conductivity, viscosity, _PRESSURE / (_AIR_GAS_CONSTANT * kelvin)
