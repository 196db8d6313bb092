"""`station doctor`: one line for each thing the station needs, FAIL only where something must be mended."""

import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from station.bootstrap import JOURNAL_NAME, KEY_NAME
from station.cli import findings_pc
from station.cli.findings import Finding
from station.cli.findings_data import data_findings, place_finding
from station.cli.findings_printer import printer_findings, queue_findings
from station.cli.findings_settings import label_finding, settings_findings
from station.labels.builtin import LARGE, builtin_templates
from station.labels.faults import LabelFault
from station.labels.layout import template_from_mapping
from station.settings.load import load
from tests.cli.answers import DEMO, PLANT_T
from tests.cli.conftest import Say
from tests.cli.test_journal_commands import change_a_row
from tests.settings.folders import Folder


@pytest.fixture
def qt_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """A Qt that works, so that these tests need none."""
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    good = subprocess.CompletedProcess([], 0, "offscreen 800 x 800\n", "")
    monkeypatch.setattr(subprocess, "run", lambda *_a, **_k: good)


def by_name(findings: Any) -> dict[str, Finding]:
    return {finding.what: finding for finding in findings}


@pytest.mark.usefixtures("qt_answers")
def test_a_pc_that_is_right_has_nothing_to_mend(station: Say, data: Path) -> None:
    answer = station("doctor", "--config", DEMO, "--data", data)
    assert answer.code == 0, answer.out
    lines = answer.out.splitlines()
    assert lines[-1] == "Nothing to mend."
    looked_at = {line[6:].partition(":")[0] for line in lines[:-1]}
    assert {"Python", "libraries", "letters", "display", "label", "data folder", "journal", "key"} <= looked_at
    assert "--    sound: not checked here" in answer.out


@pytest.mark.usefixtures("qt_answers")
def test_one_fault_is_one_fail_and_the_answer_no(station: Say, data: Path) -> None:
    (data / KEY_NAME).unlink()
    answer = station("doctor", "--config", DEMO, "--data", data)
    assert answer.code == 1
    fails = [line for line in answer.out.splitlines() if line.startswith("FAIL")]
    assert len(fails) == 1
    assert "Bring it back from the latest backup." in fails[0]
    assert answer.out.splitlines()[-1] == "1 of these must be mended."


def test_a_fresh_pc_without_data_is_no_fault_and_nothing_is_made(tmp_path: Path) -> None:
    folder = tmp_path / "none" / "yet"
    found = by_name(data_findings(folder))
    assert [finding.ok for finding in found.values()] == [True, True, None, None]
    assert "will be made at the first start" in found["writing"].sentence
    assert not folder.parent.exists()


def test_a_data_folder_at_work_is_right(data: Path) -> None:
    before = [(data / name).read_bytes() for name in (JOURNAL_NAME, KEY_NAME)]
    assert [finding.ok for finding in data_findings(data)] == [True] * 4
    assert [(data / name).read_bytes() for name in (JOURNAL_NAME, KEY_NAME)] == before


def test_a_journal_that_does_not_hold_is_found(data: Path) -> None:
    (data / JOURNAL_NAME).write_bytes(b"no database at all" * 100)
    assert by_name(data_findings(data))["journal"].ok is False


def test_a_journal_with_a_changed_row_is_found(data: Path) -> None:
    change_a_row(data)
    found = by_name(data_findings(data))["journal"]
    assert found.ok is False
    assert f"Run station verify --data {data}." in found.sentence


def test_a_key_that_others_can_read_is_found(data: Path) -> None:
    (data / KEY_NAME).chmod(0o644)
    assert "chmod 600" in by_name(data_findings(data))["key"].sentence


def test_a_garbled_key_is_found(data: Path) -> None:
    (data / KEY_NAME).write_text("zz", encoding="ascii")
    assert by_name(data_findings(data))["key"].ok is False


def test_a_server_name_is_a_network_share() -> None:
    found = place_finding(Path("//server/share/data"))
    assert found.ok is False
    assert "network share" in found.sentence


