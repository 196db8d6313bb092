"""Plain codes of makers who follow no standard, by the pattern a site has set."""

import re
from datetime import date

from station.care.makers_label import Carrier, MakersLabel
from station.labels.makers.damaged import DamagedLabel
from station.labels.makers.dates import day_of, written
from station.labels.makers.filling import Filling
from station.labels.makers.setting import MakersSetting

_DATES = {"made": "date of manufacture", "expires": "expiry date"}


def read_plain_code(text: str, setting: MakersSetting, today: date) -> MakersLabel | None:
    """The label the site's pattern reads from this text, None if it does not fit; DamagedLabel for no such day."""
    match = re.fullmatch(setting.plain_pattern, text) if setting.plain_pattern else None
    if match is None:
        return None
    filling = Filling(today)
    for name, value in match.groupdict().items():
        if value is None:
            continue
        if name in _DATES:
            day = day_of(written(value), setting.plain_dates, today)
            if day is None:
                raise DamagedLabel(f"There is no such day as {value} ({_DATES[name]}, {setting.plain_dates.value}).")
            filling.say(name, day)
        elif name == "part":
            filling.item("maker's part", value)
        else:
            filling.say(name, value)
    return filling.label(Carrier.PLAIN, text)
