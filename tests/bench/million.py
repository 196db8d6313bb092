"""A long record made by rule, for reports over many years: jars that come in, are used at eight positions and end."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

from station.care import facts as f
from station.care.words import Disposition, Ending, Limit

BEGUN = datetime(2012, 1, 2, 6, tzinfo=UTC)
POSITIONS = tuple(f"L{line}" for line in range(1, 9))
EACH_JAR = timedelta(minutes=40)
DAY = timedelta(days=1)


def long_record(jars: int) -> Iterator[f.Fact]:
    """Twelve facts and more of each jar, in the order of one journal."""
    place = 0
    for jar in range(jars):
        for minutes, who, body in _life(jar, place):
            place += 1
            at = BEGUN + jar * EACH_JAR + timedelta(minutes=minutes)
            yield f.Fact(1, place, place, at, 1, who, f.Segment("boot", 0), body)


def _life(jar: int, before: int) -> Iterator[tuple[int, str, f.Body]]:
    name, lot, who = f"K1-{jar + 100:03d}", f"{jar // 50:06d}", f"P{10 + jar % 20}"
    line, at = POSITIONS[jar % 8], BEGUN + jar * EACH_JAR
    bead = f"{1:016x}-{before + 7}"  # the key of what put it on
    alarm = f"{Limit.STENCIL.value}/{line}/{bead}"
    yield 0, who, f.Received(name, "SN-4", "JAR-500", lot, date(2040, 1, 1), None, at, 5.0, "measured", False, None)
    yield 1, who, f.PutAway(name, "FRIDGE", "A3", returning=False)
    yield 2, who, f.Sighted(name, "FRIDGE", warm=False)
    out = f.TakenOut(
        name, "FRIDGE", at, at, at, at + 5 * DAY, DAY, None, None, 23.0, 45.0, 5.0, "SN-4/1/ab", "Europe/Berlin"
    )
    yield 3, who, out
    yield 4, who, f.Opened(name, line, early=False, open_end=at + DAY)
    yield 5, who, f.Inspected(name, line, good=True)
    order = f"WO{jar // 4}"
    yield 6, who, f.Loaded(name, line, "SN-4", lot, order, True, at + DAY / 3, (), restart=False)
    yield 7, who, f.Sighted(name, line, warm=True)
    if jar % 10 == 0:
        yield 8, who, f.AlarmRaised(alarm, line, Limit.STENCIL, at + timedelta(minutes=7), in_use=True)
        yield 9, who, f.AlarmAcknowledged(alarm)
    yield 10, who, f.Removed(line, bead, replaced_earlier=False)
    if jar % 10 == 0:
        yield 11, "P20", f.AlarmCleared(alarm, Disposition.DISCARDED, None, "", "late")
    yield 12, who, f.Cleaned(line)
    how = Ending.DISCARDED if jar % 20 == 0 else Ending.USED_UP
    yield 13, who, f.Ended(name, how, "dried out" if jar % 40 == 0 else "", line, 40.0 if jar % 3 else None)
