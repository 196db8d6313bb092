"""Mean kinetic temperature: the one steady temperature that ages goods as much as what they went through.

United States Pharmacopeia general chapter <1160> and ICH Q1A(R2): an Arrhenius mean with 83.144 kJ/mol, which over
R = 8.3144e-3 kJ/(mol K) is 10000 K. That activation energy is medicine's usual figure and was never measured for
solder paste: it compares stores and days, it proves no paste good. It is not for frozen goods, so a series that falls
below 0 C has none.
"""

import math
from collections.abc import Sequence

ACTIVATION_K = 10_000.0
ZERO_C_IN_K = 273.15


class NoKineticMean(ValueError):
    """This series has no mean kinetic temperature; the text says why."""


def mean_kinetic_c(
    temperatures_c: Sequence[float], weights: Sequence[float] | None = None, activation_k: float = ACTIVATION_K
) -> float:
    """The mean kinetic temperature in degrees Celsius.

    `weights` are how long each temperature lasted, in any one unit; without them all count alike. `activation_k` is
    the activation energy over the gas constant, in kelvin. Raises NoKineticMean for an empty series, weights that do
    not match it, are negative or all zero, a temperature below 0 C, and figures that are no numbers.
    """
    shares = [1.0] * len(temperatures_c) if weights is None else list(weights)
    _check(temperatures_c, shares, activation_k)
    # Rates against the warmest: none under- or overflows, and a steady series comes out as it went in.
    warmest = max(temperatures_c) + ZERO_C_IN_K
    rates = [math.exp(activation_k / warmest - activation_k / (celsius + ZERO_C_IN_K)) for celsius in temperatures_c]
    mean = math.fsum(rate * share for rate, share in zip(rates, shares, strict=True)) / math.fsum(shares)
    return activation_k / (activation_k / warmest - math.log(mean)) - ZERO_C_IN_K


def _check(temperatures_c: Sequence[float], shares: Sequence[float], activation_k: float) -> None:
    if not temperatures_c:
        raise NoKineticMean("There are no temperatures.")
    if len(shares) != len(temperatures_c):
        raise NoKineticMean(f"{len(temperatures_c)} temperatures have {len(shares)} weights. Give one for each.")
    if not all(math.isfinite(figure) for figure in (*temperatures_c, *shares, activation_k)) or activation_k <= 0:
        raise NoKineticMean("A temperature, a weight or the activation energy is no usable number.")
    if min(shares) < 0 or not any(shares):
        raise NoKineticMean("Weights must not be negative, and one at least must be above zero.")
    if min(temperatures_c) < 0:
        raise NoKineticMean(f"The series falls to {min(temperatures_c):g} C. Frozen goods have no such mean.")
