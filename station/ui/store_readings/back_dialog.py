"""A shift lead takes a store's file back: which one, what was wrong with it, and what that would come to."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.care.cold_readings_rules import Mistake
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import label
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.look import TEXT
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

MISTAKES = (
    ActionModel(Mistake.STORE.name, "Of another store"),
    ActionModel(Mistake.ZONE.name, "Clock or columns", "read wrongly"),
    ActionModel(Mistake.OTHER.name, "Something else"),
)


@dataclass(frozen=True)
class BackWord:
    """What a shift lead said: the file by the fact that took it in. The PIN is kept out of every print-out."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    store: str
    taken_in: str
    mistake: Mistake


@dataclass(frozen=True)
class BackShown:
    """The stores with files, the files of each (the newest first), and what taking one back would come to."""

    stores: tuple[ActionModel, ...]
    files: Mapping[str, tuple[ActionModel, ...]]
    preview: Callable[[str, str], str]


class BackDialog(LeadDialog):
    """Asks for a store, one of its files and what was wrong; `offered` hands over a `BackWord`."""

    def __init__(
        self, shown: BackShown, host: QWidget, theme: Theme = LIGHT, *, people: Mapping[str, str] | None = None
    ) -> None:
        """Nothing is chosen but an only store."""
        self._shown = shown
        super().__init__("Take back a file of a store", host, theme, act="Take it back", people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """The store, its files, the mistake, and what would follow."""
        self.store = ChoiceGroup(self.tr("Whose readings it was taken in as"), 2)
        self.file = ChoiceGroup(self.tr("Which file"), 1)
        self.mistake = ChoiceGroup(self.tr("What was wrong"), 3)
        self.preview = label(TEXT)
        for part in (self.store, self.file, self.mistake, self.preview):
            story.addWidget(part)
        self.store.chosen_changed.connect(self._store_chosen)
        self.file.chosen_changed.connect(lambda _file: self._look())
        self.store.offer(self._shown.stores, self.theme, self.scale)
        self.mistake.offer(MISTAKES, self.theme, self.scale)
        self._store_chosen()

    def first_field(self) -> QWidget:
        """The first store, or the first file where there is one store only."""
        return (self.file if self.store.chosen else self.store).buttons[0]

    def collect(self) -> object | None:
        """The `BackWord`, or None after each missing field got its sentence."""
        store = self.store.required(self.tr("Say which store."))
        taken_in = self.file.required(self.tr("Say which file."))
        mistake = self.mistake.required(self.tr("Say what was wrong with it."))
        proof = self.proof()
        if store is None or taken_in is None or mistake is None or proof is None:
            return None
        return BackWord(proof.badge, proof.pin, proof.reason, store, taken_in, Mistake[mistake])

    def _store_chosen(self) -> None:
        files = self._shown.files.get(self.store.chosen or "", ())
        self.file.offer(files, self.theme, self.scale)
        self.file.setVisible(bool(files))
        self._look()

    def _look(self) -> None:
        store, file = self.store.chosen, self.file.chosen
        told = self._shown.preview(store, file) if store is not None and file is not None else ""
        self.preview.setText(told)
        self.preview.setVisible(bool(told))
