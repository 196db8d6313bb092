"""Which container kind, which files, and what the files do not say: the room, and when the containers left the cold."""

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.file_field import FilesField
from station.ui.dialogs.paper_dialog import OFFER, PaperDialog
from station.ui.dialogs.readings import Unreadable
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.warm_up.asked import RunsAsked

UNITS = (ActionModel("C", "°C"), ActionModel("F", "°F"), ActionModel("sensor", "In the file"))
FIRST_COLD, FROM_START, NOTED = "first-cold", "from-start", "noted"
TAKE_OUTS = (
    ActionModel(FROM_START, "With the file", "its first reading is the take-out"),
    ActionModel(FIRST_COLD, "Nobody noted it", "counted from the first cold reading"),
    ActionModel(NOTED, "At a time noted", "day and time of each"),
)
MOST_OUTS = 400


class FilesForm(PaperDialog):
    """Asks for a kind and its files; `offered` hands over `RunsAsked`."""

    def __init__(
        self,
        kinds: tuple[ActionModel, ...],
        kind: str,
        zone: ZoneInfo,
        host: QWidget,
        theme: Theme = LIGHT,
    ) -> None:
        """`kinds` carry their present figures as hints; `kind` is chosen already where it is one of them."""
        super().__init__("Warm-up figures from measured runs", "Read the files", host, theme)
        self._zone = zone
        self._build_what(self.add_column(1), kinds, kind)
        self._build_around(self.add_column(1))
        self._fit_questions()

    def widest(self) -> float:
        """As wide as receiving."""
        return 1700.0

    def take_files(self, paths: tuple[Path, ...]) -> None:
        """Take these files, as if they had been chosen."""
        self.files.take(paths)

    def wait(self, word: str) -> None:
        """The files are being read: the form can't be handed in again, and its button says so."""
        self.hand_in.action_model = ActionModel(OFFER, word, enabled=False)
        self.hand_in.setEnabled(False)
        self.hand_in.update()

    def ready(self) -> None:
        """It can be handed in again."""
        self.hand_in.action_model = ActionModel(OFFER, self.tr("Read the files"))
        self.hand_in.setEnabled(True)
        self.hand_in.update()

    def collect(self) -> RunsAsked | None:
        """What was said, or None after each missing or wrong field got its sentence."""
        kind = self.kind.required(self.tr("Choose what the containers were."))
        if not self.files.paths:
            self.files.complain(self.tr("Choose at least one file."))
        room = self.room.read(self._room_c)
        take_out = self.take_out.required(self.tr("Say from when the time counts."))
        outs = self.outs.read(self._instants) if take_out == NOTED else ()
        if kind is None or not self.files.paths or room is None or take_out is None or outs is None:
            return None
        return RunsAsked(kind, self.files.paths, room[0], from_start=take_out == FROM_START, outs=outs)

    # ------------------------------------------------------------------ the fields

    def _build_what(self, column: QVBoxLayout, kinds: tuple[ActionModel, ...], kind: str) -> None:
        self.kind = ChoiceGroup(self.tr("Container kind, with its figures now"), 1)
        self.kind.offer(kinds, self.theme, self.scale)
        self.kind.choose(kind)
        self.room = PaperField(self.tr("Room air beside the container"), most=10)
        self.unit = ChoiceGroup("", 3)
        self.unit.caption.hide()
        self.unit.offer(UNITS, self.theme, self.scale)
        self.unit.choose("C")
        self.room.add_beside(self.unit, 3)
        for part in (self.kind, self.room):
            column.addWidget(part)
        column.addStretch(1)
        self.unit.chosen_changed.connect(self._fit_questions)

    def _build_around(self, column: QVBoxLayout) -> None:
        self.files = FilesField(
            self.tr("Measured with thermocouples in the paste"),
            word=self.tr("Choose the files"),
            hint=self.tr("CSV files of loggers, one or more; best four containers."),
        )
        self.take_out = ChoiceGroup(self.tr("Taken out of the cold"), 1)
        self.take_out.offer(TAKE_OUTS, self.theme, self.scale)
        self.outs = PaperField(self.tr("Times, as 2026-11-24 08:05; commas between"), most=MOST_OUTS)
        for part in (self.files, self.take_out, self.outs):
            column.addWidget(part)
        column.addStretch(1)
        self.take_out.chosen_changed.connect(self._fit_questions)

    def _fit_questions(self) -> None:
        """Show only what has to be answered."""
        self.room.line.setEnabled(self.unit.chosen != "sensor")
        self.room.calm()
        if self.unit.chosen == "sensor":
            self.room.fill("")
        self.outs.setVisible(self.take_out.chosen == NOTED)

    # ------------------------------------------------------------------ reading

    def _room_c(self, text: str) -> tuple[float | None]:
        """The room's temperature in a tuple, where None says that a sensor measured it."""
        if self.unit.chosen == "sensor":
            return (None,)
        if not text:
            raise Unreadable("Type what the thermometer beside it showed, or say that a sensor did.")
        return (readings.celsius(readings.figure(text), self.unit.chosen or "C"),)

    def _instants(self, text: str) -> tuple[datetime, ...]:
        return tuple(self._instant(part.strip()) for part in text.split(","))

    def _instant(self, text: str) -> datetime:
        day, _, clock = text.partition(" ")
        try:
            return readings.plant_instant(readings.iso_date(day), readings.wall_time(clock), self._zone)
        except Unreadable as fault:
            raise Unreadable(f"{text or 'Nothing'}: {fault.sentence}") from fault
