"""Local times of a logger put on the one line of UTC, with the hour that comes twice and the one that never comes.

The doubled hour of autumn is told apart by the order of the rows: where the clock jumps back inside it the second
pass begins. Where the file has only one pass it is the one that fits the logger's interval; if neither fits better,
the rows are left out and a person is asked, because nothing in the file can say.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from itertools import groupby, pairwise

from station.readings.gaps import usual
from station.readings.series import Noticed, Problem

STANDARD_TIME = 'If its clock does not follow summer time, declare the zone as standard, as in "Europe/Berlin standard"'
NONE = timedelta(0)


@dataclass(frozen=True, slots=True)
class Stamp:
    """A row's time as read: aware UTC where the cell had its own offset, else the naive time of the logger's clock."""

    number: int
    at: datetime


@dataclass(frozen=True, slots=True)
class Placed:
    """An instant for each stamp, None for those that have none, and the reasons."""

    instants: tuple[datetime | None, ...]
    problems: tuple[Problem, ...]


def newest_first(stamps: Sequence[Stamp]) -> bool:
    """Whether the file runs from new to old: at least nine steps of ten go back."""
    steps = [later.at - earlier.at for earlier, later in pairwise(stamps)]
    back = sum(step < NONE for step in steps)
    return back > 0 and back >= 9 * sum(step > NONE for step in steps)


def place(stamps: Sequence[Stamp], zone: tzinfo | None) -> Placed:
    """The instants of stamps in the file's order of time, all naive or all aware; `zone` is needed for naive ones."""
    sorts = [_sort(stamp.at, zone) for stamp in stamps]
    instants = [_first(stamp.at, zone) if sort == PLAIN else None for stamp, sort in zip(stamps, sorts, strict=True)]
    problems: list[Problem] = []
    for sort, start, end in _stretches(sorts):
        if sort == MISSING:
            problems.append(_missing(stamps[start : end + 1]))
        elif sort == DOUBLED and zone is not None:
            found = _passes(stamps, instants, start, end, zone)
            if found is None:
                problems.append(_unclear(stamps[start : end + 1]))
            else:
                instants[start : end + 1] = found
    kept, backwards = _rising(stamps, instants)
    return Placed(kept, (*problems, *backwards))


PLAIN, MISSING, DOUBLED = "plain", "missing", "doubled"


def _sort(at: datetime, zone: tzinfo | None) -> str:
    if at.tzinfo is not None or zone is None:
        return PLAIN
    first, second = at.replace(tzinfo=zone, fold=0), at.replace(tzinfo=zone, fold=1)
    if first.utcoffset() == second.utcoffset():
        return PLAIN
    # in the missing hour the two readings of a local time lie the wrong way round
    return DOUBLED if first.astimezone(UTC) < second.astimezone(UTC) else MISSING


def _first(at: datetime, zone: tzinfo | None) -> datetime:
    return at if at.tzinfo is not None else at.replace(tzinfo=zone, fold=0).astimezone(UTC)


def _stretches(sorts: Sequence[str]) -> Iterator[tuple[str, int, int]]:
    for sort, members in groupby(range(len(sorts)), lambda index: sorts[index]):
        indices = list(members)
        yield sort, indices[0], indices[-1]


def _missing(stamps: Sequence[Stamp]) -> Problem:
    told = f"{stamps[0].at:%Y-%m-%d %H:%M} is in the hour that is left out when clocks go forward"
    return Problem(Noticed.IMPOSSIBLE_TIME, stamps[0].number, stamps[-1].number, told, STANDARD_TIME)


def _unclear(stamps: Sequence[Stamp]) -> Problem:
    told = f"{stamps[0].at:%Y-%m-%d %H:%M} comes twice when clocks go back, and the file does not show which is meant"
    return Problem(Noticed.DOUBLED_HOUR_UNCLEAR, stamps[0].number, stamps[-1].number, told, STANDARD_TIME)


def _passes(
    stamps: Sequence[Stamp], instants: Sequence[datetime | None], start: int, end: int, zone: tzinfo
) -> list[datetime | None] | None:
    """The instants of a stretch inside the doubled hour, None where the file can't say which pass it is."""
    local = [stamp.at for stamp in stamps[start : end + 1]]
    steps = [later - earlier for earlier, later in pairwise(local)]
    back = min(range(len(steps)), key=steps.__getitem__, default=None)
    if back is not None and steps[back] <= NONE:
        return [_in_pass(at, zone, fold=index > back) for index, at in enumerate(local)]
    before = instants[start - 1] if start > 0 else None
    after = instants[end + 1] if end + 1 < len(stamps) else None
    step = _step(stamps, start, end)
    fits = [
        _misfit(_in_pass(local[0], zone, fold), _in_pass(local[-1], zone, fold), before, after, step)
        for fold in (False, True)
    ]
    if fits[0] is None or fits[1] is None or fits[0] == fits[1]:
        return None
    second = fits[1] < fits[0]
    shift = _in_pass(local[0], zone, True) - _in_pass(local[0], zone, False)
    if min(fits[0], fits[1]) * 2 >= shift:
        return None
    return [_in_pass(at, zone, second) for at in local]


def _in_pass(at: datetime, zone: tzinfo, fold: bool) -> datetime:
    return at.replace(tzinfo=zone, fold=int(fold)).astimezone(UTC)


def _step(stamps: Sequence[Stamp], start: int, end: int) -> timedelta:
    """The logger's interval, from all steps but the two that lead into and out of the doubtful stretch."""
    steps = [
        later.at - earlier.at
        for index, (earlier, later) in enumerate(pairwise(stamps))
        if index not in (start - 1, end)
    ]
    return usual([step for step in steps if step > NONE]) or NONE


def _misfit(
    first: datetime, last: datetime, before: datetime | None, after: datetime | None, step: timedelta
) -> timedelta | None:
    """How far the steps into and out of the stretch are from the logger's interval; None with neither neighbour."""
    around = [first - before] if before is not None else []
    around += [after - last] if after is not None else []
    return max((abs(found - step) for found in around), default=None)


def _rising(
    stamps: Sequence[Stamp], instants: Sequence[datetime | None]
) -> tuple[tuple[datetime | None, ...], list[Problem]]:
    """Leave out what lies before something earlier in the file, one problem for each unbroken stretch of it."""
    kept: list[datetime | None] = []
    problems: list[Problem] = []
    last: tuple[datetime, Stamp] | None = None
    stretch: list[Stamp] = []
    for stamp, instant in zip(stamps, instants, strict=True):
        if instant is not None and last is not None and instant < last[0]:
            stretch.append(stamp)
            kept.append(None)
            continue
        problems += _backwards(stretch, last)
        stretch = []
        kept.append(instant)
        last = (instant, stamp) if instant is not None else last
    return tuple(kept), problems + _backwards(stretch, last)


def _backwards(stretch: Sequence[Stamp], last: tuple[datetime, Stamp] | None) -> list[Problem]:
    if not stretch or last is None:
        return []
    clock: Callable[[Stamp], str] = lambda stamp: f"{stamp.at:%H:%M:%S}"  # noqa: E731  # one use in one sentence
    told = f"time runs backwards, from {clock(last[1])} in line {last[1].number} to {clock(stretch[0])}"
    return [Problem(Noticed.BACKWARDS, stretch[0].number, stretch[-1].number, told, STANDARD_TIME)]
