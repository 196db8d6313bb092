"""The safety rail over several stations: what each can know never lets it say USE wrongly, whatever they tell when.

Stations work apart, meet in any order and any order of delivery. Plain books are kept beside them: what happened,
in true time, and which station has heard of it. From what a station has heard the books say, by the rules of the
trade alone (three hours of warming, seven days of room life, a day open, eight hours on the stencil: common practice,
no source), what must stand against using a jar there. They know no facts and no folds.
"""

from copy import deepcopy
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from random import Random
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from station.care.extension import Extending
from station.care.late import Late
from station.care.ledger import Ledger
from station.care.moments import end_of_day
from station.care.refused import Refused
from station.care.verdict import Verdict
from station.care.words import Card, HoldReason, Limit
from station.services import lead_acts
from station.services.outcome import Refusal
from station.services.station import Proof
from tests.care.bench import BERLIN, LEAD, LEAD_PIN, Bench
from tests.care.fleet import Fleet
from tests.care.test_folds import picture

PROOF, ENGINEER = Proof(LEAD, LEAD_PIN), Proof("P30", "3030")
HOUR, DAY, NOTHING = timedelta(hours=1), timedelta(days=1), timedelta(0)
NAMES = ("A", "B", "C")
LINE = {"A": ("LINE1", "1"), "B": ("LINE2", "2"), "C": ("P1", "P1")}
LENGTHS = (0.5, 2, 6, 31, 61, 179, 181, 479, 481, 1439, 4000)
LOTS = ("L1", "L2")


@dataclass
class Event:
    """One thing that happened. `heard` are the stations that know of it."""

    what: str
    jar: str
    at: datetime
    heard: set[str]
    detail: Any = None
    taken_back: set[str] = field(default_factory=set)


@dataclass
class Roll:
    """A bead in true time; only its own station puts paste on it."""

    began: datetime
    jars: list[str]


@dataclass(frozen=True)
class Filling:
    """What a container was filled from, until when that may be used, and how long it has lain on a stencil."""

    sources: tuple[str, ...]
    end: datetime
    spent: timedelta


