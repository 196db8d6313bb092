"""Time out of the cold over several stations: never less than what everything a station has heard of allows at most.

The rail walks at random over what people do, and after each step compares the program with plain books beside it:
it may go nowhere past them. The books know the true times of what was seen: put away, counted, carried, seen outside,
taken out, taken back, a store too warm, a station restored from its backup. From what a station has heard they add up
the longest time that a jar may have been out (the trade's rule; room life of seven days is common practice, no source).
They know no facts and no folds.
"""

from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from itertools import count
from random import Random
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from station.bootstrap import DEMO_KEYS
from station.care.cold_readings_rules import Policy, StoreCare
from station.care.late import Late
from station.care.ledger import Ledger
from station.care.refused import Refused
from station.care.specification import BestChoice
from station.care.stores import WholeStore
from station.care.words import Card
from station.readings.track import Track, microseconds
from station.services import lead_acts
from station.services.counting import begin_count
from station.services.memory import MemoryEvidence, MemoryJournal
from station.services.outcome import Refusal
from station.services.site import Site
from station.services.station import Station
from station.services.stock import store_out_since
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.care.fleet import Fleet
from tests.care.leading import PROOF
from tests.care.test_folds import picture
from tests.care.test_stores import two_stores
from tests.services.test_cold_readings import take_in

DAY, NOTHING = timedelta(days=1), timedelta(0)
ROOM_LIFE = 7 * DAY
WAY = timedelta(minutes=15)  # plant T, for a way between two doors
NEARLY = timedelta(minutes=1.5)  # the label minute, and the seconds scans take
NAMES = ("A", "B", "C")
STORES = ("FRIDGE", "SECOND")
PAIRS = (("A", "B"), ("B", "C"), ("A", "C"))
Span = tuple[datetime, datetime]


@dataclass
class Event:
    """One thing that was seen, at its true time. `heard` are the stations that know of it."""

    what: str
    jar: str
    at: datetime
    by: str
    heard: set[str]
    detail: Any = None
    taken_back: set[str] = field(default_factory=set)


@dataclass
class Kept:
    """A backup of a station: its journal then, and which events it had heard of."""

    facts: list[Any]
    heard: list[int]


def site() -> Site:
    """Plant T with two refrigerators; a store that was too warm spends its jars' room life."""
    plant = two_stores(capacity=50).plant
    stores = {**plant.stores, "FRIDGE": replace(plant.stores["FRIDGE"], care=StoreCare(Policy.CHARGE))}
    rules = replace(plant.rules, best_choice=BestChoice.OFF)
    return replace(two_stores(), plant=replace(plant, stores=stores, rules=rules))


def together(spans: list[Span]) -> timedelta:
    """How long these are together, each minute once."""
    whole, until = NOTHING, None
    for start, end in sorted(spans):
        begins = start if until is None else max(start, until)
        if end > begins:
            whole, until = whole + (end - begins), end
    return whole


@dataclass
class Book:
    """What was seen of one jar, told in true order: the times it may have been out, and since when it is."""

    spans: list[Span]
    pending: datetime | None
    cold: datetime | None = None
    out: datetime | None = None
    lay: list[Span] = field(default_factory=list)
    lies_since: datetime | None = None

    def told(self, event: Event, back: bool) -> None:
        """One event more; `back`: this take-out is known to have been taken back."""
        if self.out is not None and event.what != "out":
            return
        match event.what:
            case "put" | "counted" | "moved":
                self._in_the_cold(event)
            case "warm":
                self.pending = self.pending or self.cold
            case "out":
                start = self.pending or event.detail
                self._leaves(start)
                self.pending = start
                if not back:
                    self.out = min(self.out or start, start)
            case "back":
                self._in_the_cold(event)

    def _in_the_cold(self, event: Event) -> None:
        if event.what == "counted" and self.cold is None:
            return
        since = self.pending or (self.cold if event.what == "put" else None)
        if since is not None:
            self.spans.append((since, event.at))
        if event.what == "moved" and self.cold is not None:
            self.spans.append((max(self.cold, event.at - WAY), event.at))
        self._leaves(event.at)
        if event.detail == "FRIDGE" or (event.what in ("counted", "back") and self.lies_since is None):
            self.lies_since = event.at if event.detail == "FRIDGE" else None
        self.pending, self.cold = None, event.at

    def _leaves(self, at: datetime) -> None:
        if self.lies_since is not None:
            self.lay.append((self.lies_since, at))
        self.lies_since = None


