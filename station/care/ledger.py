"""The live picture: every fact so far, added up subject by subject.

The same facts give the same picture in whatever order they are delivered: each subject keeps its own facts in
fold order and is added up again when one arrives late or is undone. The ledger is the only thing in the rules
that changes; everything it hands out is frozen.
"""

from bisect import insort
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import Any

from station.care import facts as f
from station.care.clock_book import ClockBook
from station.care.clock_story import Order, OtherClock, is_clock_fact
from station.care.cold_readings_record import ColdRecord
from station.care.counting_fold import Count, count_step
from station.care.entries import Entry, container_of, from_its_beginning
from station.care.fold_alarm import alarm_step
from station.care.fold_cold import taken_back as out_till_taken_back
from station.care.fold_container import begins, container_step
from station.care.fold_lot import lot_name, lot_step
from station.care.fold_person import person_step
from station.care.fold_position import position_step
from station.care.limits import earliest_of_each, moves, running_limits
from station.care.re_dating import bead_re_dated, re_dated
from station.care.rulebook import Rulebook
from station.care.specification import Specification
from station.care.state import (
    Alarm,
    ClockTrust,
    Container,
    Figures,
    Hold,
    Lot,
    PositionState,
    RoomAir,
    Somebody,
)
from station.care.words import Limit

Subject = tuple[str, str]
KINDS = ("container", "position", "alarm", "person", "lot", "count")
PHYSICAL = ("container", "position")
NEVER_WRITTEN = 10**15
"""No journal has so many facts."""


def subjects(body: f.Body) -> tuple[Subject, ...]:
    """What a fact is about: (kind, id) of each container, position, alarm or person it names."""
    named = ((kind, getattr(body, kind, None)) for kind in KINDS if not (kind == "lot" and hasattr(body, "container")))
    sources = (("container", name) for name in getattr(body, "sources", ()))
    return (*((kind, name) for kind, name in named if isinstance(name, str)), *sources)


def _once(holds: tuple[Hold, ...]) -> tuple[Hold, ...]:
    """Each hold once, though two sources may have it of one lot."""
    return tuple({hold.key: hold for hold in holds}.values())


def _twin(value: object) -> object:
    """What stands in a ledger, apart from it: tables and lists are copied, what they hold is never changed in place."""
    if isinstance(value, ClockBook | ColdRecord | Rulebook):
        return value.copied()
    return value.copy() if isinstance(value, dict | list) else value


