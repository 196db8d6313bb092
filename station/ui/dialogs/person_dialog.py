"""Somebody comes, changes or goes; or somebody chooses another PIN."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from station.care.people import MOST_NAME
from station.care.state import Somebody
from station.care.words import Role
from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.lead_dialog import MOST_PIN, LeadDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

ROLES: dict[str, tuple[Role, ...]] = {
    "operator": (Role.OPERATOR,),
    "lead": (Role.OPERATOR, Role.LEAD),
    "engineer": (Role.ENGINEER,),
    "both": (Role.OPERATOR, Role.LEAD, Role.ENGINEER),
}
CAPTIONS = {
    "operator": "Operator",
    "lead": "Shift lead",
    "engineer": "Process engineer",
    "both": "Lead and engineer",
}
STAYS, GOES = "stays", "goes"


@dataclass(frozen=True)
class PersonDialogWord:
    """Somebody as the form says it, with whose word it is. PINs are kept out of print-outs."""

    badge: str
    pin: str = field(repr=False)
    person: str
    name: str
    roles: tuple[Role, ...]
    new_pin: str = field(repr=False)
    training_until: date | None
    left: bool


class TwicePin:
    """A new PIN typed twice; what differs is said beside the second."""

    def __init__(self, caption: str) -> None:
        self.first = PaperField(caption, most=MOST_PIN, hidden=True)
        self.again = PaperField("Once more", most=MOST_PIN, hidden=True)
        self.row = QHBoxLayout()
        self.row.setSpacing(10)
        for part in (self.first, self.again):
            self.row.addWidget(part, 1)

    def told(self) -> str | None:
        """The PIN, empty where none was typed; None after the sentence that they differ."""
        if self.first.text != self.again.text:
            self.again.complain("The two are not the same. Type both again.")
            return None
        return self.first.text


class PersonDialog(LeadDialog):
    """Asks for name, badge id, what the person may do, training and PIN; `offered` hands over a `PersonDialogWord`."""

    def __init__(
        self, known: Somebody | None, host: QWidget, theme: Theme = LIGHT, *, people: Mapping[str, str] | None = None
    ) -> None:
        """`known` is somebody to change, or None for somebody new."""
        self._somebody = known
        title = f"{known.name}, badge {known.id}" if known is not None else "Somebody new"
        super().__init__(title, host, theme, act="Record it", ask_reason=False, people=people)
        self.badge.caption.setText(self.tr("Your own badge: scan it or type it"))

    def build_story(self, story: QVBoxLayout) -> None:
        """The fields of the person."""
        known = self._somebody
        self.name = PaperField(self.tr("Name"), most=MOST_NAME)
        self.person = PaperField(self.tr("New badge, as P41"), most=16)
        self.may = ChoiceGroup(self.tr("May work as"), 2)
        self.may.offer(tuple(ActionModel(id_, caption) for id_, caption in CAPTIONS.items()), self.theme, self.scale)
        self.training = PaperField(self.tr("Training valid until, as 2027-03-31, if known"), most=10)
        self.new_pin = TwicePin(self.tr("New PIN, if any"))
        self.stays = ChoiceGroup(self.tr("Works here"), 2)
        here = (ActionModel(STAYS, "Works here"), ActionModel(GOES, "No longer works here"))
        self.stays.offer(here, self.theme, self.scale)
        self.stays.choose(STAYS)
        who = QHBoxLayout()
        who.setSpacing(10)
        who.addWidget(self.name, 3)
        who.addWidget(self.person, 2)
        story.addLayout(who)
        story.addWidget(self.may)
        story.addLayout(self.new_pin.row)
        story.addWidget(self.training)
        story.addWidget(self.stays)
        self.stays.setVisible(known is not None)
        self.person.setVisible(known is None)
        if known is not None:
            self._fill(known)

    def _fill(self, known: Somebody) -> None:
        self.name.fill(known.name)
        self.person.fill(known.id)
        self.training.fill(known.training_until.isoformat() if known.training_until is not None else "")
        self.may.choose(next((id_ for id_, roles in ROLES.items() if set(roles) == set(known.roles)), ""))

    def first_field(self) -> QWidget:
        """The name."""
        return self.name.line

    def collect(self) -> object | None:
        """The `PersonDialogWord`, or None after each missing field got its sentence."""
        name = self.name.required(self.tr("Type the name."))
        person = self.person.required(self.tr("Type the id that will stand on the badge."))
        may = self.may.required(self.tr("Say what this person may do."))
        training = self.training.read(readings.iso_date) if self.training.text else None
        wrong_day = bool(self.training.text) and training is None
        new_pin, proof = self.new_pin.told(), self.proof()
        if name is None or person is None or may is None or wrong_day or new_pin is None or proof is None:
            return None
        left = self.stays.chosen == GOES
        return PersonDialogWord(proof.badge, proof.pin, person.upper(), name, ROLES[may], new_pin, training, left)


@dataclass(frozen=True)
class NewPinWord:
    """Whose PIN becomes which; both are kept out of print-outs."""

    badge: str
    pin: str = field(repr=False)
    new_pin: str = field(repr=False)


class NewPinDialog(LeadDialog):
    """Asks for the PIN there is and twice for the new one; `offered` hands over a `NewPinWord`."""

    def __init__(self, host: QWidget, theme: Theme = LIGHT, *, people: Mapping[str, str] | None = None) -> None:
        super().__init__("Another PIN", host, theme, act="Change it", ask_reason=False, people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """The new one, twice."""
        self.new_pin = TwicePin(self.tr("New PIN, 4 to 8 digits"))
        story.addLayout(self.new_pin.row)

    def collect(self) -> object | None:
        """The `NewPinWord`, or None after each missing field got its sentence."""
        told, proof = self.new_pin.told(), self.proof()
        if told == "":
            self.new_pin.first.complain(self.tr("Type the new PIN."))
        if not told or proof is None:
            return None
        return NewPinWord(proof.badge, proof.pin, told)
