"""The live picture: every fact so far, added up subject by subject.

The same facts give the same picture in whatever order they are delivered: each subject keeps its own facts in
fold order and is added up again when one arrives late or is undone. The ledger is the only thing in the rules
that changes; everything it hands out is frozen.
"""

from bisect import insort
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from station.care import facts as f
from station.care.clock_story import Drift, Order, drift, is_clock_fact, trust
from station.care.fold_alarm import alarm_step
from station.care.fold_container import container_step, re_dated
from station.care.fold_position import bead_re_dated, position_step
from station.care.specification import Specification
from station.care.state import Alarm, ClockTrust, Container, PositionState, RoomAir, Somebody

Subject = tuple[str, str]
KINDS = ("container", "position", "alarm", "person")
PHYSICAL = ("container", "position")


def subjects(body: f.Body) -> tuple[Subject, ...]:
    """What a fact is about: (kind, id) of each container, position, alarm or person it names."""
    named = ((kind, getattr(body, kind, None)) for kind in KINDS)
    return tuple((kind, name) for kind, name in named if isinstance(name, str))


@dataclass(frozen=True, slots=True)
class _Entry:
    """One fact in a subject's history, in fold order."""

    order: Order
    fact: f.Fact

    def __lt__(self, other: "_Entry") -> bool:
        return self.order < other.order


class Ledger:
    """Adds facts up. `apply` takes each fact once and returns the subjects it changed."""

    def __init__(self) -> None:
        """An empty plant: nothing received, nobody known."""
        self.containers: dict[str, Container] = {}
        self.positions: dict[str, PositionState] = {}
        self.alarms: dict[str, Alarm] = {}
        self.people: dict[str, Somebody] = {}
        self.specifications: dict[str, Specification] = {}
        self.clock = ClockTrust()
        self.room: RoomAir | None = None
        self.latest_at: datetime | None = None
        self.tick = 0
        self._histories: dict[Subject, list[_Entry]] = {}
        self._by_key: dict[str, f.Fact] = {}
        self._undone: dict[str, list[f.Fact]] = {}
        self._loaded_on: dict[str, set[str]] = {}
        self._clock_story: list[f.Fact] = []
        self._plant_order: dict[str, Order] = {}
        self._clock_set: Order = (0, 0, 0)

    def history(self, kind: str, name: str) -> tuple[f.Fact, ...]:
        """Every fact about one subject in fold order, undone ones included."""
        return tuple(entry.fact for entry in self._histories.get((kind, name), ()))

    def fact(self, key: str) -> f.Fact | None:
        """The fact of a key, if it is known here."""
        return self._by_key.get(key)

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
        if isinstance(fact.body, f.Loaded):
            self._mind_the_end(fact.body)
        return touched

    # ------------------------------------------------------------------ what a fact touches

    def _touched(self, fact: f.Fact) -> tuple[Subject, ...]:
        body = fact.body
        if isinstance(body, f.Undone):
            self._undone.setdefault(body.fact, []).append(fact)
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

    def _mind_the_end(self, body: f.Loaded) -> None:
        """A position that hears of a container for the first time must know of its end, told before or after."""
        positions = self._loaded_on.setdefault(body.container, set())
        if body.position in positions:
            return
        positions.add(body.position)
        for told in self.history("container", body.container):
            if isinstance(told.body, f.Ended):
                self._add(("position", body.position), told)
                for taken_back in self._undone.get(told.key, ()):
                    self._add(("position", body.position), taken_back)

    # ------------------------------------------------------------------ adding up

    def _add(self, subject: Subject, fact: f.Fact) -> None:
        if subject not in self._histories:
            settled = (told for told in self._clock_story if isinstance(told.body, f.ClockConfirmed))
            started = [_Entry(told.order, told) for told in settled] if subject[0] in PHYSICAL else []
            self._histories[subject] = started
        entries = self._histories[subject]
        entry = _Entry(fact.order, fact)
        late = bool(entries) and entry < entries[-1]
        insort(entries, entry)
        if late or isinstance(fact.body, f.Undone) or fact.key in self._undone:
            self._refold(subject)
        else:
            self._step(subject, fact)

    def _refold(self, subject: Subject) -> None:
        tables: dict[str, dict[str, Any]] = {
            "container": self.containers,
            "position": self.positions,
            "alarm": self.alarms,
            "person": self.people,
        }
        tables[subject[0]].pop(subject[1], None)
        for entry in self._histories[subject]:
            if entry.fact.key not in self._undone:
                self._step(subject, entry.fact)

    def _step(self, subject: Subject, fact: f.Fact) -> None:
        kind, name = subject
        if kind == "container":
            container = self._container_step(self.containers.get(name), fact)
            if container is not None:
                self.containers[name] = container
        elif kind == "position":
            self.positions[name] = self._position_step(self.positions.get(name), fact, name)
        elif kind == "alarm":
            alarm = alarm_step(self.alarms.get(name), fact)
            if alarm is not None:
                self.alarms[name] = alarm
        elif isinstance(fact.body, f.PersonSet):
            body = fact.body
            self.people[name] = Somebody(body.person, body.name, body.roles, body.pin, body.left)

    def _container_step(self, container: Container | None, fact: f.Fact) -> Container | None:
        if container is None or not isinstance(fact.body, f.ClockConfirmed):
            return container_step(container, fact)
        return re_dated(container, fact.body, self._drift(fact), self._order_of)

    def _position_step(self, position: PositionState | None, fact: f.Fact, name: str) -> PositionState:
        if position is None or position.bead is None or not isinstance(fact.body, f.ClockConfirmed):
            return position_step(position, fact, name)
        return bead_re_dated(position, position.bead, self._drift(fact), self._order_of)

    def _drift(self, confirmed: f.Fact) -> Drift:
        return drift(self._clock_story, confirmed)

    def _order_of(self, key: str) -> Order:
        return self._by_key[key].order

    # ------------------------------------------------------------------ the plant as a whole

    def _note_plant(self, fact: f.Fact) -> None:
        body = fact.body
        if isinstance(body, f.SpecificationSet) and self._newest(body.specification.paste, fact):
            self.specifications[body.specification.paste] = body.specification
        if isinstance(body, f.RoomRead) and self._newest("", fact):
            self.room = RoomAir(body.temperature_c, body.humidity, fact.at)

    def _newest(self, what: str, fact: f.Fact) -> bool:
        newest = fact.order > self._plant_order.get(what, (0, 0, 0))
        if newest:
            self._plant_order[what] = fact.order
        return newest

    def _note_clock(self, fact: f.Fact) -> None:
        """The clock's story, and the latest instant written since the clock was last set."""
        if is_clock_fact(fact):
            late = bool(self._clock_story) and fact.order < self._clock_story[-1].order
            insort(self._clock_story, fact, key=lambda told: told.order)
            self.clock = trust(self._clock_story)
            if late:
                self._refold_all(subject for subject in self._histories if subject[0] in PHYSICAL)
        if is_clock_fact(fact) and not isinstance(fact.body, f.StationStarted):
            if fact.order > self._clock_set:
                self._clock_set = fact.order
                self.latest_at = max(told.at for told in self._by_key.values() if told.order >= fact.order)
        elif fact.order > self._clock_set:
            self.latest_at = fact.at if self.latest_at is None else max(fact.at, self.latest_at)

    def _refold_all(self, touched: Iterable[Subject]) -> None:
        for subject in tuple(touched):
            self._refold(subject)
