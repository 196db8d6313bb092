"""The window of a station: keeps the screen in step with the plant and hands scans and touches on."""

import logging
from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec, cast

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QMainWindow

from station.care.scans import BadgeScan, ContainerScan, MakersLabelScan, StoreScan, TagScan, WorkOrderScan
from station.care.words import Card, Word
from station.scanning.calibration import lesson, table_of
from station.scanning.heard import HeardScan, candidates
from station.services.counting import TOUCHES
from station.services.outcome import Outcome
from station.services.ports import JournalTrouble
from station.ui.desk_work import DeskWork
from station.ui.people_dialogs import PeopleDialogs
from station.ui.screen import PlaceScreen
from station.ui.sound import SoundDesk
from station.ui.view_models import BannerModel, Tone

LOG = logging.getLogger(__name__)
TICK_MS = 1000
FLASH_MS = 500  # half a period: one flash a second, under the two a second that screens here may flash

Arguments = ParamSpec("Arguments")
Guarded = Callable[Concatenate["StationWindow", Arguments], None]


def guarded(slot: Callable[Concatenate["StationWindow", Arguments], None]) -> Guarded[Arguments]:
    """A slot whose fault is logged and shown: nobody may trust a countdown that has stopped without a word."""

    @wraps(slot)
    def run(self: "StationWindow", *args: Arguments.args, **kwargs: Arguments.kwargs) -> None:
        try:
            slot(self, *args, **kwargs)
        except Exception:
            LOG.exception("fault in %s", slot.__name__)
            self.show_fault()

    return cast("Guarded[Arguments]", run)


