"""A station's scanner settings reach the parts that hear."""

import pytest

from station.scanning.heard import HeardScan, candidates
from station.scanning.set_up import wedge_timing, without_additions
from station.scanning.stream import WedgeTiming
from station.services.scanner import ScannerSetting, SerialSetting, Terminator

CODE = "V1C7K2M90ZXQ4T8B"
ADDING = ScannerSetting(prefix="~", suffix="#9")


def test_without_settings_a_typing_scanner_is_heard_as_before() -> None:
    assert wedge_timing(ScannerSetting()) == WedgeTiming()


@pytest.mark.parametrize("terminator", [Terminator.CR, Terminator.LF, Terminator.CR_LF, Terminator.TAB])
def test_br_05_a_scanner_that_always_ends_its_codes_makes_a_code_without_end_incomplete(terminator: Terminator) -> None:
    assert wedge_timing(ScannerSetting(terminator)).end_key_needed is True
    assert wedge_timing(ScannerSetting(Terminator.NONE)).end_key_needed is False


def test_a_slow_scanner_gets_its_pause() -> None:
    assert wedge_timing(ScannerSetting(key_gap_ms=80)).gap_ms == 80


def test_a_typing_scanner_beside_a_serial_one_is_heard_as_it_comes() -> None:
    serial = SerialSetting(9600, port="COM3")
    assert wedge_timing(ScannerSetting(Terminator.CR, serial=serial)) == WedgeTiming()


@pytest.mark.parametrize(
    ("heard", "code"),
    [
        (HeardScan("~" + CODE + "#9", None), CODE),
        (HeardScan("~]Q1" + CODE + "#9", None), CODE),
        (HeardScan(CODE, None), CODE),
        (HeardScan(CODE + "#9", None), CODE),
    ],
)
def test_br_14_what_the_scanner_adds_is_taken_off_where_it_came(heard: HeardScan, code: str) -> None:
    assert candidates(without_additions(heard, ADDING))[0] == code


def test_what_is_added_is_known_by_key_place_where_the_layout_changed_it() -> None:
    """A German layout types ° and § where a US keyboard has ~ and #."""
    heard = HeardScan("°V1C7K2M90YXQ4T8B§9", "~" + CODE + "#9")
    assert CODE in candidates(without_additions(heard, ADDING))
    assert without_additions(HeardScan(CODE, CODE), ScannerSetting()) == HeardScan(CODE, CODE)
