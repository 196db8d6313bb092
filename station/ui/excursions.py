"""The desk's topic of store temperatures: a logger taken in, a display read, the excursions there were, instruments."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from station.care import facts as f
from station.care.cold_readings_back import TakeBack, alike, alone, stays
from station.care.cold_readings_given_back import minutes, returnable, to_decide
from station.care.floor import Floor
from station.care.saying import span, span_up
from station.services.cold_readings import give_minutes_back, read_display, see_excursions, take_back_readings
from station.services.station import Proof
from station.ui import wording
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.forms import Forms
from station.ui.store_readings.back_dialog import BackDialog, BackShown, BackWord
from station.ui.store_readings.display_form import DisplayForm, DisplayWord
from station.ui.store_readings.instruments import instruments_of
from station.ui.view_models import ActionModel

if TYPE_CHECKING:
    from station.ui.forms import Forms
    from station.ui.store_readings.flow import LoggerFlow

MOST_SHOWN, MOST_FILES, MOST_TAKEN_BACK = 6, 8, 3
NO_FILE = "No file of any store counts now, so there is none to take back."


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
            "excursions-seen": self._to_be_seen,
            "store-back": lambda _rest: self._back(),
            "minutes-back": self._minutes,
            "minutes-waiting": lambda _rest: self._waiting(),
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
        floor = self._work.station.floor()
        stores = tuple(ActionModel(store.id, store.title) for store in floor.plant.stores.values())
        form = DisplayForm(stores, instruments_of(floor), self._host)
        form.offered.connect(self._read)
        return form

    def _read(self, word: DisplayWord) -> None:
        station = self._work.station
        said = word.store, word.temperature_c, word.instrument
        self._forms.tell(lambda: self._work.told(read_display(station, *said)))

    def _excursions(self) -> PaperDialog:
        floor = self._work.station.floor()
        parts = tuple(
            (store.title, (*told_lines(floor, store.id), *taken_back_lines(floor, store.id)))
            for store in floor.plant.stores.values()
        )
        named = (("Instruments", instrument_lines(floor)),) if floor.plant.instruments else ()
        waiting = to_decide(floor)
        lines = tuple(f"{one.spoken}: {span(charged)} charged" for one, charged in waiting)
        given = (("Charged by files taken back", lines),) if lines else ()
        dialog = ReadDialog("Excursions", (*parts, *given, *named), self._host, acts=_acts(floor, lines))
        dialog.gone_to.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        dialog.leave()
        kind, _, rest = act.partition(":")
        self._forms.open(kind, rest)

    def _to_be_seen(self, store: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        found = floor.ledger.cold.unseen(store)[:MOST_SHOWN]
        if not found:
            return None
        more = len(floor.ledger.cold.unseen(store)) - len(found)
        rest = (f"{more} earlier ones come after these.",) if more else ()
        dialog = LeadDialog(
            f"{floor.plant.stores[store].title}: excursions",
            self._host,
            lines=(*(excursion_line(floor, one) for one in found), *rest),
            act="Record as seen",
            reason="What you found, in a few words; it stands in the record",
            people=self._forms.people(),
        )
        dialog.offered.connect(lambda word: self._seen(store, found, word))
        return dialog

    def _seen(self, store: str, found: tuple[f.ExcursionFound, ...], word: LeadWord) -> None:
        station, proof = self._work.station, Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(see_excursions(station, store, found, word.reason, proof)))

    # ------------------------------------------------------------------ a file taken back

    def _back(self) -> PaperDialog:
        floor = self._work.station.floor()
        files = {store: files_of(floor, store) for store in floor.plant.stores}
        stores = tuple(ActionModel(one.id, one.title) for one in floor.plant.stores.values() if files[one.id])
        if not stores:
            return ReadDialog("Take back a file of a store", (("No file to take back", (NO_FILE,)),), self._host)
        shown = BackShown(stores, files, self._preview)
        dialog = BackDialog(shown, self._host, people=self._forms.people())
        dialog.offered.connect(self._taken_back)
        return dialog

    def _preview(self, store: str, taken_in: str) -> str:
        return back_preview(self._work.station.floor(), store, taken_in)

    def _taken_back(self, word: BackWord) -> None:
        told, proof = TakeBack(word.store, word.taken_in, word.mistake, word.reason), Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(take_back_readings(self._work.station, told, proof)))

    def _waiting(self) -> PaperDialog:
        """Which container a lead decides of: each by name, whether it was scanned or not."""
        waiting = to_decide(self._work.station.floor())
        acts = tuple(
            ActionModel(f"minutes-back:{one.id}", one.spoken, f"{span(gone)} charged") for one, gone in waiting
        )
        dialog = MoreDialog("Give minutes back", acts, self._host)
        dialog.offered.connect(lambda act: self._go_to(dialog, str(act)))
        return dialog

    def _minutes(self, container: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        found = returnable(floor, container)
        if not found:
            return None
        told = f"{span(minutes(found))} were charged to it by a file that was taken back."
        title = f"Give minutes back: {container.replace('-', ' ')}"
        dialog = LeadDialog(title, self._host, lines=(told,), act="Give them back", people=self._forms.people())
        dialog.offered.connect(lambda word: self._given_back(container, word))
        return dialog

    def _given_back(self, container: str, word: LeadWord) -> None:
        station, proof = self._work.station, Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(give_minutes_back(station, container, word.reason, proof)))


def _acts(floor: Floor, charged: tuple[str, ...]) -> tuple[ActionModel, ...]:
    """What a lead may do of what is listed: see to a store's excursions, give minutes back."""
    stores = (store for store in floor.plant.stores.values() if floor.ledger.cold.unseen(store.id))
    seen = tuple(ActionModel(f"excursions-seen:{store.id}", f"Lead: seen in {store.title}") for store in stores)
    return (*seen, *((ActionModel("minutes-waiting:", "Lead: give minutes back"),) if charged else ()))


