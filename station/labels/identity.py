"""The identity label: stuck on at receiving, it says which container this is and when its shelf life ends.

It carries no times, because none run yet; the time label of the take-out goes beside it. Both name one container.
"""

from collections.abc import Mapping
from datetime import date

from station.care.saying import MONTHS
from station.care.words import Alloy
from station.labels.builtin import text_row
from station.labels.containercode import container_numbers
from station.labels.content import LOUD, LabelContent, plain_family
from station.labels.layout import Template, template_from_mapping

LARGE_FROM_MM = 55.0


LARGE: Mapping[str, object] = {
    "name": "identity 60x40",
    "width_mm": 60.0,
    "height_mm": 40.0,
    "items": [
        text_row("{paste}", 1.5, 1.5, 40.0, 4.0, least_mm=2.0, face="bold"),
        text_row("{kind}", 1.5, 7.4, 40.0, 2.4, least_mm=1.6),
        text_row("{alloy_loud}", 1.5, 11.6, 40.5, 3.2, face="bold", align="centre", inverted=True),
        text_row("{alloy_plain}", 1.5, 12.0, 40.5, 2.6, least_mm=2.0, face="bold"),
        {"kind": "code", "x_mm": 42.7, "y_mm": 0.5, "side_mm": 17.0},
        text_row("{last_three}", 1.5, 18.6, 36.0, 9.5, face="bold"),
        text_row("{container}", 38.5, 19.2, 20.0, 2.6, least_mm=1.8, face="bold", align="right"),
        text_row("{tip}", 38.5, 25.0, 20.0, 2.4, face="bold", align="right"),
        text_row("lot {lot}", 1.5, 30.6, 57.0, 2.2, least_mm=1.6, face="bold"),
        text_row("EXPIRES", 1.5, 34.9, 14.0, 1.8, face="bold"),
        text_row("{discard_day}", 16.5, 34.3, 26.0, 2.8, least_mm=2.0, face="bold"),
        text_row("NO TIMES YET: SCAN IT AT ITS STORE", 1.5, 38.1, 57.0, 1.3, face="bold"),
    ],
}
SMALL: Mapping[str, object] = {
    "name": "identity 50x25",
    "width_mm": 50.0,
    "height_mm": 25.0,
    "items": [
        text_row("{paste}", 1.0, 1.0, 31.5, 2.6, least_mm=1.5, face="bold"),
        text_row("{kind}", 1.0, 4.5, 31.5, 1.5, least_mm=1.25, face="bold"),
        text_row("{alloy_loud}", 1.0, 7.3, 31.6, 1.9, face="bold", align="centre", inverted=True),
        text_row("{alloy_plain}", 1.0, 7.3, 31.6, 1.7, least_mm=1.5, face="bold"),
        {"kind": "code", "x_mm": 33.1, "y_mm": 0.1, "side_mm": 16.9},
        text_row("{last_three}", 1.0, 11.2, 24.0, 6.0, face="bold"),
        text_row("{container}", 32.0, 18.0, 17.0, 1.7, least_mm=1.4, face="bold", align="right"),
        text_row("{tip}", 1.0, 18.6, 20.0, 1.4, face="bold"),
        text_row("lot {lot}", 24.0, 20.9, 25.0, 1.4, least_mm=1.25, face="bold", align="right"),
        text_row("EXPIRES", 1.0, 22.9, 8.0, 1.25, face="bold"),
        text_row("{discard_day}", 10.0, 22.4, 20.0, 1.9, least_mm=1.5, face="bold"),
    ],
}


def identity_template(beside: Template) -> Template:
    """The identity label for the stock that `beside`, the site's time label, is printed on."""
    mapping = LARGE if beside.width_mm >= LARGE_FROM_MM else SMALL
    return template_from_mapping(mapping)


def identity_content(
    container: str, code: str, *, paste: str, kind: str, tip_down: bool, alloy: Alloy, lot: str, expires: date | None
) -> LabelContent:
    """What the identity label of a container says; the fields of times are empty."""
    loud = alloy in LOUD
    _, counter = container_numbers(container)
    day = f"{expires.day} {MONTHS[expires.month - 1]} {expires.year}" if expires is not None else ""
    said = {
        "code": code,
        "paste": paste,
        "kind": kind,
        "alloy_loud": alloy.shout if loud else "",
        "alloy_plain": "" if loud else plain_family(alloy),
        "last_three": f"{counter % 1000:03d}",
        "container": container,
        "lot": lot,
        "tip": "TIP DOWN" if tip_down else "",
        "discard_day": day,
        "print_number": "0",
    }
    return LabelContent(**{name: said.get(name, "") for name in LabelContent.__slots__})
