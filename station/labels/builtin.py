"""The label templates every site starts with, in the shape settings use.

Reading order: what it is, its last three digits, then the times, discard-by largest, then what people write in.
Everything at 1.5 mm or under is bold: at 203 dots per inch a regular stem is one dot here and two there.
"""

from collections.abc import Mapping
from dataclasses import replace

from station.labels.language import ENGLISH
from station.labels.layout import Template, template_from_mapping

# a container filled here is open from the start, and has no maker's label of its own
ONCE: Mapping[str, object] = {"unless": "hazards"}
FILLED: Mapping[str, object] = {"when": "hazards"}
# what a person writes on at the first opening, and what stands there on a label printed after it
WRITE_IN: Mapping[str, object] = {"when": "write_in"}
OPENED: Mapping[str, object] = {"when": "opened"}

# a lot longer than its line is not cut short: half a lot number is another lot number
LOT_ON_SCREEN = "lot: see screen"


def text_row(text: str, x: float, y: float, width: float, cap: float, **more: object) -> dict[str, object]:
    """A line of text of a template, in the shape of the settings; millimetres."""
    return {"kind": "text", "text": text, "x_mm": x, "y_mm": y, "width_mm": width, "cap_mm": cap, **more}


def _box(x: float, y: float, width: float, height: float, line: float, **more: object) -> dict[str, object]:
    return {"kind": "box", "x_mm": x, "y_mm": y, "width_mm": width, "height_mm": height, "line_mm": line, **more}


def arrow(x: float, y: float, width: float, height: float) -> dict[str, object]:
    """The mark beside TIP DOWN, in the shape of the settings; millimetres."""
    return {"kind": "arrow", "x_mm": x, "y_mm": y, "width_mm": width, "height_mm": height, "when": "tip"}


def code(x: float, y: float, side: float) -> dict[str, object]:
    """The square for the code, in the shape of the settings; millimetres."""
    return {"kind": "code", "x_mm": x, "y_mm": y, "side_mm": side}


LARGE: dict[str, object] = {
    "name": "60x40",
    "width_mm": 60.0,
    "height_mm": 40.0,
    "items": [
        text_row("{paste}", 1.5, 1.5, 26.0, 3.2, least_mm=2.0, face="bold"),
        text_row("{kind}", 1.5, 6.2, 40.5, 2.1, least_mm=1.6),
        text_row("{last_three}", 29.0, 1.5, 13.0, 4.0, face="bold", align="right"),
        text_row("{alloy_loud}", 1.5, 10.4, 40.5, 3.2, face="bold", align="centre", inverted=True),
        text_row("{alloy_plain}", 1.5, 10.6, 40.5, 2.4, least_mm=2.0, face="bold"),
        arrow(1.5, 15.2, 2.4, 1.7),
        text_row("{tip}", 4.8, 15.2, 12.0, 1.7, face="bold"),
        arrow(17.1, 15.2, 2.4, 1.7),
        code(42.7, 0.5, 17.0),
        text_row("THAW START", 1.5, 18.1, 16.5, 1.7),
        text_row("{thaw_start}", 19.0, 17.7, 39.5, 2.1, least_mm=1.8, align="right"),
        text_row("EARLIEST USE", 1.5, 21.6, 16.5, 1.7),
        text_row("{earliest_use}", 19.0, 21.0, 39.5, 2.3, least_mm=1.8, face="bold", align="right"),
        _box(1.0, 24.3, 58.0, 8.9, 0.35),
        text_row("DISCARD BY", 2.0, 24.95, 20.0, 1.5, face="bold"),
        text_row("limit: {governing_full}", 24.0, 24.95, 33.8, 1.4, align="right", face="bold"),
        text_row("{discard_day}", 2.0, 27.2, 33.1, 4.1, face="bold"),
        text_row("{discard_year}", 35.4, 27.2, 5.9, 1.6, face="bold"),
        text_row("{discard_zone}", 35.4, 29.9, 5.9, 1.4, least_mm=1.25, face="bold"),
        text_row("{discard_clock}", 41.4, 27.2, 16.4, 4.1, face="bold", align="right"),
        text_row("ONCE OPENED", 1.5, 33.7, 13.5, 1.4, face="bold", **WRITE_IN),
        text_row("{open_life}", 1.5, 35.6, 13.5, 1.4, face="bold", **WRITE_IN),
        _box(16.0, 33.6, 21.0, 3.5, 0.25, **WRITE_IN),
        text_row("OPENED", 16.8, 34.7, 9.0, 1.3, face="bold", **WRITE_IN),
        _box(37.5, 33.6, 21.0, 3.5, 0.25, **WRITE_IN),
        text_row("DISCARD", 38.3, 34.7, 8.0, 1.3, face="bold", **WRITE_IN),
        _box(1.0, 33.6, 58.0, 3.5, 0.25, **OPENED),
        text_row("OPENED", 2.0, 34.6, 12.0, 1.5, face="bold", **OPENED),
        text_row("{opened}", 15.0, 34.25, 43.0, 1.9, least_mm=1.6, face="bold", align="right"),
        text_row("OPEN: KEEP LID ON", 1.5, 33.5, 17.5, 1.25, face="bold", **FILLED),
        text_row("part {part_number}", 19.5, 33.5, 39.0, 1.25, align="right", face="bold", **FILLED),
        _box(1.0, 35.35, 58.0, 2.05, 0.13, **FILLED),
        text_row("{hazards}", 2.0, 35.73, 56.0, 1.3, align="centre", face="bold"),
        text_row("lot {lot}", 1.5, 37.6, 17.5, 1.4, least_mm=1.25, face="bold", instead=LOT_ON_SCREEN),
        text_row("{container} label {print_number}", 19.3, 37.6, 20.7, 1.4, least_mm=1.25, align="centre", face="bold"),
        text_row("{who}", 40.4, 37.6, 18.1, 1.4, least_mm=1.25, align="right", face="bold"),
    ],
}

