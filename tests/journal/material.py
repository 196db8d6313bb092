"""Drafts, readings of files and strategies the journal's tests share."""

import dataclasses
import sqlite3
import types
from collections.abc import Iterable
from contextlib import closing
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any, Union, get_args, get_origin, get_type_hints
from zoneinfo import ZoneInfo

from hypothesis import strategies as st

from station.care.facts import Body, Cleaned, Fact, Received, RoomRead, Segment
from station.services.ports import Draft

T0 = datetime(2027, 7, 1, 6, 0, tzinfo=UTC)
SEGMENT = Segment("boot-a", 0)
BODIES: tuple[type, ...] = get_args(Body)


def draft(body: Body, at: datetime = T0) -> Draft:
    return Draft(body=body, at=at, station=3, who="p-07", segment=SEGMENT)


def cleaning(number: int) -> Draft:
    return draft(Cleaned(position=f"P-{number}"))


def cleanings(count: int, start: int = 0) -> list[Draft]:
    return [cleaning(number) for number in range(start, start + count)]


def reading(temperature_c: float) -> Draft:
    return draft(RoomRead(temperature_c=temperature_c, humidity=45.0))


def arrival(lot: str, note: str = "") -> Draft:
    body = Received(
        container="C-1",
        paste="sac-a",
        kind="jar-500",
        lot=lot,
        expires=date(2027, 12, 31),
        shelf_end=None,
        arrived_at=T0,
        temperature_c=7.5,
        temperature_answer=note,
        leaking=False,
        to_cold_by=T0 + timedelta(hours=2),
    )
    return draft(body)


def placed(body: Body, at: datetime = T0) -> Fact:
    return Fact(journal=0xFEDC_BA98_7654_3210, seq=1, tick=1, at=at, station=3, who=None, segment=SEGMENT, body=body)


def numbers(facts: Iterable[Fact]) -> list[int]:
    """The numbers given to `cleaning`, as they come back."""
    return [int(fact.body.position.removeprefix("P-")) for fact in facts if isinstance(fact.body, Cleaned)]


def run_sql(path: Path, *statements: tuple[str, tuple[object, ...]]) -> list[Any]:
    """Run statements on the file behind the program's back; gives the rows of the last."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        rows: list[Any] = []
        for statement, values in statements:
            rows = connection.execute(statement, values).fetchall()
        return rows


_ZONES = st.sampled_from([UTC, ZoneInfo("Europe/Berlin"), timezone(timedelta(hours=5, minutes=45))])
_PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    datetime: st.datetimes(datetime(1970, 1, 2), datetime(2999, 1, 1), timezones=_ZONES),  # noqa: DTZ001  (zones added)
    float: st.floats(allow_nan=False, allow_infinity=False),
}


def _strategy(hint: Any) -> st.SearchStrategy[Any]:
    if hint in _PLAIN:
        return _PLAIN[hint]
    if dataclasses.is_dataclass(hint):
        return bodies(hint)
    if get_origin(hint) in {Union, types.UnionType}:
        return st.one_of([_strategy(part) for part in get_args(hint)])
    if get_origin(hint) is tuple:
        first, *rest = get_args(hint)
        if rest == [...]:
            return st.lists(_strategy(first), max_size=3).map(tuple)
        return st.tuples(*[_strategy(part) for part in (first, *rest)])
    return st.from_type(hint)


def bodies(kind: Any) -> st.SearchStrategy[Any]:
    """Any value of a dataclass, by the types of its fields."""
    hints = get_type_hints(kind)
    return st.builds(kind, **{field.name: _strategy(hints[field.name]) for field in dataclasses.fields(kind)})
