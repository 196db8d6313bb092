"""The safety rail: whatever people, clocks and power cuts do, USE is only said of paste that may be used.

A plain model keeps its own books in true time, which no clock of the PC can touch, from nothing but what was
answered. It knows no facts, no folds and no reasons. Whenever the station says USE the model must find nothing
against it; ends may be earlier than the model's, never later.
"""

from copy import deepcopy
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from station.care.extension import Extending, ExtensionRefused
from station.care.moments import end_of_day
from station.care.reasons import against
from station.care.scans import CardScan, ContainerScan, Scan, TagScan
from station.care.words import Card, Limit
from station.services.outcome import Refusal
from tests.care.bench import BERLIN, LEAD, LEAD_PIN, Bench
from tests.care.test_folds import picture, replayed

HOUR, MINUTE, NOTHING = timedelta(hours=1), timedelta(minutes=1), timedelta(0)
LINES = {"LINE1": ("1",), "DUAL": ("2A", "2B")}
POSITIONS = {"1": "LINE1", "2A": "DUAL", "2B": "DUAL"}
PRODUCTS = {"CTRL": "SN-4", "POWER": "PB-1"}
LENGTHS = (0.05, 0.5, 1, 2, 4, 6, 12, 20, 29, 31, 40, 59, 61, 121, 179, 181, 240, 479, 481, 1439, 4000)
STEPS = (-600, -181, -61, -7, 7, 61, 181, 600)
PASSED = {"shelf-life", "room-life", "open-life"}


@dataclass
class Jar:
    """What is true of one container, in true time."""

    paste: str
    shelf_end: datetime
    cold_since: datetime
    dock: timedelta
    out: datetime | None = None
    out_for_life: datetime | None = None
    opened: datetime | None = None
    extension: timedelta = NOTHING
    holds: int = 0
    ended: bool = False
    seen_warm: bool = False

    def over(self, now: datetime) -> bool:
        """Whether one of its limits has passed."""
        room = self.out_for_life is not None and now > self.out_for_life + 168 * HOUR - self.dock
        opened = self.opened is not None and now > self.opened + 24 * HOUR + self.extension
        return room or opened or now > self.shelf_end


@dataclass
class Roll:
    """A bead in true time."""

    paste: str
    began: datetime
    jars: list[str] = field(default_factory=list)
    paused: datetime | None = None
    dried: bool = False


@dataclass
class Spot:
    """A stencil position."""

    roll: Roll | None = None
    soiled: str | None = None
    job: str | None = None


