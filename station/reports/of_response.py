"""Response: how fast alarms were seen and settled, and whether there were more than people can answer."""

from datetime import datetime, timedelta

from station.care.moments import MINUTE
from station.care.pace import paced
from station.care.response_figures import (
    ACCEPTABLE_IN_TEN_MINUTES,
    FLOOD_ABOVE,
    FLOOD_OVER_BELOW,
    FLOOD_SHARE_BELOW,
    TEN_MINUTES,
    Spread,
    flooded,
    floods,
    peak,
    rate,
    spread,
    stale,
)
from station.care.state import Alarm
from station.reports.asked import Asked, figure, report
from station.reports.document import Cell, Column, Report, Table

SPREAD = (
    Column("from raised until"),
    *(Column(heading, number=True) for heading in ("alarms", "median min", "90 % within min", "worst min")),
)
RATE = (Column("figure"), Column("found", number=True), Column("outside figure"))
FLOODS = (Column("flood from"), Column("until"), Column("minutes", number=True))
READING = "reading who acted"
EACH = tuple(
    map(Column, ("raised", "of", "limit", "past since", "seen", "seen by", "cleared", "cleared by", "outcome"))
)
FLOOD_MEANS = (
    f"more than {FLOOD_ABOVE} alarms in 10 minutes, over at fewer than {FLOOD_OVER_BELOW} (ANSI/ISA-18.2, as quoted "
    "by public texts)"
)
SELDOM = f"less than about {FLOOD_SHARE_BELOW:.0%} of the time (ANSI/ISA-18.2, as quoted by public texts)"
STANDING = "24 h or longer is called stale (ANSI/ISA-18.2, as quoted by public texts)"
ACCEPTABLE = f"about {ACCEPTABLE_IN_TEN_MINUTES:g} is acceptable (EEMUA 191)"


def response_report(asked: Asked) -> Report:
    """Of the alarms raised in the period; the rate counts from where the record begins, over ten minutes at least.

    Operators are the people who badged in or acted in the period, at least one.
    """
    ledger = asked.floor.ledger
    found = sorted(
        (one for one in ledger.alarms.values() if asked.within(one.raised_at)), key=lambda one: one.raised_at
    )
    told = paced(ledger.facts(), asked.pace, READING)
    people = {fact.who for fact in told if fact.who and asked.within(fact.at)}
    tables = (
        Table("How fast", SPREAD, tuple(_speeds(found))),
        Table("How many", RATE, _rates(asked, found, max(1, len(people)))),
        Table("Floods", FLOODS, tuple(_floods(asked, found))),
        Table("Each alarm", EACH, tuple(_row(asked, alarm) for alarm in found)),
    )
    return report(asked, "Response to alarms", tables, ("flood means", FLOOD_MEANS))


def _speeds(alarms: list[Alarm]) -> list[tuple[Cell, ...]]:
    seen = spread(one.acknowledged_at - one.raised_at for one in alarms if one.acknowledged_at is not None)
    cleared = spread(one.cleared_at - one.raised_at for one in alarms if one.cleared_at is not None)
    return [_speed(name, found) for name, found in (("seen", seen), ("cleared", cleared)) if found is not None]


def _speed(name: str, found: Spread) -> tuple[Cell, ...]:
    return name, figure(found.count), _minutes(found.median), _minutes(found.p90), _minutes(found.worst)


def _rates(asked: Asked, alarms: list[Alarm], people: int) -> tuple[tuple[Cell, ...], ...]:
    if not alarms:
        return ()
    begun = min(fact.at for fact in asked.floor.ledger.facts())
    since, until = max(asked.since, begun), min(asked.until, asked.made.at)
    length = max(TEN_MINUTES, until - since)
    raised = [one.raised_at for one in alarms]
    share = flooded(floods(raised, until), until - length, until)
    standing = stale(((one.raised_at, one.cleared_at) for one in alarms), until)
    return (
        ("alarms raised", figure(len(alarms)), ""),
        ("people who acted", figure(people), ""),
        ("alarms per person in 10 minutes", figure(rate(len(alarms), length, people), 3), ACCEPTABLE),
        ("most alarms in any 10 minutes", figure(peak(raised)), f"more than {FLOOD_ABOVE} is a flood"),
        ("percent of the time in floods", figure(100 * share, 2), SELDOM),
        ("stood for 24 h or longer", figure(standing), STANDING),
        ("not yet seen", figure(sum(one.acknowledged_at is None and one.cleared_at is None for one in alarms)), ""),
        ("not yet cleared", figure(sum(one.cleared_at is None for one in alarms)), ""),
    )


def _floods(asked: Asked, alarms: list[Alarm]) -> list[tuple[Cell, ...]]:
    until: datetime = min(asked.until, asked.made.at)
    found = floods([alarm.raised_at for alarm in alarms], until)
    return [
        (asked.instant(one.start), asked.instant(one.end), _minutes((one.end or until) - one.start)) for one in found
    ]


def _row(asked: Asked, alarm: Alarm) -> tuple[Cell, ...]:
    return (
        *(asked.instant(alarm.raised_at), alarm.subject, alarm.limit.value, asked.instant(alarm.since)),
        *(asked.instant(alarm.acknowledged_at), asked.person(alarm.acknowledged_by)),
        *(asked.instant(alarm.cleared_at), asked.person(alarm.cleared_by)),
        alarm.disposition.value if alarm.disposition is not None else "",
    )


def _minutes(length: timedelta) -> Cell:
    return figure(length / MINUTE, 1)
