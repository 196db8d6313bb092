"""What the limits of a paste come to for a take-out that is only imagined: the same rules, nothing recorded.

The facts a real take-out would write are made by the same functions and added up by the same ledger, so what is
answered here is what the fridge door would print.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from station.care import facts as f
from station.care.conditioning import Wait
from station.care.floor import Floor
from station.care.ledger import Ledger
from station.care.limits import starts_of
from station.care.moments import end_of_day, minute_down, minute_up
from station.care.saying import clock_time, day_time
from station.care.specification import Store
from station.care.state import Container
from station.care.takeout import taken_out, wait_for
from station.care.words import Limit, Storage
from station.services.memory import MemoryJournal
from station.services.outcome import Refusal, refuse_no_room
from station.services.ports import Draft
from station.services.site import Site

IMAGINED = "imagined"
SEGMENT = f.Segment(IMAGINED, 0)
NO_WAIT = Wait(timedelta(0), timedelta(0), timedelta(0))


@dataclass(frozen=True, slots=True)
class Question:
    """A take-out to work out. Instants are aware; `room_c` in degrees Celsius, `humidity` in percent.

    Where the room is not given, the site's assumed room air is used. Without `expires` shelf life is unknown.
    """

    paste: str
    kind: str
    out_at: datetime
    opened_at: datetime | None = None
    room_c: float | None = None
    humidity: float | None = None
    expires: date | None = None


@dataclass(frozen=True, slots=True)
class Running:
    """One limit: its name, when it began (None where that is not known) and its last usable minute."""

    name: str
    start: datetime | None
    until: datetime


@dataclass(frozen=True, slots=True)
class Times:
    """The answer. `earliest_use` is None while the room forbids any use; `why` says what stands against it."""

    earliest_use: datetime | None
    discard_by: datetime | None
    governing: Limit | None
    limits: tuple[Running, ...]
    wait: Wait | None
    why: str


def times(site: Site, question: Question) -> Times:
    """The times of an imagined take-out. Raises Refusal for what the site does not know or no room can be."""
    _check(site, question)
    imagined = _Imagined(site, question)
    imagined.receive()
    if site.plant.pastes[question.paste].storage is not Storage.ROOM:
        imagined.take_out()
    if question.opened_at is not None:
        imagined.open(question.opened_at)
    return imagined.answer()


def _check(site: Site, question: Question) -> None:
    plant = site.plant
    if question.paste not in plant.pastes:
        known = ", ".join(sorted(plant.pastes))
        raise Refusal("paste-unknown", f"There is no paste {question.paste!r} here. Use one of: {known}.")
    limits = next(found for found in site.specifications if found.paste == question.paste)
    if limits.minimum_for(question.kind) is None:
        known = ", ".join(entry.kind for entry in limits.conditioning)
        raise Refusal(
            "kind-unknown", f"{question.paste} has no limits for the kind {question.kind!r}. Use one of: {known}."
        )
    if question.opened_at is not None and question.opened_at < question.out_at:
        raise Refusal("opened-before-out", "It can't be opened before it was taken out. Check both times.")
    refuse_no_room(question.room_c, question.humidity)


class _Imagined:
    """One container in a ledger of its own."""

    def __init__(self, site: Site, question: Question) -> None:
        self.site, self.question = site, question
        self.journal, self.ledger = MemoryJournal(), Ledger()
        self.wait: Wait | None = None
        rules = site.plant.rules
        room_c = rules.assumed_room_c if question.room_c is None else question.room_c
        humidity = rules.assumed_humidity if question.humidity is None else question.humidity
        limits = (f.SpecificationSet(entry, "") for entry in site.specifications)
        self.tell((*limits, f.RoomRead(room_c, humidity)), question.out_at)

    @property
    def container(self) -> Container:
        return self.ledger.containers[IMAGINED]

    def tell(self, bodies: Iterable[f.Body], at: datetime) -> None:
        drafts = [Draft(body, at, self.site.station, None, SEGMENT) for body in bodies]
        for fact in self.journal.append(drafts):
            self.ledger.apply(fact)

    def floor(self, now: datetime) -> Floor:
        return Floor(self.site.plant, self.ledger, now, self.site.zone)

    def receive(self) -> None:
        asked = self.question
        shelf_end = end_of_day(asked.expires, self.site.zone) if asked.expires is not None else None
        received = f.Received(
            container=IMAGINED,
            paste=asked.paste,
            kind=asked.kind,
            lot="",
            expires=asked.expires,
            shelf_end=shelf_end,
            arrived_at=asked.out_at,
            temperature_c=None,
            temperature_answer="not measured",
            leaking=False,
            to_cold_by=None,
        )
        self.tell([received], asked.out_at)

    def take_out(self) -> None:
        store, at = self._coldest_store(), self.question.out_at
        self.tell([f.PutAway(IMAGINED, store.id, store.bins[0].id, returning=False)], at)
        floor = self.floor(at)
        self.wait = wait_for(floor, self.question.paste, self.question.kind, store.low_c)
        fact = taken_out(floor, self.container, store, self.wait or NO_WAIT)
        # in a room that forbids use the room life runs all the same
        self.tell([fact if self.wait is not None else replace(fact, earliest_use=None)], at)

    def _coldest_store(self) -> Store:
        """Nobody said which store it comes from; the one with the lowest lower limit makes it wait longest.

        Frozen paste that thaws first comes to the room from a refrigerator.
        """
        plant = self.site.plant
        limits = next(found for found in self.site.specifications if found.paste == self.question.paste)
        storage = plant.pastes[self.question.paste].storage if limits.thaw is None else Storage.COLD
        stores = [store for store in plant.stores.values() if store.storage is storage] or plant.stores.values()
        return min(stores, key=lambda store: (store.low_c, store.id))

    def open(self, at: datetime) -> None:
        floor = self.floor(at)
        earliest = self.container.earliest_use
        early = self._is_cold_kept and (earliest is None or at < earliest)
        open_end = minute_down(at + floor.specification(self.question.paste).open_life)
        self.tell([f.Opened(IMAGINED, "", early=early, open_end=open_end)], at)

    @property
    def _is_cold_kept(self) -> bool:
        return self.container.has_been_out

    def answer(self) -> Times:
        container = self.container
        floor = self.floor(self.question.opened_at or self.question.out_at)
        standing = floor.standing(container)
        earliest = container.earliest_use if self._is_cold_kept else minute_up(self.question.out_at)
        return Times(
            earliest_use=earliest,
            discard_by=standing.discard_by,
            governing=standing.governing,
            limits=(*self._conditioning(), *self._running(container)),
            wait=self.wait,
            why=self._why(floor, earliest),
        )

    def _conditioning(self) -> tuple[Running, ...]:
        container = self.container
        if container.earliest_use is None:
            return ()
        return (Running(Limit.CONDITIONING.value, container.out_to, container.earliest_use),)

    def _running(self, container: Container) -> Iterable[Running]:
        # it was received only in imagination, so when its shelf life began is not known
        starts = {**starts_of(container), Limit.SHELF: None}
        for limit, end in self.floor(self.question.out_at).standing(container).limits:
            yield Running(limit.value, starts[limit], end)

    def _why(self, floor: Floor, earliest: datetime | None) -> str:
        if earliest is None:
            return self._unfit_room(floor)
        opened, zone = self.question.opened_at, self.site.zone
        if opened is not None and opened < earliest and self._is_cold_kept:
            return (
                f"Opened {clock_time(opened, zone)}, before its earliest use {day_time(earliest, floor.now, zone)}: "
                "its open life runs and the station puts it on hold."
            )
        latest = floor.standing(self.container).discard_by
        if latest is None:
            return "No limit runs: at room temperature only the expiry date and the first opening start one."
        if latest < earliest:
            return f"It must be discarded {day_time(latest, floor.now, zone)}, before it would be ready."
        return ""

    def _unfit_room(self, floor: Floor) -> str:
        room, least = floor.room, floor.specification(self.question.paste).floor_c
        if room.temperature_c < least:
            return f"The room is too cold: it is {room.temperature_c:g} C and this paste must reach {least:g} C."
        air = f"{room.temperature_c:g} C and {room.humidity:g} %"
        return f"The room is too humid: at {air} this paste would never be 2 K above the dew point."
