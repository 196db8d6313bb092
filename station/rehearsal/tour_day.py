"""One whole invented day: receive, put away, take out, wait, open, print, top up, pause, change over, overdue,
clear. A list of acts with the moments worth a picture; who plays it decides what a picture is.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta

from station.care import alarms
from station.care.due import next_due
from station.care.moments import NOTHING
from station.care.receiving import Arrival
from station.care.scans import BadgeScan, CardScan, ContainerScan, Scan, TagScan, WorkOrderScan
from station.care.words import Boards, Card, Disposition
from station.rehearsal.clock import SetClock
from station.services.outcome import Outcome
from station.services.station import Station

DAY = date(2026, 11, 24)
SECOND = timedelta(seconds=1)


@dataclass(frozen=True, slots=True)
class Act:
    """One thing somebody does. `picture` names the moment, where it is worth one."""

    at: datetime
    place: str
    what: str
    picture: str = ""
    name: str = ""
    scan: Scan | None = None
    arrival: Arrival | None = None
    clearing: tuple[str, Disposition, str] | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """What came of an act."""

    act: Act
    outcome: Outcome


class TourDay:
    """Plays the day on a station, act by act, ticking one second after everything that falls due on the way."""

    def __init__(self, station: Station, clock: SetClock) -> None:
        """`clock` must stand at `start_of_day` or before."""
        self.station = station
        self.clock = clock
        self.names: dict[str, str] = {}
        self.raised = 0

    def play(self, after_each: Callable[[Done], None]) -> None:
        """The whole day."""
        for act in day_acts(self._at):
            self._until(act.at)
            after_each(Done(act, self._do(act)))

    def _at(self, text: str) -> datetime:
        """A time of the day (`06:03:20`), or of a day before or after it (`-13 08:00`)."""
        days, _, clock = text.rpartition(" ")
        day = DAY + timedelta(days=int(days or 0))
        local = datetime.combine(day, time.fromisoformat(clock), tzinfo=self.station.site.zone)
        return local.astimezone(UTC)

    def _until(self, at: datetime) -> None:
        while (end := next_due(self.station.floor())) is not None and end + SECOND < at:
            self.clock.go_on(max(NOTHING, end + SECOND - self.clock.wall))
            if not self.station.tick().facts:
                break
        self.clock.go_on(max(NOTHING, at - self.clock.wall))

    def _do(self, act: Act) -> Outcome:
        if act.arrival is not None:
            self.names[act.name] = self.station.new_container()
            return self.station.receive([replace(act.arrival, container=self.names[act.name])], "P14")
        if act.clearing is not None:
            return self._clear(*act.clearing)
        if act.what == "acknowledge":
            ids = tuple(alarm.id for alarm, _ in alarms.open_alarms(self.station.floor()))
            return self.station.acknowledge(ids, "P12")
        scan = act.scan
        if isinstance(scan, ContainerScan):
            scan = ContainerScan(self.names[scan.container])
        self.station.place = act.place
        return self.station.scanned(scan, act.place) if scan is not None else self.station.tick()

    def _clear(self, subject: str, disposition: Disposition, reason: str) -> Outcome:
        name = self.names.get(subject, subject)
        alarm = next(found for found, _ in alarms.open_alarms(self.station.floor()) if found.subject == name)
        bead = disposition is Disposition.BEAD_OFF
        clearing = alarms.Clearing(
            alarm.id, disposition, reason, Boards.QUARANTINED if bead else None, "NC-4471" if bead else ""
        )
        return self.station.clear(clearing, "P20", "2020")


def day_acts(at: Callable[[str], datetime]) -> Iterator[Act]:
    """The acts in order of time."""
    yield from _delivery(at)
    yield from _night_shift(at)
    yield from _morning(at)
    yield from _noon(at)
    yield from _evening(at)


def _scan(at: datetime, place: str, name: str, picture: str = "") -> Act:
    return Act(at, place, f"scan {name}", picture, name, ContainerScan(name))


def _card(at: datetime, place: str, card: Card, picture: str = "") -> Act:
    return Act(at, place, f"card {card.value}", picture, scan=CardScan(card))


def _tag(at: datetime, place: str, position: str) -> Act:
    return Act(at, place, f"tag {position}", scan=TagScan(position))


def _order(at: datetime, place: str, order: str, product: str, picture: str = "") -> Act:
    return Act(at, place, f"work order {order}", picture, scan=WorkOrderScan(order, product))


def _arrival(at: datetime, name: str, paste: str, kind: str, lot: str, expires: date, warm_c: float = 9.0) -> Act:
    arrival = Arrival("", paste, kind, lot, expires, None, at - timedelta(minutes=20), warm_c, "measured", False)
    return Act(at, "FRIDGE", f"receive {name}", name=name, arrival=arrival)


def _delivery(at: Callable[[str], datetime]) -> Iterator[Act]:
    goods = (
        ("jar one", "SN-4", "JAR-500", "26-118", date(2027, 1, 12)),
        ("jar two", "SN-4", "JAR-500", "26-118", date(2027, 1, 12)),
        ("jar three", "SN-4", "JAR-500", "26-121", date(2027, 1, 30)),
        ("leaded", "PB-1", "JAR-500", "26-090", date(2026, 12, 18)),
        ("cartridge", "SN-4", "CARTRIDGE-600", "26-122", date(2027, 1, 30)),
        ("syringe", "BI-2", "SYRINGE-35", "26-130", date(2027, 2, 10)),
    )
    for number, (name, paste, kind, lot, expires) in enumerate(goods):
        yield _arrival(at(f"-8 09:0{number}"), name, paste, kind, lot, expires)
        yield _scan(at(f"-8 09:1{number}"), "FRIDGE", name)


def _night_shift(at: Callable[[str], datetime]) -> Iterator[Act]:
    yield Act(at("00:05"), "FRIDGE", "badge", scan=BadgeScan("P14"))
    yield Act(at("00:10"), "FRIDGE", "look around", picture="fridge-empty")
    yield _scan(at("01:00:20"), "FRIDGE", "jar one", "fridge-taken-out")
    yield _scan(at("01:02"), "FRIDGE", "leaded")
    yield _scan(at("01:03"), "FRIDGE", "cartridge")


def _morning(at: Callable[[str], datetime]) -> Iterator[Act]:
    yield Act(at("05:56"), "LINE1", "badge", scan=BadgeScan("P12"))
    yield _order(at("05:57"), "LINE1", "WO8836", "CTRL", "printer-set-up")
    yield _scan(at("06:00"), "LINE1", "jar one", "printer-open-and-look")
    yield _card(at("06:02:30"), "LINE1", Card.LOOKS_GOOD, "printer-use")
    yield _scan(at("06:30"), "FRIDGE", "jar two")
    yield _scan(at("06:30:05"), "FRIDGE", "jar two", "fridge-second-choice")
    yield _scan(at("07:10"), "LINE1", "jar two", "printer-wait")
    yield _scan(at("07:40"), "LINE1", "leaded", "printer-stop")
    yield _arrival(at("08:10"), "warm jar", "SN-4", "JAR-500", "26-150", date(2027, 5, 1), 39.0)
    yield _scan(at("08:14"), "FRIDGE", "warm jar", "fridge-hold-bin")
    yield _scan(at("09:20"), "FRIDGE", "jar one", "fridge-never-back")
    yield _scan(at("10:00"), "LINE1", "jar one")


def _noon(at: Callable[[str], datetime]) -> Iterator[Act]:
    yield _tag(at("11:29:55"), "LINE1", "1")
    yield _card(at("11:30"), "LINE1", Card.PAUSE)
    yield _tag(at("12:14:55"), "LINE1", "1")
    yield _card(at("12:15"), "LINE1", Card.RESUME, "printer-wipe-and-knead")
    yield _tag(at("12:59:55"), "LINE3", "3")
    yield _order(at("13:00"), "LINE3", "WO8841", "POWER")
    yield _scan(at("13:01"), "LINE3", "leaded")
    yield _card(at("13:03"), "LINE3", Card.LOOKS_GOOD, "printer-use-leaded")
    yield _order(at("13:30"), "LINE1", "WO8842", "CTRL", "printer-carry-over")
    yield _card(at("13:30:05"), "LINE1", Card.CARRY_OVER)
    yield Act(at("13:45"), "LINE1", "near its end", picture="printer-near")


def _evening(at: Callable[[str], datetime]) -> Iterator[Act]:
    yield Act(at("14:06"), "LINE1", "bead overdue", picture="printer-overdue")
    yield _scan(at("14:08"), "LINE1", "jar one", "printer-stop-bead-over")
    yield Act(at("14:09"), "LINE1", "acknowledge")
    yield _tag(at("14:24:55"), "LINE1", "1")
    yield _card(at("14:25"), "LINE1", Card.REMOVE)
    yield Act(at("14:30"), "DESK", "alarm open", picture="desk-alarm")
    clearing = ("1", Disposition.BEAD_OFF, "lead was at line 3; boards set aside")
    yield Act(at("14:40"), "DESK", "clear", picture="desk-cleared", clearing=clearing)
    yield _scan(at("14:45"), "LINE1", "jar one", "printer-new-bead")
    yield _scan(at("19:00"), "LINE1", "jar one")
    yield _card(at("19:00:05"), "LINE1", Card.EMPTY, "printer-empty")
    yield _tag(at("20:54:55"), "LINE1", "1")
    yield _card(at("20:55"), "LINE1", Card.REMOVE)
    yield _tag(at("20:59:55"), "LINE3", "3")
    yield _card(at("21:00"), "LINE3", Card.REMOVE)
    yield _tag(at("21:04:55"), "LINE3", "3")
    yield _card(at("21:05"), "LINE3", Card.CLEANED)
    yield _scan(at("1 13:05"), "DESK", "leaded", "desk-overdue-jar")
    discard = ("leaded", Disposition.DISCARDED, "past its open life, to the leaded waste")
    yield Act(at("1 13:10"), "DESK", "clear", picture="desk-clear-day", clearing=discard)