class ColdRail(RuleBasedStateMachine):
    """Random acts of three stations on a few jars, in and out of the cold."""

    @initialize()
    def _open(self) -> None:
        self.fleet = Fleet(NAMES, site(), "2026-11-08T12:00")
        self.events: list[Event] = []
        self.jars: list[str] = []
        self.true = self.began = self.fleet["A"].clock.wall
        self.wrong = dict.fromkeys(NAMES, NOTHING)
        self.clocks_moved = False
        self.kept: dict[str, Kept] = {}
        self.journals = count(10)
        self.files = count()
        self.evidence = MemoryEvidence()  # files go along when stations meet
        for name in ("A", "A"):
            self.delivery(name, wait=20)
        for pair in PAIRS[::2]:
            self.two_stations_meet(pair, 1)

    # ------------------------------------------------------------------ time, meetings, power

    def _later(self, minutes: float) -> None:
        self.fleet.later(minutes)
        self.true += timedelta(minutes=minutes)

    def _bench(self, station: str) -> Bench:
        return self.fleet[station]

    def _shows_right(self, station: str) -> bool:
        return not self.wrong[station] and self._bench(station).station.ledger.clock.trusted_until is None

    def _note(self, station: str, what: str, jar: str, detail: Any = None) -> Event:
        event = Event(what, jar, self.true, station, {station}, detail)
        self.events.append(event)
        return event

    def _pick(self, pick: int) -> str:
        return self.jars[pick % len(self.jars)]

    @rule(minutes=st.sampled_from((3, 11, 20, 61, 180, 700)))
    def time_passes(self, minutes: float) -> None:
        self._later(minutes)

    @rule(pair=st.sampled_from(PAIRS), seed=st.integers(0, 99))
    def two_stations_meet(self, pair: tuple[str, str], seed: int) -> None:
        self.fleet.meet(*pair, seed)
        for event in self.events:
            if event.heard & set(pair):
                event.heard |= set(pair)
            if event.taken_back & set(pair):
                event.taken_back |= set(pair)
        self._later(0.1)

    @rule(station=st.sampled_from(NAMES), times=st.sampled_from((5, 30)))
    def a_station_has_much_to_tell(self, station: str, times: int) -> None:
        for humidity in range(times):
            self._bench(station).station.read_room(22, 30 + humidity, None)

    @rule(station=st.sampled_from(NAMES[1:]), minutes=st.sampled_from((-181, -31, 31, 181)))
    def a_clock_is_moved(self, station: str, minutes: float) -> None:
        self._bench(station).step(minutes)
        self.wrong[station] += timedelta(minutes=minutes)
        self.clocks_moved = True

    @rule(station=st.sampled_from(NAMES[1:]))
    def a_clock_is_put_right_and_confirmed(self, station: str) -> None:
        bench = self._bench(station)
        if self.wrong[station]:
            bench.step(-self.wrong[station] / timedelta(minutes=1))
            self.wrong[station] = NOTHING
        if bench.station.ledger.clock.trusted_until is not None:
            bench.station.confirm_clock(LEAD, LEAD_PIN)

    @rule(station=st.sampled_from(NAMES))
    def power_fails(self, station: str) -> None:
        self._bench(station).restart()

    @rule(station=st.sampled_from(NAMES))
    def a_backup_is_made(self, station: str) -> None:
        heard = [place for place, event in enumerate(self.events) if station in event.heard]
        self.kept[station] = Kept(list(self._bench(station).journal.facts()), heard)

    @precondition(lambda self: bool(self.kept) and not self.clocks_moved)
    @rule(pick=st.integers(0, 2))
    def a_station_is_restored(self, pick: int) -> None:
        """What it wrote since the backup is lost to it; who had heard of that before goes on knowing."""
        station = sorted(self.kept)[pick % len(self.kept)]
        kept, bench = self.kept[station], self._bench(station)
        journal = MemoryJournal(next(self.journals))
        journal.take(kept.facts)
        own = frozenset({journal.number, *(fact.journal for fact in kept.facts if fact.station == bench.site.station)})
        bench.clock.restart()
        bench.journal = journal
        bench.station = Station(bench.site, journal, bench.clock, DEMO_KEYS, bench.printer, own)
        bench.station.start("bench", f"{1:016x}-{len(kept.facts)}-00")
        for place, event in enumerate(self.events):
            if place not in kept.heard:
                event.heard.discard(station)
                event.taken_back.discard(station)

    # ------------------------------------------------------------------ paste

    @precondition(lambda self: len(self.jars) < 5)
    @rule(station=st.sampled_from(NAMES), wait=st.sampled_from((0, 20, 90)), told=st.sampled_from((None, *PAIRS)))
    def delivery(self, station: str, wait: float, told: tuple[str, str] | None = None) -> None:
        if not self._shows_right(station):
            return
        jar = self._bench(station).receive()
        assert jar not in self.jars, "a number was given twice"
        self.jars.append(jar)
        self._note(station, "received", jar)
        self._later(wait)
        if told is not None:
            self.two_stations_meet(told, 2)
        self.at_a_door(station, len(self.jars) - 1, "FRIDGE")
        if told is not None:
            self._later(40)
            self.at_a_door(told[1], len(self.jars) - 1, "FRIDGE")

    @precondition(lambda self: len(self.jars) < 5)
    @rule(station=st.sampled_from(NAMES[1:]), minutes=st.sampled_from((-181, -31, 31, 181)), received=st.booleans())
    def put_away_by_a_wrong_clock(self, station: str, minutes: float, received: bool) -> None:
        """Its clock is moved before or after the receipt, put right later, and the jar is seen outside."""
        if not self._shows_right(station):
            return
        if not received:
            self.a_clock_is_moved(station, minutes)
        jar = self._bench(station).receive()
        self.jars.append(jar)
        self._note(station, "received", jar)
        self._later(20)
        if received:
            self.a_clock_is_moved(station, minutes)
        self._scanned(station, jar, "FRIDGE")
        self._later(50)
        self.a_clock_is_put_right_and_confirmed(station)
        self._later(30)
        self.seen_at_a_line(station, self.jars.index(jar))
        self._later(10)
        self._scanned(station, jar, "FRIDGE")

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 5), door=st.sampled_from(STORES))
    def at_a_door(self, station: str, pick: int, door: str) -> None:
        self._scanned(station, self._pick(pick), door)

    def _scanned(self, station: str, jar: str, door: str) -> str:
        self._later(0.1)
        code = self._bench(station).scan(jar, door).code
        if code == "put-away":
            self._note(station, "put", jar, door)
        if code == "taken-out":
            self._note(station, "out", jar, self.true)
        return code

    @rule(
        station=st.sampled_from(NAMES),
        pick=st.integers(0, 5),
        door=st.sampled_from(STORES),
        card=st.sampled_from((Card.MOVED_HERE, Card.TAKEN_OUT)),
    )
    def found_at_another_door(self, station: str, pick: int, door: str, card: Card) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        if self._scanned(station, jar, door) != "other-store":
            return
        code = bench.card(card, door).code
        if code == "moved-here":
            self._note(station, "moved", jar, door)
        if code == "taken-out":
            cold = self._last(station, jar, "put", "counted", "moved", "back")
            self._note(station, "out", jar, max(cold, self.true - WAY))

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 5))
    def seen_at_a_line(self, station: str, pick: int) -> None:
        jar = self._pick(pick)
        self._later(0.1)
        code = self._bench(station).scan(jar, "LINE1").code
        if code == "not-taken-out":
            self._note(station, "warm", jar)
        assert code != "opening-check" or self._spent(station, jar) <= ROOM_LIFE + NEARLY

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 5), minutes=st.sampled_from((0.5, 4)))
    def taken_out_by_mistake(self, station: str, pick: int, minutes: float) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        if self._scanned(station, jar, "FRIDGE") != "taken-out":
            return
        out = self.events[-1]
        self._later(minutes)
        bench.scan(jar, "FRIDGE")
        if bench.card(Card.UNDO, "FRIDGE").code == "undone":
            out.taken_back.add(station)
            self._note(station, "back", jar, "FRIDGE")

    @rule(
        pick=st.integers(0, 5),
        acts=st.lists(st.sampled_from(("seen", "counted", "moved", "door", "back", "wait")), min_size=2, max_size=4),
        busy=st.sampled_from(NAMES[:2]),
        lain=st.sampled_from((0, 300)),
        seed=st.integers(0, 99),
    )
    def two_stations_act_on_one_jar_apart(self, pick: int, acts: list[str], busy: str, lain: float, seed: int) -> None:
        """What is seen outside is seen by B, all else is done by A; then they meet, and A takes it out."""
        jar = self._pick(pick)
        pick = self.jars.index(jar)
        self.two_stations_meet(("A", "B"), seed)
        self.a_station_has_much_to_tell(busy, 30)
        self._later(lain)
        for act in acts:
            self._later(33)
            if act == "seen":
                self.seen_at_a_line("B", pick)
            elif act == "counted":
                self.a_store_is_counted("A", "FRIDGE")
            elif act == "moved":
                self.found_at_another_door("A", pick, "SECOND", Card.MOVED_HERE)
            elif act == "door":
                self.at_a_door("A", pick, "FRIDGE")
            elif act == "back":
                self.taken_out_by_mistake("A", pick, 4)
        self.two_stations_meet(("A", "B"), seed)
        self._later(33)
        for door in STORES:
            self.at_a_door("A", pick, door)

    @rule(station=st.sampled_from(NAMES), door=st.sampled_from(STORES))
    def a_store_is_counted(self, station: str, door: str) -> None:
        bench = self._bench(station)
        self._later(3)  # no count goes on there any more
        right = self._shows_right(station)
        try:
            begin_count(bench.station, door)
        except (Refused, Refusal):
            return
        for jar in self.jars:
            if bench.scan(jar, door).code == "counted" and right:
                self._note(station, "counted", jar)
        self._later(3)
        for jar in self.jars[:1]:
            bench.scan(jar, "DESK")

    @rule(station=st.sampled_from(NAMES), minutes=st.sampled_from((10, 45, 200)), ago=st.sampled_from((0, 30, 600)))
    def its_store_was_too_warm(self, station: str, minutes: int, ago: int) -> None:
        """A logger has the right time, whatever the PC shows."""
        if not self._shows_right(station):
            return
        ends = self.true - timedelta(minutes=ago + 65)
        ends -= (ends - self.began) % timedelta(minutes=5)  # all readings of a store are on one grid
        celsius = [7.0] * 4 + [13.0] * (minutes // 5) + [7.0] * 12
        start = ends - timedelta(minutes=minutes)
        instants = (start + timedelta(minutes=5 * step - 20) for step in range(len(celsius)))
        series = Track(array("q", map(microseconds, instants)), array("d", celsius))
        self._bench(station).station.evidence = self.evidence
        take_in(self._bench(station), series, f"{next(self.files)}.csv")
        self._note(station, "too-warm", "", (start, ends))

    # ------------------------------------------------------------------ a shift lead decides

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 5), ago=st.sampled_from((5, 90)))
    def lead_enters_a_take_out(self, station: str, pick: int, ago: float) -> None:
        jar = self._pick(pick)
        self._later(0.1)
        if not self._shows_right(station):
            return
        earliest = self.true - timedelta(minutes=ago)
        try:
            lead_acts.take_out_late(self._bench(station).station, Late(jar, earliest, self.true, "seen"), PROOF)
        except (Refused, Refusal):
            return
        self._note(station, "out", jar, earliest)

    @rule(station=st.sampled_from(NAMES), ago=st.sampled_from((30, 300)))
    def lead_says_that_a_store_failed(self, station: str, ago: float) -> None:
        bench = self._bench(station)
        if not self._shows_right(station):
            return
        since = self.true - timedelta(minutes=ago)
        inside = [jar for jar in self.jars if self._is_in(bench, jar, "FRIDGE")]
        puts = {jar: self._last(station, jar, "put", "moved") for jar in inside}
        try:
            store_out_since(bench.station, WholeStore("FRIDGE", since, "power cut"), PROOF)
        except (Refused, Refusal):
            return
        for jar in inside:
            self._note(station, "out", jar, max(since, puts[jar]))

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 5))
    def lead_releases(self, station: str, pick: int) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        if jar in bench.station.ledger.containers:
            bench.release_all(jar)

    # ------------------------------------------------------------------ the books

    @staticmethod
    def _is_in(bench: Bench, jar: str, store: str) -> bool:
        found = bench.station.ledger.containers.get(jar)
        return found is not None and found.store == store and found.ended is None

    def _heard(self, station: str, jar: str) -> list[Event]:
        return [event for event in self.events if event.jar == jar and station in event.heard]

    def _last(self, station: str, jar: str, *what: str) -> datetime:
        return max(event.at for event in self._heard(station, jar) if event.what in what)

    def _book(self, station: str, jar: str) -> Book:
        received, *told = self._heard(station, jar)
        book = Book([], received.at)
        for event in sorted(told, key=lambda event: event.detail if event.what == "out" else event.at):
            book.told(event, station in event.taken_back)
        return book

    def _spans(self, station: str, jar: str) -> Iterator[Span]:
        book = self._book(station, jar)
        yield from book.spans
        if book.out is not None:
            yield book.out, self.true
        lies = [*book.lay, *([(book.lies_since, self.true)] if book.lies_since is not None else [])]
        for event in (event for event in self.events if event.what == "too-warm" and station in event.heard):
            for start, end in lies:
                yield max(start, event.detail[0]), min(end, event.detail[1])

    def _spent(self, station: str, jar: str) -> timedelta:
        return together([span for span in self._spans(station, jar) if span[0] < span[1]])

    # ------------------------------------------------------------------ what must hold after every act

    @invariant()
    def no_station_counts_less_than_it_must(self) -> None:
        for station in NAMES:
            for jar in self.jars:
                if self._can_tell(station, jar):
                    self._must_have_counted(station, jar)

    def _can_tell(self, station: str, jar: str) -> bool:
        """A station whose clock is right, of a jar that no station with a wrong one has told it of."""
        if jar not in self._bench(station).station.ledger.containers:
            return False
        tellers = {event.by for event in self._heard(station, jar)}
        return not self.clocks_moved or (self._shows_right(station) and tellers == {station})

    def _must_have_counted(self, station: str, jar: str) -> None:
        found, must = self._bench(station).container(jar), self._spent(station, jar)
        if found.out_from is not None:
            assert found.room_end is not None
            assert self.true + ROOM_LIFE - must + NEARLY >= found.room_end, f"{jar} at {station}: out for {must}"
        elif found.sighted_warm_at is None and found.put_away_at is not None:
            assert found.warm_spent + NEARLY >= must, f"{jar} at {station}: was out for {must}"

    def teardown(self) -> None:
        for station in NAMES:
            bench = self._bench(station)
            facts = list(bench.journal.facts())
            Random(len(facts)).shuffle(facts)
            again = Ledger(bench.station.ledger._own)  # the same clocks
            for fact in facts:
                again.apply(fact)
            assert picture(again) == picture(bench.station.ledger)


TestColdRail = ColdRail.TestCase
TestColdRail.settings = settings(
    max_examples=30, stateful_step_count=25, deadline=None, suppress_health_check=list(HealthCheck)
)
