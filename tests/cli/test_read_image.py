"""`station read-image`: what the codes on a photo mean, all of them, and clear words where there are none."""

import json
from pathlib import Path

import pytest
from PIL import Image

from station.bootstrap import DEMO_KEYS
from station.care.words import Card
from station.labels.plaincodes import TagKind, card_text, tag_text
from tests.cli.answers import DEMO
from tests.cli.conftest import Say
from tests.cli.test_read import time_label
from tests.scanning.pictures import dark, data_matrix, noisy, qr, side_by_side, turned


def photo(folder: Path, *codes: Image.Image) -> Path:
    file = folder / "photo.png"
    side_by_side(*codes).save(file)
    return file


@pytest.mark.parametrize("taken", ["straight", "rotated", "small", "noisy", "dark"])
def test_a_time_label_is_read_from_its_photo_as_from_its_text(station: Say, tmp_path: Path, taken: str) -> None:
    text = time_label(DEMO_KEYS)
    code = qr(text, 6)
    views = {
        "straight": code,
        "rotated": turned(code, 33),
        "small": qr(text, 1),
        "noisy": noisy(code, 0.2),
        "dark": dark(code, 8, 16),
    }
    file = tmp_path / "photo.png"
    views[taken].save(file)
    answer = station("read-image", file, "--config", DEMO, "--json")
    assert answer.code == 0, answer.err
    assert answer.json == {"symbology": "]Q1", **station("read", text, "--config", DEMO, "--json").json}


def test_several_codes_are_all_listed(station: Say, tmp_path: Path) -> None:
    maker = "[)>\x1e06\x1d1PHW-104-500\x1e\x04"
    file = photo(tmp_path, qr(card_text(Card.EMPTY)), data_matrix(maker), qr(tag_text(TagKind.BIN, "A1")))
    answer = station("read-image", file, "--config", DEMO)
    assert answer.code == 0
    heads = [line for line in answer.out.splitlines() if not line.startswith(" ")]
    assert heads == ["QR code: card", "Data Matrix code: maker-label", "QR code: tag"]
    told = [json.loads(line) for line in station("read-image", file, "--config", DEMO, "--json").out.splitlines()]
    assert [one["symbology"] for one in told] == ["]Q1", "]d1", "]Q1"]
    assert [one["kind"] for one in told] == ["card", "maker-label", "tag"]
    assert told[1]["fields"] == {
        "text": "]d1" + maker,
        "carrier": "ISO/IEC 15434 message",
        "maker's part": "HW-104-500",
    }


def test_a_codes_control_characters_do_not_reach_the_terminal(station: Say, tmp_path: Path) -> None:
    answer = station("read-image", photo(tmp_path, data_matrix("\x1b[2J\x1d\x7f")))
    assert answer.out.splitlines()[1] == "  text  ␛[2J␝␡"


def test_one_code_that_means_nothing_is_the_answer_no_and_the_others_are_still_told(
    station: Say, tmp_path: Path
) -> None:
    answer = station("read-image", photo(tmp_path, qr("HELLO"), qr(card_text(Card.LOOK))), "--config", DEMO)
    assert answer.code == 1
    assert "QR code: unknown" in answer.out
    assert "QR code: card" in answer.out
    assert "No code of this station begins like" in answer.err


def test_without_a_key_a_signed_label_is_not_believed(station: Say, tmp_path: Path) -> None:
    answer = station("read-image", photo(tmp_path, qr(time_label(DEMO_KEYS))), "--json")
    assert answer.code == 1
    assert [fault["code"] for fault in answer.json["faults"]] == ["key"]


def test_a_photo_without_a_code_is_the_answer_no(station: Say, tmp_path: Path) -> None:
    file = tmp_path / "wall.jpg"
    Image.new("RGB", (640, 480), "grey").save(file)
    answer = station("read-image", file)
    assert (answer.code, answer.out) == (1, "")
    assert answer.err.startswith(f"There is no QR or Data Matrix code to be read on {file}. Take the photo again")


def test_what_is_no_picture_or_not_there_cannot_be_read(station: Say, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("no picture")
    answer = station("read-image", tmp_path / "notes.txt")
    assert (answer.code, answer.out) == (2, "")
    assert "is no picture this program can read. Save it as PNG or JPEG." in answer.err
    answer = station("read-image", tmp_path / "none.png")
    assert answer.code == 2
    assert "none.png can't be read: No such file or directory." in answer.err


def test_it_explains_itself(station: Say) -> None:
    answer = station("read-image", "--help")
    assert answer.out.startswith("usage: station read-image")
