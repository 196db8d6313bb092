"""What was said wrongly of a whole delivery, put right: the recorded answers stand in the form."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.care.delivery_rules import Box, Packs
from station.ui.dialogs.arrival_temperature import ArrivalTemperature, Warmth
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.delivery_dialog import BOX, PACKS
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.theme import LIGHT, Theme


@dataclass(frozen=True)
class RecordedDelivery:
    """What the record says now of a delivery; `title` and `came` in final words."""

    title: str
    came: str
    packs: Packs
    box: Box
    warmth: Warmth


@dataclass(frozen=True)
class CorrectDeliveryWord:
    """What is put right; None leaves a thing as it stands."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    packs: Packs | None = None
    box: Box | None = None
    warmth: Warmth | None = None


class CorrectDeliveryDialog(LeadDialog):
    """Asks what should have been said of a delivery; `offered` hands over a `CorrectDeliveryWord`."""

    def __init__(
        self, recorded: RecordedDelivery, host: QWidget, theme: Theme = LIGHT, people: Mapping[str, str] | None = None
    ) -> None:
        """Only what is changed in the form is put right."""
        self._recorded = recorded
        lines = (f"{recorded.came} Change what is wrong. Holds that follow are added; none is released by this.",)
        super().__init__(recorded.title, host, theme, lines=lines, act="Correct it", people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """Box and packs, temperature."""
        self.box, self.packs = ChoiceGroup(self.tr("The box"), 3), ChoiceGroup(self.tr("Cold packs"), 3)
        for group, answers in ((self.box, BOX), (self.packs, PACKS)):
            group.offer(answers, self.theme, self.scale)
        self.temperature = ArrivalTemperature("C", self.theme, self.scale)
        self.box.choose(self._recorded.box.value)
        self.packs.choose(self._recorded.packs.value)
        self.temperature.take(self._recorded.warmth)
        for part in (self.box, self.packs, self.temperature):
            story.addWidget(part)

    def collect(self) -> object | None:
        """The `CorrectDeliveryWord`, or None after each missing or wrong field got its sentence."""
        before, warmth, proof = self._recorded, self.temperature.answer(), self.proof()
        if warmth is None or proof is None:
            return None
        box, packs = Box(self.box.chosen or ""), Packs(self.packs.chosen or "")
        return CorrectDeliveryWord(
            badge=proof.badge,
            pin=proof.pin,
            reason=proof.reason,
            packs=packs if packs is not before.packs else None,
            box=box if box is not before.box else None,
            warmth=warmth if warmth != before.warmth else None,
        )