class FleetRail(RuleBasedStateMachine):
    """Random acts of three stations on some jars of two lots."""

    @initialize()
    def _open(self) -> None:
        self.fleet = Fleet(NAMES)
        self.events: list[Event] = []
        self.rolls: dict[str, Roll | None] = dict.fromkeys(NAMES)
        self.jars: list[str] = []
        self.seen: dict[tuple[str, str], tuple[datetime | None, datetime | None]] = {}
        self.named: set[tuple[str, str]] = set()
        self.true = self.fleet["A"].clock.wall
        self.wrong = dict.fromkeys(NAMES, NOTHING)
        self.clocks_moved = False
        for lot in LOTS:
            self.delivery("A", lot, 9)
        self._later(11)
        for name in self.jars:
            self.at_the_fridge("A", self.jars.index(name))
        self._later(181)

    @property
    def now(self) -> datetime:
        """True time, which no clock of any PC can touch."""
        return self.true

    def _later(self, minutes: float) -> None:
        self.fleet.later(minutes)
        self.true += timedelta(minutes=minutes)

    def _shows_right(self, station: str) -> bool:
        return not self.wrong[station] and self._bench(station).station.ledger.clock.trusted_until is None

    def _bench(self, station: str) -> Bench:
        return self.fleet[station]

    def _note(self, station: str, what: str, jar: str, detail: Any = None) -> None:
        self.events.append(Event(what, jar, self.now, {station}, detail))

    def _heard(self, station: str, jar: str, *what: str) -> list[Event]:
        return [
            event
            for event in self.events
            if event.jar == jar and event.what in what and station in event.heard and station not in event.taken_back
        ]

    def _pick(self, pick: int) -> str:
        return self.jars[pick % len(self.jars)]

    # ------------------------------------------------------------------ time, meetings, power

    @rule(minutes=st.sampled_from(LENGTHS))
    def time_passes(self, minutes: float) -> None:
        self._later(minutes)

    @rule(pair=st.sampled_from((("A", "B"), ("B", "C"), ("A", "C"))), seed=st.integers(0, 999))
    def two_stations_meet(self, pair: tuple[str, str], seed: int) -> None:
        self._tell_each_other(*pair, seed)

    def _tell_each_other(self, first: str, second: str, seed: int) -> None:
        pair = (first, second)
        self.fleet.meet(*pair, seed)
        one, other = pair
        slips = [event for event in self.events if event.what == "taken-back" and len(event.heard & set(pair)) == 1]
        for event in self.events:
            if event.heard & set(pair):
                for station in {one, other} - event.heard:
                    if event.what in ("extended", "taken-back"):
                        self.named.add((station, event.jar))
                    if event.what == "recertified":
                        self.named.update((station, jar) for jar in self.jars)
                event.heard |= set(pair)
            if event.taken_back & set(pair):
                event.taken_back |= set(pair)
        if slips:  # a load taken back at one station is off the stencil of another
            self.rolls.update({station: self._lies_there(station) for station in pair})

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

    # ------------------------------------------------------------------ paste

    @precondition(lambda self: len(self.jars) < 5)
    @rule(station=st.sampled_from(NAMES), lot=st.sampled_from(LOTS), days=st.integers(1, 9))
    def delivery(self, station: str, lot: str, days: int) -> None:
        if not self._shows_right(station):
            return
        expires: date = (self.now + days * DAY).astimezone(BERLIN).date()
        bench = self._bench(station)
        jar = bench.cold(expires=expires, lot=lot)
        self.jars.append(jar)
        self._note(station, "received", jar, (lot, end_of_day(expires, BERLIN)))

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9))
    def at_the_fridge(self, station: str, pick: int) -> None:
        jar = self._pick(pick)
        if self._say(station, jar, self._bench(station).scan(jar, "FRIDGE")) == "taken-out":
            self._note(station, "out", jar, (self.now, self.now))

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9), good=st.booleans())
    def at_its_line(self, station: str, pick: int, good: bool) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        place, _ = LINE[station]
        code = self._say(station, jar, bench.scan(jar, place))
        if code == "would-shorten":
            self._later(0.1)
            code = self._say(station, jar, bench.scan(jar, place))
        if code == "opening-check":
            self._note(station, "opened", jar)
            said = bench.card(Card.LOOKS_GOOD if good else Card.LOOKS_BAD, place)
            if not good:
                self._note(station, "held", jar, self._newest_hold(bench, jar))
            if self._say(station, jar, said) == "would-shorten":
                self._later(0.1)
                self._say(station, jar, bench.scan(jar, place))

    @precondition(lambda self: len(self.jars) < 9 and self._shows_right("A"))
    @rule(
        out=st.sampled_from(NAMES[1:]),
        use=st.sampled_from(NAMES),
        step=st.sampled_from((0, -181, -31, 181)),
        before=st.booleans(),
        waited=st.sampled_from((1, 31, 150, 178, 181, 10080)),
        right=st.booleans(),
    )
    def out_at_one_station_and_used_at_another(
        self, out: str, use: str, step: float, before: bool, waited: float, right: bool
    ) -> None:
        """A jar everybody knows is taken out where the clock is moved, before or after, and used somewhere else."""
        jar = self._known_to_all()
        if step and before:
            self.a_clock_is_moved(out, step)
        self.at_the_fridge(out, self.jars.index(jar))
        if step and not before:
            self.a_clock_is_moved(out, step)
        self._later(waited)
        if right:
            self.a_clock_is_put_right_and_confirmed(out)
        if use != out:
            self._tell_each_other(out, use, 3)
        self.the_bead_comes_off(use)
        self.at_its_line(use, self.jars.index(jar), good=True)

    @precondition(lambda self: len(self.jars) < 9 and self._shows_right("A"))
    @rule(apart=st.sampled_from((5, 60, 170)), waited=st.sampled_from((10, 120, 178, 181)), seed=st.integers(0, 99))
    def out_at_two_stations(self, apart: float, waited: float, seed: int) -> None:
        """Two doors saw one jar leave; nobody knows which was the first."""
        jar = self._known_to_all()
        self.at_the_fridge("A", self.jars.index(jar))
        self._later(apart)
        self.at_the_fridge("B", self.jars.index(jar))
        self._tell_each_other("A", "B", seed)
        self._later(waited)
        self.the_bead_comes_off("A")
        self.at_its_line("A", self.jars.index(jar), good=True)

    def _known_to_all(self) -> str:
        self.delivery("A", "L2", 9)
        for other in NAMES[1:]:
            self._tell_each_other("A", other, 1)
        self._later(11)
        return self.jars[-1]

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9))
    def it_is_used_up(self, station: str, pick: int) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        self._later(0.2)
        bench.scan(jar, "DESK")
        if bench.card(Card.EMPTY, "DESK").code == "emptied":
            self._note(station, "ended", jar)

    @rule(station=st.sampled_from(NAMES))
    def the_bead_comes_off(self, station: str) -> None:
        place, position = LINE[station]
        self._later(0.2)
        if self._bench(station).tag_card(position, Card.REMOVE, place).code == "removed":
            self.rolls[station] = None

    @precondition(lambda self: len(self.jars) < 9)
    @rule(station=st.sampled_from(NAMES))
    def the_bead_comes_off_and_is_kept(self, station: str) -> None:
        roll = self.rolls[station]
        self.the_bead_comes_off(station)
        if roll is None or self.rolls[station] is not None:
            return
        verdict = self._bench(station).card(Card.KEEP_USED, LINE[station][0])
        if verdict.code == "used-paste-kept":
            self._filled(station, verdict, tuple(roll.jars), DAY, spent=self.now - roll.began)

    @precondition(lambda self: len(self.jars) < 9)
    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9))
    def paste_is_decanted(self, station: str, pick: int) -> None:
        """Scanned at the line and decanted there: what the scan put on the bead in the books comes off again."""
        jar, bench, before = self._pick(pick), self._bench(station), deepcopy(self.rolls[station])
        self._later(0.2)
        if self._say(station, jar, bench.scan(jar, LINE[station][0])) == "opening-check":
            self._note(station, "opened", jar)
        verdict = bench.card(Card.DECANT, LINE[station][0])
        if verdict.code == "decanted":
            self.rolls[station] = before
            self._good(station, jar)
            self._filled(station, verdict, (jar,), 8 * HOUR)

    def _filled(
        self, station: str, verdict: Verdict, sources: tuple[str, ...], life: timedelta, spent: timedelta = NOTHING
    ) -> None:
        assert verdict.container is not None
        self.jars.append(verdict.container)
        self._note(station, "filled", verdict.container, Filling(sources, self.now + life, spent))

    # ------------------------------------------------------------------ a shift lead decides

    @staticmethod
    def _newest_hold(bench: Bench, jar: str) -> str:
        return bench.container(jar).holds[-1].key

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9))
    def lead_holds(self, station: str, pick: int) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        bench.badge(LEAD, "DESK")
        self._later(0.2)
        bench.scan(jar, "DESK")
        if bench.card(Card.HOLD, "DESK").code == "held-now":
            self._note(station, "held", jar, self._newest_hold(bench, jar))

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9))
    def lead_releases(self, station: str, pick: int) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        if jar not in bench.station.ledger.containers or not bench.container(jar).holds:
            return
        hold = bench.container(jar).holds[0]
        bench.station.release(jar, hold.key, "judged good", LEAD, LEAD_PIN)
        self._note(station, "released", jar, hold.key)

    @rule(station=st.sampled_from(NAMES), lot=st.sampled_from(LOTS))
    def lead_holds_a_lot(self, station: str, lot: str) -> None:
        bench = self._bench(station)
        lead_acts.hold_lot(bench.station, "SN-4", lot, "recall", PROOF)
        self._note(station, "lot-held", lot, bench.station.ledger.lots[f"SN-4/{lot}"].holds[-1].key)

    @rule(station=st.sampled_from(NAMES), lot=st.sampled_from(LOTS))
    def lead_releases_a_lot(self, station: str, lot: str) -> None:
        known = self._bench(station).station.ledger.lots.get(f"SN-4/{lot}")
        if known is None or not known.holds:
            return
        lead_acts.release_lot(self._bench(station).station, f"SN-4/{lot}", known.holds[0].key, "tested", PROOF)
        self._note(station, "lot-released", lot, known.holds[0].key)

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9), hours=st.sampled_from((1, 12)))
    def lead_extends(self, station: str, pick: int, hours: float) -> None:
        jar = self._pick(pick)
        asked = Extending(jar, Limit.OPEN, hours * HOUR, "C-1")
        try:
            self._bench(station).station.extend(asked, LEAD, LEAD_PIN)
        except (Refused, Refusal):
            return
        self._note(station, "extended", jar, hours * HOUR)
        self.named.add((station, jar))

    @rule(lot=st.sampled_from(LOTS), days=st.integers(1, 20))
    def supplier_recertifies(self, lot: str, days: int) -> None:
        expires = (self.now + days * DAY).astimezone(BERLIN).date()
        lead_acts.recertify_lot(self._bench("A").station, "SN-4", lot, expires, "letter", (PROOF, ENGINEER))
        self._note("A", "recertified", lot, end_of_day(expires, BERLIN))
        self.named.update(("A", jar) for jar in self.jars)

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9), ago=st.sampled_from((5, 90)))
    def lead_enters_a_take_out(self, station: str, pick: int, ago: float) -> None:
        jar = self._pick(pick)
        if not self._shows_right(station):
            return
        earliest = self.now - timedelta(minutes=ago)
        try:
            lead_acts.take_out_late(self._bench(station).station, Late(jar, earliest, self.now, "seen"), PROOF)
        except (Refused, Refusal):
            return
        self._note(station, "out", jar, (earliest, self.now))

    @rule(station=st.sampled_from(NAMES), pick=st.integers(0, 9))
    def lead_takes_the_last_act_back(self, station: str, pick: int) -> None:
        jar, bench = self._pick(pick), self._bench(station)
        try:
            outcome = lead_acts.take_back(bench.station, ("container", jar), "a slip", PROOF)
        except (Refused, Refusal):
            return
        undone = next(fact.body.fact for fact in outcome.facts if fact.body.NAME == "undone")  # type: ignore[union-attr]
        told = bench.station.ledger.fact(undone)
        assert told is not None
        self._taken_back(station, jar, told.body.NAME)

    def _taken_back(self, station: str, jar: str, name: str) -> None:
        what = {"opened": "opened", "ended": "ended", "decanted": "filled", "used-paste-kept": "filled"}.get(name)
        if name in ("loaded", "removed"):
            self.rolls = {one: self._lies_there(one) for one in NAMES}
        events = [event for event in self.events if event.jar == jar and event.what == what]
        if events:
            events[-1].taken_back.add(station)
        self._note(station, "taken-back", jar)
        self.named.add((station, jar))

    def _lies_there(self, station: str) -> Roll | None:
        bead = self._bench(station).position(LINE[station][1]).bead
        return Roll(bead.started_at, [portion.container for portion in bead.portions]) if bead is not None else None

    # ------------------------------------------------------------------ keeping the books

    def _say(self, station: str, jar: str, verdict: Verdict) -> str:
        bench = self._bench(station)
        if verdict.word == "USE":
            self._must_be_usable(station, verdict.container or jar)
            self._on_the_bead(station, verdict.container or jar)
        if verdict.code == "opened-early":
            self._note(station, "opened", jar)
            self._note(station, "held", jar, self._newest_hold(bench, jar))
        if verdict.code == "taken-out" and any(
            hold.reason is HoldReason.SEEN_WARM for hold in bench.container(jar).holds
        ):
            self._note(station, "held", jar, self._newest_hold(bench, jar))
        return verdict.code

    def _on_the_bead(self, station: str, jar: str) -> None:
        bead = self._bench(station).position(LINE[station][1]).bead
        assert bead is not None
        roll = self.rolls[station]
        spent = max((event.detail.spent for event in self._heard(station, jar, "filled")), default=NOTHING)
        if roll is None:
            self.rolls[station] = Roll(self.now - spent, [jar])
        elif jar not in roll.jars:
            roll.jars.append(jar)
            roll.began = min(roll.began, self.now - spent)

    def _must_be_usable(self, station: str, jar: str) -> None:
        self._good(station, jar)
        for origin in self._origins(station, jar):
            outs = self._heard(station, origin, "out")
            assert outs, "never taken out"
            latest = max(event.detail[1] for event in outs)
            assert self.now >= latest + 3 * HOUR, "still conditioning"
        roll = self.rolls[station]
        if roll is not None:
            assert self.now <= roll.began + 8 * HOUR, "the bead is over"
            for other in roll.jars:
                self._good(station, other, in_the_bead=True)

    def _good(self, station: str, jar: str, *, in_the_bead: bool = False) -> None:
        """Nothing this station has heard of stands against the paste of a jar."""
        if not in_the_bead:
            assert not self._heard(station, jar, "ended"), "its end was heard of"
        assert not self._standing(station, jar, "held", "released"), "held"
        for filling in self._heard(station, jar, "filled"):
            assert self.now <= filling.detail.end, "decanted or kept for too long"
            for source in filling.detail.sources:
                self._good(station, source, in_the_bead=True)
            return
        received = self._heard(station, jar, "received")
        assert received, "not known here"
        lot, shelf_end = received[0].detail
        assert not self._standing(station, lot, "lot-held", "lot-released"), "its lot is held"
        recertified = self._heard(station, lot, "recertified")
        assert self.now <= (recertified[-1].detail if recertified else shelf_end), "shelf life"
        outs = self._heard(station, jar, "out")
        if outs:
            earliest = min(event.detail[0] for event in outs)
            assert self.now <= earliest + 7 * DAY, "room life"
        opened = self._heard(station, jar, "opened")
        if opened:
            extension = sum((event.detail for event in self._heard(station, jar, "extended")), NOTHING)
            assert self.now <= min(event.at for event in opened) + DAY + extension, "open life"

    def _origins(self, station: str, jar: str) -> set[str]:
        """The containers the paste of one came in."""
        fillings = self._heard(station, jar, "filled")
        sources = {source for event in fillings for source in event.detail.sources}
        return {origin for source in sources for origin in self._origins(station, source)} or {jar}

    def _standing(self, station: str, subject: str, held: str, released: str) -> set[object]:
        holds = {event.detail for event in self._heard(station, subject, held)}
        return holds - {event.detail for event in self._heard(station, subject, released)}

    # ------------------------------------------------------------------ what must hold after every act

    @invariant()
    def times_only_move_to_the_safe_side(self) -> None:
        for station in NAMES:
            floor = self._bench(station).floor
            for jar in self.jars:
                container = floor.container(jar)
                if container is None:
                    continue
                now = (container.earliest_use, floor.standing(container).discard_by)
                before = self.seen.get((station, jar))
                self.seen[station, jar] = now
                if before is None or self.clocks_moved or (station, jar) in self.named:
                    continue
                assert before[0] is None or (now[0] is not None and now[0] >= before[0]), "ready sooner"
                assert before[1] is None or (now[1] is not None and now[1] <= before[1]), "lives longer"
        self.named = set()

    @invariant()
    def a_bead_never_begins_anew_while_it_lies_there(self) -> None:
        for station in NAMES:
            bead, roll = self._bench(station).position(LINE[station][1]).bead, self.rolls[station]
            assert (bead is None) == (roll is None)
            if bead is not None and roll is not None and not self.clocks_moved:
                assert bead.stencil_end <= roll.began.astimezone(UTC) + 8 * HOUR

    def teardown(self) -> None:
        for station in NAMES:
            bench = self._bench(station)
            facts = list(bench.journal.facts())
            Random(len(facts)).shuffle(facts)
            again = Ledger(frozenset({bench.journal.number}))
            for fact in facts:
                again.apply(fact)
            assert picture(again) == picture(bench.station.ledger)


TestFleetRail = FleetRail.TestCase
TestFleetRail.settings = settings(
    max_examples=30, stateful_step_count=40, deadline=None, suppress_health_check=list(HealthCheck)
)
