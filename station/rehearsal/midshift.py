"""A plant in mid-shift: an invented day and a half lived through on a set clock, up to a given minute.

When it ends there are containers in every state, one near its limit, one overdue and waiting for a shift lead,
and a bead that ends within two minutes. Everything went through the station like real work.
"""

from dataclasses import replace
from datetime import date, datetime, timedelta

from station.care.moments import minute_down
from station.care.receiving import Arrival
from station.care.scans import BadgeScan, CardScan, ContainerScan, Scan, TagScan, WorkOrderScan
from station.care.words import Card
from station.rehearsal.clock import SetClock
from station.services.outcome import Outcome
from station.services.station import Station

CARDS_APART = timedelta(seconds=4)


def hours(count: float) -> timedelta:
    """So many hours."""
    return timedelta(hours=count)


class MidShift:
    """Lives the day. `names` maps the day's own short names to container numbers."""

    def __init__(self, station: Station, clock: SetClock, now: datetime) -> None:
        """`station` was just started on `clock`, which must not be later than 15 days before `now`."""
        self.station = station
        self.clock = clock
        self.end = minute_down(now)
        self.names: dict[str, str] = {}
        self._acts: list[tuple[timedelta, int, tuple[str, str, Scan | Arrival]]] = []

    def live(self) -> None:
        """Everything up to the given minute, in order of time."""
        self._deliveries()
        self._yesterday()
        self._today()
        for before, _, (place, name, act) in sorted(self._acts, key=lambda entry: (-entry[0], entry[1])):
            self._until(self.end - before)
            if isinstance(act, Arrival):
                self._receive(name, act)
            else:
                self._scan(place, act if not isinstance(act, ContainerScan) else ContainerScan(self.names[name]))
        self._until(self.end)

    # ------------------------------------------------------------------ the day, in hours before now

    def _deliveries(self) -> None:
        old, fresh = 13 * 24.0, 5 * 24.0
        for name, paste, kind, lot, days in (
            ("a1", "SN-4", "JAR-500", "26-118", 96),
            ("a2", "SN-4", "JAR-500", "26-118", 96),
            ("a3", "SN-4", "JAR-500", "26-118", 96),
            ("a4", "SN-4", "JAR-500", "26-121", 110),
            ("a5", "SN-4", "JAR-500", "26-121", 110),
            ("a6", "SN-4", "JAR-500", "26-121", 110),
            ("c1", "SN-4", "CARTRIDGE-600", "26-122", 120),
            ("c2", "SN-4", "CARTRIDGE-600", "26-122", 120),
            ("p1", "PB-1", "JAR-500", "26-090", 60),
            ("p2", "PB-1", "JAR-500", "26-090", 12),
        ):
            self._arrives(name, paste, kind, lot, days, old)
        for name, paste, kind, lot, days in (
            ("b1", "BI-2", "SYRINGE-35", "26-130", 80),
            ("b2", "BI-2", "SYRINGE-35", "26-130", 80),
            ("s1", "SN-6", "JAR-500", "26-133", 150),
            ("s2", "SN-6", "JAR-500", "26-133", 150),
        ):
            self._arrives(name, paste, kind, lot, days, fresh)
        self._arrives("r1", "RT-3", "JAR-500", "26-140", 200, fresh, shelf="SHELF")
        self._plan(0.9, "FRIDGE", "n1", self._arrival("SN-4", "JAR-500", "26-150", 170, 1.2))

    def _yesterday(self) -> None:
        self._order(25.2, "LINE1", "1", "WO8829", "CTRL")
        self._take_out(28.6, "a1")
        self._first_use(24.3, "LINE1", "1", "a1")
        self._tag_card(17.0, "LINE1", "1", Card.REMOVE)
        self._take_out(28.0, "p1")
        self._order(22.6, "LINE2", "2A", "WO8834", "POWER")
        self._first_use(22.4, "LINE2", "2A", "p1")
        self._tag_card(15.0, "LINE2", "2A", Card.REMOVE)
        self._take_out(20.0, "s1")

    def _today(self) -> None:
        self._badge(9.0, "LINE1", "P12")
        self._badge(8.9, "FRIDGE", "P14")
        self._badge(8.9, "LINE2", "P17")
        self._take_out(14.0, "a2")
        self._order(8.1, "LINE1", "1", "WO8836", "CTRL")
        self._first_use(8 - 1.6 / 60, "LINE1", "1", "a2")
        self._scan_container(4.0, "LINE1", "a2")
        self._order(3.1, "LINE2", "2A", "WO8841", "POWER")
        self._tagged(3.0, "LINE2", "2A", "p1")
        self._take_out(6.5, "a3")
        self._take_out(7.4, "a5")
        self._tagged(2.1, "LINE1", "1", "a5")
        self._plan(2.08, "LINE1", "a5", CardScan(Card.LOOKS_BAD))
        self._take_out(1.6, "c1")
        self._take_out(0.3, "a4")
        self._take_out(6.0, "b1")
        self._order(2.6, "LINE3", "3", "WO8843", "FLEX")
        self._first_use(2.5, "LINE3", "3", "b1")
        self._card_on(1.0, "LINE3", "b1", Card.EMPTY)
        self._take_out(2.2, "b2")
        self._order(0.8, "DOTS", "D1", "WO8843", "FLEX")
        self._first_use(0.7, "DOTS", "D1", "b2")

    # ------------------------------------------------------------------ how things are done

    def _plan(self, before: float, place: str, name: str, act: Scan | Arrival) -> None:
        self._acts.append((hours(before), len(self._acts), (place, name, act)))

    def _arrival(self, paste: str, kind: str, lot: str, days: int, before: float) -> Arrival:
        return Arrival(
            container="",
            paste=paste,
            kind=kind,
            lot=lot,
            expires=self._day(days),
            made=None,
            arrived_at=self.end - hours(before),
            temperature_c=9.0,
            temperature_answer="measured",
            leaking=False,
        )

    def _day(self, days: int) -> date:
        return (self.end + timedelta(days=days)).astimezone(self.station.site.zone).date()

    def _arrives(
        self, name: str, paste: str, kind: str, lot: str, days: int, before: float, shelf: str = "FRIDGE"
    ) -> None:
        self._plan(before, "FRIDGE", name, self._arrival(paste, kind, lot, days, before + 0.5))
        self._plan(before - 0.1, shelf, name, ContainerScan(name))

    def _take_out(self, before: float, name: str) -> None:
        self._plan(before, "FRIDGE", name, ContainerScan(name))

    def _first_use(self, before: float, place: str, position: str, name: str) -> None:
        """Open it, answer the check, and the bead starts `before` hours ago."""
        check = before + 2.5 / 60
        self._plan(check + 4 / 3600, place, name, TagScan(position))
        self._plan(check, place, name, ContainerScan(name))
        self._plan(before, place, name, CardScan(Card.LOOKS_GOOD))

    def _tagged(self, before: float, place: str, position: str, name: str) -> None:
        self._plan(before + 4 / 3600, place, name, TagScan(position))
        self._plan(before, place, name, ContainerScan(name))

    def _scan_container(self, before: float, place: str, name: str) -> None:
        self._plan(before, place, name, ContainerScan(name))

    def _tag_card(self, before: float, place: str, position: str, card: Card) -> None:
        self._plan(before + 4 / 3600, place, "", TagScan(position))
        self._plan(before, place, "", CardScan(card))

    def _card_on(self, before: float, place: str, name: str, card: Card) -> None:
        self._plan(before + 4 / 3600, place, name, ContainerScan(name))
        self._plan(before, place, name, CardScan(card))

    def _order(self, before: float, place: str, position: str, order: str, product: str) -> None:
        self._plan(before + 4 / 3600, place, "", TagScan(position))
        self._plan(before, place, "", WorkOrderScan(order, product))

    def _badge(self, before: float, place: str, person: str) -> None:
        self._plan(before, place, "", BadgeScan(person))

    # ------------------------------------------------------------------ doing it

    def _until(self, at: datetime) -> None:
        self.clock.go_on(max(timedelta(0), at - self.clock.wall))
        self.station.tick()

    def _receive(self, name: str, arrival: Arrival) -> None:
        number = self.station.new_container()
        self.names[name] = number
        self.station.receive([replace(arrival, container=number)], None)

    def _scan(self, place: str, scan: Scan) -> Outcome:
        outcome = self.station.scanned(scan, place)
        if outcome.verdict is not None and outcome.verdict.code == "better-choice":
            self.clock.go_on(CARDS_APART)  # the person was told of a better one and insists
            outcome = self.station.scanned(scan, place)
        return outcome
