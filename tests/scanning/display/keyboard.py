"""Hands on the keyboard of an X display: key places pressed through the XTest extension.

The server itself waits between the keys, so that their stamps keep the pace however busy the machine is. Key places,
not characters: a tool that types characters changes the layout to have them, and would prove nothing.
"""

from collections.abc import Iterable
from ctypes import CDLL, c_char_p, c_int, c_uint, c_ulong, c_void_p

SHIFT, CONTROL, ALT = 50, 37, 64
"""X11 key codes (evdev + 8) of the left Shift, Control and Alt."""

_HELD = {"shift": SHIFT, "ctrl": CONTROL, "alt": ALT}


class Keyboard:
    """One connection to an X server, for typing only."""

    def __init__(self, display_name: str) -> None:
        self._x11, self._xtest = CDLL("libX11.so.6"), CDLL("libXtst.so.6")
        self._x11.XOpenDisplay.argtypes, self._x11.XOpenDisplay.restype = [c_char_p], c_void_p
        self._x11.XSync.argtypes = [c_void_p, c_int]
        self._x11.XCloseDisplay.argtypes = [c_void_p]
        self._xtest.XTestFakeKeyEvent.argtypes = [c_void_p, c_uint, c_int, c_ulong]
        self._connection = self._x11.XOpenDisplay(display_name.encode())
        assert self._connection, f"no X server answers at {display_name}"

    def press(self, names: Iterable[str], pause_ms: int, first_ms: int = 0) -> None:
        """Press and release keys such as "38" or "ctrl+shift+15" (X11 key codes), `pause_ms` from key to key.

        Returns when the server has them all. first_ms: pause before the first.
        """
        wait_ms = first_ms
        for name in names:
            self._chord(name.split("+"), wait_ms)
            wait_ms = pause_ms
        self._x11.XSync(self._connection, 0)

    def hold(self, name: str, for_ms: int) -> None:
        """Hold one key down; the server repeats it."""
        self._event(int(name), down=True, wait_ms=0)
        self._event(int(name), down=False, wait_ms=for_ms)
        self._x11.XSync(self._connection, 0)

    def close(self) -> None:
        """Leave the server."""
        self._x11.XCloseDisplay(self._connection)

    def _chord(self, parts: list[str], wait_ms: int) -> None:
        codes = [*(_HELD[held] for held in parts[:-1]), int(parts[-1])]
        for number, code in enumerate(codes):
            self._event(code, down=True, wait_ms=0 if number else wait_ms)
        for code in reversed(codes):
            self._event(code, down=False, wait_ms=0)

    def _event(self, code: int, *, down: bool, wait_ms: int) -> None:
        self._xtest.XTestFakeKeyEvent(self._connection, code, down, wait_ms)
