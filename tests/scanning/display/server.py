"""A real X server of our own, keys typed into it by their place, and a conversation with the probe."""

import json
import os
import queue
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from station.scanning.places import place_for

from .keyboard import Keyboard

TOOLS = ("Xvfb", "xdotool", "setxkbmap", "xkbcomp")
DEADLINE_S = 30
TRIES = 10
ROOT = Path(__file__).resolve().parents[3]
ENTER, KEYPAD_ENTER, TAB, LINE_FEED, ESCAPE, DOWN = "36", "104", "23", "ctrl+44", "9", "116"
GROUP_SEPARATOR = "ctrl+35"
MARK = "78"  # Scroll Lock, which no scanner sends and the wedge lets through
KEYPAD = dict(zip("789-456+1230.", map(str, range(79, 92)), strict=True))

Line = dict[str, Any]


def missing_tools() -> list[str]:
    """Tools these tests need that are not installed."""
    return [tool for tool in TOOLS if shutil.which(tool) is None]


def key_names(text: str) -> list[str]:
    """The keys that write `text` on a US keyboard: X11 key codes, with shift+ or ctrl+."""
    return [GROUP_SEPARATOR if character == "\x1d" else _key_name(character) for character in text]


def _key_name(character: str) -> str:
    where = place_for(character)
    assert where is not None, f"no key writes {character!r}"
    place, shift = where
    return f"{'shift+' if shift else ''}{place + 8}"


class Display:
    """One Xvfb, and hands on its keyboard."""

    def __init__(self, number: str) -> None:
        self.environment = {**os.environ, "DISPLAY": f":{number}", "QT_QPA_PLATFORM": "xcb", "XMODIFIERS": ""}
        self.environment.pop("QT_IM_MODULE", None)
        self._keyboard = Keyboard(f":{number}")

    def layout(self, name: str) -> None:
        """Set the PC's keyboard layout."""
        self._run("setxkbmap", "-layout", name)

    def focus(self, window: int) -> None:
        """Give a window the keyboard; there is no window manager to do it."""
        self._run("xdotool", "windowfocus", "--sync", str(window))

    def press(self, names: Iterable[str], pause_ms: int = 2) -> None:
        """Type key places, one after the other. Returns when the server has them all."""
        self._keyboard.press(names, pause_ms)

    def press_in_parts(self, parts: Sequence[Iterable[str]], between_ms: int, pause_ms: int = 2) -> None:
        """Type the parts with a longer pause between them."""
        for number, names in enumerate(parts):
            self._keyboard.press(names, pause_ms, first_ms=between_ms if number else 0)

    def toggle(self, lock: str | None) -> None:
        """Press a lock key, if one is given."""
        if lock is not None:
            self.press([lock])

    def hold(self, name: str, for_ms: int) -> None:
        """Hold one key down; the server repeats it."""
        self._keyboard.hold(name, for_ms)

    def close(self) -> None:
        """Take the hands off."""
        self._keyboard.close()

    def _run(self, *command: str) -> None:
        subprocess.run(command, env=self.environment, check=True, capture_output=True, timeout=DEADLINE_S)


@contextmanager
def running_display() -> Iterator[Display]:
    """An Xvfb on a free number, which it chooses itself and writes when it is ready."""
    command = ["Xvfb", "-displayfd", "1", "-screen", "0", "1024x768x24", "-nolisten", "tcp", "-noreset"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as server:
        assert server.stdout is not None
        number = server.stdout.readline().strip()
        assert number, "Xvfb ended before it was ready"
        try:
            display = Display(number)
            yield display
            display.close()
        finally:
            server.terminate()


class Probe:
    """A running probe program: commands in, lines out."""

    def __init__(self, process: subprocess.Popen[str], display: Display) -> None:
        self._process = process
        self._display = display
        self._lines: queue.Queue[Line | None] = queue.Queue()
        self._reader = threading.Thread(target=self._pump, daemon=True)
        self._reader.start()
        shown = self.wait_for("shown")
        self.main_window, self.spare_window = int(shown["window"]), int(shown["spare"])

    def _pump(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            self._lines.put(json.loads(line))
        self._lines.put(None)

    def say(self, command: str) -> None:
        """Send one command."""
        assert self._process.stdin is not None
        self._process.stdin.write(command + "\n")
        self._process.stdin.flush()

    def read_until(self, wanted: Callable[[Line], bool]) -> list[Line]:
        """All lines up to and with the first wanted one. Fails at the deadline or when the probe has ended."""
        seen: list[Line] = []
        while not seen or not wanted(seen[-1]):
            try:
                line = self._lines.get(timeout=DEADLINE_S)
            except queue.Empty:
                raise AssertionError(f"the probe said nothing more within {DEADLINE_S} s; so far: {seen}") from None
            assert line is not None, f"the probe ended; so far: {seen}"
            seen.append(line)
        return seen

    def wait_for(self, kind: str) -> Line:
        """The next line of a kind."""
        return self.read_until(lambda line: bool(line["kind"] == kind))[-1]

    def ask(self, command: str) -> Line:
        """Send a command and wait until it is done."""
        self.say(command)
        return self.wait_for("done")

    def free(self) -> None:
        """Let a busy probe go on."""
        self.say("free")
        self.wait_for("free")

    def open(self, command: str) -> None:
        """Open a window and give it the keyboard."""
        self._display.focus(int(self.ask(command)["window"]))

    def closing(self) -> list[Line]:
        """What has happened, up to the effect that closes the open window, and after it on the main window."""
        events = self.read_until(lambda line: bool(line["kind"] == "effect"))
        self.take_keyboard()
        return events + self.outcome()[0]

    def outcome(self) -> tuple[list[Line], Line]:
        """What has happened since the last question, once nothing more can come, and what the fields hold."""
        self._display.press([MARK])
        self.say("report")
        *events, report = self.read_until(lambda line: bool(line["kind"] == "report"))
        return events, report

    def start_over(self) -> None:
        """Close what is open, empty the fields, forget what was said."""
        self.ask("clear")
        self.take_keyboard()

    def take_keyboard(self) -> None:
        """Give the main window the keyboard, and wait until it knows.

        Qt puts off what it makes of a window that closes with the keyboard, and may then overlook that the next
        one has got it. Going by way of a spare window shows it again.
        """
        for _ in range(TRIES):
            self._display.focus(self.main_window)
            if self.ask("active")["active"]:
                return
            self._display.focus(self.spare_window)
        raise AssertionError(f"the main window did not get the keyboard in {TRIES} tries")

    def end(self) -> None:
        """Ask the program to leave, and wait until it has."""
        self.say("quit")
        self._process.wait(DEADLINE_S)
        self._reader.join(DEADLINE_S)


@contextmanager
def running_probe(display: Display, *arguments: str) -> Iterator[Probe]:
    """The probe on a display, with the keyboard on its window."""
    command = [sys.executable, "-m", "tests.scanning.display.probe", *arguments]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT, env=display.environment
    ) as process:
        try:
            probe = Probe(process, display)
            probe.take_keyboard()
            yield probe
            probe.end()
        finally:
            process.kill()
