"""A maker's label among what is scanned: tried only where a code is none of this station's own."""

from collections.abc import Sequence
from datetime import date

from station.care.scans import MakersLabelScan, UnreadScan
from station.labels.makers.damaged import Damaged
from station.labels.makers.reading import read_makers
from station.labels.makers.setting import MakersSetting


def makers_scan(texts: Sequence[str], setting: MakersSetting, today: date) -> MakersLabelScan | UnreadScan | None:
    """The maker's label these forms of one scan are, why it can't be read, or None. `today` is the plant's day."""
    found = read_makers((*texts, *(text.swapcase() for text in texts[:1])), setting, today)
    if isinstance(found, Damaged):
        return UnreadScan(texts[0], found.sentence, found.mend)
    return MakersLabelScan(found) if found is not None else None
