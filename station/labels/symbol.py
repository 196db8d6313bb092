"""QR symbols (ISO/IEC 18004): level M, alphanumeric mode, never a micro form."""

from functools import lru_cache

# qrcode ships no types; what it returns is made plain lists of bool below.
from qrcode.constants import ERROR_CORRECT_M  # type: ignore[import-untyped]
from qrcode.exceptions import DataOverflowError  # type: ignore[import-untyped]
from qrcode.main import QRCode  # type: ignore[import-untyped]
from qrcode.util import MODE_ALPHA_NUM, QRData  # type: ignore[import-untyped]

from station.labels.faults import LabelFault

QUIET_MODULES = 4
MODULE_MM = 0.5
LEAST_DOTS = 4


def modules_of(text: str, most_version: int = 4) -> list[list[bool]]:
    """Dark modules by row, without quiet zone; LabelFault "symbol" if it needs a version over `most_version`."""
    return [list(row) for row in _modules(text, most_version)]


# A check of templates lays out one code many times, and finding its best mask takes longer than all the rest.
@lru_cache(maxsize=16)
def _modules(text: str, most_version: int) -> tuple[tuple[bool, ...], ...]:
    symbol = QRCode(version=1, error_correction=ERROR_CORRECT_M, border=0)
    try:
        symbol.add_data(QRData(text, mode=MODE_ALPHA_NUM))
        symbol.make(fit=True)
    except (ValueError, DataOverflowError):
        symbol.version = most_version + 1
    if symbol.version > most_version:
        raise LabelFault("symbol", f"The code text {text[:40]!r} does not fit a QR code of version {most_version}.")
    return tuple(tuple(bool(dark) for dark in row) for row in symbol.get_matrix())


def module_dots(dpi: int) -> int:
    """Printer dots per module: about half a millimetre, never under four dots (thermal print spreads)."""
    return max(LEAST_DOTS, round(MODULE_MM * dpi / 25.4))


def side_dots(modules: int, dpi: int) -> int:
    """Side of a symbol with its quiet zone, in dots."""
    return (modules + 2 * QUIET_MODULES) * module_dots(dpi)
