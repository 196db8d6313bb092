"""How many scans and touches the everyday jobs cost at the real window, counted; more than agreed fails.

Containers are named by their own labels, then by cards, as a person with a scanner in one hand does it. Going to a
place and the sheet a job was set up from are done once for many jobs, and are not counted.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import timedelta

import pytest
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.care import alarms
from station.care.facts import LabelAsked
from station.care.words import Card
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import TagKind, badge_text, card_text, tag_text
from station.rehearsal.clock import SetClock
from station.scanning.heard import HeardScan
from station.services.memory import MemoryJournal
from station.settings import load
from station.ui.desk_work import DeskWork
from station.ui.dialogs.clear_dialog import ClearDialog
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.receive_dialog import TIGHT, ReceiveDialog
from station.ui.widgets.touch_button import TouchButton
from station.ui.window import StationWindow
from tests.ui.plants import DEMO, NOW, Plant, mid_shift


@dataclass
class Spent:
    """What one job took."""

    scans: int = 0
    touches: int = 0
    typed: int = 0


class Hands:
    """A person at the window, counted."""

    def __init__(self, plant: Plant, window: StationWindow) -> None:
        """Nothing done yet."""
        self.plant, self.window, self.spent = plant, window, Spent()

    @contextmanager
    def job(self, place: str, scans: int, touches: int = 0, typed: int = 0) -> Iterator[None]:
        """One job at a place, half a minute after the one before; it costs this much at most."""
        self.plant.later(timedelta(seconds=30))
        self.window.hear_text(tag_text(TagKind.PLACE, place))
        self.spent = Spent()
        yield
        spent = self.spent
        assert (spent.scans, spent.touches, spent.typed) == (scans, touches, typed)

    def scan(self, text: str) -> None:
        """Two seconds later the next code."""
        self.plant.later(timedelta(seconds=2))
        self.spent.scans += 1
        self.window.hear(HeardScan(text, text))

    def identity(self, name: str) -> None:
        self.scan(pack_container(*container_numbers(name), self.plant.station.keys))

    def time_label(self, name: str) -> None:
        told = (fact.body for fact in self.plant.station.ledger.history("container", name))
        asked = [body for body in told if isinstance(body, LabelAsked) and body.print_number]
        self.scan(asked[-1].code)

    def card(self, card: Card) -> None:
        self.scan(card_text(card))

    def tag(self, position: str) -> None:
        self.scan(tag_text(TagKind.POSITION, position))

    def touch(self, action: str) -> None:
        """What stands on the screen and can be touched."""
        found = self.window.view.findChildren(TouchButton)
        offered = [button for button in found if button.isVisible() and button.action_model.id.startswith(action)]
        assert offered, f"nothing to touch for {action}"
        self.spent.touches += 1
        offered[0].click()

    def press(self, button: QAbstractButton) -> None:
        """Something to touch in a form."""
        self.spent.touches += 1
        button.click()

    def fill(self, field: PaperField, words: str) -> None:
        """Keys."""
        self.spent.typed += 1
        field.fill(words)

    @property
    def code(self) -> str:
        """What the last scan was answered."""
        return self.window.work.station.sessions[self.plant.station.place].context.before.verdict.code  # type: ignore[union-attr]  # something was scanned

    def form(self, kind: type[QWidget]) -> QWidget:
        return self.window.findChildren(kind)[-1]


def empty_plant() -> Plant:
    """The demo plant on its first day."""
    clock, printer = SetClock(NOW), NoPrinter()
    station = build_station(load(DEMO), MemoryJournal(), clock, DEMO_KEYS, printer)
    station.start("test")
    return Plant(station, clock, {}, DeskWork(station), printer)


@contextmanager
def shown(plant: Plant, qtbot: QtBot) -> Iterator[Hands]:
    window = StationWindow(plant.work, None)
    qtbot.addWidget(window)
    window.resize(1366, 768)
    window.show()
    yield Hands(plant, window)
    window.close()


@pytest.fixture
def hands(qtbot: QtBot) -> Iterator[Hands]:
    with shown(empty_plant(), qtbot) as found:
        yield found


@pytest.fixture
def mid(qtbot: QtBot) -> Iterator[Hands]:
    with shown(mid_shift(), qtbot) as found:
        yield found


def received(hands: Hands, count: int = 1) -> tuple[str, ...]:
    """Jars received from the form. The touch that opens it stands for a scan of the maker's label, which also fills
    in what they are; how many and how warm only a person can tell, so both are typed."""
    before = set(hands.plant.station.ledger.containers)
    hands.touch("receive")
    hands.spent = Spent(scans=1)
    form = hands.form(ReceiveDialog)
    assert isinstance(form, ReceiveDialog)
    expires = (hands.plant.station.floor().now + timedelta(days=120)).date()
    form.fill("SN-4", "JAR-500", "26-160", expires)
    for field, words in ((form.count, str(count)), (form.temperature.measured, "6")):
        hands.fill(field, words)
    hands.press(next(button for button in form.tight.buttons if button.action_model.id == TIGHT))
    hands.press(form.hand_in)
    new = sorted(set(hands.plant.station.ledger.containers) - before)
    assert len(new) == count
    return tuple(new)


def taken_out(hands: Hands, count: int = 1) -> tuple[str, ...]:
    """Jars out of the cold."""
    with hands.job("FRIDGE", 1, 2, 2):
        names = received(hands, count)
    for name in names:
        with hands.job("FRIDGE", 1):
            hands.identity(name)
            assert hands.code == "put-away"
    hands.plant.later(timedelta(minutes=11))
    for name in names:
        with hands.job("FRIDGE", 1):
            hands.identity(name)
            assert hands.code == "taken-out"
            assert hands.plant.printer.sent[-1].container == name
    return names


def at_line(hands: Hands, count: int = 1) -> tuple[str, ...]:
    """Ready jars, and line 1 set up for what they are for."""
    names = taken_out(hands, count)
    hands.plant.later(timedelta(hours=6))
    with hands.job("LINE1", 1):
        hands.scan("WO8836-CTRL")
        assert hands.code == "set-up"
    return names


def opened(hands: Hands, name: str) -> None:
    with hands.job("LINE1", 2):
        hands.time_label(name)
        assert hands.code == "opening-check"
        hands.card(Card.LOOKS_GOOD)
        assert hands.code == "use"


def test_receiving_a_lot_takes_two_confirmations_and_prints_a_label_for_each(hands: Hands) -> None:
    with hands.job("FRIDGE", 1, 2, 2):
        names = received(hands, 12)
    assert [label.container for label in hands.plant.printer.sent] == list(names)


def test_put_away_and_take_out_with_its_label_take_one_scan_each(hands: Hands) -> None:
    taken_out(hands, 3)


def test_pairing_a_new_label_takes_two_scans(hands: Hands) -> None:
    (jar,) = taken_out(hands)
    with hands.job("FRIDGE", 2):
        hands.identity(jar)
        hands.time_label(jar)
        assert hands.code == "labels-paired"


def test_a_check_at_the_printer_takes_one_scan(hands: Hands) -> None:
    (jar,) = taken_out(hands)
    with hands.job("LINE1", 1):
        hands.time_label(jar)
        assert hands.code == "no-work-order"
    with hands.job("LINE1", 1):
        hands.scan("WO8836-CTRL")
    with hands.job("LINE1", 1):
        hands.time_label(jar)
        assert hands.code == "conditioning"


def test_a_first_opening_takes_two_scans_or_one_and_a_touch(hands: Hands) -> None:
    one, other = at_line(hands, 2)
    opened(hands, one)
    with hands.job("LINE1", 1, 1):
        hands.time_label(other)
        hands.touch("card:LOOKS-GOOD")
        assert hands.code == "use"


def test_use_and_top_up_take_one_scan(hands: Hands) -> None:
    one, other = at_line(hands, 2)
    opened(hands, one)
    with hands.job("LINE1", 1):
        hands.time_label(one)
        assert hands.code == "use"
    opened(hands, other)
    for jar in (one, other):
        with hands.job("LINE1", 1):
            hands.time_label(jar)
            assert hands.code == "use"


def test_a_bead_is_carried_over_removed_and_cleaned_after_with_two_scans_each(hands: Hands) -> None:
    (jar,) = at_line(hands)
    opened(hands, jar)
    for card, code in (
        (Card.CARRY_OVER, "carried-over"),
        (Card.REMOVE, "removed"),
        (Card.CLEANED, "cleaned"),
    ):
        with hands.job("LINE1", 2):
            hands.tag("1")
            hands.card(card)
            assert hands.code == code


def test_an_empty_and_a_discarded_container_take_two_scans_each(hands: Hands) -> None:
    one, other = at_line(hands, 2)
    for name, card, code in ((one, Card.EMPTY, "emptied"), (other, Card.DISCARD, "discarded")):
        opened(hands, name)
        with hands.job("LINE1", 2):
            hands.time_label(name)
            hands.card(card)
            assert hands.code == code


def test_a_shift_lead_clears_an_alarm_with_badge_container_pin_and_reason(mid: Hands) -> None:
    """And touches what to clear, what became of it, and the end of the form."""
    floor = mid.plant.station.floor()
    alarm = next(found for found, _ in alarms.open_alarms(floor) if found.subject in floor.ledger.containers)
    with mid.job("DESK", 2, 3, 2):
        mid.scan(badge_text("P20"))
        mid.identity(alarm.subject)
        mid.touch(f"clear:{alarm.id}")
        form = mid.form(ClearDialog)
        assert isinstance(form, ClearDialog)
        assert form.badge.text == "P20"
        allowed = next(button for button in form.dispositions.buttons if button.isEnabled())
        mid.press(allowed)
        for field, words in ((form.pin, "2020"), (form.reason, "found behind the printer")):
            mid.fill(field, words)
        mid.press(form.hand_in)
    assert mid.plant.station.ledger.alarms[alarm.id].cleared_by == "P20"