SMALL: dict[str, object] = {
    "name": "50x25",
    "width_mm": 50.0,
    "height_mm": 25.0,
    "items": [
        text_row("{paste}", 1.0, 1.0, 21.5, 2.2, least_mm=1.5, face="bold"),
        text_row("{kind}", 1.0, 3.9, 31.6, 1.4, least_mm=1.25, face="bold"),
        text_row("{last_three}", 23.0, 1.0, 9.6, 2.5, face="bold", align="right"),
        text_row("{alloy_loud}", 1.0, 6.7, 31.6, 1.9, face="bold", align="centre", inverted=True),
        text_row("{alloy_plain}", 1.0, 6.7, 31.6, 1.7, least_mm=1.5, face="bold"),
        code(33.1, 0.1, 16.9),
        text_row("THAW START", 1.0, 9.75, 11.2, 1.25, face="bold"),
        text_row("{thaw_start_brief}", 12.6, 9.5, 20.5, 1.5, least_mm=1.25, align="right", face="bold"),
        text_row("EARLIEST USE", 1.0, 12.0, 11.6, 1.25, face="bold"),
        text_row("{earliest_use_brief}", 12.6, 11.75, 20.5, 1.5, least_mm=1.25, face="bold", align="right"),
        text_row("lot {lot}", 1.0, 14.0, 18.0, 1.25, face="bold", instead=LOT_ON_SCREEN),
        text_row("{who}", 19.5, 14.0, 13.1, 1.25, align="right", face="bold"),
        text_row("{container} label {print_number}", 1.0, 15.5, 20.6, 1.25, face="bold"),
        arrow(21.8, 15.5, 1.4, 1.25),
        text_row("{tip}", 24.0, 15.5, 8.8, 1.25, face="bold"),
        text_row("DISCARD BY", 1.0, 17.2, 11.1, 1.25, face="bold"),
        text_row("{governing}", 1.0, 18.85, 10.4, 1.25, face="bold"),
        text_row("{discard_day}", 12.3, 17.2, 21.0, 2.6, face="bold"),
        text_row("{discard_year}", 33.5, 17.2, 5.0, 1.25, face="bold"),
        text_row("{discard_zone}", 33.5, 18.8, 5.0, 1.25, face="bold"),
        text_row("{discard_clock}", 38.2, 17.2, 10.8, 2.6, face="bold", align="right"),
        text_row("ONCE OPENED", 1.0, 21.6, 12.2, 1.25, face="bold", **WRITE_IN),
        text_row("{open_life}", 1.0, 23.15, 12.2, 1.25, face="bold", **WRITE_IN),
        _box(13.6, 21.7, 17.6, 2.75, 0.2, **WRITE_IN),
        text_row("OPENED", 14.2, 22.4, 7.2, 1.25, face="bold", **WRITE_IN),
        _box(31.5, 21.7, 17.8, 2.75, 0.2, **WRITE_IN),
        text_row("DISCARD", 32.1, 22.4, 7.2, 1.25, face="bold", **WRITE_IN),
        _box(0.7, 21.7, 48.6, 2.75, 0.2, **OPENED),
        text_row("OPENED", 1.4, 22.45, 8.8, 1.25, face="bold", **OPENED),
        text_row("{opened}", 10.0, 22.2, 38.5, 1.35, least_mm=1.25, face="bold", align="right"),
        text_row("OPEN: KEEP LID ON", 1.0, 20.95, 16.8, 1.25, face="bold", **FILLED),
        text_row("part {part_number}", 18.2, 20.95, 30.8, 1.25, align="right", face="bold", **FILLED),
        _box(0.7, 22.7, 48.6, 1.75, 0.13, **FILLED),
        text_row("{hazards}", 1.0, 22.95, 48.0, 1.25, align="centre", face="bold"),
    ],
}

