"""The application identifiers this station knows (GS1 General Specifications, section 3)."""

import re
from dataclasses import dataclass
from functools import cache

DATES = {"11": "made", "13": "packed", "15": "best before", "16": "sell by", "17": "expires"}


@dataclass(frozen=True, slots=True)
class Gs1Id:
    """An application identifier: what it is, how its data looks, and whether its length alone ends it."""

    code: str
    title: str
    least: int
    most: int
    digits: bool

    @property
    def fixed(self) -> bool:
        """Whether no separator follows it: its two first digits are in the table of predefined lengths."""
        return self.code[:2] in _PREDEFINED

    def fits(self, value: str) -> bool:
        """Whether the data is of the right length and of the characters allowed."""
        pattern = _DIGITS if self.digits else _CHARACTERS
        return self.least <= len(value) <= self.most and pattern.fullmatch(value) is not None


_PREDEFINED = frozenset(["00", "01", "02", "03", "04", "20", "41", *map(str, range(11, 20)), *map(str, range(31, 37))])
_DIGITS = re.compile(r"[0-9]+")
_CHARACTERS = re.compile(r"[!\"%&'()*+,\-./0-9:;<=>?A-Z_a-z]+")
_ROWS = (
    ("00", "number of the package", "18"),
    ("01", "item number (GTIN)", "14"),
    ("02", "item number of the contents (GTIN)", "14"),
    *((code, f"date: {title}", "6") for code, title in DATES.items()),
    ("10", "lot", "x20"),
    ("20", "variant", "2"),
    ("21", "serial number", "x20"),
    ("22", "consumer variant", "x20"),
    ("30", "count", "1-8"),
    ("37", "count of the contents", "1-8"),
    ("240", "further item number", "x30"),
    ("241", "customer's part number", "x30"),
    ("242", "made-to-order number", "1-6"),
    ("243", "packaging component", "x20"),
    ("250", "second serial number", "x30"),
    ("251", "source", "x30"),
    ("400", "order", "x30"),
    ("401", "consignment", "x30"),
    ("402", "shipment", "17"),
    ("403", "routing", "x30"),
    *((f"41{last}", "place number (GLN)", "13") for last in range(8)),
    ("420", "postal code", "x20"),
    ("422", "country of origin", "3"),
    ("7003", "expires, with the time", "10"),
    ("8008", "made, with the time", "8-12"),
    ("8020", "payment slip", "x25"),
    ("8200", "web address", "x70"),
    ("90", "agreed between partners", "x30"),
    *((f"9{last}", "the company's own", "x90") for last in range(1, 10)),
)
MEASURES = {"310": "net mass in kg", "320": "net mass in lb", "330": "gross mass in kg", "340": "gross mass in lb"}


def _row(code: str, title: str, form: str) -> Gs1Id:
    digits = not form.startswith("x")
    least, _, most = form.removeprefix("x").partition("-")
    return Gs1Id(code, title, int(least) if digits else 1, int(most or least), digits)


@cache
def known() -> dict[str, Gs1Id]:
    """Every identifier by its code; measures with each place of the decimal sign."""
    found = {code: _row(code, title, form) for code, title, form in _ROWS}
    for start, title in MEASURES.items():
        found |= {f"{start}{place}": _row(f"{start}{place}", title, "6") for place in range(6)}
    return found


def id_at(text: str) -> Gs1Id | None:
    """The identifier a text begins with; no identifier begins like another."""
    return next((known()[text[:length]] for length in (2, 3, 4) if text[:length] in known()), None)


def good_check_digit(number: str) -> bool:
    """Whether the last digit of a GTIN or SSCC is right (GS1 General Specifications 7.9: weights 3 and 1)."""
    total = sum(int(digit) * (3 if place % 2 else 1) for place, digit in enumerate(reversed(number)))
    return total % 10 == 0
