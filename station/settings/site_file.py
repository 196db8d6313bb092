"""site.toml: the site's name, zone and handling rules, and which station of it this is."""

import re
import zoneinfo
from dataclasses import replace
from datetime import timedelta

from station.care.conditioning import ABOVE_DEW_POINT_K, dew_point_c
from station.care.specification import BestChoice, ByLabel, Near, Pairing, Rules
from station.care.words import Limit
from station.settings import fields
from station.settings.alarm_part import read_alarms
from station.settings.delivery_part import read_delivery
from station.settings.fields import SECOND, Field, nearest
from station.settings.label_part import read_label, read_label_for
from station.settings.makers_part import read_makers_label
from station.settings.parts import Header
from station.settings.quantities import Unfit
from station.settings.scanner_part import read_scanner
from station.settings.specification_part import read_two_person
from station.settings.table import Table

LIMITS_BY_KEY = {
    "to_cold": Limit.TO_COLD,
    "shelf": Limit.SHELF,
    "room": Limit.ROOM,
    "open": Limit.OPEN,
    "stencil": Limit.STENCIL,
    "pause": Limit.PAUSE,
}
# common practice, no source: as long as a shift takes to carry a box across the hall and scan it
USUAL_TRANSFER = timedelta(minutes=15)
# common practice, no source: a trolley loaded at one refrigerator is unloaded at the other within the hour
USUAL_MOVE = timedelta(minutes=60)
_NEAR_SPAN = fields.duration(timedelta(minutes=1), timedelta(days=120))


def read_site(root: Table) -> Header:
    """Everything site.toml says; faults are noted in the tables."""
    inner = {name: root.table(name) for name in ("home", "room_air", "handling", "near", "work_order", "label")}
    demo = root.read("demo", fields.flag())
    name, station = root.read("name", fields.text(40)), root.read("station", fields.whole(1, 255))
    zone = root.read("zone", _zone())
    pattern, example, product = _work_order(inner["work_order"])
    home, label = inner["home"], read_label(inner["label"])
    header = Header(
        name=name,
        zone=zone,
        station=station,
        rules=replace(
            _rules(demo, inner["handling"], inner["room_air"], inner["work_order"]),
            delivery=read_delivery(root),
            reactions=read_alarms(root),
            two_person=read_two_person(root),
            order_pattern=pattern,
            order_example=example,
        ),
        near=_near(inner["near"]),
        home_place=home.read("place", fields.identifier()),
        home_after=home.read("after", fields.duration(timedelta(seconds=10), timedelta(hours=1), SECOND)),
        label=label,
        label_for=read_label_for(root, label),
        scanner=read_scanner(root),
        makers=read_makers_label(root),
        pattern=pattern,
        example_product=product,
        currency=root.read_optional("currency", fields.text(8)) or "",
        tables={"site": root, **inner},
    )
    for table in (root, *inner.values()):
        table.close()
    return header


def _zone() -> Field[zoneinfo.ZoneInfo | None]:
    by_text = fields.text(60)

    def parse(value: object) -> zoneinfo.ZoneInfo | None:
        name = by_text.parse(value)
        try:
            return zoneinfo.ZoneInfo(name)
        except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
            raise _no_zone(name) from None

    return Field('a time zone by its full name, such as "Europe/Berlin"', parse, None)


def _no_zone(name: str) -> Unfit:
    every = zoneinfo.available_timezones()
    if not every:
        return Unfit("this PC has no time zone database", "Install the Python package tzdata")
    return Unfit("there is no such time zone", 'Write its full name, as in "Europe/Berlin"', nearest(name, every))


