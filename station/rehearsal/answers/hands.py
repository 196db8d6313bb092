"""Hands that do what a short script says on a station of the imagined plant, up to one fixed moment.

A line of a script is `BEFORE PLACE CODE...`: so long before the moment (`1h30m`) these codes are scanned at that
place, one a second. A code is a container by its alias, a card by its name, `tag:1`, `badge:OPERATOR`, `order:BOARD-A`,
or `seen:K9-007`, a usable label of a container this station has no record of. `DECANT=it` and `KEEP-USED=it` name
what the card fills. A code that must be answered STOP or WAIT ends with `?`; any other must not. A line
`BEFORE !act ...` is something done without a scan.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache

from station.care import alarms
from station.care.due import next_due
from station.care.facts import ClockCompared
from station.care.floor import Floor
from station.care.late import Late
from station.care.makers_label import Carrier, MakersLabel
from station.care.moments import NOTHING
from station.care.receiving import Arrival
from station.care.scans import (
    BadgeScan,
    BinScan,
    CardScan,
    ContainerScan,
    MakersLabelScan,
    Scan,
    SeenLabel,
    StoreScan,
    TagScan,
    WorkOrderScan,
)
from station.care.specification import Rules
from station.care.state import Container
from station.care.verdict import Verdict
from station.care.words import Card, Disposition, Role, Storage, Word
from station.labels.content import LabelContent
from station.rehearsal import store_logs
from station.rehearsal.answers.copies import Desk
from station.rehearsal.answers.plant import KEYS, LEAD, LEFT, PASTES, PIN, RULES, SAME, site_under
from station.rehearsal.clock import SetClock
from station.services import lead_acts
from station.services.counting import begin_count
from station.services.memory import MemoryJournal
from station.services.ports import Draft
from station.services.site import Person
from station.services.station import Proof, Station

NOW = datetime(2027, 3, 10, 12, tzinfo=UTC)
START = NOW - timedelta(days=30)
SECOND = timedelta(seconds=1)
HOUR = timedelta(hours=1)
PROOF = Proof(LEAD, PIN)
OTHER_JOURNAL = 2
ARRIVES_C = {Storage.COLD: 8.0, Storage.FROZEN: -18.0, Storage.ROOM: 22.0}
UNITS = {"d": timedelta(days=1), "h": HOUR, "m": timedelta(minutes=1), "s": SECOND}
Told = dict[str, str]


class ScriptBroken(Exception):
    """A script is answered in another way than it was written for."""


class NoPaper:
    """Labels of the table are made up and go nowhere."""

    name = "decision table"

    def send(self, content: LabelContent) -> str:
        """Take the label."""
        return content.paste


def length(text: str) -> timedelta:
    """`1d2h30m` as a time."""
    return sum((int(count) * UNITS[unit] for count, unit in re.findall(r"(\d+)([dhms])", text)), NOTHING)


def instant(line: str) -> datetime:
    """When a line of a script is done."""
    return NOW - length(line.split(maxsplit=1)[0])


def true_label(
    ready: timedelta = -6 * HOUR, end: timedelta = 48 * HOUR, paste: int = PASTES[SAME].number, *, used: bool = False
) -> SeenLabel:
    """A true label of a container with no record here, ready and over so long after the moment."""
    start = NOW + ready - 4 * HOUR
    return SeenLabel(1, start, NOW + ready, NOW + end, 24 * HOUR, paste, leaded=False, used_paste=used)


def own_label(container: Container | None, number: int) -> SeenLabel:
    """A true time label of a container, with the thaw-start that is on record here, if it is."""
    label = replace(true_label(), print_number=number)
    out = container.out_from if container is not None else None
    return label if out is None else replace(label, thaw_start=out)


@cache
def _beginning(rules: Rules, number: int) -> Desk:
    """A station that was started long ago, and where somebody who worked here has left."""
    site, journal, clock = replace(site_under(rules), station=number), MemoryJournal(number), SetClock(START)
    gone = Person(LEFT, "Left", (Role.OPERATOR,), None)
    for people in ((*site.people, gone), site.people):
        with_them = replace(site, people=people)
        station = Station(with_them, journal, clock, KEYS, NoPaper(), frozenset({number}))
        station.start("table")
    return Desk(station, clock, journal)


class Hands:
    """One station, its clock, and what the script calls its containers."""

    def __init__(self, rules: Rules = RULES, *, number: int = 1, ahead: timedelta = NOTHING) -> None:
        """A station that was started long ago under these rules, its clock `ahead` of the true time."""
        self._sit_down(_beginning(rules, number), {})
        self.clock.go_on(ahead)

    def _sit_down(self, desk: Desk, aliases: dict[str, str]) -> None:
        """Take a copy of this station."""
        copy = desk.copy()
        self.station, self.clock, self.journal = copy.station, copy.clock, copy.journal
        self.aliases = dict(aliases)

    def copy(self, at: datetime) -> "Hands":
        """A station of its own with the same record, at a moment not before this one's."""
        other = object.__new__(Hands)
        other._sit_down(Desk(self.station, self.clock, self.journal), self.aliases)
        other.clock.go_on(at - self.clock.wall)
        return other

    def floor_at(self, at: datetime) -> Floor:
        """The plant as it stands, looked at a little later."""
        return Floor(self.station.site.plant, self.station.ledger, at, self.station.site.zone)

    def name(self, alias: str) -> str:
        """The number of the container a script calls so."""
        return self.aliases.get(alias, alias)

    # ------------------------------------------------------------------ playing

    def play(self, lines: Iterable[str]) -> "Hands":
        """Every line at its time, then on to the moment itself."""
        for line in sorted(lines, key=instant):
            self.until(instant(line))
            _, where, *codes = line.split()
            if where.startswith("!"):
                ACTS[where[1:]](self, codes)
            else:
                self._scan_all(where, codes)
        self.until(NOW)
        return self

    def until(self, at: datetime) -> None:
        """Let time pass, with a tick a second after everything that falls due on the way."""
        while (end := next_due(self.station.floor())) is not None and self.clock.wall <= end + SECOND < at:
            self.clock.go_on(end + SECOND - self.clock.wall)
            if not self.station.tick().facts:
                break
        self.clock.go_on(max(NOTHING, at - self.clock.wall))
        self.station.tick()

    def _scan_all(self, place: str, codes: list[str]) -> None:
        for place_in_line, code in enumerate(codes):
            if place_in_line:
                self.clock.go_on(SECOND)
            text, _, alias = code.rstrip("?").partition("=")
            verdict = self.station.scanned(self.scan(text), place).verdict
            if verdict is None or _refuses(verdict) is not code.endswith("?"):
                raise ScriptBroken(f"{code} at {place} is answered {verdict}, so the state is not what it is called.")
            if alias and verdict.container is not None:
                self.aliases[alias] = verdict.container

    def scan(self, code: str) -> Scan:
        """What a code of a script is, read."""
        kind, _, told = code.partition(":")
        if told:
            return SCANS[kind](told)
        return CardScan(Card(code)) if code in tuple(Card) else ContainerScan(self.name(code))

    def meet(self, other: "Hands", about: str = "") -> None:
        """Hear what another station has written: everything, or only what is about one container."""
        told = other.station.ledger.history("container", about) if about else other.journal.facts()
        self.station.learn(self.journal.take(told))

    def compare_clocks(self, ahead: timedelta) -> None:
        """Find the other station's clock ahead of this one's."""
        told, segment = ClockCompared(f"{OTHER_JOURNAL:016x}", ahead), next(self.journal.facts()).segment
        self.station.learn(self.journal.append([Draft(told, NOW, self.station.site.station, None, segment)]))


