"""Shelving an alarm: for how long, why, and a shift lead's word for it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

LENGTHS = {"30": "30 min", "60": "1 h", "120": "2 h", "240": "4 h", "480": "8 h"}
LINES = ("It stays open and in sight, without sound. It ends by itself, and sounds again then.",)


@dataclass(frozen=True)
class ShelveWord:
    """What a shift lead said."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    length: timedelta


class ShelveDialog(LeadDialog):
    """Asks how long an alarm is to be quiet; `offered` hands over a `ShelveWord`."""

    def __init__(
        self, title: str, host: QWidget, theme: Theme = LIGHT, people: Mapping[str, str] | None = None
    ) -> None:
        """A form for one alarm."""
        super().__init__(title, host, theme, lines=LINES, people=people, act="Shelve it")

    def build_story(self, story: QVBoxLayout) -> None:
        """For how long."""
        self.lengths = ChoiceGroup(self.tr("For how long?"), columns=3)
        offers = tuple(ActionModel(minutes, said) for minutes, said in LENGTHS.items())
        self.lengths.offer(offers, self.theme, self.scale)
        story.addWidget(self.lengths)

    def collect(self) -> object | None:
        """The `ShelveWord`, or None after each missing field got its sentence."""
        minutes = self.lengths.required(self.tr("Say for how long."))
        proof = self.proof()
        if minutes is None or proof is None:
            return None
        return ShelveWord(proof.badge, proof.pin, proof.reason, timedelta(minutes=int(minutes)))
