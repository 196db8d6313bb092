"""The stock list at the shift desk: what runs short, what ends soon, and all of it by what is due first."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care.floor import Floor
from station.care.state import Container
from station.care.stock import Lying, StockRow, find, lying, shortage, stock, where
from station.ui import wording
from station.ui.desk_work import DeskWork
from station.ui.dialogs.find_dialog import FindDialog
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.sheet import ReadDialog

NO_END = "no end yet"
MOST_ROWS = 10


class StockForms:
    """Makes the two forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork) -> None:
        """No form is open."""
        self._host, self._work = host, work
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "stock": lambda _rest: self._stock(),
            "find": lambda _rest: FindDialog(self._find, host),
        }

    def _find(self, text: str) -> tuple[str, ...]:
        return found_lines(self._work.station.floor(), text)

    def _stock(self) -> PaperDialog:
        floor = self._work.station.floor()
        found = stock(floor)
        parts = (
            ("Below the minimum", bounded([shortage(reserve) for reserve in found.short])),
            ("Shelf life ends soon", bounded([soon_line(one) for one in found.soon])),
            ("All, what is due first", bounded([row_line(row) for row in found.rows])),
        )
        title = f"Stock, {wording.moment(floor.now, floor.now, floor.zone)}"
        return ReadDialog(title, parts, self._host)


def found_lines(floor: Floor, text: str) -> tuple[str, ...]:
    """What a number, or the end of one, may mean: where each is and how it stands."""
    found = find(floor, text)
    if not found:
        return (f"No container on record here has the number {text}.",)
    return bounded([line for one in found for line in _story(floor, one)])


def _story(floor: Floor, container: Container) -> tuple[str, ...]:
    """`K7 004 SN-4, lot 101, cold: Refrigerator, bin A1; shelf life ends 31 Mar 23:59; ON HOLD`."""
    here = where(floor, container)
    if container.ended is not None:
        return (f"{container.spoken} {container.paste}, lot {container.lot}: {here}",)
    one = lying(floor, container)
    end = (
        f"; {one.governing.value} ends {wording.moment(one.ends, floor.now, floor.zone)}"
        if one.governing and one.ends
        else ""
    )
    held = "; ON HOLD" if container.held else ""
    return (f"{container.spoken} {container.paste}, lot {container.lot}, {one.stage.value}: {here}{end}{held}",)


def bounded(lines: list[str]) -> tuple[str, ...]:
    """As many lines as the form has room for, and how many more there are."""
    more = len(lines) - MOST_ROWS
    return (*lines[:MOST_ROWS], f"and {more} more") if more > 0 else tuple(lines)


def row_line(row: StockRow) -> str:
    """`SN-4 lot 101, cold: 2 (1 on hold), 1000 g, 143 d`."""
    held = f" ({row.held} on hold)" if row.held else ""
    left = NO_END if row.days_left is None else "past its limit" if row.days_left < 0 else f"{row.days_left} d left"
    return f"{row.paste} lot {row.lot}, {row.stage.value}: {row.count}{held}, {row.grams:g} g, {left}"


def soon_line(one: Lying) -> str:
    """`K7 004 SN-4, Refrigerator, bin A1, on hold`."""
    held = ", on hold" if one.container.held else ""
    over = "" if one.usable or one.container.held else ", PAST ITS LIMIT"
    return f"{one.container.spoken} {one.container.paste}, {one.where}{held}{over}"
