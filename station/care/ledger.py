"""The live picture: every fact so far, added up subject by subject.

The same facts give the same picture in whatever order they are delivered: each subject keeps its own facts in
fold order and is added up again when one arrives late or is undone. The ledger is the only thing in the rules
that changes; everything it hands out is frozen.
"""

from bisect import insort
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from station.care import facts as f
from station.care.fold_container import container_step
from station.care.fold_position import position_step
from station.care.specification import Specification
from station.care.state import Alarm, ClockTrust, Container, PositionState, RoomAir, Somebody

Subject = tuple[str, str]
KINDS = ("container", "position", "alarm", "person")


def subjects(body: f.Body) -> tuple[Subject, ...]:
    """What a fact is about: (kind, id) of each container, position, alarm or person it names."""
    named = ((kind, getattr(body, kind, None)) for kind in KINDS)
    return tuple((kind, name) for kind, name in named if isinstance(name, str))


@dataclass(frozen=True, slots=True)
class _Entry:
    """One fact in a subject's history, in fold order."""

    order: tuple[int, int, int]
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
        self._undone: set[str] = set()

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
        self._note_time(fact)
        self._apply_plant(fact)
        touched = self._touched(fact)
        for subject in touched:
            self._add(subject, fact)
        return touched

    def _touched(self, fact: f.Fact) -> tuple[Subject, ...]:
        body = fact.body
        if isinstance(body, f.Undone):
            return self._take_back(body.fact)
        if isinstance(body, f.ClockConfirmed):
            alive = (("container", name) for name, found in self.containers.items() if found.ended is None)
            return (*alive, *(("position", name) for name in self.positions))
        if isinstance(body, f.Ended):
            fed = (name for name, found in self.positions.items() if _feeds(found, body.container))
            return (*subjects(body), *(("position", name) for name in fed))
        return subjects(body)

    def _take_back(self, key: str) -> tuple[Subject, ...]:
        self._undone.add(key)
        fact = self._by_key.get(key)
        if fact is None:
            return ()
        return tuple(subject for subject, entries in self._histories.items() if _holds(entries, fact))

    def _add(self, subject: Subject, fact: f.Fact) -> None:
        entries = self._histories.setdefault(subject, [])
        entry = _Entry(fact.order, fact)
        late = bool(entries) and entry < entries[-1]
        insort(entries, entry)
        if late or isinstance(fact.body, f.Undone) or fact.key in self._undone:
            self._refold(subject, entries)
        else:
            self._step(subject, fact)

    def _refold(self, subject: Subject, entries: list[_Entry]) -> None:
        tables: dict[str, dict[str, Any]] = {
            "container": self.containers,
            "position": self.positions,
            "alarm": self.alarms,
            "person": self.people,
        }
        tables[subject[0]].pop(subject[1], None)
        for entry in entries:
            if entry.fact.key not in self._undone:
                self._step(subject, entry.fact)

    def _step(self, subject: Subject, fact: f.Fact) -> None:
        kind, name = subject
        if kind == "container":
            container = container_step(self.containers.get(name), fact)
            if container is not None:
                self.containers[name] = container
        elif kind == "position":
            self.positions[name] = position_step(self.positions.get(name), fact, name)
        elif kind == "alarm":
            alarm = _alarm_step(self.alarms.get(name), fact)
            if alarm is not None:
                self.alarms[name] = alarm
        elif isinstance(fact.body, f.PersonSet):
            body = fact.body
            self.people[name] = Somebody(body.person, body.name, body.roles, body.pin, body.left)

    def _note_time(self, fact: f.Fact) -> None:
        if isinstance(fact.body, f.ClockConfirmed | f.ClockStepped):
            self.latest_at = fact.at  # a person vouches, or the step itself says how far to trust what came before
        elif self.latest_at is None or fact.at > self.latest_at:
            self.latest_at = fact.at

    def _apply_plant(self, fact: f.Fact) -> None:
        match fact.body:
            case f.SpecificationSet() as body:
                self.specifications[body.specification.paste] = body.specification
            case f.RoomRead() as body:
                self.room = RoomAir(body.temperature_c, body.humidity, fact.at)
            case f.ClockStepped() as body if not body.suspended:
                self._doubt(body)
            case f.ClockConfirmed():
                self.clock = ClockTrust(segment_from=fact.at)
            case f.StationStarted():
                self.clock = replace(self.clock, segment_from=fact.at)
            case _:
                pass

    def _doubt(self, body: f.ClockStepped) -> None:
        before = self.clock.trusted_until
        self.clock = replace(
            self.clock,
            trusted_until=body.trusted_until if before is None else min(before, body.trusted_until),
            stepped_by=self.clock.stepped_by + body.by,
        )


def _feeds(position: PositionState, container: str) -> bool:
    return position.bead is not None and position.bead.feeding == container


def _holds(entries: list[_Entry], fact: f.Fact) -> bool:
    return any(entry.fact is fact for entry in reversed(entries))


def _alarm_step(alarm: Alarm | None, fact: f.Fact) -> Alarm | None:
    body = fact.body
    if isinstance(body, f.AlarmRaised):
        if alarm is not None:
            return replace(alarm, since=min(alarm.since, body.since), in_use=alarm.in_use or body.in_use)
        return Alarm(body.alarm, body.subject, body.limit, body.since, fact.at, body.in_use)
    if alarm is None:
        return None
    if isinstance(body, f.AlarmAcknowledged):
        if alarm.acknowledged_at is not None:
            return alarm
        return replace(alarm, acknowledged_at=fact.at, acknowledged_by=fact.who)
    if isinstance(body, f.AlarmCleared) and alarm.cleared_at is None:
        return replace(
            alarm,
            cleared_at=fact.at,
            cleared_by=fact.who,
            disposition=body.disposition,
            boards=body.boards,
            document=body.document,
            reason=body.reason,
        )
    return alarm
