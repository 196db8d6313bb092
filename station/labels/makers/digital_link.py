"""GS1 Digital Link: a web address that carries the same identifiers. Nothing is ever looked up on the web."""

import re
from datetime import date
from urllib.parse import parse_qsl, unquote, urlsplit

from station.care.makers_label import Carrier, MakersLabel
from station.labels.makers.filling import Filling
from station.labels.makers.gs1 import BEST_BEFORE, ask_whether_it_expires, say_element
from station.labels.makers.gs1_ids import known

_LENGTH_OF_KEY = {"00": 18, "01": 14}
_SHORTER_ITEM_NUMBERS = (8, 12, 13)


def read_link(text: str, today: date) -> MakersLabel | None:
    """The label in this address, None if it is another address; DamagedLabel if what it says cannot be right."""
    try:
        parts = urlsplit(text)
    except ValueError:
        return None
    path = [unquote(step) for step in parts.path.strip("/").split("/")]
    start = _key_in(path)
    if parts.scheme not in ("http", "https") or start is None:
        return None
    filling = Filling(today)
    steps = path[start:]
    for code, value in zip(steps[::2], steps[1::2], strict=False):
        _say(filling, code, value)
    if len(steps) % 2:
        filling.unknown(steps[-1])
    for code, value in parse_qsl(parts.query, keep_blank_values=True):
        _say(filling, code, value)
    said = dict((*zip(steps[::2], steps[1::2], strict=False), *parse_qsl(parts.query)))
    ask_whether_it_expires(filling, said.get(BEST_BEFORE, ""))
    return filling.label(Carrier.DIGITAL_LINK, text)


def _key_in(path: list[str]) -> int | None:
    """Where the number of the item or package begins, counted from the end as the standard has it."""
    for start in range(len(path) - 2, -1, -1):
        if path[start] in _LENGTH_OF_KEY and re.fullmatch(r"[0-9]{8,18}", path[start + 1]):
            return start
    return None


def _say(filling: Filling, code: str, value: str) -> None:
    if code == "01" and len(value) in _SHORTER_ITEM_NUMBERS:
        value = value.zfill(_LENGTH_OF_KEY[code])
    if code in known():
        say_element(filling, known()[code], value)
    else:
        filling.unknown(f"{code}={value}")
