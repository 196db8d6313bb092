"""The tour: one invented day as files that anybody can open and check."""

import csv
import json
import subprocess
import sys
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from PySide6.QtWidgets import QApplication

from station.bootstrap import DEMO_KEYS, run_tour
from station.labels.plaincodes import known_texts
from station.labels.reading import ContainerRead, TimeLabelRead, read

DEMO = Path(__file__).parents[2] / "demo_config"


@pytest.fixture(scope="module")
def tour(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("tour")
    assert run_tour(DEMO, out) == 0
    return out


def summary(tour: Path) -> dict[str, object]:
    told = json.loads((tour / "summary.json").read_text(encoding="utf-8"))
    assert isinstance(told, dict)
    return told


def test_the_day_has_every_word_and_an_alarm_raised_acknowledged_and_cleared(tour: Path) -> None:
    told = summary(tour)
    assert set(told["verdicts"]) == {"USE", "WAIT", "STOP", "DONE"}  # type: ignore[call-overload]
    assert all(count >= 1 for count in told["alarms"].values())  # type: ignore[attr-defined]


def test_every_picture_named_is_there_and_shows_more_than_one_colour(tour: Path) -> None:
    for name in summary(tour)["pictures"]:  # type: ignore[attr-defined]
        with Image.open(tour / "screens" / name) as picture:
            assert len(picture.convert("RGB").getcolors(maxcolors=1 << 20) or ()) > 20, name


@pytest.mark.parametrize("moment", ["fridge-taken-out", "printer-wait", "printer-stop", "printer-use", "desk-alarm"])
def test_the_telling_moments_have_their_picture(tour: Path, moment: str) -> None:
    assert list((tour / "screens").glob(f"*-{moment}.png"))


def test_every_label_picture_reads_back_as_a_label_of_this_site(tour: Path) -> None:
    pictures = sorted((tour / "labels").glob("*.png"))
    assert len(pictures) == summary(tour)["labels"]
    for path in pictures:
        with Image.open(path) as picture:
            found = zxingcpp.read_barcodes(picture.convert("L"))
        reading = read(found[0].text, DEMO_KEYS, known_texts())
        kind = ContainerRead if path.stem.endswith("identity") else TimeLabelRead
        assert isinstance(reading, kind), path.name
        assert path.name.startswith(reading.container)


def test_a_label_printed_as_pdf_reads_back_from_paper(tour: Path, tmp_path: Path) -> None:
    pdf = next((tour / "labels").glob("*-print-1.pdf"))
    command = ["pdftoppm", "-r", "203", "-gray", "-singlefile", "-png", str(pdf), str(tmp_path / "page")]
    subprocess.run(command, check=True, timeout=60)
    with Image.open(tmp_path / "page.png") as page:
        found = zxingcpp.read_barcodes(page)
    assert isinstance(read(found[0].text, DEMO_KEYS, known_texts()), TimeLabelRead)


def test_the_facts_are_all_in_the_table_and_none_runs_as_a_formula(tour: Path) -> None:
    """BR-67."""
    with (tour / "facts.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))
    assert len(rows) - 1 == summary(tour)["facts"]
    assert not any(cell[:1] in "=+-@" for row in rows for cell in row if cell)


def test_the_command_plays_it_without_a_display(tmp_path: Path) -> None:
    environment = {"PATH": "/usr/bin:/bin", "QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path)}
    command = [sys.executable, "-m", "station", "demo", "--tour", str(tmp_path / "out")]
    done = subprocess.run(
        command, env=environment, cwd=DEMO.parent, capture_output=True, text=True, timeout=100, check=False
    )
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "out" / "summary.json").exists()