# Folded at half its width round a syringe or its tail, the text on one face, the code on the other.
FLAG: dict[str, object] = {
    "name": "40x20",
    "width_mm": 40.0,
    "height_mm": 20.0,
    "items": [
        text_row("{paste}", 0.8, 0.8, 11.4, 1.9, least_mm=1.25, face="bold"),
        text_row("{last_three}", 12.6, 0.8, 6.7, 2.0, face="bold", align="right"),
        text_row("{alloy_loud}", 0.8, 4.0, 18.5, 1.9, least_mm=1.5, face="bold", align="centre", inverted=True),
        text_row("{alloy_plain}", 0.8, 4.1, 18.5, 1.4, least_mm=1.25, face="bold"),
        text_row("EARLIEST USE", 0.8, 6.9, 12.2, 1.25, face="bold"),
        text_row("{earliest_zone}", 13.2, 6.9, 6.1, 1.25, face="bold", align="right"),
        text_row("{earliest_day}", 0.8, 8.6, 12.2, 1.4, least_mm=1.25, face="bold"),
        text_row("{earliest_clock}", 13.2, 8.6, 6.1, 1.4, least_mm=1.25, face="bold", align="right"),
        text_row("DISCARD BY", 0.8, 10.9, 11.9, 1.25, face="bold"),
        text_row("{discard_zone}", 13.2, 10.9, 6.1, 1.25, face="bold", align="right"),
        text_row("{discard_day}", 0.8, 12.7, 18.5, 2.1, face="bold"),
        text_row("{discard_clock}", 0.8, 15.7, 8.4, 2.1, face="bold"),
        text_row("{discard_year}", 9.6, 16.5, 5.2, 1.3, least_mm=1.25, face="bold"),
        arrow(0.8, 18.2, 1.4, 1.25),
        text_row("{tip}", 2.6, 18.2, 12.6, 1.25, face="bold"),
        code(21.5, 0.2, 17.0),
        text_row("{container} no. {print_number}", 20.3, 18.2, 19.1, 1.25, face="bold", align="centre", **ONCE),
        text_row("{hazards_brief}", 20.8, 18.2, 18.6, 1.25, face="bold", align="centre"),
    ],
}


def builtin_templates() -> dict[str, Template]:
    """The built-in templates by name."""
    templates = (template_from_mapping(LARGE), template_from_mapping(SMALL), template_from_mapping(FLAG))
    return {template.name: template for template in templates}


def site_template(name: str, table: Mapping[str, object]) -> Template:
    """The template a site's table describes: `built_in` names one of ours, anything else is a layout of its own.

    Either may have a `language`, by its short name.

    TemplateFaults as from `template_from_mapping`, or KeyError for a built-in name there is not.
    """
    if "built_in" in table:
        return replace(builtin_templates()[str(table["built_in"])], language=str(table.get("language", ENGLISH)))
    return template_from_mapping(table, name)
