"""Plays a script on a station: sets the clock, does the thing, reports verdict, facts and alarms, and compares."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import partial

from station.care import alarms
from station.care import facts as f
from station.care.counting import next_idle_end
from station.care.due import next_due
from station.care.extension import Extending
from station.care.moments import NOTHING
from station.care.receiving import Arrival
from station.care.refused import Refused
from station.care.scans import BadgeScan, BinScan, CardScan, ContainerScan, Scan, StoreScan, TagScan
from station.care.words import Boards, Card, Disposition, HoldReason, Limit
from station.rehearsal import counts, store_logs
from station.rehearsal.clock import SetClock
from station.rehearsal.deliveries import deliver
from station.rehearsal.lead_acts import LEAD_ACTS, LeadAct
from station.rehearsal.script import Step
from station.services.memory import MemoryJournal
from station.services.outcome import Outcome, Refusal
from station.services.station import Proof, Station

Maker = Callable[[SetClock, MemoryJournal], Station]
MOMENT = timedelta(seconds=1)
FIRST = "A"


@dataclass(frozen=True, slots=True)
class Played:
    """What came of one step, ready to be written as JSON. `missed` says each expectation that was not met."""

    report: dict[str, object]
    missed: tuple[str, ...]


@dataclass(slots=True)
class Stand:
    """One PC of a rehearsal: its clock, its journal, and the station that works there."""

    clock: SetClock
    journal: MemoryJournal
    station: Station


class Player:
    """Plays steps one after another. `make` builds a station over the same journal, so a restart is a real one.

    A step may name another station: it is started when first named, and knows nothing of the others until they meet.
    """

    def __init__(self, make: Maker, start: datetime) -> None:
        """A station that was just started."""
        self._make = make
        self._stands: dict[str, Stand] = {}
        self._now_at = FIRST
        self._stand(FIRST, start)
        self._aliases: dict[str, str] = {}
        self._actions: dict[str, Callable[[Step], Outcome]] = {
            "receive": self._receive,
            "deliver": lambda step: deliver(self.station, _table(step.told), step.at, self._aliases),
            "scan": self._scan,
            "label": self._label,
            "meet": self._meet,
            "tag": lambda step: self._scanned(TagScan(str(step.told)), step),
            "bin_tag": lambda step: self._scanned(BinScan(str(step.told)), step),
            "store_tag": lambda step: self._scanned(StoreScan(str(step.told)), step),
            "card": self._card,
            "badge": lambda step: self._scanned(BadgeScan(str(step.told)), step),
            "order": lambda step: self.station.scan((str(step.told),), step.place),
            "acknowledge": self._acknowledge,
            "clear": self._clear,
            "release": self._release,
            "extend": self._extend,
            "count": lambda step: counts.count(self.station, str(step.told), step.place or self.station.place),
            "settle_difference": self._settle_difference,
            "room": self._room,
            "readings": lambda step: store_logs.readings(self.station, _table(step.told)),
            "display": lambda step: store_logs.display(self.station, _table(step.told)),
            **{name: partial(self._lead_act, act) for name, act in LEAD_ACTS.items()},
            "clock_step": self._clock_step,
            "sleep": self._sleep,
            "confirm_clock": self._confirm_clock,
            "restart": self._restart,
            "tick": lambda _step: self.station.tick(),
        }

    @property
    def clock(self) -> SetClock:
        """The clock of the station the step is at."""
        return self._stands[self._now_at].clock

    @property
    def station(self) -> Station:
        """The station the step is at."""
        return self._stands[self._now_at].station

    def _stand(self, name: str, start: datetime) -> Stand:
        if name not in self._stands:
            clock, journal = SetClock(start), MemoryJournal(len(self._stands) + 1)
            self._stands[name] = Stand(clock, journal, self._make(clock, journal))
            self._stands[name].station.start("rehearsal")
        return self._stands[name]

    def play(self, steps: tuple[Step, ...]) -> Iterator[Played]:
        """Each step in turn."""
        for step in steps:
            yield self.step(step)

    def step(self, step: Step) -> Played:
        """Let time pass up to the step, ticking wherever something falls due, then do it."""
        self._now_at = step.station or FIRST
        self._stand(self._now_at, self._stands[FIRST].clock.wall)
        self.until(step.at)
        refused = ""
        try:
            outcome = self._actions[step.action](step)
        except (Refusal, Refused) as refusal:
            outcome, refused = Outcome(None), str(refusal)
        report = self._report(step, outcome, refused)
        missed = (*_missed(step.expect, report), *self._alarm_missed(step.expect, report))
        return Played(report, missed)

    def until(self, at: datetime) -> None:
        """Let time pass everywhere until this station's clock shows `at`."""
        length = max(NOTHING, at - self.clock.wall)
        for stand in self._stands.values():
            _go_on(stand, stand.clock.wall + length)

    def container(self, alias: str) -> str:
        """The container a script calls by an alias."""
        return self._aliases.get(alias, alias)

    # ------------------------------------------------------------------ actions

    def _receive(self, step: Step) -> Outcome:
        told = _table(step.told)
        number = self.station.new_container()
        if step.alias is not None:
            self._aliases[step.alias] = number
        temperature = told.get("temperature")
        zone = self.station.site.zone
        arrived = told.get("arrived")
        arrived_at = datetime.fromisoformat(str(arrived)).replace(tzinfo=zone).astimezone(UTC) if arrived else step.at
        answer = str(told.get("indicator", "measured" if temperature is not None else "not measured"))
        arrival = Arrival(
            container=number,
            paste=str(told.get("paste")),
            kind=str(told.get("kind")),
            lot=str(told.get("lot", "")),
            expires=_day(told.get("expires")),
            made=_day(told.get("made")),
            arrived_at=arrived_at,
            temperature_c=float(str(temperature)) if temperature is not None else None,
            temperature_answer="indicator tripped"
            if answer == "indicator tripped"
            else "measured"
            if temperature is not None
            else "not measured",
            leaking=bool(told.get("leaking", False)),
        )
        return self.station.receive([arrival], None)

    def _scan(self, step: Step) -> Outcome:
        told = self.container(str(step.told))
        if told in self.station.ledger.containers:
            return self._scanned(ContainerScan(told), step)
        return self.station.scan((told,), step.place)

    def _label(self, step: Step) -> Outcome:
        """The newest time label of a container is scanned, whichever station printed it."""
        name = self.container(str(step.told))
        asked = [
            fact.body
            for stand in self._stands.values()
            for fact in stand.station.ledger.history("container", name)
            if isinstance(fact.body, f.LabelAsked) and fact.body.print_number
        ]
        if not asked:
            raise LookupError(f"a time label of {step.told!r}")
        newest = max(asked, key=lambda body: body.print_number)
        return self.station.scan((newest.code,), step.place)

    def _meet(self, step: Step) -> Outcome:
        """Two stations tell each other everything; what falls due by it at this one is in the outcome."""
        here, there = self._stands[self._now_at], self._stands[str(step.told)]
        ours, theirs = list(here.journal.facts()), list(there.journal.facts())
        there.station.learn(there.journal.take(ours))
        outcome = here.station.learn(here.journal.take(theirs))
        told = {fact.key for fact in theirs}
        return replace(outcome, facts=tuple(fact for fact in outcome.facts if fact.key not in told))

    def _card(self, step: Step) -> Outcome:
        return self._scanned(CardScan(Card(str(step.told))), step)

    def _scanned(self, scan: Scan, step: Step) -> Outcome:
        return self.station.scanned(scan, step.place)

    def _acknowledge(self, step: Step) -> Outcome:
        floor = self.station.floor()
        wanted = self.container(str(step.told))
        ids = tuple(alarm.id for alarm, _ in alarms.open_alarms(floor) if wanted in ("all", alarm.subject))
        return self.station.acknowledge(ids, None)

    def _clear(self, step: Step) -> Outcome:
        told = _table(step.told)
        subject = self.container(str(told.get("subject")))
        floor = self.station.floor()
        open_ids = [alarm.id for alarm, _ in alarms.open_alarms(floor) if alarm.subject == subject]
        boards = told.get("boards")
        clearing = alarms.Clearing(
            alarm=open_ids[0] if open_ids else "",
            disposition=Disposition(str(told.get("disposition"))),
            reason=str(told.get("reason", "")),
            boards=Boards(str(boards)) if boards is not None else None,
            document=str(told.get("document", "")),
        )
        return self.station.clear(clearing, str(told.get("badge")), str(told.get("pin")))

    def _release(self, step: Step) -> Outcome:
        told = _table(step.told)
        name = self.container(str(told.get("container")))
        reason = HoldReason(str(told.get("reason")))
        held = self.station.ledger.containers[name].holds
        key = next((hold.key for hold in held if hold.reason is reason), "")
        note = str(told.get("note", "released"))
        return self.station.release(name, key, note, str(told.get("badge")), str(told.get("pin")))

    def _extend(self, step: Step) -> Outcome:
        told = _table(step.told)
        asked = Extending(
            container=self.container(str(told.get("container"))),
            limit=Limit(str(told.get("limit"))),
            by=timedelta(minutes=float(str(told.get("minutes")))),
            concession=str(told.get("concession", "")),
        )
        return self.station.extend(asked, str(told.get("badge")), str(told.get("pin")))

    def _settle_difference(self, step: Step) -> Outcome:
        told = _table(step.told)
        return counts.settle(self.station, told, self.container(str(told.get("container"))))

    def _lead_act(self, act: LeadAct, step: Step) -> Outcome:
        told = _table(step.told)
        proof = Proof(str(told.get("badge")), str(told.get("pin")))
        named = self.container(str(told["container"])) if "container" in told else None
        return act(self.station, {**told, "container": named} if named is not None else told, proof)

    def _room(self, step: Step) -> Outcome:
        told = _table(step.told)
        return self.station.read_room(float(str(told["temperature"])), float(str(told["humidity"])), None)

    def _clock_step(self, step: Step) -> Outcome:
        self.clock.step(timedelta(minutes=float(str(step.told))))
        return self.station.tick()

    def _sleep(self, step: Step) -> Outcome:
        self.clock.sleep(timedelta(minutes=float(str(step.told))))
        return self.station.tick()

    def _confirm_clock(self, step: Step) -> Outcome:
        told = _table(step.told)
        return self.station.confirm_clock(str(told.get("badge")), str(told.get("pin")))

    def _restart(self, _step: Step) -> Outcome:
        stand = self._stands[self._now_at]
        stand.clock.restart()
        stand.station = self._make(stand.clock, stand.journal)
        return self.station.start("rehearsal")

    def _alarm_missed(self, expect: dict[str, object], report: dict[str, object]) -> Iterator[str]:
        """Each open alarm that was asked for by some of its parts and is not there; `since` in plant time."""
        told = expect.get("alarm", [])
        found = report["alarms"] if isinstance(report["alarms"], list) else []
        for wanted in told if isinstance(told, list) else [told]:
            parts = {key: self._part(key, value) for key, value in _table(wanted).items()}
            if not any(parts.items() <= alarm.items() for alarm in found):
                yield f"alarm: expected {parts}, open are {found}"

    def _part(self, key: str, value: object) -> object:
        if key == "subject":
            return self.container(str(value))
        if key == "since":
            return _iso(datetime.fromisoformat(str(value)).replace(tzinfo=self.station.site.zone))
        return value

    # ------------------------------------------------------------------ reports

    def _report(self, step: Step, outcome: Outcome, refused: str) -> dict[str, object]:
        floor = self.station.floor()
        verdict = outcome.verdict
        return {
            "line": step.line,
            "at": _iso(self.clock.wall),
            "place": step.place or self.station.place,
            "action": step.action,
            "verdict": verdict.word.value if verdict else None,
            "code": verdict.code if verdict else None,
            "headline": verdict.headline if verdict else "",
            "why": verdict.why if verdict else "",
            "todo": verdict.todo if verdict else "",
            "note": verdict.note if verdict else "",
            "times": {name: _iso(at) for name, at in verdict.times} if verdict else {},
            "governing": verdict.governing if verdict else "",
            "refused": refused,
            "facts": [fact.body.NAME for fact in outcome.facts],
            "alarms": [
                {
                    "subject": alarm.subject,
                    "limit": alarm.limit.value,
                    "since": _iso(alarm.since),
                    "priority": seen.priority.value,
                    "state": alarms.state(alarm, seen).value,
                    "sounds": alarms.sounding(floor, alarm),
                }
                for alarm, seen in alarms.open_alarms(floor)
            ],
        }


