"""Key places against xkb-data, and what Qt reports of them on each platform."""

import shutil
from pathlib import Path

import pytest

from station.scanning.places import MAIN_PLACES, control_character, place_for, place_of, us_character

from .xkb import written_by_place


@pytest.mark.skipif(not shutil.which("xkbcomp"), reason="needs xkbcomp (package x11-xkb-utils)")
def test_the_us_table_is_that_of_xkb_data(tmp_path: Path) -> None:
    published = written_by_place("us", tmp_path)
    for place in MAIN_PLACES:
        ours = (us_character(place, shift=False), us_character(place, shift=True))
        assert ours == published[place], f"place {place}"


@pytest.mark.parametrize("shift", [False, True])
def test_keypad_keys_write_their_digits_whatever_shift_says_br_12(shift: bool) -> None:
    """BR-12. Places from memory of linux/input-event-codes.h: KEY_KP7 is 71, KEY_KP0 82, KEY_KPSLASH 98."""
    places = {71: "7", 75: "4", 79: "1", 82: "0", 83: ".", 74: "-", 78: "+", 55: "*", 98: "/"}
    assert {place: us_character(place, shift=shift) for place in places} == places


def test_every_printable_ascii_character_has_a_key_and_comes_back_from_it() -> None:
    for code in range(32, 127):
        where = place_for(chr(code))
        assert where is not None
        assert us_character(where[0], shift=where[1]) == chr(code)
    assert place_for("é") is None


@pytest.mark.parametrize("place", [None, 1, 14, 28, 96, 59, 103, 110])
def test_keys_that_move_or_act_write_nothing(place: int | None) -> None:
    """Esc, Backspace, Enter, keypad Enter, F1, up, Insert."""
    assert us_character(place, shift=False) is None
    assert control_character(place, shift=False) is None


@pytest.mark.parametrize(
    ("key", "shift", "control"),
    [("]", False, "\x1d"), ("^", True, "\x1e"), ("_", True, "\x1f"), ("\\", False, "\x1c"), ("d", False, "\x04")],
)
def test_control_characters_sit_where_ascii_puts_them_br_13(key: str, shift: bool, control: str) -> None:
    """GS, RS, US, FS and EOT of ISO/IEC 15434 messages; ASCII puts each 0x40 below its key."""
    where = place_for(key)
    assert where is not None
    assert control_character(where[0], shift=shift) == control


def test_ctrl_with_a_digit_is_no_control_character() -> None:
    assert control_character(8, shift=False) is None


@pytest.mark.parametrize(
    ("platform", "scan_code", "place"),
    [
        ("xcb", 38, 30),
        ("wayland", 35, 27),
        ("offscreen", 0, None),
        ("xcb", 8, None),
        ("windows", 30, 30),
        ("windows", 0x11C, 96),
        ("windows", 0x135, 98),
        ("windows", 0x148, None),
        ("windows", 0, None),
    ],
)
def test_native_scan_codes_become_places(platform: str, scan_code: int, place: int | None) -> None:
    """X11 and Wayland: evdev + 8 (xkb-data). Windows: set 1, extended keys from 0x100 (from memory)."""
    assert place_of(scan_code, platform) == place
