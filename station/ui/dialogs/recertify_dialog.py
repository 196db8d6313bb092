"""A lot's new expiry from its supplier, said by two people: a shift lead and a process engineer, each with a PIN."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from station.care.words import Role
from station.ui.dialogs import readings
from station.ui.dialogs.digit_pad import DigitPad
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.lead_dialog import MOST_PIN
from station.ui.dialogs.lot_dialogs import MOST_DOCUMENT, LotFields, LotShown, proof_field
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.readings import Unreadable
from station.ui.theme import LIGHT, Theme


@dataclass(frozen=True)
class Badged:
    """Badge and PIN of one person. The PIN is kept out of every print-out of this value."""

    badge: str
    pin: str = field(repr=False)


@dataclass(frozen=True)
class RecertifyWord:
    """A lot's new expiry, by which document, and the two who say so."""

    paste: str
    lot: str
    expires: date
    document: str
    lead: Badged
    engineer: Badged
    files: tuple[Path, ...] = ()


@dataclass(frozen=True)
class Colleague:
    """Somebody whose badge may be scanned: the name, and what they may decide."""

    name: str
    roles: frozenset[Role]


class ProofFields(QWidget):
    """Badge and PIN of one of the two, side by side."""

    def __init__(self, who: str, people: Mapping[str, Colleague], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._people = people
        self.badge, self.pin = PaperField(who), PaperField(self.tr("PIN"), most=MOST_PIN, hidden=True)
        self.pin.line.setAccessibleName(f"{who}, {self.tr('PIN')}")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(10)
        for part, stretch in ((self.badge, 3), (self.pin, 2)):
            row.addWidget(part, stretch, Qt.AlignmentFlag.AlignTop)
        self.badge.edited.connect(self._name)

    def take(self, badge: str) -> None:
        """A badge was scanned: it fills its field, and the PIN comes next."""
        if badge != self.badge.text:
            self.pin.fill("")
        self.badge.fill(badge)
        self.pin.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def answer(self) -> Badged | None:
        """Badge and PIN, or None after each empty one got its sentence."""
        badge = self.badge.required(self.tr("Scan the badge, or type its id."))
        pin = self.pin.required(self.tr("Type the PIN that goes with it."))
        return Badged(self._known(badge), pin) if badge is not None and pin is not None else None

    @property
    def whole(self) -> bool:
        """Whether both are filled in."""
        return bool(self.badge.text and self.pin.text)

    def _known(self, typed: str) -> str:
        return next((badge for badge in self._people if badge.casefold() == typed.casefold()), typed)

    def _name(self, typed: str) -> None:
        found = self._people.get(self._known(typed.strip()))
        self.badge.note(found.name if found is not None else "")


class RecertifyDialog(PaperDialog):
    """Asks for the new expiry and for both people; `offered` hands over a `RecertifyWord`."""

    def __init__(
        self,
        shown: LotShown,
        host: QWidget,
        theme: Theme = LIGHT,
        people: Mapping[str, Colleague] | None = None,
    ) -> None:
        """A form for the lot that was scanned, or for any."""
        super().__init__("New expiry of a lot from its supplier", "Re-certify it", host, theme)
        self._people = dict(people or {})
        story = self.add_column(3)
        self.which = LotFields(shown, self.theme, self.scale)
        self.expires = PaperField(self.tr("New expiry, as 2027-03-31"), most=10)
        self.document = PaperField(self.tr("The supplier's document"), most=MOST_DOCUMENT)
        self.files = proof_field()
        self.expires.edited.connect(self._read_back)
        for part in (self.which, self.expires, self.document, self.files):
            story.addWidget(part)
        story.addStretch(1)
        proofs = self.add_column(3)
        self.lead = ProofFields(self.tr("Shift lead: badge"), self._people)
        self.engineer = ProofFields(self.tr("Process engineer: badge"), self._people)
        self.pad = DigitPad()
        self.pad.pressed.connect(lambda digit: self._pin().press(digit))
        self.pad.back.connect(self._back)
        self.pad.cleared.connect(self._clear)
        for widget in (self.lead, self.engineer, self.pad):
            proofs.addWidget(widget)
        proofs.addStretch(1)

    def widest(self) -> float:
        """As wide as receiving: two people stand before it."""
        return 1700.0

    def take_badge(self, person_id: str) -> None:
        """A badge was scanned: it goes to the one it fits; that of somebody who is both goes where it is open."""
        found = self._people.get(person_id)
        roles = found.roles if found is not None else frozenset()
        only_engineer = Role.ENGINEER in roles and Role.LEAD not in roles
        only_lead = Role.LEAD in roles and Role.ENGINEER not in roles
        second = only_engineer or (self.lead.whole and not only_lead)
        (self.engineer if second else self.lead).take(person_id)
        self.remark("")

    def refuse(self, sentence: str) -> None:
        """Say why it was not taken. Both PINs are emptied, so that they can be typed again."""
        super().refuse(sentence)
        if sentence:
            for proof in (self.engineer, self.lead):
                proof.pin.fill("")
            self.lead.pin.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def first_field(self) -> QWidget:
        """The lot, or the expiry where it is known."""
        return self.expires.line if self.which.lot.text else self.which.lot.line

    def collect(self) -> RecertifyWord | None:
        """The new expiry, or None after each missing or wrong field got its sentence."""
        which = self.which.answer()
        expires = self.expires.read(readings.iso_date)
        document = self.document.required(self.tr("Shelf life moves by a document of the supplier only."))
        lead, engineer = self.lead.answer(), self.engineer.answer()
        if which is None or expires is None or document is None or lead is None or engineer is None:
            return None
        return RecertifyWord(*which, expires, document, lead, engineer, self.files.paths)

    def _pin(self) -> PaperField:
        """Where the pad types: the PIN that has the focus, else the first that is open."""
        if self.engineer.pin.line.hasFocus():
            return self.engineer.pin
        first_open = self.lead.pin.line.hasFocus() or not self.lead.whole
        return self.lead.pin if first_open else self.engineer.pin

    def _back(self) -> None:
        self._pin().line.backspace()

    def _clear(self) -> None:
        self._pin().line.clear()

    def _read_back(self) -> None:
        try:
            self.expires.note(readings.day_in_words(readings.iso_date(self.expires.text)))
        except Unreadable:
            self.expires.note("")
