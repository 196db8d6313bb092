"""A store at its door: its last reading and how old that is, and its last seven days where a logger was read."""

from collections.abc import Iterable, Iterator
from datetime import timedelta
from itertools import groupby
from math import isnan

from station.care.cold_readings import Flat
from station.care.floor import Floor
from station.care.saying import span_up
from station.care.specification import Store
from station.care.words import Place
from station.services.cold_readings import series_of
from station.services.ports import JournalTrouble
from station.services.site import PlaceSetting
from station.services.station import Station
from station.ui import wording
from station.ui.view_models import CurveModel, StoreModel

SHOWN = timedelta(days=7)
COLUMNS = 240
"""How finely the days are drawn; of more readings the lowest and the highest of each column stand."""
_MICROSECOND = timedelta(microseconds=1)
Point = tuple[float, float]


def store_model(floor: Floor, place: PlaceSetting, curve: CurveModel | None = None) -> StoreModel | None:
    """The store of a place at a fridge door; None for any other place."""
    if place.kind is not Place.FRIDGE or place.store is None:
        return None
    store = floor.plant.stores[place.store]
    inside = sum(1 for found in floor.alive() if found.store == store.id)
    limits = f"limits {store.low_c:g} to {store.high_c:g} °C"
    last = floor.ledger.cold.last_reading(store.id)
    if last is None:
        return StoreModel(name=store.title, reading=f"{inside} inside", caption=f"{limits}, never read yet")
    at, celsius = last
    age = span_up(max(floor.now - at, timedelta(0)))
    read = f"{inside} inside; {limits}; read {wording.moment(at, floor.now, floor.zone)}, {age} ago"
    if celsius is None:
        return StoreModel(store.title, "sensor fault", read, ok=False, curve=curve)
    return StoreModel(store.title, f"{celsius:.1f} °C", read, ok=_in_range(store, celsius), curve=curve)


def _in_range(store: Store, celsius: float) -> bool:
    limits = store.care.limits(store.storage, store.low_c, store.high_c)
    return limits.low_c <= celsius <= limits.high_c


class StoreCurves:
    """The curve of each store, made anew only when something came in or an hour is over."""

    def __init__(self, station: Station) -> None:
        """Nothing is read before a curve is asked for."""
        self._station = station
        self._kept: dict[str, tuple[object, CurveModel | None]] = {}

    def of(self, store: str | None) -> CurveModel | None:
        """The last seven days of a store; None where no logger was read."""
        floor = self._station.floor()
        if store is None or not floor.ledger.cold.files(store):
            return None
        hour = floor.now.replace(minute=0, second=0, microsecond=0)
        key = (floor.ledger.cold.files(store), floor.ledger.cold.excursions(store), hour)
        known = self._kept.get(store)
        if known is None or known[0] != key:
            self._kept[store] = known = (key, self._made(floor, store))
        return known[1]

    def _made(self, floor: Floor, store: str) -> CurveModel | None:
        from station.readings.track import unpack  # noqa: PLC0415  not on the way to the window

        try:
            flat, step = series_of(self._station, store, unpack, SHOWN)
        except JournalTrouble:  # a file that is not here any more: the doctor says so
            return None
        return curve_model(floor, store, flat, step)


def curve_model(floor: Floor, store: str, flat: Flat, step: timedelta) -> CurveModel | None:
    """The readings as lines that break at every gap and fault; None where none is of these days."""
    since = floor.now - SHOWN
    lines = tuple(tuple(_thinned(line)) for line in _lines(floor, flat, step))
    if not lines:
        return None
    found = floor.plant.stores[store]
    limits = found.care.limits(found.storage, found.low_c, found.high_c)
    outside = (
        (max(0.0, (one.start - since) / SHOWN), min(1.0, (one.end - since) / SHOWN))
        for one in floor.ledger.cold.excursions(store)
        if one.end > since
    )
    return CurveModel(lines, tuple(outside), limits.low_c, limits.high_c, "7 days")


def _lines(floor: Floor, flat: Flat, step: timedelta) -> Iterator[list[Point]]:
    longest = step // _MICROSECOND
    line: list[Point] = []
    before = None
    for index, (at, celsius) in enumerate(zip(flat.at, flat.celsius, strict=True)):
        apart = before is not None and at - before > longest
        if line and (apart or isnan(celsius)):
            yield line
            line = []
        if not isnan(celsius):
            line.append((1 - (floor.now - flat.instant(index)) / SHOWN, celsius))
        before = at
    if line:
        yield line


def _thinned(line: Iterable[Point]) -> Iterator[Point]:
    for _, column in groupby(line, key=lambda point: int(point[0] * COLUMNS)):
        points = list(column)
        ends = {points[0], points[-1], min(points, key=lambda one: one[1]), max(points, key=lambda one: one[1])}
        yield from sorted(ends)