def _refuses(verdict: Verdict) -> bool:
    return verdict.word in (Word.STOP, Word.WAIT) and verdict.code != "look"


SCANS: dict[str, Callable[[str], Scan]] = {
    "tag": TagScan,
    "bin": BinScan,
    "store": StoreScan,
    "badge": BadgeScan,
    "order": lambda product: WorkOrderScan(f"WO-{product[-1]}", product),
    "maker": lambda lot: MakersLabelScan(MakersLabel(Carrier.ENVELOPE, lot, lot=lot, expires=date(2027, 2, 28))),
    "seen": lambda container: ContainerScan(container, true_label()),
}


def _told(words: Iterable[str]) -> Told:
    pairs = (word.partition("=") for word in words)
    return {key: value for key, _, value in pairs}


def _receive(hands: Hands, words: list[str]) -> None:
    alias, told = words[0], _told(words[1:])
    paste = told.get("paste", SAME)
    temperature = float(told["temp"]) if "temp" in told else ARRIVES_C[PASTES[paste].storage]
    tripped = "tripped" in told
    arrival = Arrival(
        container=hands.station.new_container(),
        paste=paste,
        kind=told.get("kind", "JAR"),
        lot=told.get("lot", "L1"),
        expires=(NOW + timedelta(days=int(told.get("expires", "90")))).date(),
        made=None,
        arrived_at=hands.clock.wall,
        temperature_c=None if tripped else temperature,
        temperature_answer="indicator tripped" if tripped else "measured",
        leaking="leaking" in told,
    )
    hands.aliases[alias] = arrival.container
    hands.station.receive([arrival], None)