class StationWindow(QMainWindow):
    """One window, one place at a time. `closed` comes after the end is in the record."""

    closed = Signal()

    def __init__(self, work: DeskWork, sound: SoundDesk | None) -> None:
        """Show the home place; timers start when the window is shown."""
        super().__init__()
        self.work = work
        self.sound = sound
        self.view = PlaceScreen()
        self.setCentralWidget(self.view)
        self.setWindowTitle(f"Thawmark  {work.station.site.name}")
        self.dialogs = PeopleDialogs(self, work)
        self.dialogs.done.connect(self.refresh)
        self.view.acted.connect(self.act)
        self.view.seen.connect(self._strip_seen)
        self._tick = QTimer(self)
        self._tick.timeout.connect(self.tick)
        self._flash = QTimer(self)
        self._flash.timeout.connect(self._flashed)
        self._flash_on = False
        if sound is not None:
            sound.state_changed.connect(self._sound_state)
        self.refresh()

    def start(self) -> None:
        """Let time run."""
        LOG.info("window %d is ready at %s", int(self.winId()), self.work.station.place)
        self._tick.start(TICK_MS)
        self._flash.start(FLASH_MS)

    @guarded
    def hear(self, heard: HeardScan) -> None:
        """A scan from the scanner or the code sheet. A badge goes to the dialog that waits for one."""
        taught = lesson(heard)
        if taught is not None and not self.dialogs.busy:
            self.work.scanner_set_up(taught)
            self.refresh()
            return
        layout = self.work.station.scanner_layout
        texts = candidates(heard, table_of(layout.meant, layout.written) if layout is not None else None, whole=True)
        scan, garbled = self.work.station.reader.heard(texts)
        if isinstance(scan, BadgeScan) and self.dialogs.take_badge(scan.person):
            return
        if isinstance(scan, ContainerScan) and self.dialogs.take_container(scan.container):
            return
        if isinstance(scan, MakersLabelScan) and self.dialogs.take_makers_label(scan.label):
            return
        if isinstance(scan, WorkOrderScan) and self.dialogs.take_work_order(scan.order):
            return
        if isinstance(scan, TagScan | StoreScan | BadgeScan) and self.dialogs.take_subject(_about(scan)):
            return
        if self.dialogs.busy:
            self._not_taken()
            return
        self.work.garbled(garbled)
        outcome = self.work.heard(texts)
        self._after(outcome)
        if isinstance(scan, MakersLabelScan) and _is_for_the_form(outcome):
            self.dialogs.receive(scan.label)

    def hear_text(self, text: str) -> None:
        """A code that was clicked on the sheet."""
        self.hear(HeardScan(text, text))

    @guarded
    def hear_incomplete(self, text: str) -> None:
        """Keys that were no whole scan."""
        if self.dialogs.busy:
            self._not_taken()
            return
        self.work.incomplete(text)
        self.refresh()

    @guarded
    def act(self, action: str) -> None:
        """A touch on something that can be touched."""
        kind, _, rest = action.partition(":")
        if kind == "card":
            self._after(self.work.card(Card(rest)))
        elif kind == "empty":
            self._after(self.work.empty(rest))
        elif kind == "next-alarm":
            self.work.next_alarm()
            self.refresh()
        elif kind == "acknowledge":
            self._after(self.work.acknowledge(rest))
        elif kind in TOUCHES:
            self._after(self.work.count(kind, rest))
        else:
            self.dialogs.open(kind, rest)

    @guarded
    def tick(self) -> None:
        """A second went by."""
        self.work.tick(stay=self.dialogs.busy)
        self.refresh()

    def show_fault(self) -> None:
        """Say on the screen that something went wrong inside; it stands until the program is started again."""
        text = "A FAULT IN THE PROGRAM. Do not trust the screen until it is started again."
        self.work.fault(BannerModel(text, "The record is safe. Tell the process engineer.", Tone.PAST))
        self.view.show_model(self.work.screen())

    def refresh(self) -> None:
        """Show the plant as it stands now."""
        self.view.show_model(self.work.screen())
        if self.sound is not None:
            self.sound.alarm(self.work.sounding())

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802  Qt's name
        """The program ends by itself: say so in the record."""
        self._tick.stop()
        self._flash.stop()
        self.dialogs.finish()
        try:
            self.work.station.stop("window closed")
        except JournalTrouble:
            LOG.exception("the end is not in the record; the next start will say so")
        super().closeEvent(event)
        self.closed.emit()

    def _after(self, outcome: Outcome | None) -> None:
        if outcome is not None and outcome.verdict is not None:
            said, names = outcome.verdict, [fact.body.NAME for fact in outcome.facts]
            LOG.info("%s %s %s %s", outcome.place, said.word.value, said.code, ",".join(names))
        if self.sound is not None:
            self.sound.play(sound_of(outcome))
        self.refresh()

    def _not_taken(self) -> None:
        """A form is open: whoever scans may be too far off to read it, and must hear that nothing was recorded."""
        self.dialogs.ask_to_finish()
        if self.sound is not None:
            self.sound.play(sound_of(None))

    def _strip_seen(self, strip: str) -> None:
        self.work.seen(strip)
        self.refresh()

    def _flashed(self) -> None:
        self._flash_on = not self._flash_on
        self.view.set_flash(self._flash_on)

    def _sound_state(self, ok: bool, text: str) -> None:  # noqa: ARG002  the text is for the log
        self.work.sound_ok = ok
        self.refresh()


def _about(scan: TagScan | StoreScan | BadgeScan) -> str:
    match scan:
        case TagScan():
            return f"position:{scan.position}"
        case StoreScan():
            return f"store:{scan.store}"
        case BadgeScan():
            return f"person:{scan.person}"


def _is_for_the_form(outcome: Outcome | None) -> bool:
    return outcome is not None and outcome.verdict is not None and outcome.verdict.code == "makers-label"


def sound_of(outcome: Outcome | None) -> str:
    """What is heard of an answer. Leave to use by a label alone sounds like WAIT: whoever is far off comes to look."""
    if outcome is None:
        return Word.STOP.value.lower()
    verdict = outcome.verdict
    if verdict is None:
        return Word.DONE.value.lower()
    heard = Word.WAIT if verdict.by_label and verdict.word is Word.USE else verdict.word
    return heard.value.lower()
