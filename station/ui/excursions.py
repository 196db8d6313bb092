"""The desk's topic of store temperatures: a logger taken in, a display read, the excursions there were, instruments."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from station.care import facts as f
from station.care.floor import Floor
from station.care.saying import span_up
from station.services.cold_readings import read_display
from station.ui import wording
from station.ui.desk_work import DeskWork
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.sheet import ReadDialog
from station.ui.store_readings.display_form import DisplayForm, DisplayWord
from station.ui.view_models import ActionModel

if TYPE_CHECKING:
    from station.ui.forms import Forms
    from station.ui.store_readings.flow import LoggerFlow

MOST_SHOWN, MOST_NAMED = 6, 5


class ReadingsForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: "Forms") -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self._flow: LoggerFlow | None = None
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "store-file": lambda _rest: self._file(),
            "store-read": lambda _rest: self._display(),
            "excursions": lambda _rest: self._excursions(),
        }

    def finish(self) -> None:
        """Wait for what is still being read."""
        if self._flow is not None:
            self._flow.finish()

    def _file(self) -> PaperDialog:
        from station.ui.store_readings.flow import LoggerFlow  # noqa: PLC0415  not on the way to the window

        if self._flow is None:
            self._flow = LoggerFlow(self._host, self._work, self._forms)
        return self._flow.begin()

    def _display(self) -> PaperDialog:
        stores = self._work.station.site.plant.stores.values()
        form = DisplayForm(tuple(ActionModel(store.id, store.title) for store in stores), self._host)
        form.offered.connect(self._read)
        return form

    def _read(self, word: DisplayWord) -> None:
        station = self._work.station
        self._forms.tell(lambda: self._work.told(read_display(station, word.store, word.temperature_c)))

    def _excursions(self) -> PaperDialog:
        floor = self._work.station.floor()
        parts = tuple(
            (store.title, tuple(excursion_line(floor, one) for one in shown(floor, store.id)))
            for store in floor.plant.stores.values()
        )
        named = (("Instruments", instrument_lines(floor)),) if floor.plant.instruments else ()
        return ReadDialog("Times out of the limits", (*parts, *named), self._host)


def shown(floor: Floor, store: str) -> tuple[f.ExcursionFound, ...]:
    """The newest excursions of a store."""
    return floor.ledger.cold.excursions(store)[:MOST_SHOWN]


def excursion_line(floor: Floor, one: f.ExcursionFound) -> str:
    """`too warm, 9 Nov 22:10 to 22:40: peak 13.5 °C, 30 min out, mean kinetic 12.0 °C; inside: K7 001`."""
    start = wording.moment(one.start, floor.now, floor.zone)
    end = wording.moment(one.end, floor.now, floor.zone) if one.ended else "not known when it ended"
    kinetic = "no mean kinetic temperature" if one.kinetic_c is None else f"mean kinetic {one.kinetic_c:.1f} °C"
    gap = f", {span_up(one.longest_gap)} without a reading" if one.longest_gap else ""
    names = [name.replace("-", " ") for name in one.containers]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    inside = f"{', '.join(names[:MOST_NAMED])}{more}" if names else "nothing"
    return (
        f"{one.side.value}, {start} to {end}: peak {one.peak_c:.1f} °C, {span_up(one.outside)} out, "
        f"{kinetic}{gap}; inside: {inside}"
    )


def instrument_lines(floor: Floor) -> tuple[str, ...]:
    """Each instrument with the last day of its calibration."""
    today = floor.now.astimezone(floor.zone).date()
    return tuple(
        f"{one.id}, {one.store}: {'CALIBRATION OVERDUE since' if one.overdue(today) else 'calibrated until'} "
        f"{one.calibration_due:%Y-%m-%d}"
        for one in floor.plant.instruments.values()
    )