class Ledger:
    """Adds facts up. `apply` takes each fact once and returns the subjects it changed."""

    def __init__(self, own: frozenset[int] | None = None) -> None:
        """An empty plant: nothing received, nobody known.

        `own` are the journals this station's clock dated (its own and those it continues); None for all of them.
        What happened to other stations' clocks puts none of its own readiness in doubt.
        """
        self._own = own
        self.containers: dict[str, Container] = {}
        self.positions: dict[str, PositionState] = {}
        self.alarms: dict[str, Alarm] = {}
        self.people: dict[str, Somebody] = {}
        self.seeded: dict[str, f.PersonSet] = {}  # the people as the settings last had them
        self.lots: dict[str, Lot] = {}
        self.counts: dict[str, Count] = {}
        self.cold = ColdRecord()  # what was read of the stores
        self.imported: dict[str, f.Fact] = {}  # files of stock taken in, by digest
        self.attached: dict[str, tuple[f.Fact, ...]] = {}  # files and notes by what they are about, in fold order
        self.figures: dict[str, Figures] = {}
        self.rulebook = Rulebook()  # specifications and the pastes of products
        self.clock = ClockTrust()
        self.clocks = ClockBook()  # of every station
        self.room: RoomAir | None = None
        self.rooms: list[RoomAir] = []
        self.scanners: dict[int, f.ScannerSetUp] = {}  # by station: how its PC writes what a scanner means
        self.reactions: dict[tuple[Limit, bool], str] = {}  # what to do at alarms, by limit and whether at a line
        self.reserved: dict[str, str] = {}  # the paste of the sheet a number stands on, by number
        self.restored: f.Fact | None = None  # the start at which this station went on from a backup last
        self.latest_at: datetime | None = None
        self.tick = 0
        self._histories: dict[Subject, list[Entry]] = {}
        self._by_key: dict[str, f.Fact] = {}
        self._mine: set[Subject] = set()  # whose histories no other ledger has
        self._undone: dict[str, tuple[f.Fact, ...]] = {}
        self._loaded_on: dict[str, frozenset[str]] = {}
        self._reach: dict[Subject, frozenset[str]] = {}
        self._plant_order: dict[str, Order] = {}
        self._clock_set: Order = (0, 0, 0)

    @property
    def specifications(self) -> dict[str, Specification]:
        """The specification in force for each paste."""
        return self.rulebook.specifications

    @property
    def versions(self) -> dict[tuple[str, int], Specification]:
        """Every version that was ever put in force, by paste and number."""
        return self.rulebook.versions

    def history(self, kind: str, name: str) -> tuple[f.Fact, ...]:
        """Every fact about one subject in fold order, undone ones included."""
        return tuple(entry.fact for entry in self._histories.get((kind, name), ()))

    def copied(self) -> "Ledger":
        """A ledger of its own with all that this one has heard; what either is told from now on, the other is not.

        Of a million facts it is made between two pictures of the screen: histories are lent, and whoever has to add to
        one makes its own first.
        """
        twin = Ledger(self._own)
        for name, value in vars(self).items():
            setattr(twin, name, _twin(value))
        self._mine, twin._mine = set(), set()
        return twin

    def imagined(self, bodies: Iterable[f.Body], at: datetime) -> "Ledger":
        """A ledger of its own in which this station has said these too, at an instant; nothing is recorded."""
        twin, journal = self.copied(), min(self._own or {0})
        for place, body in enumerate(bodies, start=1):
            segment = f.Segment("imagined", 0)
            twin.apply(f.Fact(journal, NEVER_WRITTEN + place, self.tick + place, at, 0, None, segment, body))
        return twin

    def facts(self) -> tuple[f.Fact, ...]:
        """Every fact, in the order they were told here."""
        return tuple(self._by_key.values())

    def fact(self, key: str) -> f.Fact | None:
        """The fact of a key, if it is known here."""
        return self._by_key.get(key)

    def other_clocks(self, keys: Iterable[str]) -> tuple[OtherClock, ...]:
        """The clocks of other stations that dated these facts."""
        facts = (self._by_key[key] for key in keys)
        return tuple(self.clocks.other(fact) for fact in facts if not self.is_own(fact))

    def in_force_since(self, specification: Specification) -> Order | None:
        """Where in the order a specification came into force; None for one that is not in force."""
        return self.rulebook.in_force_since(specification)

    def in_force_from(self, paste: str, key: str) -> tuple[Specification, ...]:
        """The version of a paste's specification in force at a fact, and every newer one since."""
        return self.rulebook.in_force_from(paste, self.order_of(key))

    def is_undone(self, key: str) -> bool:
        """Whether a fact was taken back."""
        return key in self._undone

    def apply(self, fact: f.Fact) -> tuple[Subject, ...]:
        """Add one fact; a fact already known changes nothing."""
        if fact.key in self._by_key:
            return ()
        self._by_key[fact.key] = fact
        self.tick = max(self.tick, fact.tick)
        self._note_plant(fact)
        touched = self._touched(fact)
        for subject in touched:
            self._add(subject, fact)
        self._note_clock(fact)
        for taken_back in self._undone.get(fact.key, ()):
            for subject in touched:
                self._add(subject, taken_back)
        if isinstance(fact.body, f.Loaded | f.Mounted):
            self._mind_the_end(fact.body)
        return (*touched, *self._reached(touched))

    # ------------------------------------------------------------------ what a fact touches

    def _touched(self, fact: f.Fact) -> tuple[Subject, ...]:
        body = fact.body
        if isinstance(body, f.Undone):
            self._undone[body.fact] = (*self._undone.get(body.fact, ()), fact)
            target = self._by_key.get(body.fact)
            return self._about(target.body) if target is not None else ()
        if isinstance(body, f.ClockConfirmed):
            return tuple(subject for subject in self._histories if subject[0] in PHYSICAL)
        return self._about(body)

    def _about(self, body: f.Body) -> tuple[Subject, ...]:
        if isinstance(body, f.Ended):  # an empty jar feeds no bead any more
            fed = sorted(self._loaded_on.get(body.container, ()))
            return (*subjects(body), *(("position", name) for name in fed))
        return subjects(body)

    def _mind_the_end(self, body: f.Loaded | f.Mounted) -> None:
        """A position that hears of a container for the first time must know of its end, told before or after."""
        positions = self._loaded_on.get(body.container, frozenset())
        if body.position in positions:
            return
        self._loaded_on[body.container] = positions | {body.position}
        for told in self.history("container", body.container):
            if isinstance(told.body, f.Ended):
                self._add(("position", body.position), told)
                for taken_back in self._undone.get(told.key, ()):
                    self._add(("position", body.position), taken_back)

    # ------------------------------------------------------------------ adding up

    def _add(self, subject: Subject, fact: f.Fact) -> None:
        if subject not in self._histories:
            started = [Entry(told.order, told) for told in self.clocks.settled()] if subject[0] in PHYSICAL else []
            self._histories[subject] = started
            self._mine.add(subject)
        elif subject not in self._mine:
            self._histories[subject] = self._histories[subject].copy()
            self._mine.add(subject)
        entries = self._histories[subject]
        entry = Entry(fact.order, fact)
        begun = begins(fact.body) and subject[1] == container_of(fact)
        late = bool(entries) and (entry < entries[-1] or begun)
        insort(entries, entry)
        if late or isinstance(fact.body, f.Undone) or fact.key in self._undone:
            self._refold(subject)
        else:
            self._step(subject, fact)

    def added_up_again(self) -> tuple[Subject, ...]:
        """Add every subject up anew from all its facts; those that come out otherwise, of which there must be none."""
        before = {kind: dict(table) for kind, table in self._tables().items()}
        self._refold_all(self._histories)
        after = self._tables()
        return tuple((kind, name) for kind, name in self._histories if before[kind].get(name) != after[kind].get(name))

    def _tables(self) -> dict[str, dict[str, Any]]:
        return {
            "container": self.containers,
            "position": self.positions,
            "alarm": self.alarms,
            "person": self.people,
            "lot": self.lots,
            "count": self.counts,
        }

    def _refold(self, subject: Subject) -> None:
        self._tables()[subject[0]].pop(subject[1], None)
        standing = [entry.fact for entry in self._histories[subject] if entry.fact.key not in self._undone]
        for fact in from_its_beginning(subject, standing):
            self._step(subject, fact)

    def _step(self, subject: Subject, fact: f.Fact) -> None:
        kind, name = subject
        if kind == "container":
            known = self.containers.get(name)
            if known is None and container_of(fact) != name:
                return  # named as what another one was filled from, before anybody's receipt of it
            container = self._container_step(known, fact)
            if container is not None:
                self.containers[name] = container
                self._look_around(name)
        elif kind == "position":
            self.positions[name] = self._position_step(self.positions.get(name), fact, name)
        elif kind == "alarm":
            alarm = alarm_step(self.alarms.get(name), fact)
            if alarm is not None:
                self.alarms[name] = alarm
        elif kind == "lot":
            self.lots[name] = lot_step(self.lots.get(name), fact, name)
        elif kind == "count":
            count = count_step(self.counts.get(name), fact)
            if count is not None:
                self.counts[name] = count
        else:
            person = person_step(self.people.get(name), fact)
            if person is not None:
                self.people[name] = person

    # ------------------------------------------------------------------ what reaches a container from elsewhere

    def _look_around(self, name: str) -> None:
        """Fill in what a container has from its lot and from the containers its paste came out of."""
        container = self.containers[name]
        lot_id = lot_name(container.paste, container.lot)
        for origin in (("lot", lot_id), *(("container", source) for source in container.sources)):
            reached = self._reach.get(origin, frozenset())
            if name not in reached:
                self._reach[origin] = reached | {name}
        lot = self.lots.get(lot_id, Lot(lot_id))
        sources = [self.containers[source] for source in container.sources if source in self.containers]
        around: dict[str, Any] = {
            "inherited": earliest_of_each(running for source in sources for running in running_limits(source)),
            "outside_holds": _once((*lot.holds, *(hold for source in sources for hold in source.all_holds))),
            "moved_outside": tuple(dict.fromkeys(move for source in sources for move in moves(source))),
            "recertified_end": lot.recertified_end,
        }
        if any(getattr(container, part) != value for part, value in around.items()):  # seldom, and a copy is dear
            self.containers[name] = replace(container, **around)

    def _reached(self, touched: Iterable[Subject]) -> tuple[Subject, ...]:
        """The containers that stand otherwise because of something else that changed, and those filled from them."""
        found: list[Subject] = []
        waiting = list(touched)
        while waiting:
            origin = waiting.pop(0)
            for name in sorted(self._reach.get(origin, ())):
                before = self.containers.get(name)
                if before is None:
                    continue
                self._look_around(name)
                if self.containers[name] != before:
                    found.append(("container", name))
                    waiting.append(("container", name))
        return tuple(dict.fromkeys(subject for subject in found if subject not in touched))

    def _container_step(self, container: Container | None, fact: f.Fact) -> Container | None:
        undone = self._by_key.get(fact.body.fact) if isinstance(fact.body, f.Undone) else None
        if container is not None and undone is not None:
            container = out_till_taken_back(container, fact, undone)
        if container is None or not isinstance(fact.body, f.ClockConfirmed):
            return container_step(container, fact)
        return re_dated(container, fact.body, self.clocks.drift(fact), self._by_key.__getitem__)

    def _position_step(self, position: PositionState | None, fact: f.Fact, name: str) -> PositionState:
        if position is None or position.bead is None or not isinstance(fact.body, f.ClockConfirmed):
            return position_step(position, fact, name)
        return bead_re_dated(position, position.bead, self.clocks.drift(fact), self.order_of)

    def order_of(self, key: str) -> Order:
        """Where in the order a fact stands that is known here."""
        return self._by_key[key].order

    # ------------------------------------------------------------------ the plant as a whole

    def _note_plant(self, fact: f.Fact) -> None:
        body = fact.body
        self.rulebook.note(fact, own=self.is_own(fact))
        if isinstance(body, f.RoomRead):
            air = RoomAir(body.temperature_c, body.humidity, fact.at, body.repeated)
            insort(self.rooms, air, key=lambda read: (read.read_at, read.temperature_c, read.humidity))
            if self._newest("", fact):
                self.room = air
        if isinstance(body, f.ScannerSetUp) and self._newest(f"scanner {fact.station}", fact):
            self.scanners[fact.station] = body
        if isinstance(body, f.ClockCompared) and self.is_own(fact) and self._newest(f"clock {body.other}", fact):
            self.clocks.compared(body)
        self.cold.note(fact)
        if isinstance(body, f.Attached):
            told = (*self.attached.get(body.about, ()), fact)
            self.attached[body.about] = tuple(sorted(told, key=lambda one: one.order))
        if isinstance(body, f.StockImported):
            self.imported[body.digest] = fact
        if isinstance(body, f.ReactionSet) and self._newest(f"reaction {body.limit} {body.at_line}", fact):
            self.reactions[body.limit, body.at_line] = body.text
        if isinstance(body, f.NumbersReserved):
            self.reserved.update(dict.fromkeys(body.numbers, body.paste))
        restored = isinstance(body, f.StationStarted) and body.backup_at is not None
        if restored and self.is_own(fact) and self._newest("restored", fact):
            self.restored = fact
        own = self.is_own(fact) and fact.who is None  # other stations have settings of their own
        if isinstance(body, f.PersonSet) and own and self._newest(f"person {body.person}", fact):
            self.seeded[body.person] = body
        if isinstance(body, f.FiguresAccepted) and self._newest(f"kind {body.kind}", fact):
            self.figures[body.kind] = Figures(body.time_constant, body.dead_time, body.estimate)

    def _newest(self, what: str, fact: f.Fact) -> bool:
        newest = fact.order > self._plant_order.get(what, (0, 0, 0))
        if newest:
            self._plant_order[what] = fact.order
        return newest

    def _note_clock(self, fact: f.Fact) -> None:
        """The clock's story, and the latest instant written since the clock was last set."""
        if is_clock_fact(fact):
            late = self.clocks.note(fact)
            self.clock = self.clocks.trust(self.is_own)
            if late:
                self._refold_all(subject for subject in self._histories if subject[0] in PHYSICAL)
        if not self.is_own(fact):
            return
        if is_clock_fact(fact) and not isinstance(fact.body, f.StationStarted):
            if fact.order > self._clock_set:
                self._clock_set = fact.order
                since = (told for told in self._by_key.values() if self.is_own(told) and told.order >= fact.order)
                self.latest_at = max(told.at for told in since)
        elif fact.order > self._clock_set:
            self.latest_at = fact.at if self.latest_at is None else max(fact.at, self.latest_at)

    def is_own(self, fact: f.Fact) -> bool:
        """Whether this station's clock dated a fact."""
        return self._own is None or fact.journal in self._own

    def _refold_all(self, touched: Iterable[Subject]) -> None:
        again = tuple(touched)
        for subject in again:
            self._refold(subject)
        self._reached(again)