def _room(hands: Hands, words: list[str]) -> None:
    hands.station.read_room(float(words[0]), float(words[1]), None)


def _hold_lot(hands: Hands, words: list[str]) -> None:
    lead_acts.hold_lot(hands.station, SAME, words[0], "recall", PROOF)


def _store_warm(hands: Hands, words: list[str]) -> None:
    """The logger of a store is read out: it was too warm for the last half hour."""
    begun = (hands.clock.wall - timedelta(minutes=30)).astimezone(hands.station.site.zone)
    told = {"store": words[0], "from": begun.replace(tzinfo=None).isoformat(), "step": 5, "celsius": [[20, 7]]}
    store_logs.readings(hands.station, told)


def _count(hands: Hands, words: list[str]) -> None:
    begin_count(hands.station, words[0])


def _late(hands: Hands, words: list[str]) -> None:
    earliest, latest = (NOW - length(word) for word in words[1:])
    lead_acts.take_out_late(hands.station, Late(hands.name(words[0]), earliest, latest, "seen on the bench"), PROOF)


def _swap(hands: Hands, words: list[str]) -> None:
    """The identity label of one is scanned with the time label of the other."""
    place, identity, labelled = words[0], hands.name(words[1]), hands.name(words[2])
    hands.station.scanned(ContainerScan(identity), place)
    label = own_label(hands.station.ledger.containers[labelled], true_label().print_number)
    hands.station.scanned(ContainerScan(labelled, label), place)


def _clear(hands: Hands, words: list[str]) -> None:
    name, disposition = hands.name(words[0]), Disposition(" ".join(words[1:]))
    found = next(alarm for alarm, _ in alarms.open_alarms(hands.station.floor()) if alarm.subject == name)
    hands.station.clear(alarms.Clearing(found.id, disposition, "judged at the bench"), LEAD, PIN)


def _release(hands: Hands, words: list[str]) -> None:
    name = hands.name(words[0])
    for hold in hands.station.ledger.containers[name].holds:
        hands.station.release(name, hold.key, "judged good", LEAD, PIN)


def _step_clock(hands: Hands, words: list[str]) -> None:
    hands.clock.step(length(words[0]))
    hands.station.tick()


ACTS: dict[str, Callable[[Hands, list[str]], None]] = {
    "receive": _receive,
    "room": _room,
    "hold-lot": _hold_lot,
    "store-warm": _store_warm,
    "count": _count,
    "late": _late,
    "clear": _clear,
    "swapped": _swap,
    "release": _release,
    "clock": _step_clock,
}
