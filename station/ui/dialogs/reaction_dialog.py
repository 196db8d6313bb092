"""What to do at one kind of alarm, in the site's own words, and the proof of a process engineer."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.care.reaction_rules import MOST
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.look import CAPTION, TEXT
from station.ui.theme import LIGHT, Theme


@dataclass(frozen=True)
class ReactionWord:
    """The words, perhaps none, and who proves them."""

    badge: str
    pin: str = field(repr=False)
    text: str


@dataclass(frozen=True)
class ReactionShown:
    """What the form says of the kind of alarm: its name, the words on its card now, and those that stand without any.

    `own` are the words said at the desk before, empty where there are none.
    """

    title: str
    now: str
    without: str
    own: str


class ReactionDialog(LeadDialog):
    """Asks for the words; `offered` hands over a `ReactionWord`."""

    def __init__(
        self, shown: ReactionShown, host: QWidget, theme: Theme = LIGHT, people: Mapping[str, str] | None = None
    ) -> None:
        """A form for one kind of alarm."""
        self._shown = shown
        super().__init__(shown.title, host, theme, ask_reason=False, people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """What stands now, and the field."""
        story.addWidget(label(CAPTION, self.tr("On the card now")))
        story.addWidget(label(TEXT, self._shown.now))
        self.text = PaperField(self.tr("What to do, in at most {} characters").format(MOST), most=MOST)
        self.text.fill(self._shown.own)
        without = self.tr("Empty: {} The cautions for gloves, leaded (Pb) paste and waste always stay.")
        self.text.note(without.format(self._shown.without))
        story.addWidget(self.text)

    def first_field(self) -> QWidget:
        """The words."""
        return self.text.line

    def collect(self) -> object | None:
        """The `ReactionWord`, or None without a proof."""
        proof = self.proof()
        return ReactionWord(proof.badge, proof.pin, self.text.text) if proof is not None else None
