"""The identity label: stuck on at receiving, it says which container this is and when its shelf life ends.

It carries no times, because none run yet; the time label of the take-out goes beside it. Both name one container.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from station.care.saying import MONTHS
from station.care.words import Alloy
from station.labels.builtin import LOT_ON_SCREEN, arrow, code, text_row
from station.labels.containercode import container_numbers
from station.labels.content import LOUD, LabelContent, plain_family
from station.labels.layout import Template, template_from_mapping

LARGE: Mapping[str, object] = {
    "name": "identity 60x40",
    "width_mm": 60.0,
    "height_mm": 40.0,
    "items": [
        text_row("{paste}", 1.5, 1.5, 40.0, 4.0, least_mm=2.0, face="bold"),
        text_row("{kind}", 1.5, 7.0, 40.0, 2.4, least_mm=1.6),
        text_row("{alloy_loud}", 1.5, 11.6, 40.5, 3.2, face="bold", align="centre", inverted=True),
        text_row("{alloy_plain}", 1.5, 12.0, 40.5, 2.6, least_mm=2.0, face="bold"),
        code(42.7, 0.5, 17.0),
        text_row("{last_three}", 1.5, 18.6, 36.0, 9.5, face="bold"),
        text_row("{container}", 38.5, 19.2, 20.0, 2.6, least_mm=1.8, face="bold", align="right"),
        arrow(38.5, 25.0, 3.0, 2.4),
        text_row("{tip}", 42.5, 25.0, 16.0, 2.4, face="bold"),
        text_row("lot {lot}", 1.5, 30.6, 57.0, 2.2, least_mm=1.4, face="bold", instead=LOT_ON_SCREEN),
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
        code(33.1, 0.1, 16.9),
        text_row("{last_three}", 1.0, 11.2, 24.0, 6.0, face="bold"),
        text_row("{container}", 32.0, 18.0, 17.0, 1.7, least_mm=1.4, face="bold", align="right"),
        arrow(1.0, 18.6, 1.6, 1.4),
        text_row("{tip}", 3.2, 18.6, 17.8, 1.4, face="bold"),
        text_row("lot {lot}", 20.0, 20.4, 29.0, 1.4, least_mm=1.25, face="bold", align="right", instead=LOT_ON_SCREEN),
        text_row("EXPIRES", 1.0, 22.6, 8.0, 1.25, face="bold"),
        text_row("{discard_day}", 10.0, 21.95, 20.0, 1.9, least_mm=1.5, face="bold"),
    ],
}
FLAG: Mapping[str, object] = {
    "name": "identity 40x20",
    "width_mm": 40.0,
    "height_mm": 20.0,
    "items": [
        text_row("{paste}", 0.8, 0.8, 18.5, 2.0, least_mm=1.25, face="bold"),
        text_row("{alloy_loud}", 0.8, 4.2, 18.5, 1.9, least_mm=1.5, face="bold", align="centre", inverted=True),
        text_row("{alloy_plain}", 0.8, 4.3, 18.5, 1.4, least_mm=1.25, face="bold"),
        text_row("{last_three}", 0.8, 7.6, 18.5, 4.6, face="bold"),
        text_row("EXPIRES", 0.8, 13.2, 8.2, 1.25, face="bold"),
        text_row("{discard_day}", 0.8, 15.2, 18.5, 1.7, least_mm=1.4, face="bold"),
        arrow(0.8, 18.2, 1.4, 1.25),
        text_row("{tip}", 2.6, 18.2, 8.8, 1.25, face="bold"),
        code(21.5, 0.2, 17.0),
        text_row("{container}", 20.8, 18.2, 18.6, 1.25, face="bold", align="centre"),
    ],
}


def identity_template(beside: Template) -> Template:
    """The identity label for the stock that `beside`, the site's time label, is printed on, in its language."""
    sizes = [template_from_mapping(mapping) for mapping in (LARGE, SMALL, FLAG)]
    fits = (size for size in sizes if size.width_mm <= beside.width_mm and size.height_mm <= beside.height_mm)
    largest = next(fits, sizes[-1])
    return replace(largest, width_mm=beside.width_mm, height_mm=beside.height_mm, language=beside.language)


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
