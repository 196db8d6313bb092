"""Receiving at the screen: the form of a delivery, lot after lot, and what the station is told of it."""

from collections.abc import Callable, Iterator
from typing import cast

from PySide6.QtWidgets import QWidget

from station.care.answers import at_text
from station.care.delivery import Delivery
from station.care.delivery_correction import DeliveryCorrection, as_told, came_with, delivery_of
from station.care.delivery_rules import Box, Packs
from station.care.makers_label import MakersLabel
from station.care.makers_scan import named_by, received_before
from station.care.on_paper import numbers_on_paper
from station.care.receiving import Arrival, TemperatureAnswer
from station.services.delivery import put_delivery_right
from station.services.station import Proof
from station.ui.chosen_files import enclosed
from station.ui.desk_work import DeskWork
from station.ui.dialogs.arrival_temperature import Warmth
from station.ui.dialogs.correct_delivery_dialog import CorrectDeliveryDialog, CorrectDeliveryWord, RecordedDelivery
from station.ui.dialogs.delivery_dialog import DeliveryDialog, DeliveryWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.receive_dialog import KindOffer, PasteOffer, ReceiveDialog, ReceiveWord
from station.ui.forms import Forms
from station.ui.makers_fill import fill_in


class ReceiveForms:
    """Opens the form of a delivery and tells the station what was handed in."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "receive": lambda _rest: self.receive(),
            "correct-delivery": self._correct,
        }

    def receive(self) -> ReceiveDialog:
        """The form, empty but for the arrival."""
        floor = self._work.station.floor()
        on_paper = any(floor.container(name) is None for name in floor.ledger.reserved)
        dialog = ReceiveDialog(self._pastes(), floor.now, floor.zone, self._host, asks_numbers=on_paper)
        dialog.offered.connect(self._received)
        dialog.more_wanted.connect(lambda: self._more(dialog))
        return dialog

    def take_makers_label(self, dialog: ReceiveDialog, label: MakersLabel) -> None:
        """A maker's label was scanned while the form is open, or opened it."""
        floor = self._work.station.floor()
        fill_in(dialog, label, named_by(floor.plant, label), received_before(floor, label))

    def _more(self, dialog: ReceiveDialog) -> None:
        over = DeliveryDialog(dialog.about, self._host)

        def told(word: DeliveryWord) -> None:
            dialog.take_about(word)
            over.leave()

        over.offered.connect(told)
        self._forms.lay(over)

    def _correct(self, name: str) -> PaperDialog | None:
        """The delivery a container came with, to be put right by a shift lead."""
        floor = self._work.station.floor()
        container = floor.container(name)
        told = as_told(floor, delivery_of(floor, container)) if container is not None else None
        if told is None:
            return None
        _, delivery = told
        came = _named([one.spoken for one in came_with(floor, delivery.delivery)])
        recorded = RecordedDelivery(
            title=f"Delivery {delivery.delivery.replace('-', ' ')}",
            came=f"Arrived {at_text(floor, delivery.arrived_at)}. With it came {came}.",
            packs=Packs(delivery.packs),
            box=Box(delivery.box),
            warmth=Warmth(cast("TemperatureAnswer", delivery.temperature_answer), delivery.temperature_c),
        )
        dialog = CorrectDeliveryDialog(recorded, self._host, people=self._forms.people())
        dialog.offered.connect(lambda word: self._corrected(delivery.delivery, word))
        return dialog

    def _corrected(self, delivery: str, word: CorrectDeliveryWord) -> None:
        warmth = word.warmth
        told = DeliveryCorrection(
            delivery=delivery,
            reason=word.reason,
            box=word.box,
            packs=word.packs,
            temperature_answer=warmth.answer if warmth is not None else None,
            temperature_c=warmth.celsius if warmth is not None else None,
        )
        proof = Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(put_delivery_right(self._work.station, told, proof)))

    def _received(self, word: ReceiveWord) -> None:
        self._forms.tell(lambda: self._tell(word))

    def _tell(self, word: ReceiveWord) -> None:
        loggers = tuple(enclosed(path) for path in word.about.loggers)
        about = Delivery(
            id="",
            arrived_at=word.arrived_at,
            temperature_c=word.temperature_c,
            temperature_answer=word.temperature_answer,
            packs=word.about.packs,
            box=word.about.box,
            days_under_way=word.about.days_under_way,
            logger_in_box=word.about.logger_in_box,
        )
        arrivals = [arrival for lot in (*word.before, word) for arrival in self._arrivals(lot)]
        person = self._work.station.sessions[self._work.station.place].context.person
        self._work.receive(arrivals, person, about, loggers)

    def _arrivals(self, word: ReceiveWord) -> Iterator[Arrival]:
        station = self._work.station
        if word.on_paper:
            numbers = numbers_on_paper(station.floor(), word.on_paper, word.paste, word.count)
        else:
            numbers = tuple(station.new_container() for _ in range(word.count))
        leaking = (word.leaking_count or word.count) if word.leaking else 0
        for place, number in enumerate(numbers):
            yield Arrival(
                container=number,
                paste=word.paste,
                kind=word.kind,
                lot=word.lot,
                expires=word.expires,
                made=word.made,
                arrived_at=word.arrived_at,
                temperature_c=word.temperature_c,
                temperature_answer=word.temperature_answer,
                leaking=place < leaking,
                maker_serial=word.maker_serial,
                maker_said=word.maker_said,
            )

    def _pastes(self) -> tuple[PasteOffer, ...]:
        plant, ledger = self._work.station.floor().plant, self._work.station.ledger
        return tuple(
            PasteOffer(
                id=paste.id,
                title=paste.title,
                family=paste.alloy.value,
                leaded=paste.alloy.leaded,
                kinds=tuple(
                    KindOffer(kind.id, kind.title)
                    for kind in plant.kinds.values()
                    if ledger.specifications[paste.id].minimum_for(kind.id) is not None
                ),
                shelf_months=ledger.specifications[paste.id].shelf_months,
            )
            for paste in plant.pastes.values()
        )


def _named(spoken: list[str]) -> str:
    """`K1 017`, or `14 containers, K1 017 to K1 030`."""
    if len(spoken) < 2:
        return spoken[0] if spoken else "nothing that is still here"
    return f"{len(spoken)} containers, {min(spoken)} to {max(spoken)}"
