"""What is in stock: by paste, lot and state, with its grams and days left; what runs short and what ends soon."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from station.care.floor import Floor
from station.care.limits import passed
from station.care.saying import opening, spot
from station.care.state import Container
from station.care.words import Limit, Stage

DAY = timedelta(days=1)
SOON = timedelta(days=30)


@dataclass(frozen=True, slots=True)
class Lying:
    """One living container. `grams` is its net mass as bought, whatever was taken out of it since; `ends` its last
    usable minute (aware UTC) by the limit `governing`, None while nothing runs; `usable` says that nothing a person or
    a clock decided keeps it from ever being used."""

    container: Container
    stage: Stage
    grams: float
    where: str
    ends: datetime | None
    governing: Limit | None
    left: timedelta | None
    usable: bool


@dataclass(frozen=True, slots=True)
class StockRow:
    """Containers of one paste and lot in one state. `held` of `count` are on hold; `first_end` is the first to pass."""

    paste: str
    lot: str
    stage: Stage
    count: int
    held: int
    grams: float
    first_end: datetime | None
    days_left: int | None


@dataclass(frozen=True, slots=True)
class Reserve:
    """A paste and how many closed, usable containers of it there are, against the fewest the site wants."""

    paste: str
    usable: int
    minimum: int

    @property
    def short(self) -> bool:
        """Whether there are fewer than the site wants."""
        return self.usable < self.minimum


@dataclass(frozen=True, slots=True)
class Stock:
    """The stock at one moment. `rows` come what ends first first; `soon` are containers near the end of shelf life."""

    rows: tuple[StockRow, ...]
    reserves: tuple[Reserve, ...]
    soon: tuple[Lying, ...]

    @property
    def short(self) -> tuple[Reserve, ...]:
        """The pastes that fall below their minimum."""
        return tuple(reserve for reserve in self.reserves if reserve.short)


def stock(floor: Floor) -> Stock:
    """What is in stock now."""
    found = [lying(floor, container) for container in floor.alive()]
    groups: dict[tuple[str, str, Stage], list[Lying]] = {}
    for one in found:
        groups.setdefault((one.container.paste, one.container.lot, one.stage), []).append(one)
    rows = (_row(key, group) for key, group in groups.items())
    return Stock(
        rows=tuple(sorted(rows, key=lambda row: (_unending(row.first_end), row.paste, row.lot, row.stage))),
        reserves=tuple(
            Reserve(paste.id, sum(_in_reserve(one, paste.id) for one in found), paste.minimum_stock)
            for paste in floor.plant.pastes.values()
        ),
        soon=tuple(sorted((one for one in found if _is_soon(floor, one)), key=_first_due)),
    )


def lying(floor: Floor, container: Container) -> Lying:
    """One container as stock; of a kind that is not set up here nobody knows the mass, and it counts as none."""
    standing = floor.standing(container)
    ends = standing.discard_by
    over = passed(standing.limits, floor.moment_of(container))
    return Lying(
        container=container,
        stage=standing.stage,
        grams=floor.kind(container).net_mass_g if container.kind in floor.plant.kinds else 0,
        where=where(floor, container),
        ends=ends,
        governing=standing.governing,
        left=floor.time_left(ends) if ends is not None else None,
        usable=not container.held and not over,
    )


def where(floor: Floor, container: Container) -> str:
    """Where it is: its bin, the positions that have it, or where it was last seen."""
    on = floor.positions_with(container.id)
    if container.ended is not None:
        return container.ended.value
    if container.store is not None:
        store = floor.plant.stores.get(container.store)
        return f"{store.title if store is not None else container.store}, bin {container.bin}"
    if container.on_its_way:
        left = floor.plant.stores.get(container.move_store or "")
        return f"on its way from {left.title if left is not None else container.move_store}"
    if on:
        return f"on {' and '.join(map(spot, on))}"
    seen = floor.plant.stores.get(container.last_seen_where)
    if seen is not None:
        return f"out of {seen.title}"
    return f"last seen at {spot(container.last_seen_where)}" if container.last_seen_where else "not seen yet"


def find(floor: Floor, text: str) -> tuple[Container, ...]:
    """The containers a person may mean by a number, or by the end of one (`311` for `K7-311`), living ones first."""
    wanted = "-".join(text.strip().upper().split())
    if not wanted:
        return ()
    every = floor.ledger.containers
    exact = every.get(wanted)
    if exact is not None:
        return (exact,)
    named = (found for found in every.values() if found.id.endswith(wanted))
    return tuple(sorted(named, key=lambda found: (found.ended is not None, found.id)))


def shortage(reserve: Reserve) -> str:
    """`SN-1: 2 usable, at least 4 wanted`."""
    return f"{opening(reserve.paste)}: {reserve.usable} usable, at least {reserve.minimum} wanted"


def _row(key: tuple[str, str, Stage], group: list[Lying]) -> StockRow:
    paste, lot, stage = key
    first = min(group, key=_first_due)
    return StockRow(
        paste=paste,
        lot=lot,
        stage=stage,
        count=len(group),
        held=sum(one.container.held for one in group),
        grams=sum(one.grams for one in group),
        first_end=first.ends,
        days_left=first.left // DAY if first.left is not None else None,
    )


def _in_reserve(one: Lying, paste: str) -> bool:
    """Closed paste of this name that may still be used; what was filled here or opened is no reserve."""
    return one.usable and one.container.paste == paste and one.stage is not Stage.OPEN


def _is_soon(floor: Floor, one: Lying) -> bool:
    """Near the end of shelf life by the site's rule, and in any case in its last 30 days; also past it."""
    end = one.container.shelf_end
    if end is None:
        return False
    length = end - one.container.arrived_at
    known = floor.ledger.specifications.get(one.container.paste)
    near = known.near_for(Limit.SHELF).before_end(length) if known is not None else SOON
    return floor.time_left(end) <= max(near, SOON)


def _unending(end: datetime | None) -> tuple[bool, datetime | None]:
    """Sorts what has no end behind all that has one."""
    return (end is None, end)


def _first_due(one: Lying) -> tuple[bool, datetime | None, str]:
    return (one.ends is None, one.ends, one.container.id)


def grams_of(rows: Iterable[StockRow]) -> float:
    """The mass of several rows together, in grams."""
    return sum(row.grams for row in rows)
