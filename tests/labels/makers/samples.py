"""Shorthand for makers' codes: `~` stands for GS, `|` for RS, `$` for EOT."""

from datetime import date

from station.care.makers_label import MakersLabel
from station.labels.makers.damaged import Damaged
from station.labels.makers.reading import read_makers
from station.labels.makers.setting import MakersSetting

TODAY = date(2026, 11, 25)
GTIN = "09501101530003"
"""An item number from the GS1 General Specifications' own examples (prefix 950 is kept for examples)."""
MESSAGE = "[)>|06~PSP-500-T4~1PSAC305T4-500~1TA7Z0815~Q1~16D20260830~14D20270228~V12345|$"
SITE = MakersSetting()


def keyed(text: str) -> str:
    """The text with its control characters."""
    return text.translate({ord("~"): 0x1D, ord("|"): 0x1E, ord("$"): 0x04})


def outcome(*texts: str, today: date = TODAY, setting: MakersSetting = SITE) -> MakersLabel | Damaged | None:
    """What these forms of one scan come to."""
    return read_makers(map(keyed, texts), setting, today)


def label(*texts: str, today: date = TODAY, setting: MakersSetting = SITE) -> MakersLabel:
    """The label; a failed test if it is none."""
    found = outcome(*texts, today=today, setting=setting)
    assert isinstance(found, MakersLabel), found
    return found


def damage(*texts: str, today: date = TODAY, setting: MakersSetting = SITE) -> str:
    """Why the label is not read; a failed test if it is."""
    found = outcome(*texts, today=today, setting=setting)
    assert isinstance(found, Damaged), found
    return found.sentence


def asked(found: MakersLabel) -> dict[str, tuple[str, ...]]:
    """The fields in question with the readings offered."""
    return {question.field: question.choices for question in found.questions}
