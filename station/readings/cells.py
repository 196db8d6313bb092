"""Single cells: figures with their decimal sign, and the values that sensors give when something is wrong."""

import re
from dataclasses import dataclass

from station.readings.layout import Unit
from station.readings.series import FaultKind, Reading, SensorFault

LOWEST_C, HIGHEST_C = -100.0, 200.0
"""No sensor of a paste store or a jar measures beyond; a value out here is a broken wire or a wrong unit."""
NO_CONTACT = (127.0, -127.0)
POWER_UP_C = 85.0
SAME_K = 0.06
"""A sentinel converted to Fahrenheit and back, with one decimal, comes out this close."""

_FIGURE = r"[+-]?\d+(?:{sign}\d+)?(?:[eE][+-]?\d{{1,2}})?"
_UNIT = r"(?:\s?(?:Â?[°º˚�]\s?)?(?P<unit>[CF%]))?"
_PATTERNS = {
    sign: re.compile(f"(?P<figure>{_FIGURE.format(sign=re.escape(sign))}){_UNIT}", re.IGNORECASE) for sign in ".,"
}
_ANY_FIGURE = re.compile(rf"[+-]?\d[\d.,' ]*(?:[eE][+-]?\d+)?{_UNIT}", re.IGNORECASE)


class NoFigure(ValueError):
    """A cell that looks like a figure and can't be read as declared; the text is a clause without a full stop."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number as written, with the unit where the cell carries one: "C", "F", "%" or empty."""

    value: float
    unit: str


def figure(cell: str, decimal: str) -> Figure | None:
    """The figure of a cell, None where the cell is some other text.

    Raises NoFigure for a figure with another decimal sign or with thousands marks: 4,1 must never become 41.
    """
    plain = cell.replace("\u2212", "-").replace("\u00a0", " ")
    match = _PATTERNS[decimal].fullmatch(plain)
    if match is not None:
        return Figure(float(match["figure"].replace(",", ".")), (match["unit"] or "").upper())
    if _ANY_FIGURE.fullmatch(plain):
        raise NoFigure(f'"{cell}" is no figure with "{decimal}" as its decimal sign')
    return None


def looks_like_figure(cell: str) -> bool:
    """Whether a cell is a figure, with whichever decimal sign."""
    return any(pattern.fullmatch(cell.replace("\u2212", "-")) for pattern in _PATTERNS.values())


def temperature(cell: str, unit: Unit, decimal: str) -> Reading:
    """A cell as degrees Celsius, or the fault it stands for. 85.0 can only be judged among its neighbours, later.

    Raises NoFigure for a figure that can't be read as declared, or one that carries another unit than declared.
    """
    if not cell:
        return SensorFault(FaultKind.MISSING, cell)
    found = figure(cell, decimal)
    if found is None:
        return SensorFault(FaultKind.TEXT, cell)
    if found.unit not in ("", unit.value):
        raise NoFigure(f'"{cell}" has another unit than the {unit.value} declared for its column')
    celsius = unit.to_celsius(found.value)
    # -127 stays a sentinel also where the logger forgot to convert it; 127 F would be a hot but real 52.8 C
    if found.value == -127 or any(abs(celsius - sentinel) <= SAME_K for sentinel in NO_CONTACT):
        return SensorFault(FaultKind.NO_CONTACT, cell)
    if not LOWEST_C <= celsius <= HIGHEST_C:
        return SensorFault(FaultKind.OUT_OF_RANGE, cell)
    return celsius


def humidity(cell: str, decimal: str) -> Reading:
    """A cell as relative humidity in percent, or the fault it stands for. Raises NoFigure."""
    if not cell:
        return SensorFault(FaultKind.MISSING, cell)
    found = figure(cell, decimal)
    if found is None:
        return SensorFault(FaultKind.TEXT, cell)
    return found.value if 0 <= found.value <= 100 else SensorFault(FaultKind.OUT_OF_RANGE, cell)
