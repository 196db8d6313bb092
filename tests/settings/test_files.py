"""Files that are missing, cut short, emptied or no text at all: refused with a sentence, whatever they hold."""

import sys
import zoneinfo
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from station.settings import FILES, SettingsRefused, load
from tests.settings.folders import PLANT_T, Folder


@pytest.mark.parametrize("file", FILES)
@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "the file is empty"),
        (b" \n\n", "the file is empty"),
        (bytes(range(256)), "it holds bytes that are no text"),
        ("name = 'x'".encode("utf-16"), "it holds bytes that are no text"),
        ("# Kühlschrank\n".encode("latin-1"), "it is not UTF-8 text"),
        (b"a = [\n" * 5, "this is not TOML"),
        (b"x = " + b"[" * 3_000, "nested too deep"),
        (b"x = " + b"9" * 5_000, "this is not TOML"),
        (b"#" * 1_000_001, "larger than any settings file"),
    ],
    ids=["emptied", "blank", "rubbish", "utf-16", "latin-1", "half", "deep", "long figure", "huge"],
)
def test_br_59_a_file_that_is_no_settings_file_is_one_fault(
    plant_t: Folder, file: str, content: bytes, reason: str
) -> None:
    (plant_t.path / file).write_bytes(content)
    fault = plant_t.only_fault()
    assert fault.file == file
    assert fault.reason.startswith(reason) or reason in fault.reason
    assert "good copy" in fault.remedy or "quotes closed" in fault.remedy


def test_br_59_a_file_cut_short_anywhere_never_brings_other_limits(plant_t: Folder) -> None:
    whole = {found.paste: found for found in load(PLANT_T).specifications}
    path = plant_t.path / "pastes.toml"
    raw = path.read_bytes()
    for size in range(0, len(raw), 7):
        path.write_bytes(raw[:size])
        if not plant_t.faults():
            kept = load(plant_t.path).specifications
            assert kept == tuple(whole[found.paste] for found in kept)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.sampled_from(FILES), st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)))
def test_whatever_stands_in_a_file_is_refused_and_never_crashes(plant_t: Folder, file: str, content: bytes) -> None:
    path = plant_t.path / file
    before = path.read_bytes()
    path.write_bytes(content)
    try:
        with pytest.raises(SettingsRefused) as caught:
            load(plant_t.path)
        assert all(fault.sentence.isprintable() for fault in caught.value.faults)
    finally:
        path.write_bytes(before)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.data())
def test_a_value_of_any_type_is_refused_or_read_and_never_crashes(plant_t: Folder, data: st.DataObject) -> None:
    file = data.draw(st.sampled_from(FILES))
    path = plant_t.path / file
    before = path.read_text(encoding="utf-8")
    lines = before.splitlines()
    keyed = [number for number, line in enumerate(lines) if " = " in line]
    number = data.draw(st.sampled_from(keyed))
    odd = data.draw(
        st.sampled_from(
            ['""', "0", "-1", "1.5", "nan", "[]", "[[]]", "{}", "[{}]", "true", "1979-05-27", "0x" + "f" * 9_000]
        )
    )
    lines[number] = f"{lines[number].split(' = ')[0]} = {odd}"
    path.write_text("\n".join(lines), encoding="utf-8")
    try:
        assert all(fault.sentence.isprintable() for fault in plant_t.faults())
    finally:
        path.write_text(before, encoding="utf-8")


def test_a_number_too_long_to_write_down_is_a_fault_as_an_id_of_a_store_too(plant_t: Folder) -> None:
    """Python refuses to write integers of more than 4,300 digits (its documentation, sys.int_info)."""
    plant_t.edit("stores.toml", 'id = "FRIDGE"', f"id = 0x{'f' * 9_000}")
    assert [fault.key for fault in plant_t.faults()][:1] == ["store[#1].id"]


@pytest.mark.parametrize("file", FILES)
def test_a_missing_file_is_one_fault(plant_t: Folder, file: str) -> None:
    (plant_t.path / file).unlink()
    fault = plant_t.only_fault()
    assert fault.sentence == f"{file}: the file is missing. Copy it from demo_config and fill in your own figures."


def test_a_misnamed_file_is_told_from_both_sides(plant_t: Folder) -> None:
    (plant_t.path / "pastes.toml").rename(plant_t.path / "paste.toml")
    missing, stray = plant_t.faults()
    assert missing.reason == 'the file is missing; the folder holds "paste.toml"'
    assert (stray.file, stray.nearest) == ("paste.toml", "pastes.toml")


def test_other_kinds_of_file_may_lie_in_the_folder(plant_t: Folder) -> None:
    (plant_t.path / "pastes.toml~").write_text("rubbish = ")
    (plant_t.path / "notes.txt").write_text("rubbish = ")
    assert plant_t.faults() == ()


def test_no_folder_at_all(tmp_path: Path) -> None:
    with pytest.raises(SettingsRefused, match="there is no such folder"):
        load(tmp_path / "nowhere")


def test_a_folder_in_the_place_of_a_file(plant_t: Folder) -> None:
    (plant_t.path / "shifts.toml").unlink()
    (plant_t.path / "shifts.toml").mkdir()
    assert "it can't be read" in plant_t.only_fault().reason


def test_a_toml_error_names_its_line_and_other_files_are_read_all_the_same(plant_t: Folder) -> None:
    plant_t.edit("pastes.toml", 'stencil_life = "8 h"', 'stencil_life = "8 h')
    plant_t.edit("shifts.toml", '"06:00"', '"25:00"')
    syntax, value = plant_t.faults()
    line = (plant_t.path / "pastes.toml").read_text(encoding="utf-8").splitlines()[(syntax.line or 0) - 1]
    assert line == syntax.value == 'stencil_life = "8 h'
    assert "this is not TOML" in syntax.reason
    assert "quotes closed" in syntax.remedy
    assert value.key == "shift[Day].starts"


@pytest.mark.parametrize("file", ["site.toml", "shifts.toml"])
def test_files_saved_on_windows_are_read(plant_t: Folder, file: str) -> None:
    path = plant_t.path / file
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert plant_t.faults() == ()


@pytest.mark.parametrize(
    "zone", ["", "Berlin", "europe/berlin ", "../etc/passwd", "/etc/localtime", "Europe", "x" * 60]
)
def test_br_40_a_zone_that_is_none_is_refused(plant_t: Folder, zone: str) -> None:
    fault = plant_t.edit("site.toml", '"Europe/Berlin"', f'"{zone}"').only_fault()
    assert fault.key == "zone"
    assert fault.value == f'"{zone}"'
    assert fault.nearest == ("Europe/Berlin" if "erlin" in zone else fault.nearest)


@pytest.fixture
def no_zone_database(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A PC with no time zone database, neither the system's nor the package's."""
    path = zoneinfo.TZPATH
    zoneinfo.reset_tzpath(to=())
    zoneinfo.ZoneInfo.clear_cache()
    for name in [name for name in sys.modules if name.split(".")[0] == "tzdata"]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "tzdata", None)
    yield
    zoneinfo.reset_tzpath(to=path)


@pytest.mark.usefixtures("no_zone_database")
def test_br_40_without_a_zone_database_nothing_falls_back_to_local_time(plant_t: Folder) -> None:
    fault = plant_t.only_fault()
    assert fault.reason == "this PC has no time zone database"
    assert fault.remedy == "Install the Python package tzdata"
