"""Taking back what was recorded last, said by a shift lead: which act, and why."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel


@dataclass(frozen=True)
class TakeBackWord:
    """What a shift lead takes back; `act` is the id of what was offered."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    act: str


class TakeBackDialog(LeadDialog):
    """Asks which of the last acts is taken back; `offered` hands over a `TakeBackWord`."""

    def __init__(
        self,
        acts: tuple[ActionModel, ...],
        host: QWidget,
        theme: Theme = LIGHT,
        people: Mapping[str, str] | None = None,
    ) -> None:
        """`acts` say each what was done, and of what and when."""
        self._acts = acts
        lines = ("The clocks stand then as if it had not been said. The record keeps both.",)
        super().__init__("Take back the last act", host, theme, lines=lines, act="Take it back", people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """The acts that can be taken back."""
        self.acts = ChoiceGroup(self.tr("What was recorded last"), 1)
        self.acts.offer(self._acts, self.theme, self.scale)
        story.addWidget(self.acts)

    def collect(self) -> object | None:
        """The `TakeBackWord`, or None after each missing field got its sentence."""
        act = self.acts.required(self.tr("Say which act."))
        proof = self.proof()
        if act is None or proof is None:
            return None
        return TakeBackWord(proof.badge, proof.pin, proof.reason, act)