def told_lines(floor: Floor, store: str) -> tuple[str, ...]:
    """The newest times out of the limits of a store that stand, and which of them no lead has seen."""
    unseen = floor.ledger.cold.unseen(store)
    return tuple(
        f"{excursion_line(floor, one)}{'; no shift lead has seen it yet' if one in unseen else ''}"
        for one in floor.ledger.cold.excursions(store)[:MOST_SHOWN]
    )


def taken_back_lines(floor: Floor, store: str) -> tuple[str, ...]:
    """The newest that count no more, because their file was taken back."""
    found = floor.ledger.cold.taken_back(store)[:MOST_TAKEN_BACK]
    return tuple(f"TAKEN BACK with its file: {excursion_line(floor, one)}" for one in found)


def files_of(floor: Floor, store: str) -> tuple[ActionModel, ...]:
    """The newest files of a store that count, each once though two stations took it in."""
    found: dict[str, ActionModel] = {}
    for fact in reversed(floor.ledger.cold.files(store)):
        if isinstance(fact.body, f.ReadingsImported):
            found.setdefault(
                fact.body.series, ActionModel(fact.key, fact.body.file, _file_hint(floor, fact, fact.body))
            )
    return tuple(found.values())[:MOST_FILES]


def _file_hint(floor: Floor, fact: f.Fact, body: f.ReadingsImported) -> str:
    zone = f", clock in {body.zone}" if body.zone else ""
    covered = wording.period(body.begins, body.ends, floor.now, floor.zone)
    return f"{covered}{zone}; taken in {wording.moment(fact.at, floor.now, floor.zone)}"


def back_preview(floor: Floor, store: str, taken_in: str) -> str:
    """What taking this file back would come to."""
    lost = alone(floor, store, alike(floor, store, taken_in))
    if not lost:
        return "No excursion rests on this file alone. Holds and charged minutes stay."
    rest = "1 excursion rests" if len(lost) == 1 else f"{len(lost)} excursions rest"
    return f"{rest} on this file alone and will count no more. {stays(floor, lost)}".strip()


def excursion_line(floor: Floor, one: f.ExcursionFound) -> str:
    """`too warm, 9 Nov 22:10 to 22:40: peak 13.5 °C, 30 min out, mean kinetic 12.0 °C; inside: K7 001`."""
    start = wording.day_and_time(one.start, floor.zone, now=floor.now)
    known = wording.period(one.start, one.end, floor.now, floor.zone)
    when = known if one.ended else f"{start} to not known when it ended"
    kinetic = "no mean kinetic temperature" if one.kinetic_c is None else f"mean kinetic {one.kinetic_c:.1f} °C"
    gap = f", {span_up(one.longest_gap)} without a reading" if one.longest_gap else ""
    inside = ", ".join(name.replace("-", " ") for name in one.containers) or "nothing"
    return (
        f"{one.side.value}, {when}: peak {one.peak_c:.1f} °C, {span_up(one.outside)} out, "
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