def test_a_folder_nobody_may_write_in_is_found(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(**_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("station.cli.findings_data.tempfile.TemporaryFile", refuse)
    found = by_name(data_findings(data))["writing"]
    assert found.ok is False
    assert "Permission denied" in found.sentence


@pytest.mark.parametrize(("folder", "labels"), [(DEMO, 2), (PLANT_T, 1)])
def test_settings_and_each_of_their_labels_are_tried(folder: Path, labels: int) -> None:
    assert [finding.ok for finding in settings_findings(folder)] == [True, *[True] * labels, None]


def test_without_settings_the_built_in_label_is_tried() -> None:
    assert [finding.ok for finding in settings_findings(None)] == [None, True]


def test_faulty_settings_are_counted_and_the_check_is_named(tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", DEMO).edit("pastes.toml", 'stencil_life = "8 h"\n', "")
    (found,) = settings_findings(folder.path)
    assert found.ok is False
    assert f"station check-config {folder.path}" in found.sentence


def test_a_label_that_does_not_fit_is_found() -> None:
    assert label_finding(builtin_templates()["50x25"], 203).ok is True
    narrow = template_from_mapping({**LARGE, "width_mm": 58.5})
    assert label_finding(narrow, 203).ok is False


def test_missing_letters_are_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(findings_pc, "font_path", lambda name: tmp_path / f"{name}.otf")
    found = findings_pc.fonts_finding()
    assert found.ok is False
    assert "B612-Bold" in found.sentence


def test_a_missing_library_is_named() -> None:
    found = findings_pc.libraries_finding(("pillow", "no-such-library"))
    assert (found.ok, "no-such-library" in found.sentence) == (False, True)


def test_an_old_python_is_named() -> None:
    assert findings_pc.python_finding((3, 10)).ok is False
    assert findings_pc.python_finding((3, 13)).ok is True


def test_no_display_is_said_without_starting_qt(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(findings_pc, "has_display", lambda: False)
    monkeypatch.setattr(subprocess, "run", lambda *_a, **_k: pytest.fail("Qt was started"))
    found = findings_pc.display_finding()
    assert found.ok is False
    assert "station demo plays its tour" in found.sentence


@pytest.mark.parametrize(
    ("outcome", "sentence"),
    [
        (
            subprocess.CompletedProcess([], 134, "", "no platform plugin\n"),
            "Qt does not start: no platform plugin",
        ),
        (subprocess.CompletedProcess([], 134, "", ""), "no reason given"),
    ],
)
def test_a_qt_that_ends_is_told_with_its_reason(
    monkeypatch: pytest.MonkeyPatch, outcome: subprocess.CompletedProcess[str], sentence: str
) -> None:
    monkeypatch.setattr(findings_pc, "has_display", lambda: True)
    monkeypatch.setattr(subprocess, "run", lambda *_a, **_k: outcome)
    found = findings_pc.display_finding()
    assert (found.ok, sentence in found.sentence) == (False, True)


def test_a_qt_that_does_not_answer_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def hang(*_a: object, **_k: object) -> None:
        raise subprocess.TimeoutExpired("python", 30)

    monkeypatch.setattr(findings_pc, "has_display", lambda: True)
    monkeypatch.setattr(subprocess, "run", hang)
    assert "did not answer" in findings_pc.display_finding().sentence


def test_the_real_qt_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("PySide6")
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    found = findings_pc.display_finding()
    assert found.ok is True, found.sentence
    assert "offscreen" in found.sentence
    assert "shows no window" in found.sentence


class Queue:
    """A printer queue that stands as a test says."""

    name = "labels"

    def __init__(self, against: LabelFault | None = None, warned: tuple[str, ...] | LabelFault = ()) -> None:
        self.against, self.warned = against, warned

    def trouble(self) -> LabelFault | None:
        """Why it would not print."""
        return self.against

    def warnings(self) -> tuple[str, ...]:
        """What does not go with the label."""
        if isinstance(self.warned, LabelFault):
            raise self.warned
        return self.warned


STOPPED = LabelFault("stopped", "Printer queue labels is stopped. Start it again with: cupsenable labels.")


@pytest.mark.parametrize(
    ("queue", "lines"),
    [
        (Queue(), ["ok    printer: queue labels takes labels; whether they come out only a scan can tell"]),
        (Queue(STOPPED), [f"FAIL  printer: {STOPPED.sentence}"]),
        (
            Queue(warned=("It has no size for our label. Add it.",)),
            ["FAIL  label size: It has no size for our label. Add it."],
        ),
        (Queue(warned=STOPPED), [f"FAIL  label size: {STOPPED.sentence}"]),
    ],
)
def test_the_printer_queue_is_one_of_the_things_looked_at(queue: Any, lines: list[str]) -> None:
    """BR-24, BR-26."""
    assert [finding.line for finding in queue_findings(queue)][-1:] == lines


def test_without_a_queue_the_folder_is_named() -> None:
    (found,) = printer_findings(load(PLANT_T))
    assert (found.ok, found.what) == (None, "printer")
    assert "folder labels" in found.sentence


def test_a_pc_whose_print_service_is_missing_is_told_what_to_do(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    site = load(PLANT_T)
    (found,) = printer_findings(replace(site, label=replace(site.label, queue="labels")))
    assert found.line == "FAIL  printer: This PC has no program lpoptions. Install the package cups-client."
