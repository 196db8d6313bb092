"""A lot in one act: held, or one of its holds released, with what it reaches said before it is handed in."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.file_field import PAPERS, FilesField
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.theme import LIGHT, Scale, Theme
from station.ui.view_models import ActionModel

MOST_LOT = 30
MOST_DOCUMENT = 80


def proof_field() -> FilesField:
    """Where the file of a document is chosen, to be kept with the act."""
    return FilesField(
        "The document as a file",
        word="Choose the file",
        hint="Kept as proof. It can be left out.",
        several=False,
        sorts=PAPERS,
    )


@dataclass(frozen=True)
class LotShown:
    """Which lot is meant, as far as a scan has said it, and what can be said of any: `reach(paste, lot)`."""

    pastes: tuple[ActionModel, ...]
    reach: Callable[[str, str], str]
    paste: str = ""
    lot: str = ""


@dataclass(frozen=True)
class HoldLotWord:
    """A lot of a paste to be held."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    paste: str
    lot: str
    files: tuple[Path, ...] = ()


@dataclass(frozen=True)
class ReleaseLotWord:
    """A hold of a lot to be released; `hold` is the id of what was offered."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    hold: str
    document: str = ""
    files: tuple[Path, ...] = ()


class LotFields(QWidget):
    """Paste and lot, filled in where a container was scanned, with what the lot reaches below."""

    def __init__(self, shown: LotShown, theme: Theme, scale: Scale, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = shown
        self.paste = ChoiceGroup(self.tr("Paste"), 3)
        self.paste.offer(shown.pastes, theme, scale)
        self.lot = PaperField(self.tr("Lot, as on the maker's label"), most=MOST_LOT)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for part in (self.paste, self.lot):
            column.addWidget(part)
        self.paste.chosen_changed.connect(self._read_back)
        self.lot.edited.connect(self._read_back)
        self.lot.fill(shown.lot)
        if shown.paste:
            self.paste.choose(shown.paste)

    def answer(self) -> tuple[str, str] | None:
        """Paste and lot, or None after each missing one got its sentence."""
        paste = self.paste.required(self.tr("Choose the paste. Two makers may use one lot code."))
        lot = self.lot.required(self.tr("Type the lot. It stands on the maker's label."))
        return (paste, lot) if paste is not None and lot is not None else None

    def _read_back(self) -> None:
        both = self.paste.chosen is not None and bool(self.lot.text)
        self.lot.note(self._shown.reach(self.paste.chosen or "", self.lot.text) if both else "")


class HoldLotDialog(LeadDialog):
    """Asks for a lot and why it is held; `offered` hands over a `HoldLotWord`."""

    def __init__(
        self, shown: LotShown, host: QWidget, theme: Theme = LIGHT, people: Mapping[str, str] | None = None
    ) -> None:
        """A form for the lot that was scanned, or for any."""
        self._shown = shown
        lines = ("It stops every container of the lot, those that arrive later too, and every bead that holds it.",)
        super().__init__("Hold a lot", host, theme, lines=lines, act="Hold the lot", people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """Paste and lot."""
        self.which = LotFields(self._shown, self.theme, self.scale)
        self.files = proof_field()
        story.addWidget(self.which)
        story.addWidget(self.files)

    def first_field(self) -> QWidget:
        """The lot, or the reason where it is known."""
        return self.reason.line if self.which.lot.text else self.which.lot.line

    def collect(self) -> object | None:
        """The `HoldLotWord`, or None after each missing field got its sentence."""
        which, proof = self.which.answer(), self.proof()
        if which is None or proof is None:
            return None
        return HoldLotWord(proof.badge, proof.pin, proof.reason, *which, self.files.paths)


class ReleaseLotDialog(LeadDialog):
    """Asks which hold of which lot is released; `offered` hands over a `ReleaseLotWord`."""

    def __init__(
        self,
        holds: tuple[ActionModel, ...],
        host: QWidget,
        theme: Theme = LIGHT,
        people: Mapping[str, str] | None = None,
    ) -> None:
        """`holds` say each which lot, since when and why."""
        self._holds = holds
        lines = ("What holds a container by itself still does.",)
        super().__init__("Release a lot", host, theme, lines=lines, act="Release it", people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """The holds that stand."""
        self.holds = ChoiceGroup(self.tr("Which hold"), 1)
        self.holds.offer(self._holds, self.theme, self.scale)
        self.document = PaperField(self.tr("Certificate or test report, where it awaits its test"), most=MOST_DOCUMENT)
        self.files = proof_field()
        for part in (self.holds, self.document, self.files):
            story.addWidget(part)

    def collect(self) -> object | None:
        """The `ReleaseLotWord`, or None after each missing field got its sentence."""
        hold = self.holds.required(self.tr("Say which hold."))
        proof = self.proof()
        if hold is None or proof is None:
            return None
        return ReleaseLotWord(proof.badge, proof.pin, proof.reason, hold, self.document.text, self.files.paths)
