"""Clearing an alarm: what became of the paste, of the boards of a bead over its time, and a lead's word for it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.care.words import Boards, Disposition
from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.evidence_dialog import photo_field
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

WEIGHED = (Disposition.DISCARDED, Disposition.USED_IN_TIME)
MOST_DOCUMENT = 80


@dataclass(frozen=True)
class DispositionOffer:
    """One thing that may be said of the paste; a forbidden one says in its hint why."""

    disposition: Disposition
    hint: str = ""
    allowed: bool = True


@dataclass(frozen=True)
class AlarmToClear:
    """What the form says of the alarm. `boards_printed` is asked of beads: `between 10:05 and 10:25`."""

    title: str
    lines: tuple[str, ...]
    offers: tuple[DispositionOffer, ...]
    boards_printed: str = ""
    asks_photo: bool = False


@dataclass(frozen=True)
class ClearWord:
    """What a shift lead said. `boards` is None for a container; `grams` None where nobody weighed it."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    disposition: Disposition
    boards: Boards | None
    document: str
    grams: float | None
    photos: tuple[Path, ...] = ()


class ClearDialog(LeadDialog):
    """Asks what became of an overdue paste; `offered` hands over a `ClearWord`."""

    def __init__(
        self, alarm: AlarmToClear, host: QWidget, theme: Theme = LIGHT, people: Mapping[str, str] | None = None
    ) -> None:
        """A form for one alarm."""
        self._alarm = alarm
        super().__init__(alarm.title, host, theme, lines=alarm.lines, people=people, act="Clear the alarm")
        self.photos = photo_field()
        self.story.insertWidget(self.story.indexOf(self.reason) + 1, self.photos)  # below what must be answered
        self.photos.setVisible(alarm.asks_photo)
        self._fit_questions()

    def build_story(self, story: QVBoxLayout) -> None:
        """What became of it, the boards, the paper that proves it, the grams."""
        self.dispositions = ChoiceGroup(self.tr("What became of it?"), columns=2)
        self.boards = ChoiceGroup(self.tr("Boards printed {}").format(self._alarm.boards_printed), columns=3)
        self.document = PaperField("", most=MOST_DOCUMENT)
        self.grams = PaperField(self.tr("Grams left in it, may stay empty"), most=10)
        self.dispositions.offer(tuple(map(_offered, self._alarm.offers)), self.theme, self.scale)
        answers = tuple(ActionModel(answer.value, _first_up(answer.value)) for answer in Boards)
        self.boards.offer(answers, self.theme, self.scale)
        for group in (self.dispositions, self.boards):
            group.chosen_changed.connect(self._fit_questions)
        for part in (self.dispositions, self.boards, self.document, self.grams):
            story.addWidget(part)

    def collect(self) -> object | None:
        """The `ClearWord`, or None after each missing or wrong field got its sentence."""
        disposition = self.dispositions.required(self.tr("Say what became of it."))
        boards = self._boards()
        document = self._document()
        grams_read = self._grams()
        proof = self.proof()
        if disposition is None or proof is None or document is None or not grams_read or not self._boards_said(boards):
            return None
        grams = readings.grams(self.grams.text) if self._weighed() else None
        said = Disposition(disposition)
        return ClearWord(proof.badge, proof.pin, proof.reason, said, boards, document, grams, self.photos.paths)

    def _is_bead(self) -> bool:
        return bool(self._alarm.boards_printed)

    def _boards_said(self, boards: Boards | None) -> bool:
        return boards is not None or not self._is_bead()

    def _weighed(self) -> bool:
        return not self._is_bead() and self.dispositions.chosen in WEIGHED

    def _document_for(self) -> str:
        """What the document is wanted for, empty where none is."""
        if self.dispositions.chosen == Disposition.EXTENDED:
            return self.tr("Concession number")
        if self._is_bead() and self.boards.chosen == Boards.ACCEPTED:
            return self.tr("Boards accepted by whom, in which document")
        return ""

    def _boards(self) -> Boards | None:
        if not self._is_bead():
            return None
        chosen = self.boards.required(self.tr("Say what became of these boards."))
        return Boards(chosen) if chosen is not None else None

    def _document(self) -> str | None:
        if not self._document_for():
            return ""
        return self.document.required(self.tr("Write the number or the document."))

    def _grams(self) -> bool:
        if not self._weighed():
            return True
        self.grams.read(readings.grams)
        return self.grams.complaint.isHidden()

    def _fit_questions(self) -> None:
        """Show only what has to be answered."""
        wanted = self._document_for()
        self.boards.setVisible(self._is_bead())
        self.document.caption.setText(wanted)
        self.document.line.setAccessibleName(wanted)
        self.document.setVisible(bool(wanted))
        self.grams.setVisible(self._weighed())


def _offered(offer: DispositionOffer) -> ActionModel:
    return ActionModel(offer.disposition.value, _first_up(offer.disposition.value), offer.hint, enabled=offer.allowed)


def _first_up(words: str) -> str:
    return words[:1].upper() + words[1:]
