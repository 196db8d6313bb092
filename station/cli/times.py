"""`station times`: earliest use and discard-by of an imagined take-out, by the rules the station works with."""

from argparse import Namespace
from datetime import datetime
from zoneinfo import ZoneInfo

from station.care.conditioning import Wait
from station.care.saying import span_up
from station.cli.instants import day, instant, iso
from station.cli.of_record import site_of_record
from station.cli.saying import YES, complain, say_json, table
from station.labels.content import time_text
from station.services.site import Site
from station.services.times import Question, Times, times
from station.settings.load import load


def run(told: Namespace) -> int:
    """Work the times out and say them."""
    site = load(told.config)
    if told.data is not None:
        site = site_of_record(site, told.data)
    found = times(site, _question(told, site))
    if told.json:
        say_json(as_json(found))
    else:
        _say_readably(found, site.zone)
    return YES


def _question(told: Namespace, site: Site) -> Question:
    return Question(
        paste=told.paste,
        kind=told.kind,
        out_at=instant("--out-at", told.out_at, site.zone),
        opened_at=instant("--opened-at", told.opened_at, site.zone) if told.opened_at else None,
        room_c=told.room,
        humidity=told.rh,
        expires=day("--expires", told.expires) if told.expires else None,
    )


def as_json(found: Times) -> dict[str, object]:
    """The answer for machines; "why" is there only when something stands against using the paste."""
    answer: dict[str, object] = {
        "earliest_use": _iso(found.earliest_use),
        "discard_by": _iso(found.discard_by),
        "governing": found.governing.value if found.governing else None,
        "limits": [
            {"name": limit.name, "from": _iso(limit.start), "until": iso(limit.until)} for limit in found.limits
        ],
    }
    return {**answer, "why": found.why} if found.why else answer


def _iso(at: datetime | None) -> str | None:
    return iso(at) if at is not None else None


def _say_readably(found: Times, zone: ZoneInfo) -> None:
    def told(at: datetime | None) -> str:
        return time_text(at, zone) if at is not None else "not known"

    governing = f" ({found.governing.value})" if found.governing else ""
    rows = [("earliest use", told(found.earliest_use)), ("discard by", f"{told(found.discard_by)}{governing}")]
    for limit in found.limits:
        since = f"{told(limit.start)} to " if limit.start is not None else "until "
        rows.append((limit.name, f"{since}{told(limit.until)}"))
    table([*rows, *_parts(found.wait)])
    if found.why:
        complain([found.why])


def _parts(wait: Wait | None) -> list[tuple[str, str]]:
    if wait is None:
        return []
    parts = {"supplier": wait.supplier_minimum, "warm-up": wait.warm_up, "dew point": wait.dew_point}
    return [("longest of", ", ".join(f"{name} {span_up(length)}" for name, length in parts.items()))]
