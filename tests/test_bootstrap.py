"""How the program is put together: the signing key, and that a station built twice on one journal is the same plant."""

import stat
import sys
from pathlib import Path

import pytest

from station.bootstrap import KEY_NAME, keys_in
from station.labels.containercode import pack_container, unpack_container
from station.labels.faults import LabelFault


def test_the_key_is_made_once_and_signs_the_same_ever_after(tmp_path: Path) -> None:
    first, second = keys_in(tmp_path, create=True), keys_in(tmp_path, create=False)
    assert unpack_container(pack_container(1, 7, first), second).counter == 7


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps no such file mode")
def test_the_key_can_be_read_by_its_owner_only(tmp_path: Path) -> None:
    keys_in(tmp_path, create=True)
    assert stat.S_IMODE((tmp_path / KEY_NAME).stat().st_mode) == 0o600


def test_a_missing_key_is_not_replaced_behind_the_back_of_whoever_only_reads(tmp_path: Path) -> None:
    with pytest.raises(LabelFault, match="no key file"):
        keys_in(tmp_path, create=False)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("text", ["", "not hex", "abcd"])
def test_a_damaged_key_is_refused_and_left_as_it_is(tmp_path: Path, text: str) -> None:
    (tmp_path / KEY_NAME).write_text(text)
    with pytest.raises(LabelFault, match="can't be read"):
        keys_in(tmp_path, create=True)
    assert (tmp_path / KEY_NAME).read_text() == text


def test_what_was_left_of_an_interrupted_start_does_not_stop_the_next(tmp_path: Path) -> None:
    (tmp_path / KEY_NAME).with_suffix(".part").write_text("half")
    assert keys_in(tmp_path, create=True).keys[0] == keys_in(tmp_path, create=False).keys[0]
