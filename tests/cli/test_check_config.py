"""`station check-config`: everything that is wrong, at once, or what is set up."""

from pathlib import Path

from tests.cli.answers import DEMO, PLANT_T
from tests.cli.conftest import Say
from tests.settings.folders import Folder


def test_a_good_folder_is_summed_up(station: Say) -> None:
    answer = station("check-config", DEMO)
    assert (answer.code, answer.err) == (0, "")
    told = answer.out
    assert told.startswith("ok: Hollowmere Works (demo), zone Europe/Berlin, station 1, DEMO")
    assert "5 pastes: SN-4, SN-6, PB-1, BI-2, RT-3" in told
    assert "4 lines: LINE1 (1), LINE2 (2A, 2B), LINE3 (3), DOTS (D1)" in told
    assert "7 places: FRIDGE (fridge door)" in told
    assert "5 kinds: JAR-250" in told


def test_a_site_in_earnest_is_not_called_a_demo(station: Say) -> None:
    assert "DEMO" not in station("check-config", PLANT_T).out


def test_faults_of_several_files_come_together_and_are_the_answer_no(station: Say, tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", DEMO)
    folder.edit("pastes.toml", 'stencil_life = "8 h"\n', "")
    folder.edit("stores.toml", 'storage = "cold"', 'storage = "cool"')
    answer = station("check-config", folder.path)
    assert (answer.code, answer.out) == (1, "")
    assert "2 faults" in answer.err
    assert "stencil_life" in answer.err
    assert 'Did you mean "cold"?' in answer.err


def test_a_template_that_does_not_hold_is_told_too(station: Say, tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", DEMO)
    folder.edit("labels.toml", 'built_in = "60x40"', "width_mm = 60.0")
    answer = station("check-config", folder.path)
    assert answer.code == 1
    assert "labels.toml" in answer.err


def test_a_name_too_long_for_the_label_is_told_before_anything_is_printed(station: Say, tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", PLANT_T)
    folder.edit("kinds.toml", '"jar 500 g"', '"WIDE MOUTH WORKSHOP JAR 500 GRAMS, BLUE"')
    answer = station("check-config", folder.path)
    assert (answer.code, answer.out) == (1, "")
    assert "template.60x40: 'WIDE MOUTH WORKSHOP JAR 500 GRAMS, BLUE' needs" in answer.err
