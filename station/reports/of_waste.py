"""Waste: what was thrown away in the period and why, the largest share first, by cause, paste, line and shift."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from station.care.waste_figures import Share, Wasted, pareto, wasted
from station.reports.asked import Asked, figure, report
from station.reports.document import Cell, Column, Report, Table

WEIGHED = "grams are those a person said; grams at most is the net mass of the containers nobody weighed"
SHARES = ("grams", "containers", "not weighed", "grams at most", "sum so far in percent of grams")
GROUPS: tuple[tuple[str, Callable[[Asked, Wasted], str]], ...] = (
    ("cause", lambda _, entry: entry.cause),
    ("paste", lambda _, entry: entry.paste),
    ("line", lambda asked, entry: asked.line(entry.where)),
    ("shift", lambda asked, entry: asked.shift(entry.at)),
)


def waste_report(asked: Asked) -> Report:
    """Of what was discarded in the period; cost only where the site says what a kilogram costs."""
    found = wasted(asked.floor.ledger, asked.since, asked.until, asked.pace)
    tables = tuple(_shares(asked, found, title, partial(named, asked)) for title, named in GROUPS)
    return report(asked, "Waste", (*tables, _each(asked, found)), ("grams", WEIGHED))


def _most(asked: Asked, entry: Wasted) -> float | None:
    """What it can have held at most, where nobody weighed it."""
    kind = asked.floor.plant.kinds.get(entry.kind)
    return kind.net_mass_g if kind is not None and entry.grams is None else None


def _cost(asked: Asked, entry: Wasted) -> Decimal | None:
    paste = asked.floor.plant.pastes.get(entry.paste)
    price = paste.price_per_kg if paste is not None else None
    grams = entry.grams if entry.grams is not None else _most(asked, entry)
    return None if price is None or grams is None else figure(price * grams / 1000, 2)


def _shares(asked: Asked, found: tuple[Wasted, ...], title: str, named: Callable[[Wasted], str]) -> Table:
    columns = (Column(title), *(Column(heading, number=True) for heading in (*SHARES, *_money(asked))))
    shares = pareto(found, named)
    rows = (_share(asked, [entry for entry in found if named(entry) == share.name], share) for share in shares)
    return Table(f"By {title}", columns, tuple(rows))


def _share(asked: Asked, group: list[Wasted], share: Share) -> tuple[Cell, ...]:
    most = [grams for entry in group if (grams := _most(asked, entry)) is not None]
    costs = [cost for entry in group if (cost := _cost(asked, entry)) is not None]
    return (
        *(share.name, figure(share.grams, 1), figure(share.containers), figure(share.not_weighed)),
        *(figure(sum(most), 1), figure(100 * share.up_to, 1)),
        *((sum(costs, Decimal(0)),) if asked.currency else ()),
    )


def _money(asked: Asked) -> tuple[str, ...]:
    return (f"cost at most in {asked.currency}",) if asked.currency else ()


def _each(asked: Asked, found: tuple[Wasted, ...]) -> Table:
    columns = (
        *map(Column, ("when", "container", "paste", "lot", "cause", "cause from", "reason said", "place", "who")),
        *(Column(heading, number=True) for heading in ("grams", "grams at most", *_money(asked))),
    )
    rows = tuple(
        (
            *(asked.instant(one.at), one.container, one.paste, one.lot, one.cause),
            "a person" if one.said else "the record",
            one.words,
            *(one.where, asked.person(one.who), figure(one.grams, 1), figure(_most(asked, one), 1)),
            *((_cost(asked, one),) if asked.currency else ()),
        )
        for one in found
    )
    return Table("Each container", columns, rows)
