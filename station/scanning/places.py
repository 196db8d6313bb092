"""What a United States keyboard writes at each key place.

A scanner set to US sends key places, and the PC turns them into characters by its own layout. Reading the place
undoes that without a guess. Places are Linux evdev key codes (linux/input-event-codes.h); X11 and Wayland key
codes are evdev + 8; Windows scan codes (set 1) equal evdev codes on the main block and the keypad digits.
"""

from collections.abc import Iterable

MAIN_PLACES: tuple[int, ...] = (*range(2, 14), *range(16, 28), *range(30, 41), 41, 43, *range(44, 54))
"""The 47 keys of the main block: digit row, two letter rows, the keys left of 1 and of Enter, the bottom row."""

US_UNSHIFTED = "1234567890-=qwertyuiop[]asdfghjkl;'`\\zxcvbnm,./"
US_SHIFTED = '!@#$%^&*()_+QWERTYUIOP{}ASDFGHJKL:"~|ZXCVBNM<>?'

SPACE_PLACE = 57

_KEYPAD = dict(zip((*range(71, 84), 55, 98), "789-456+1230.*/", strict=True))
_WINDOWS_EXTENDED = {0x11C: 96, 0x135: 98}  # keypad Enter and keypad slash share a code with their twins
_X11_OFFSET = 8


def _table(characters: Iterable[str]) -> dict[int, str]:
    return {**dict(zip(MAIN_PLACES, characters, strict=True)), SPACE_PLACE: " ", **_KEYPAD}


_UNSHIFTED = _table(US_UNSHIFTED)
_SHIFTED = _table(US_SHIFTED)
_PLACES: dict[str, tuple[int, bool]] = {
    " ": (SPACE_PLACE, False),
    **{character: (place, False) for place, character in zip(MAIN_PLACES, US_UNSHIFTED, strict=True)},
    **{character: (place, True) for place, character in zip(MAIN_PLACES, US_SHIFTED, strict=True)},
}


def us_character(place: int | None, *, shift: bool) -> str | None:
    """The character a US keyboard writes at `place`, or None where it writes none.

    Keypad keys give their digit or sign whatever NumLock and Shift say: a scanner sends nothing else there.
    """
    return None if place is None else (_SHIFTED if shift else _UNSHIFTED).get(place)


def control_character(place: int | None, *, shift: bool) -> str | None:
    """The ASCII control character (0x00-0x1F) of Ctrl with the key at `place` on a US keyboard, or None.

    ASCII (ANSI X3.4) puts a control character 0x40 below the capital letter or sign that names it: `]` is 0x5D,
    GS is 0x1D. That key bears `+` in Germany and `$` in France, so only its place tells. RS and US need Shift
    (`^`, `_`), the rest do not care.
    """
    character = us_character(place, shift=shift)
    if character is None:
        return None
    code = ord(character.upper()) - 0x40
    return chr(code) if 0 <= code < 0x20 else None


def place_of(scan_code: int, platform: str) -> int | None:
    """The evdev key place of a native scan code as Qt reports it, or None if the platform gives none.

    `platform` is the name of the Qt platform plug-in, for example "xcb" or "windows".
    """
    if platform == "windows":
        return _WINDOWS_EXTENDED.get(scan_code, scan_code if 0 < scan_code < 0x100 else None)
    return scan_code - _X11_OFFSET if scan_code > _X11_OFFSET else None


def place_for(character: str) -> tuple[int, bool] | None:
    """The key place and Shift that write `character` on a US keyboard's main block, or None if no key does."""
    return _PLACES.get(character)
