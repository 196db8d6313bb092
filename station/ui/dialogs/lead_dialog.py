"""A shift lead says something that needs badge and PIN: who, the PIN, and why."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.digit_pad import DigitPad
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme

MOST_PIN = 12
MOST_REASON = 200


@dataclass(frozen=True)
class LeadWord:
    """What a shift lead said. The PIN is kept out of every print-out of this value."""

    badge: str
    pin: str = field(repr=False)
    reason: str


class LeadDialog(PaperDialog):
    """Asks for badge, PIN and reason; `offered` hands over a `LeadWord`.

    The badge is scanned (`take_badge`) or typed. Whoever is told of the word answers with `leave`, or with
    `refuse` and the sentence why: the form never closes on a refused PIN.
    """

    def __init__(
        self,
        title: str,
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
        act: str = "",
        ask_reason: bool = True,
        reason: str = "",
        people: Mapping[str, str] | None = None,
    ) -> None:
        """`lines` say what it is about; `reason` asks for it in other words; `people` are names by badge id."""
        super().__init__(title, act or self._default_act(), host, theme)
        self._people, self._badge_before = dict(people or {}), ""
        self.story = self.add_column(3)
        for line in lines:
            self.story.addWidget(label(TEXT, line))
        self.build_story(self.story)
        asked = reason or self.tr("Reason, in a few words; it stands in the record")
        self.reason = PaperField(asked, most=MOST_REASON)
        self.reason.setVisible(ask_reason)
        self._ask_reason = ask_reason
        self.story.addWidget(self.reason)
        self.story.addStretch(1)
        self._build_proof()

    @staticmethod
    def _default_act() -> str:
        return "Record it"

    def build_story(self, story: QVBoxLayout) -> None:
        """Further questions of a form that asks more."""

    def take_badge(self, person_id: str) -> None:
        """A badge was scanned: it fills the badge field whatever has the focus, and the PIN comes next."""
        self.badge.fill(person_id)
        self._calm()
        self.pin.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def refuse(self, sentence: str) -> None:
        """Say why it was not taken. The PIN is emptied, so that it can be typed again."""
        super().refuse(sentence)
        if sentence:
            self.pin.fill("")
            self.pin.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def first_field(self) -> QWidget:
        """The badge, or the PIN where the badge is known."""
        return self.pin.line if self.badge.text else self.badge.line

    def collect(self) -> object | None:
        """The `LeadWord`, or None after each empty field got its sentence."""
        return self.proof()

    def proof(self) -> LeadWord | None:
        """Badge, PIN and reason, or None after each empty one got its sentence."""
        badge = self.badge.required(self.tr("Scan the badge, or type its id."))
        pin = self.pin.required(self.tr("Type the PIN that goes with the badge."))
        reason: str | None = ""
        if self._ask_reason:
            reason = self.reason.required(self.tr("Say in a few words why."))
        if badge is None or pin is None or reason is None:
            return None
        return LeadWord(self._known(badge), pin, reason)

    def _build_proof(self) -> None:
        column = self.add_column(2)
        self.badge = PaperField(self.tr("Badge: scan it or type it"))
        self.pin = PaperField(self.tr("PIN"), most=MOST_PIN, hidden=True)
        self.pad = DigitPad()
        self.badge.edited.connect(self._badge_edited)
        self.pad.pressed.connect(self.pin.press)
        self.pad.back.connect(self.pin.line.backspace)
        self.pad.cleared.connect(self.pin.line.clear)
        for part in (self.badge, self.pin, self.pad):
            column.addWidget(part)
        column.addStretch(1)

    def _known(self, typed: str) -> str:
        """The id as it is written on the badge, however its letters were typed."""
        return next((badge for badge in self._people if badge.casefold() == typed.casefold()), typed)

    def _badge_edited(self, typed: str) -> None:
        """Another badge: what was typed and said of the one before is not of this one."""
        if self._badge_before:
            self.pin.fill("")
        self._badge_before = typed.strip()
        self._calm()
        self.badge.note(self._people.get(self._known(typed.strip()), ""))

    def _calm(self) -> None:
        if self.sentence.text():
            self.remark("")
