"""A bench to try the rules on: plant T on a set clock, with everything a person can do as one short call."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from station.bootstrap import DEMO_KEYS, NoPrinter
from station.care.facts import Body, Fact, Segment
from station.care.floor import Floor
from station.care.receiving import Arrival
from station.care.scans import BadgeScan, CardScan, ContainerScan, Scan, SeenLabel, TagScan, WorkOrderScan
from station.care.specification import Bin, Conditioning, Kind, Paste, Plant, Specification, Store
from station.care.state import Container, PositionState
from station.care.verdict import Verdict
from station.care.words import Alloy, Card, Place, Shape, Storage
from station.rehearsal.clock import SetClock
from station.services.memory import MemoryJournal
from station.services.outcome import Outcome
from station.services.ports import Draft
from station.services.site import PlaceSetting, Site
from station.services.station import Station
from station.settings.load import load

BERLIN = ZoneInfo("Europe/Berlin")
LEAD, LEAD_PIN = "P20", "2020"
EXPIRES = date(2027, 3, 31)
ELSEWHERE = Segment("another PC", 0)
HERE = Segment("boot-1", 0)


@cache
def site_t() -> Site:
    """Plant T as its files have it."""
    return load(Path(__file__).parents[1] / "plant_t")


@cache
def site_f() -> Site:
    """Plant F as its files have it: frozen paste, and paste that may go back into the cold."""
    return load(Path(__file__).parents[1] / "plant_f")


def berlin(text: str) -> datetime:
    """An instant told in plant time, such as `2026-11-09T06:00`."""
    return datetime.fromisoformat(text).replace(tzinfo=BERLIN).astimezone(UTC)


def with_rules(site: Site, **changed: object) -> Site:
    """The site with some of its handling choices changed."""
    return replace(site, plant=replace(site.plant, rules=replace(site.plant.rules, **changed)))  # type: ignore[arg-type]


def with_limits(site: Site, paste: str, **changed: object) -> Site:
    """The site with some limits of one paste changed."""
    changed_specification = (
        replace(entry, **changed) if entry.paste == paste else entry  # type: ignore[arg-type]
        for entry in site.specifications
    )
    return replace(site, specifications=tuple(changed_specification))


def with_room_paste(site: Site) -> Site:
    """The site with a bismuth paste that is never refrigerated, its shelf, and cartridges to buy it in."""
    paste = Paste("BI-9", 9, "BI-9", "T-9", Alloy.SN_BI, "ROL0", "type 4", Storage.ROOM)
    cartridge = Kind("CART-600", Shape.CARTRIDGE, 600, False, _minutes(45), _minutes(10), True, True, "cartridge")
    shelf = Store("SHELF", "Shelf", Storage.ROOM, 18, 28, (Bin("S1", 1, False, False), Bin("S9", 1, False, True)))
    kinds = (Conditioning("CART-600", _minutes(180)), Conditioning("JAR-500", _minutes(180)))
    limits = replace(site.specifications[0], paste="BI-9", conditioning=kinds)
    others = tuple(replace(entry, conditioning=kinds) for entry in site.specifications)
    plant = replace(
        site.plant,
        pastes={**site.plant.pastes, "BI-9": paste},
        kinds={**site.plant.kinds, "CART-600": cartridge},
        stores={**site.plant.stores, "SHELF": shelf},
    )
    place = PlaceSetting("SHELF", Place.FRIDGE, "Shelf", "SHELF", ())
    bench = PlaceSetting("BENCH", Place.BENCH, "Bench", None, ())
    places = (*site.places, place, bench)
    return replace(site, plant=plant, specifications=(*others, limits), places=places)


def _minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


class Bench:
    """One station and its clock."""

    def __init__(
        self, site: Site | None = None, start: str = "2026-11-08T12:00", journal: MemoryJournal | None = None
    ) -> None:
        """A station that was just started."""
        self.site = site or site_t()
        self.journal, self.printer = journal or MemoryJournal(), NoPrinter()
        self.clock = SetClock(berlin(start))
        self.station = self._made()
        self.station.start("bench")

    def _made(self) -> Station:
        own = frozenset({self.journal.number})
        return Station(self.site, self.journal, self.clock, DEMO_KEYS, self.printer, own)

    # ------------------------------------------------------------------ time

    def at(self, text: str) -> "Bench":
        """Let time pass until the clock shows this plant time."""
        wall = berlin(text)
        assert wall >= self.clock.wall, f"the clock already shows {self.clock.wall.astimezone(BERLIN)}"
        self.clock.go_on(wall - self.clock.wall)
        self.station.tick()
        return self

    def later(self, minutes: float) -> "Bench":
        """Let some minutes pass."""
        self.clock.go_on(_minutes(minutes))
        self.station.tick()
        return self

    def step(self, minutes: float) -> "Bench":
        """Somebody moves the clock."""
        self.clock.step(_minutes(minutes))
        self.station.tick()
        return self

    def restart(self) -> "Bench":
        """The PC dies and starts again."""
        self.clock.restart()
        self.station = self._made()
        self.station.start("bench")
        return self

    # ------------------------------------------------------------------ what people do

    def receive(self, paste: str = "SN-4", kind: str = "JAR-500", **told: object) -> str:
        """A container arrives now, at 8 C, unless told otherwise."""
        name = self.station.new_container()
        arrival = Arrival(name, paste, kind, "101", EXPIRES, None, self.clock.wall, 8, "measured", leaking=False)
        self.station.receive([replace(arrival, **told)], None)  # type: ignore[arg-type]
        return name

    def cold(self, paste: str = "SN-4", kind: str = "JAR-500", **told: object) -> str:
        """A container that has lain in the cold store for some time."""
        name = self.receive(paste, kind, **told)
        self.scan(name, "FRIDGE")
        return name

    def ready(self, paste: str = "SN-4", kind: str = "JAR-500", **told: object) -> str:
        """A container taken out three hours ago."""
        name = self.cold(paste, kind, **told)
        self.later(11)
        self.scan(name, "FRIDGE")
        self.later(180)
        return name

    def on_line(self, place: str = "LINE1", paste: str = "SN-4", kind: str = "JAR-500", **told: object) -> str:
        """A container that feeds a bead started now."""
        name = self.ready(paste, kind, **told)
        self.scan(name, place)
        assert self.card(Card.LOOKS_GOOD, place).word == "USE"
        return name

    def outcome(self, scan: Scan, place: str) -> Outcome:
        """Whatever comes of a scan."""
        return self.station.scanned(scan, place)

    def answer(self, scan: Scan, place: str) -> Verdict:
        """The verdict on a scan."""
        verdict = self.outcome(scan, place).verdict
        assert verdict is not None
        return verdict

    def scan(self, name: str, place: str, label: SeenLabel | None = None) -> Verdict:
        """A container is scanned."""
        return self.answer(ContainerScan(name, label), place)

    def card(self, card: Card, place: str) -> Verdict:
        """A command card is scanned."""
        return self.answer(CardScan(card), place)

    def tag(self, position: str, place: str) -> Verdict:
        """The tag of a position is scanned."""
        return self.answer(TagScan(position), place)

    def tag_card(self, position: str, card: Card, place: str) -> Verdict:
        """A tag, then a card."""
        self.tag(position, place)
        return self.card(card, place)

    def badge(self, person: str, place: str) -> Verdict:
        """A badge is scanned."""
        return self.answer(BadgeScan(person), place)

    def order(self, order: str, product: str, place: str) -> Verdict:
        """A work order is scanned."""
        return self.answer(WorkOrderScan(order, product), place)

    def tell(self, *bodies: Body) -> tuple[Fact, ...]:
        """Facts that come from somewhere else, such as another station."""
        drafts = [Draft(body, self.clock.wall, 8, None, ELSEWHERE) for body in bodies]
        facts = self.journal.append(drafts)
        for fact in facts:
            self.station.ledger.apply(fact)
        return facts

    def tell_own(self, *bodies: Body) -> tuple[Fact, ...]:
        """Facts this station writes by itself, such as a comparison of clocks."""
        drafts = [Draft(body, self.clock.wall, self.site.station, None, HERE) for body in bodies]
        return self.station.learn(self.journal.append(drafts)).facts

    def release_all(self, name: str) -> None:
        """A shift lead releases every hold of a container."""
        for hold in self.container(name).holds:
            self.station.release(name, hold.key, "judged good", LEAD, LEAD_PIN)

    # ------------------------------------------------------------------ what is true

    @property
    def floor(self) -> Floor:
        """The plant now."""
        return self.station.floor()

    @property
    def plant(self) -> Plant:
        """What is set up."""
        return self.site.plant

    def container(self, name: str) -> Container:
        """A container now."""
        return self.station.ledger.containers[name]

    def position(self, name: str) -> PositionState:
        """A position now."""
        return self.floor.position(name)

    def limits(self, paste: str = "SN-4") -> Specification:
        """The limits in force."""
        return self.floor.specification(paste)

    def alarms(self) -> list[str]:
        """The ids of the open alarms."""
        return [alarm.id for alarm in self.station.ledger.alarms.values() if alarm.cleared_at is None]