def _go_on(stand: Stand, at: datetime) -> None:
    """Let time pass at one PC, with a tick one second after everything that falls due on the way."""
    clock, station = stand.clock, stand.station
    while (end := _next_end(station)) is not None:
        floor = station.floor()
        behind = floor.moment.ages - floor.now  # what a clock that was set back hides of the time that passed
        due_at = max(clock.wall, end + MOMENT - behind)
        if due_at >= at:
            break
        clock.go_on(due_at - clock.wall)
        station.tick()
    clock.go_on(max(NOTHING, at - clock.wall))
    station.tick()


def _next_end(station: Station) -> datetime | None:
    """The last moment before something falls due, or a count of this station ends by itself."""
    floor = station.floor()
    due, count_end = next_due(floor), next_idle_end(floor, station.site.station)
    ends = [due, count_end - MOMENT if count_end is not None else None]
    return min((end for end in ends if end is not None), default=None)


def _missed(expect: dict[str, object], report: dict[str, object]) -> Iterator[str]:
    for key in ("verdict", "code"):
        if key in expect and expect[key] != report[key]:
            yield f"{key}: expected {expect[key]!r}, got {report[key]!r}"
    said = " ".join(str(report[key]) for key in ("headline", "why", "todo", "note", "governing", "refused"))
    wanted = expect.get("says", [])
    for words in wanted if isinstance(wanted, list) else [wanted]:
        if str(words) not in said:
            yield f"says: expected {words!r} in {said!r}"
    open_alarms = report["alarms"]
    if "alarms" in expect and isinstance(open_alarms, list) and len(open_alarms) != expect["alarms"]:
        yield f"alarms: expected {expect['alarms']}, got {len(open_alarms)}"
    if "facts" in expect and expect["facts"] != report["facts"]:
        yield f"facts: expected {expect['facts']}, got {report['facts']}"
    if "refused" in expect and bool(report["refused"]) != bool(expect["refused"]):
        yield f"refused: expected {expect['refused']}, got {report['refused']!r}"


def _iso(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


def _table(told: object) -> dict[str, object]:
    return dict(told) if isinstance(told, dict) else {}


def _day(told: object) -> date | None:
    return date.fromisoformat(str(told)) if told is not None else None
