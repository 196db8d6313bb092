"""Numbers that stand on a down-station sheet: taken for what was received by hand, and by nothing else."""

import re

from station.care.filled import spoken
from station.care.floor import Floor
from station.care.receiving import ArrivalRefused

_NUMBER = re.compile(r"(?:K(\d{1,3})-)?(\d{3,7})")
_SPOKEN = re.compile(r"K(\d{1,3}) +(?=\d)")
_BETWEEN = re.compile(r"[\s,;+]+")


def numbers_on_paper(floor: Floor, said: str, paste: str, count: int) -> tuple[str, ...]:
    """The container numbers a person read off a sheet, such as `K7 312, 313`, for `count` containers of a paste.

    Raises ArrivalRefused for what is no number, on no sheet, on that of another paste, taken before, or named twice.
    """
    written = _SPOKEN.sub(r"K\1-", said.strip().upper())
    found = tuple(_reserved(floor, part, paste) for part in _BETWEEN.split(written))
    if len(set(found)) < len(found):
        raise ArrivalRefused("One of these numbers is named twice. Each container has its own.")
    if len(found) != count:
        raise ArrivalRefused(f"Numbers given: {len(found)}, containers: {count}. Give each container its number.")
    return found


def _reserved(floor: Floor, said: str, paste: str) -> str:
    match = _NUMBER.fullmatch(said)
    if match is None:
        raise ArrivalRefused(f"{said!r} is no container number; one looks like K7 311.")
    matching = [name for name in floor.ledger.reserved if _is_meant(name, match[1], match[2])]
    if not matching:
        raise ArrivalRefused(f"{spoken(said)} stands on no down-station sheet. Leave it empty for a new number.")
    if len(matching) > 1:
        raise ArrivalRefused(f"{said} could be {' or '.join(map(spoken, matching))}. Type it with its K.")
    name = matching[0]
    if floor.container(name) is not None:
        raise ArrivalRefused(f"{spoken(name)} was received before. Scan its label to see its story.")
    if floor.ledger.reserved[name] != paste:
        raise ArrivalRefused(f"{spoken(name)} stands on the sheet of {floor.ledger.reserved[name]}. Which paste is it?")
    return name


def _is_meant(name: str, station: str | None, counter: str) -> bool:
    by, _, number = name.removeprefix("K").partition("-")
    return int(number) == int(counter) and (station is None or int(station) == int(by))
