"""What a site says of makers' labels: left out, right, and wrong in each way with a sentence."""

from pathlib import Path

import pytest

from station.care.specification import MakerCode
from station.labels.makers.dates import DateForm
from station.labels.makers.setting import MakersSetting
from station.settings import load
from station.settings.faults import SettingsFault, SettingsRefused
from tests.settings.folders import DEMO, PLANT_T, Folder

TABLE = "[makers_label]"


def faults_of(path: Path) -> list[SettingsFault]:
    with pytest.raises(SettingsRefused) as refused:
        load(path)
    return list(refused.value.faults)


def replaced(folder: Folder, file: str, old: str, new: str) -> Path:
    path = folder.path / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder.path


def test_the_demo_shows_everything_there_is_to_say() -> None:
    site = load(DEMO)
    assert site.makers.plain_dates is DateForm.DAY_FIRST
    assert "(?P<lot>" in site.makers.plain_pattern
    assert MakerCode("09501101530003", "JAR-500") in site.plant.pastes["SN-4"].maker_codes


def test_a_site_may_say_nothing(plant_t: Folder) -> None:
    path = plant_t.path / "site.toml"
    lines = path.read_text(encoding="utf-8").splitlines()
    start = lines.index(TABLE)
    path.write_text("\n".join((*lines[:start], *lines[start + 4 :])), encoding="utf-8")
    assert load(plant_t.path).makers == MakersSetting()


@pytest.mark.parametrize(
    ("old", "new", "key", "reason"),
    [
        ("EXP:28.02.2027", "EXP:31.02.2027", "plain_example", "no such day"),
        ('"LOT:A7Z0815;EXP', '"LOT;EXP', "plain_example", "does not fit it"),
        ('"DDMMYYYY"', '"DMY"', "plain_dates", "no such choice"),
        ("(?P<lot>", "(?P<batch>", "plain_pattern", "no field batch"),
        ("(?P<lot>", "(", "plain_pattern", "group lot is missing"),
        ("(?P<lot>", "(((?P<lot>", "plain_pattern", "no regular expression"),
        ("plain_pattern", "plain_patern", "plain_dates", "there is none"),
    ],
)
def test_what_is_wrong_is_said_with_its_key(plant_t: Folder, old: str, new: str, key: str, reason: str) -> None:
    found = faults_of(replaced(plant_t, "site.toml", old, new))
    assert [fault for fault in found if fault.key.endswith(key) and reason in fault.reason], found


@pytest.mark.parametrize(
    ("new", "reason"),
    [
        ('{ code = "hw-4-500", kind = "JAR-500" }, { code = "HW-4-500"', "is taken"),
        ('{ code = "HW-4-500", kind = "TUBE-1" }, { code = "HW-5"', "there is no kind it is bought in"),
        ('{ code = "", kind = "JAR-500" }, { code = "HW-5"', "it is empty"),
    ],
)
def test_a_makers_code_names_one_paste_in_a_kind_it_is_bought_in(plant_t: Folder, new: str, reason: str) -> None:
    found = faults_of(replaced(plant_t, "pastes.toml", '{ code = "HW-4-500"', new))
    assert [fault for fault in found if reason in fault.reason], found


def test_the_test_plant_reads_names_in_print_only_if_told(plant_t: Folder) -> None:
    """BR-75."""
    assert not load(PLANT_T).makers.literal_separators
    path = replaced(plant_t, "site.toml", TABLE, f"{TABLE}\nliteral_separators = true")
    assert load(path).makers.literal_separators