class SafetyRail(RuleBasedStateMachine):
    """Random acts on some containers, three positions and one clock."""

    @initialize()
    def _open(self) -> None:
        self.bench = Bench(start="2026-11-08T12:00")
        self.true = self.bench.clock.wall
        self.jars: dict[str, Jar] = {}
        self.spots = {name: Spot() for name in POSITIONS}
        self.before: dict[str, Jar | Spot] = {}
        self.passed: set[str] = set()
        self.may_revive = False
        for paste in ("SN-4", "SN-4", "PB-1"):
            self._deliver(paste, 3, 0)
        self._later(11)
        for name in self.jars:
            assert self._scan(name, "FRIDGE") == "taken-out"
        self._later(180)
        self._to_line(next(iter(self.jars)), "LINE1", 0, good=True)

    # ------------------------------------------------------------------ time

    def _later(self, minutes: float) -> None:
        self.bench.later(minutes)
        self.true += timedelta(minutes=minutes)

    @rule(minutes=st.sampled_from(LENGTHS))
    def time_passes(self, minutes: float) -> None:
        self._later(minutes)

    @rule(minutes=st.sampled_from(STEPS))
    def clock_is_moved(self, minutes: float) -> None:
        self.bench.step(minutes)

    @precondition(lambda self: self.bench.station.ledger.clock.trusted_until is not None)
    @rule()
    def clock_is_put_right_and_confirmed(self) -> None:
        wrong = self.bench.clock.wall - self.true
        if wrong:
            self.bench.step(-wrong / MINUTE)
        self.bench.station.confirm_clock(LEAD, LEAD_PIN)
        self.may_revive = True

    @rule()
    def power_fails(self) -> None:
        self.bench.restart()

    # ------------------------------------------------------------------ paste comes and goes

    def _deliver(self, paste: str, days: int, dock: float) -> None:
        expires = (self.bench.clock.wall + timedelta(days=days)).astimezone(BERLIN).date()
        name = self.bench.receive(paste, expires=expires)
        if dock:
            self._later(dock)
        verdict = self.bench.scan(name, "FRIDGE")
        assert verdict.code == "put-away"
        held = len(self.bench.container(name).holds)
        shelf_end = end_of_day(expires, BERLIN)
        self.jars[name] = Jar(paste, shelf_end, self.true, timedelta(minutes=dock), holds=held)

    @precondition(lambda self: len(self.jars) < 6 and self.bench.clock.wall == self.true)
    @rule(paste=st.sampled_from(("SN-4", "SN-4", "PB-1")), days=st.integers(0, 9), dock=st.sampled_from((0, 90, 250)))
    def delivery(self, paste: str, days: int, dock: float) -> None:
        self._deliver(paste, days, dock)

    @rule(pick=st.integers(0, 5))
    def scan_at_the_fridge(self, pick: int) -> None:
        self._scan(self._name(pick), "FRIDGE")

    @precondition(lambda self: len(self.jars) < 6 and self.bench.station.ledger.clock.trusted_until is None)
    @rule(paste=st.sampled_from(("SN-4", "PB-1")), days=st.integers(0, 2), over=st.sampled_from((170, 180, 200)))
    def a_jar_is_made_ready(self, paste: str, days: int, over: float) -> None:
        self._deliver(paste, days, 0)
        self._later(11)
        self._scan(list(self.jars)[-1], "FRIDGE")
        self._later(over)

    @precondition(lambda self: len(self.jars) < 6 and self.bench.station.ledger.clock.trusted_until is None)
    @rule(warmed=st.sampled_from((1, 60, 170)), step=st.sampled_from(STEPS), right=st.booleans())
    def the_clock_is_moved_while_a_jar_warms(self, warmed: float, step: float, right: bool) -> None:
        """Either the clock was right and is moved, or it had been wrong and is put right and confirmed."""
        if right:
            self.bench.step(-step)
            self.bench.station.confirm_clock(LEAD, LEAD_PIN)
            self.may_revive = True
        self._deliver_in_doubtful_time()
        name = list(self.jars)[-1]
        self._later(11)
        self._scan(name, "FRIDGE")
        self._later(warmed)
        self.bench.step(step)
        if right:
            self.bench.station.confirm_clock(LEAD, LEAD_PIN)
        self._to_line(name, "DUAL", 0, good=True)

    def _deliver_in_doubtful_time(self) -> None:
        self._deliver("SN-4", 2, 0)
        name = list(self.jars)[-1]
        shown_ahead = self.bench.clock.wall - self.true
        self.jars[name].shelf_end = max(self.jars[name].shelf_end, self.jars[name].shelf_end - shown_ahead)

    @rule(pick=st.integers(0, 5), place=st.sampled_from(tuple(LINES)), tag=st.integers(0, 1))
    def take_to_a_line(self, pick: int, place: str, tag: int) -> None:
        self._to_line(self._name(pick), place, tag, good=True)

    @rule(pick=st.integers(0, 5), place=st.sampled_from(tuple(LINES)), tag=st.integers(0, 1))
    def take_to_another_line(self, pick: int, place: str, tag: int) -> None:
        self._to_line(self._name(pick), place, tag, good=True)

    @rule(pick=st.integers(0, 5), place=st.sampled_from(tuple(LINES)), tag=st.integers(0, 1))
    def take_a_bad_one_to_a_line(self, pick: int, place: str, tag: int) -> None:
        self._to_line(self._name(pick), place, tag, good=False)

    def _to_line(self, name: str, place: str, tag: int, *, good: bool) -> None:
        """A person scans it, answers which lane, insists where it is asked, and answers the opening check."""
        self._later(0.2)
        code = ""
        for _ in range(3):
            code = self._scan(name, place)
            if code == "which-position":
                code = self._tag(LINES[place][tag], place, name)
            if code != "would-shorten":
                break
            self._later(0.1)
        if code == "opening-check":
            self._say(CardScan(Card.LOOKS_GOOD if good else Card.LOOKS_BAD), place, name)

    @rule(pick=st.integers(0, 5), place=st.sampled_from(tuple(LINES)))
    def scan_only(self, pick: int, place: str) -> None:
        self._scan(self._name(pick), place)

    @rule(place=st.sampled_from(tuple(LINES)), card=st.sampled_from((Card.LOOKS_GOOD, Card.LOOKS_BAD, Card.DISCARD)))
    def card_after_whatever_was_scanned(self, place: str, card: Card) -> None:
        self._say(CardScan(card), place, None)

    @rule(
        name=st.sampled_from(tuple(POSITIONS)),
        card=st.sampled_from(
            (
                Card.REMOVE,
                Card.REMOVE,
                Card.NEW_BEAD,
                Card.SAME_BEAD,
                Card.CARRY_OVER,
                Card.CLEANED,
                Card.PAUSE,
                Card.RESUME,
                Card.UNDO,
            )
        ),
    )
    def card_at_a_position(self, name: str, card: Card) -> None:
        place = POSITIONS[name]
        self._later(0.2)  # nothing armed before, so the tag means the position
        self._tag(name, place, None)
        self._say(CardScan(card), place, None, name)

    @rule(name=st.sampled_from(tuple(POSITIONS)), product=st.sampled_from(tuple(PRODUCTS)))
    def work_order(self, name: str, product: str) -> None:
        self._later(0.2)
        self._tag(name, POSITIONS[name], None)
        self.bench.order("WO1", product, POSITIONS[name])  # what lies there and must come off is said first
        assert self.bench.station.ledger.positions[name].product == product
        self.spots[name].job = PRODUCTS[product]

    @rule(pick=st.integers(0, 5), card=st.sampled_from((Card.EMPTY, Card.DISCARD, Card.UNDO, Card.UNDO, Card.HOLD)))
    def card_at_the_desk(self, pick: int, card: Card) -> None:
        name = self._name(pick)
        self.bench.badge(LEAD, "DESK")
        self._later(0.1)
        self.bench.scan(name, "DESK")
        self._say(CardScan(card), "DESK", name)

    @precondition(lambda self: any(spot.roll for spot in self.spots.values()))
    @rule(pick=st.integers(0, 5))
    def a_jar_of_a_bead_is_held_while_another_feeds_it(self, pick: int) -> None:
        position = next(name for name, spot in self.spots.items() if spot.roll)
        roll = self.spots[position].roll
        assert roll is not None
        self.card_at_the_desk(list(self.jars).index(roll.jars[0]), Card.HOLD)
        self._later(0.2)
        self._to_line(self._name(pick), POSITIONS[position], int(position.endswith("B")), good=True)

    @rule(pick=st.integers(0, 5))
    def lead_releases(self, pick: int) -> None:
        name = self._name(pick)
        self.bench.release_all(name)
        self.jars[name].holds = 0

    @rule(pick=st.integers(0, 5), hours=st.sampled_from((1, 6, 12)))
    def lead_extends(self, pick: int, hours: float) -> None:
        name = self._name(pick)
        try:
            self.bench.station.extend(Extending(name, Limit.OPEN, hours * HOUR, "C-1"), LEAD, LEAD_PIN)
        except (ExtensionRefused, Refusal):
            return
        self.jars[name].extension += hours * HOUR
        self.may_revive = True

    # ------------------------------------------------------------------ keeping the books

    def _name(self, pick: int) -> str:
        return list(self.jars)[pick % len(self.jars)]

    def _scan(self, name: str, place: str) -> str:
        return self._say(ContainerScan(name), place, name)

    def _tag(self, position: str, place: str, name: str | None) -> str:
        return self._say(TagScan(position), place, name, position)

    def _say(self, scan: Scan, place: str, name: str | None, position: str | None = None) -> str:
        ends = {bead.key: self.bench.floor.bead_end(bead)[1] for _, bead in self.bench.floor.beads()}
        outcome = self.bench.outcome(scan, place)
        verdict = outcome.verdict
        assert verdict is not None
        told = [fact.body.NAME for fact in outcome.facts]
        name = verdict.container or name
        if verdict.word == "USE":
            self._used(name or "", verdict.position or "", new="loaded" in told)
        elif name is not None:
            self._container_said(verdict.code, self.jars[name], name, told)
        self._position_said(verdict.code, verdict.position or position, told)
        for _, bead in self.bench.floor.beads():
            if not told.count("undone"):
                assert self.bench.floor.bead_end(bead)[1] <= ends.get(bead.key, datetime.max.replace(tzinfo=BERLIN))
        return verdict.code

    def _container_said(self, code: str, jar: Jar, name: str, told: list[str]) -> None:
        if code in ("taken-out", "emptied"):
            self.before[name] = deepcopy(jar)
        if code == "taken-out" and "taken-out" in told:
            jar.out, jar.out_for_life = self.true, jar.cold_since if jar.seen_warm else self.true
            jar.holds += jar.seen_warm
        elif code == "not-taken-out":
            jar.seen_warm = jar.seen_warm or "sighted" in told
        elif code in ("opening-check", "opened-early") and "opened" in told:
            jar.opened = self.true
        elif code in ("emptied", "discarded") and "ended" in told:
            jar.ended = True
        elif code == "undone":
            self._take_back(name, jar)
        jar.holds += told.count("held")
        if code == "taken-out" and jar.seen_warm and "held" in told:
            jar.holds -= 1

    def _take_back(self, name: str, jar: Jar) -> None:
        self.may_revive = True
        if jar.ended:
            jar.ended = False
        elif jar.out is not None:
            was = self.before.pop(name)
            assert isinstance(was, Jar)
            self.jars[name] = was
        else:  # the put-away; it is done again at once
            self._later(0.2)
            assert self._scan(name, "FRIDGE") == "put-away"

    def _position_said(self, code: str, name: str | None, told: list[str]) -> None:
        if "undone" in told and code == "discarded":
            self._withdraw()
        if name is None:
            return
        spot = self.spots[name]
        if "removed" in told:
            self.before[name] = deepcopy(spot)
            spot.soiled, spot.roll = spot.roll.paste if spot.roll else spot.soiled, None
        elif "cleaned" in told:
            spot.soiled = None
        elif code == "undone":
            was = self.before.pop(name)
            assert isinstance(was, Spot)
            spot.roll, self.may_revive = was.roll, True
        elif "paused" in told and spot.roll is not None and spot.roll.paused is None:
            spot.roll.paused = self.true
        elif "resumed" in told and spot.roll is not None and spot.roll.paused is not None:
            spot.roll.dried = spot.roll.dried or self.true - spot.roll.paused > HOUR
            spot.roll.paused = None

    def _withdraw(self) -> None:
        """A load made only to name a jar for DISCARD is taken back."""
        name, was = self.last_load
        assert name is not None
        self.spots[name].roll = was.roll
        self.spots[name].soiled = was.soiled

    def _used(self, name: str, position: str, *, new: bool) -> None:
        jar, spot, now = self.jars[name], self.spots[position], self.true
        assert not jar.ended
        assert jar.holds == 0
        assert jar.out is not None
        assert now >= jar.out + 3 * HOUR, "still conditioning"
        assert jar.opened is not None
        assert not jar.over(now)
        assert spot.job in (None, jar.paste)
        roll = spot.roll
        if roll is None:
            assert spot.soiled in (None, jar.paste)
            assert new, "a bead began and nobody recorded it"
        else:
            assert roll.paste == jar.paste
            assert now <= roll.began + 8 * HOUR
            assert roll.paused is None
            assert not roll.dried
            for other in roll.jars:
                assert self.jars[other].holds == 0
                assert not self.jars[other].over(now)
        if new:
            self.last_load = (position, deepcopy(spot))
            roll = roll or Roll(jar.paste, now)
            spot.roll = roll
            if name not in roll.jars:
                roll.jars.append(name)

    # ------------------------------------------------------------------ what must hold after every act

    @invariant()
    def nothing_that_passed_comes_back(self) -> None:
        floor = self.bench.floor
        now_passed = {
            name
            for name in self.jars
            if PASSED & {reason.code for reason in against(floor, self.bench.container(name), None)}
        }
        ended = {name for name in self.jars if self.bench.container(name).ended is not None}
        assert self.may_revive or self.passed <= now_passed | ended
        self.passed, self.may_revive = now_passed | (self.passed & ended), False

    @invariant()
    def holds_agree(self) -> None:
        for name, jar in self.jars.items():
            assert len(self.bench.container(name).holds) == jar.holds

    def teardown(self) -> None:
        facts = list(self.bench.journal.facts())
        shuffled = list(facts)
        Random(len(facts)).shuffle(shuffled)
        assert picture(replayed(shuffled)) == picture(self.bench.station.ledger)


TestSafetyRail = SafetyRail.TestCase
TestSafetyRail.settings = settings(
    max_examples=40, stateful_step_count=40, deadline=None, suppress_health_check=list(HealthCheck)
)
