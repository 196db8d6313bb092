"""The doctor's look at the PC: Python, libraries, letters, the display, sound, the scanner."""

import os
import platform
import subprocess
import sys
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

from station.cli.display import NO_DISPLAY, has_display, mend_qt
from station.cli.findings import Finding
from station.labels.resources import font_path
from station.settings.faults import SettingsRefused
from station.settings.load import load

LEAST_PYTHON = (3, 11)
LIBRARIES = (
    "PySide6",
    "qrcode",
    "pillow",
    "python-dateutil",
    "zxing-cpp",
    "cattrs",
    "platformdirs",
    "argon2-cffi",
    "tzdata",
    "numpy",
    "scipy",
)
FONTS = ("B612-Regular", "B612-Bold", "B612Mono-Regular", "B612Mono-Bold")
QT_WITHIN_S = 30
# In a process of its own: Qt ends the process where its platform part does not load.
ASK_QT = (
    "from PySide6.QtWidgets import QApplication; app = QApplication([]); "
    "print(app.platformName(), [f'{s.size().width()} x {s.size().height()}' for s in app.screens()][0])"
)
# Tries the port and lists those there are: first line the trouble, empty if there is none; second line the ports.
ASK_SCANNER = (
    "import sys; from pathlib import Path; from PySide6.QtCore import QCoreApplication; app = QCoreApplication([]); "
    "from station.settings.load import load; from station.scanning import serial_port as port; "
    "print(port.trouble_with(load(Path(sys.argv[1])).scanner.serial)); print(port.in_words(port.seen_ports()))"
)


def pc_findings() -> Iterator[Finding]:
    """Everything that belongs to the PC and the installed program."""
    yield python_finding(sys.version_info[:2])
    yield libraries_finding(LIBRARIES)
    yield fonts_finding()
    yield display_finding()
    yield Finding(None, "sound", "not checked here; the window says so where there is none")


def python_finding(version: tuple[int, ...]) -> Finding:
    """Whether Python is new enough."""
    told = f"{platform.python_version()} on {platform.platform(terse=True)}"
    if version >= LEAST_PYTHON:
        return Finding(True, "Python", told)
    return Finding(False, "Python", f"{told} is too old. Install Python 3.11 or later.")


def libraries_finding(names: tuple[str, ...]) -> Finding:
    """Whether every library is installed, with versions."""
    found, missing = [], []
    for name in names:
        try:
            found.append(f"{name} {metadata.version(name)}")
        except metadata.PackageNotFoundError:
            missing.append(name)
    if missing:
        return Finding(False, "libraries", f"missing: {', '.join(missing)}. Install the program again with pip.")
    return Finding(True, "libraries", ", ".join(found))


def fonts_finding() -> Finding:
    """Whether the letters that labels and screens are set in are there."""
    missing = [name for name in FONTS if not font_path(name).is_file()]
    if missing:
        folder = font_path(missing[0]).parent
        return Finding(False, "letters", f"{', '.join(missing)} missing in {folder}. Copy resources anew.")
    return Finding(True, "letters", f"{', '.join(FONTS)}")


def display_finding() -> Finding:
    """Whether Qt starts with the display there is."""
    if not has_display():
        return Finding(False, "display", f"{NO_DISPLAY} A window needs one; station demo plays its tour without.")
    try:
        asked = subprocess.run(
            [sys.executable, "-c", ASK_QT], capture_output=True, text=True, timeout=QT_WITHIN_S, check=False
        )
    except subprocess.TimeoutExpired:
        return Finding(False, "display", f"Qt did not answer within {QT_WITHIN_S} s. Restart the PC's desktop.")
    if asked.returncode != 0:
        last = (asked.stderr.strip().splitlines() or ["no reason given"])[0]
        return Finding(False, "display", f"Qt does not start: {last}. {mend_qt()}")
    shown = "" if os.environ.get("QT_QPA_PLATFORM") not in ("offscreen", "minimal") else ", which shows no window"
    return Finding(True, "display", f"Qt works, platform {asked.stdout.strip()}{shown}")


def scanner_findings(folder: Path | None) -> Iterator[Finding]:
    """Whether the serial scanner can be opened, where the settings name one. Faulty settings are told elsewhere."""
    if folder is None:
        yield Finding(None, "scanner", "not checked; give --config DIR")
        return
    try:
        serial = load(folder).scanner.serial
    except SettingsRefused:
        return
    if serial is None:
        yield Finding(None, "scanner", "it types like a keyboard; to try it, scan into the window")
        return
    yield serial_finding(folder)


def serial_finding(folder: Path) -> Finding:
    """Whether the port of these settings opens, tried in a process of its own: a port may hang."""
    command = [sys.executable, "-c", ASK_SCANNER, str(folder)]
    try:
        asked = subprocess.run(command, capture_output=True, text=True, timeout=QT_WITHIN_S, check=False)
    except subprocess.TimeoutExpired:
        return Finding(False, "scanner", f"its port did not open within {QT_WITHIN_S} s. Plug it in anew.")
    if asked.returncode != 0:
        last = (asked.stderr.strip().splitlines() or ["no reason given"])[-1]
        return Finding(False, "scanner", f"Qt's serial part does not work: {last}. {mend_qt()}")
    trouble, ports, *_ = [*asked.stdout.splitlines(), "", ""]
    if trouble:
        holder = " A running station holds its port: close it to try." if "in use" in trouble else ""
        return Finding(False, "scanner", f"{trouble}{holder} Serial ports here: {ports}.")
    return Finding(True, "scanner", f"its port opens. Serial ports here: {ports}.")