def _rules(demo: bool, handling: Table, air: Table, order: Table) -> Rules:
    def within(key: str, most: timedelta) -> timedelta:
        return handling.read(key, fields.duration(timedelta(0), most, SECOND))

    room_c, humidity = _room_air(air)
    return Rules(
        demo=demo,
        best_choice=handling.read("best_choice", fields.choice(BestChoice)),
        by_label=handling.read("by_label", fields.choice(ByLabel)),
        label_pairing=handling.read("label_pairing", fields.choice(Pairing)),
        work_order_required=order.read("required", fields.flag()),
        settle_after_put_away=within("settle_after_put_away", timedelta(hours=2)),
        undo_within=within("undo_within", timedelta(minutes=30)),
        bounce=within("bounce", timedelta(seconds=30)),
        sign_of_life=within("sign_of_life", timedelta(hours=12)),
        restart_mark=within("restart_mark", timedelta(hours=2)),
        right_action=within("right_action", timedelta(hours=1)),
        short_left=within("short_left", timedelta(hours=4)),
        transfer_minutes=_transfer_minutes(handling),
        move_within=_move_within(handling),
        badge_required=handling.read_optional("badge_required", fields.flag()) or False,
        assumed_room_c=room_c,
        assumed_humidity=humidity,
    )


def _transfer_minutes(handling: Table) -> timedelta:
    """How long carrying a container from one store to another counts as time out of the cold; may be left out."""
    told = handling.read_optional("transfer_minutes", fields.duration(SECOND, timedelta(hours=2), SECOND))
    return told if told is not None else USUAL_TRANSFER


def _move_within(handling: Table) -> timedelta:
    """How long a container may be on its way from one store to another; may be left out."""
    told = handling.read_optional("move_within", fields.duration(timedelta(minutes=5), timedelta(hours=4), SECOND))
    return told if told is not None else USUAL_MOVE


def _room_air(air: Table) -> tuple[float, float]:
    """Temperature in degrees Celsius and relative humidity in percent."""
    temperature = air.read("temperature", fields.celsius(10, 40))
    humidity = air.read("humidity", fields.percent(5, 95))
    if air.ok("temperature", "humidity") and dew_point_c(temperature, humidity) + ABOVE_DEW_POINT_K >= temperature:
        air.fault(
            "humidity",
            "in such air the paste never gets 2 K above the dew point, so nothing would ever be ready",
            "Check both figures of the room air",
        )
    return temperature, humidity


def _near(near: Table) -> dict[Limit, Near]:
    """One rule for all limits under `every`, or a length of time for each limit."""
    if "every" not in near:
        return {limit: _fixed(near.read(key, _NEAR_SPAN)) for key, limit in LIMITS_BY_KEY.items()}
    rule = near.table("every")
    share = rule.read("share", fields.percent(1, 100)) / 100
    found = Near(share, rule.read("at_least", _NEAR_SPAN), rule.read("at_most", _NEAR_SPAN))
    if rule.ok("at_least", "at_most") and found.at_least > found.at_most:
        rule.fault("at_least", "it is more than at_most", "Make at_least the smaller one")
    rule.close()
    for key in LIMITS_BY_KEY:
        near.refuse(key, "the rule under near.every already holds for all limits")
    return dict.fromkeys(LIMITS_BY_KEY.values(), found)


def _fixed(span: timedelta) -> Near:
    return Near(share=1, at_least=span, at_most=span)


# a scan by keyboard is known by its run of quick keys; what is shorter looks like somebody typing
SHORTEST_CODE = 6


def _work_order(order: Table) -> tuple[str, str, str | None]:
    """The pattern, its example, and the product that names; None where that can't be told."""
    pattern, example = order.read("pattern", _pattern()), order.read("example", fields.text())
    if not order.ok("pattern", "example"):
        return pattern, example, None
    found = re.fullmatch(pattern, example)
    if found is None:
        order.fault("example", f"the pattern {pattern} does not fit it", "Correct the pattern or the example")
        return pattern, example, None
    if len(example) < SHORTEST_CODE:
        reason = f"a code under {SHORTEST_CODE} characters can't be told from typing"
        order.fault("example", reason, "Use work orders with more characters")
        return pattern, example, None
    return pattern, example, found["product"]


def _pattern() -> Field[str]:
    form = "a regular expression with the named groups order and product, (?P<order>...) and (?P<product>...)"
    by_text = fields.text(200)

    def parse(value: object) -> str:
        said = by_text.parse(value)
        try:
            groups = re.compile(said).groupindex
        except re.error as wrong:
            raise Unfit(f"this is no regular expression ({wrong})", f"Write {form}") from None
        missing = [name for name in ("order", "product") if name not in groups]
        if missing:
            raise Unfit(f"the named group {missing[0]} is missing", f"Write {form}")
        return said

    return Field(form, parse, "")
