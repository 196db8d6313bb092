"""A line may say that it has a label printer; elsewhere the word has no meaning. Pairing is the site's choice."""

from pathlib import Path

import pytest

from station.care.specification import Pairing
from station.settings import load
from tests.settings.folders import PLANT_T, Folder

LINE = 'title = "Line 1"\n'
DOOR = 'title = "Refrigerator"\n'


@pytest.mark.parametrize(
    ("told", "has"), [("", False), ("label_printer = true\n", True), ("label_printer = false\n", False)]
)
def test_a_line_has_a_label_printer_where_it_says_so(tmp_path: Path, told: str, has: bool) -> None:
    folder = Folder(tmp_path / "site", PLANT_T).edit("places.toml", LINE, LINE + told)
    assert load(folder.path).place("LINE1").label_printer is has


def test_a_label_printer_is_yes_or_no(tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", PLANT_T).edit("places.toml", LINE, LINE + 'label_printer = "yes"\n')
    assert "label_printer" in folder.only_fault().sentence


def test_at_a_door_nothing_is_opened_so_no_opened_label_is_printed_there(tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", PLANT_T).edit("places.toml", DOOR, DOOR + "label_printer = true\n")
    assert "only at a printer or a dispenser is paste opened" in folder.only_fault().sentence


@pytest.mark.parametrize("choice", Pairing)
def test_a_site_chooses_whether_labels_are_paired(tmp_path: Path, choice: Pairing) -> None:
    folder = Folder(tmp_path / "site", PLANT_T).edit("site.toml", '"remind"', f'"{choice.value}"')
    assert load(folder.path).plant.rules.label_pairing is choice


def test_another_word_for_pairing_is_refused(tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", PLANT_T).edit("site.toml", '"remind"', '"always"')
    assert "label_pairing" in folder.only_fault().sentence
