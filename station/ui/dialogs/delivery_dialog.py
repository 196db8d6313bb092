"""What else may be said of a delivery: the box, its cold packs, the days under way, a logger that lay in it."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QWidget

from station.care.delivery_rules import Box, Packs
from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.file_field import LOGGER_PROOF, FilesField
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.readings import Unreadable
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

MOST_DAYS = 365
PACKS = (
    ActionModel(Packs.FROZEN.value, "Still frozen"),
    ActionModel(Packs.MELTED.value, "Melted"),
    ActionModel(Packs.NONE.value, "No packs in it"),
)
BOX = (
    ActionModel(Box.SOUND.value, "Sound"),
    ActionModel(Box.DAMAGED.value, "Damaged"),
    ActionModel(Box.WET.value, "Wet"),
)
LOGGER_IN_BOX = "in the box"
LOGGER = (ActionModel(LOGGER_IN_BOX, "In the box"), ActionModel("none", "None in it"))


@dataclass(frozen=True)
class DeliveryWord:
    """What was said of the box as a whole; nothing of it has to be."""

    packs: Packs = Packs.NOT_SAID
    box: Box = Box.NOT_SAID
    days_under_way: int | None = None
    logger_in_box: bool = False
    loggers: tuple[Path, ...] = ()


NOTHING_SAID = DeliveryWord()


class DeliveryDialog(PaperDialog):
    """Lies over the form that receives; `offered` hands over a `DeliveryWord`."""

    def __init__(self, told: DeliveryWord, host: QWidget, theme: Theme = LIGHT) -> None:
        """`told` is what was said before and may be changed."""
        super().__init__("How the delivery came", "Keep these answers", host, theme)
        left, right = self.add_column(1), self.add_column(1)
        self.packs, self.box = ChoiceGroup(self.tr("Cold packs"), 1), ChoiceGroup(self.tr("The box"), 1)
        self.logger = ChoiceGroup(self.tr("Temperature logger"), 2)
        for group, answers in ((self.packs, PACKS), (self.box, BOX), (self.logger, LOGGER)):
            group.offer(answers, self.theme, self.scale)
        self.days = PaperField(self.tr("Days under way with the carrier, if known"), most=3)
        self.files = FilesField(
            self.tr("The logger's file"),
            word=self.tr("Choose the file"),
            hint=self.tr("Kept as proof with this delivery. It can be left out."),
            sorts=LOGGER_PROOF,
        )
        for column, parts in ((left, (self.packs, self.box)), (right, (self.logger, self.files, self.days))):
            for part in parts:
                column.addWidget(part)
            column.addStretch(1)
        self.box.chosen_changed.connect(self._caution)
        self.files.chosen.connect(lambda: self.logger.choose(LOGGER_IN_BOX))
        self._show(told)
        self.name_leaving(self.tr("Back"))

    def _caution(self, box: str) -> None:
        """A crushed or wet box is where a leaking container is met first."""
        hurt = box in (Box.DAMAGED.value, Box.WET.value)
        care = self.tr("Gloves on before you reach in. Look whether any container leaks, and say so.")
        self.box.note(care if hurt else "")

    def collect(self) -> DeliveryWord | None:
        """The answers, or None where the days are no number."""
        days = self.days.read(_days)
        if days is None:
            return None
        return DeliveryWord(
            Packs(self.packs.chosen or ""),
            Box(self.box.chosen or ""),
            None if days < 0 else days,
            self.logger.chosen == LOGGER_IN_BOX,
            self.files.paths,
        )

    def _show(self, told: DeliveryWord) -> None:
        self.packs.choose(told.packs.value)
        self.box.choose(told.box.value)
        self.logger.choose(LOGGER_IN_BOX if told.logger_in_box else "")
        self.days.fill("" if told.days_under_way is None else str(told.days_under_way))
        self.files.take(told.loggers)


def _days(text: str) -> int:
    """Whole days; -1 where nobody said."""
    if not text:
        return -1
    if text == "0":
        return 0
    try:
        return readings.count(text, MOST_DAYS)
    except Unreadable:
        raise Unreadable(f"Type whole days from 0 to {MOST_DAYS}, or leave it empty.") from None
