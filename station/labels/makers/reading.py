"""From the texts a scan may stand for to the one maker's label it is, to the reason why it is none, or to nothing."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from station.care.makers_label import MakersLabel
from station.labels.makers.damaged import Damaged, DamagedLabel
from station.labels.makers.digital_link import read_link
from station.labels.makers.envelope import HEADER, LOST, SET_SCANNER, read_envelope, with_separators
from station.labels.makers.gs1 import CHECKED, SEPARATOR, read_elements
from station.labels.makers.gs1_ids import good_check_digit, known
from station.labels.makers.plain import read_plain_code
from station.labels.makers.setting import MakersSetting

GS1_SYMBOLOGIES = ("]C1", "]d2", "]Q3", "]e0", "]J1")
"""AIM symbology identifiers of GS1 data: Code 128, Data Matrix, QR, DataBar, DotCode (ISO/IEC 15424)."""
_ITEM_SYMBOLOGY = re.compile(r"\]E0([0-9]{13})")
_SYMBOLOGY = re.compile(r"\][A-Za-z][0-9A-Za-z]")
TWO = Damaged(
    "This maker's label can be read in two ways, so it is read in none.",
    "Scan the scanner set-up card once, then this code again.",
)
NOTHING = MakersSetting()


@dataclass(frozen=True, slots=True)
class _Found:
    """One reading of one text. `proven`: the text itself shows that its letters have the right case."""

    text: str
    outcome: MakersLabel | Damaged
    proven: bool


def read_makers(texts: Iterable[str], setting: MakersSetting, today: date) -> MakersLabel | Damaged | None:
    """The one maker's label, why there is none, or None if this is nothing of the kind.

    `texts` are the forms of one scan, as it came first, with symbology identifier and control characters. `today` is
    the day at the plant. Where only the case of letters differs and nothing proves it, the text as it came counts.
    """
    every = [found for text in dict.fromkeys(texts) if (found := _read(text, setting, today)) is not None]
    labels = [found for found in every if isinstance(found.outcome, MakersLabel)]
    among = [found for found in labels if found.proven] or labels
    if not among:
        return next((found.outcome for found in every), None)
    first = among[0]
    return first.outcome if all(found.text.casefold() == first.text.casefold() for found in among) else TWO


def _read(text: str, setting: MakersSetting, today: date) -> _Found | None:
    bare = text.strip(" \r\n\t")
    try:
        return _read_bare(bare, setting, today)
    except DamagedLabel as damaged:
        return _Found(bare, damaged.damaged, proven=False)


def _read_bare(text: str, setting: MakersSetting, today: date) -> _Found | None:
    prefix = _SYMBOLOGY.match(text.lstrip(SEPARATOR))
    symbology = prefix.group() if prefix else ""
    data = text.lstrip(SEPARATOR)[len(symbology) :].lstrip(SEPARATOR)
    if data.startswith(HEADER):
        return _read_message(data, setting, today)
    if item := _ITEM_SYMBOLOGY.fullmatch(text):
        return _Found(text, read_elements(f"010{item.group(1)}", today), proven=True)
    if symbology in GS1_SYMBOLOGIES or _is_element_string(data):
        data = _separated(data, setting)
        return _found_elements(data, today, proven=symbology in GS1_SYMBOLOGIES)
    if data.casefold().startswith(("http://", "https://")):
        link = read_link(data, today)
        return _Found(data, link, proven=data.startswith("http")) if link is not None else None
    plain = read_plain_code(data, setting, today)
    return _Found(data, plain, proven=False) if plain is not None else None


def _found_elements(data: str, today: date, *, proven: bool) -> _Found | None:
    """Scanners put the GS1 identifier before anything in such a code: where nothing in it is known, it is no label."""
    label = read_elements(data, today)
    known_of_it = label.fields or label.extras or label.questions
    return _Found(data, label, proven) if known_of_it else None


def _read_message(data: str, setting: MakersSetting, today: date) -> _Found:
    text = _separated(data, setting)
    return _Found(data, read_envelope(text, today), proven=re.search("\x1d[0-9]*[A-Z]", text) is not None)


def _separated(data: str, setting: MakersSetting) -> str:
    """The data with its control characters where their names stand in print, if the site says that makers do so."""
    text = with_separators(data)
    if text != data and not setting.literal_separators:
        raise DamagedLabel(LOST, SET_SCANNER)
    return text


def _is_element_string(data: str) -> bool:
    """Without a symbology identifier only a number with a good check digit at the start shows that this is GS1 data."""
    code = data[:2]
    number = data[2 : 2 + known()[code].most] if code in CHECKED else ""
    whole = bool(number) and len(number) == known()[code].most and number.isascii() and number.isdigit()
    return whole and good_check_digit(number)
