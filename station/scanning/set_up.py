"""A station's scanner settings as the hearing parts use them."""

from dataclasses import replace

from station.services.scanner import ScannerSetting, Terminator

from .heard import HeardScan
from .stream import WedgeTiming

_SENDS_END_KEY = (Terminator.CR, Terminator.LF, Terminator.CR_LF, Terminator.TAB)


def wedge_timing(setting: ScannerSetting) -> WedgeTiming:
    """How a typing scanner is told from a person. Settings of a serial scanner say nothing about a typing one."""
    usual = WedgeTiming()
    if setting.serial is not None:
        return usual
    gap_ms = setting.key_gap_ms or usual.gap_ms
    return replace(usual, gap_ms=gap_ms, end_key_needed=setting.terminator in _SENDS_END_KEY)


def without_additions(heard: HeardScan, setting: ScannerSetting) -> HeardScan:
    """The scan without the prefix and suffix this station's scanner adds; one that came without them is left."""
    text, by_place = _bare(heard.text, setting), None
    if heard.by_place is not None:
        by_place = _bare(heard.by_place, setting)
    return HeardScan(text, by_place)


def _bare(text: str, setting: ScannerSetting) -> str:
    return text.removeprefix(setting.prefix).removesuffix(setting.suffix)
