"""`station doctor` and the scanner: whether a serial one can be opened, and which ports there are."""

import subprocess
import sys
from pathlib import Path

import pytest

from station.cli import findings_pc
from station.cli.findings import Finding
from tests.cli.answers import DEMO
from tests.scanning.terminals import FarEnd
from tests.settings.folders import PLANT_T, Folder


def serial_site(tmp_path: Path, port: Path) -> Path:
    folder = Folder(tmp_path / "site", PLANT_T)
    scanner = f'\n[scanner]\nsource = "serial"\nterminator = "CR"\nport = "{port.as_posix()}"\nbaud = 9600\n'
    with (folder.path / "site.toml").open("a", encoding="utf-8") as file:
        file.write(scanner)
    return folder.path


def only(folder: Path | None) -> Finding:
    (found,) = findings_pc.scanner_findings(folder)
    return found


def test_a_typing_scanner_is_tried_by_scanning() -> None:
    assert only(DEMO).line == "--    scanner: it types like a keyboard; to try it, scan into the window"
    assert only(None).ok is None


def test_faulty_settings_are_told_once_and_not_here(tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", DEMO).edit("pastes.toml", 'stencil_life = "8 h"\n', "")
    assert list(findings_pc.scanner_findings(folder.path)) == []


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pseudo-terminals")
def test_br_16_a_serial_scanner_is_opened_and_one_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    pytest.importorskip("PySide6")
    far_end = FarEnd(tmp_path / "tty-scanner")
    folder = serial_site(tmp_path, far_end.name)
    missing = only(folder)
    assert missing.ok is False
    assert missing.sentence.startswith("not connected. Plug its cable in. Serial ports here: ")
    far_end.plug_in()
    found = only(folder)
    far_end.pull_out()
    assert (found.ok, found.sentence.startswith("its port opens.")) == (True, True), found.sentence


def test_a_port_that_hangs_and_a_qt_without_its_serial_part_are_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def hang(*_a: object, **_k: object) -> None:
        raise subprocess.TimeoutExpired("python", 30)

    folder = serial_site(tmp_path, tmp_path / "none")
    monkeypatch.setattr(subprocess, "run", hang)
    assert "did not open within" in only(folder).sentence
    broken = subprocess.CompletedProcess([], 1, "", "Traceback\nModuleNotFoundError: No module named 'x'\n")
    monkeypatch.setattr(subprocess, "run", lambda *_a, **_k: broken)
    found = only(folder)
    assert found.ok is False
    assert "No module named 'x'" in found.sentence
