"""Codes found in pictures, whatever the camera made of them; and nothing found where there is none."""

import random
import zlib
from collections.abc import Callable
from pathlib import Path
from struct import pack

import pytest
from PIL import Image, ImageFilter, ImageOps

from station.scanning.image_codes import NoPicture, codes_in, codes_in_frame, picture_in

from .pictures import WHITE, dark, data_matrix, noisy, qr, side_by_side, turned

TEXT, OTHER = "V1C7K2M90ZXQ4T8B5JH2NDQ0W3E", "C1K7-311"


def texts(image: Image.Image) -> list[str]:
    return [code.text for code in codes_in(image)]


@pytest.mark.parametrize(
    "taken",
    [
        pytest.param(lambda code: code, id="as drawn"),
        pytest.param(lambda code: turned(code, 17), id="askew"),
        pytest.param(lambda code: turned(code, 90), id="on its side"),
        pytest.param(lambda code: turned(code, 180), id="upside down"),
        pytest.param(lambda code: turned(code, 233), id="anyhow"),
        pytest.param(lambda code: code.resize((36, 36), Image.Resampling.LANCZOS), id="one pixel a module"),
        pytest.param(lambda code: code.resize((54, 54), Image.Resampling.LANCZOS), id="half pixels"),
        pytest.param(lambda code: noisy(code, 0.1), id="noise in every 10th pixel"),
        pytest.param(lambda code: noisy(code, 0.3), id="noise in every 3rd pixel"),
        pytest.param(lambda code: dark(code, 10, 14), id="in the dark"),
        pytest.param(lambda code: dark(code, 200, 230), id="glaring"),
        pytest.param(lambda code: noisy(dark(turned(code, 30), 20, 60), 0.02), id="dark, askew and noisy"),
        pytest.param(lambda code: code.filter(ImageFilter.GaussianBlur(2)), id="blurred"),
        pytest.param(ImageOps.invert, id="light on dark"),
        pytest.param(lambda code: code.convert("RGB"), id="in colour"),
    ],
)
def test_a_label_is_read_however_the_photo_was_taken(taken: Callable[[Image.Image], Image.Image]) -> None:
    assert texts(taken(qr(TEXT))) == [TEXT]


def test_all_codes_of_a_picture_are_found_from_top_to_bottom_and_each_once() -> None:
    sheet = side_by_side(qr(TEXT), data_matrix("[)>\x1e06\x1d1PHW-104-500\x1e\x04"), qr(OTHER), qr(OTHER))
    found = codes_in(sheet)
    assert [code.text for code in found] == [TEXT, "[)>\x1e06\x1d1PHW-104-500\x1e\x04", OTHER]
    assert [code.kind for code in found] == ["QR code", "Data Matrix code", "QR code"]


def test_br_14_a_code_comes_with_the_symbology_identifier_a_scanner_would_send() -> None:
    """]Q1 and ]d1: QR and Data Matrix without GS1 data (ISO/IEC 15424, from memory)."""
    assert [code.scan for code in codes_in(qr(TEXT))] == ["]Q1" + TEXT]
    assert [code.scan for code in codes_in(data_matrix(OTHER))] == ["]d1" + OTHER]


@pytest.mark.parametrize(
    "empty",
    [
        Image.new("L", (1, 1), 0),
        Image.new("L", (300, 300), WHITE),
        Image.new("L", (2, 3000), WHITE),
        qr(TEXT).crop((0, 0, 198, 100)),
        qr(TEXT).filter(ImageFilter.GaussianBlur(6)),
    ],
    ids=["one pixel", "blank", "a stripe", "cut off", "a blur"],
)
def test_where_no_whole_code_is_nothing_is_found(empty: Image.Image) -> None:
    assert codes_in(empty) == ()


def test_noise_is_no_code() -> None:
    chance = random.Random(3)
    for _ in range(5):
        assert codes_in(Image.frombytes("L", (200, 200), chance.randbytes(40_000))) == ()


def test_a_code_with_many_modules_wrong_is_read_right_or_not_at_all() -> None:
    chance, right = random.Random(5), 0
    for damaged in range(0, 60, 3):
        image = qr(TEXT)
        for _ in range(damaged):
            x, y = (6 * chance.randrange(4, 29) for _ in range(2))
            image.paste(chance.choice((0, WHITE)), (x, y, x + 6, y + 6))
        found = texts(image)
        assert found in ([], [TEXT])
        right += bool(found)
    assert 0 < right < 20


def test_one_frame_of_a_camera() -> None:
    frame = side_by_side(qr(TEXT), qr(OTHER))
    wide = Image.new("L", (frame.width + 13, frame.height), 77)
    wide.paste(frame, (0, 0))
    found = codes_in_frame(wide.tobytes(), frame.width, frame.height, wide.width)
    assert [code.text for code in found] == [TEXT, OTHER]
    assert codes_in_frame(frame.tobytes(), *frame.size) == found


@pytest.mark.parametrize(("width", "height", "stride"), [(0, 1, 1), (10, 11, 10), (10, 10, 9), (10, 10, 11)])
def test_a_frame_that_is_not_what_it_says_is_refused(width: int, height: int, stride: int) -> None:
    with pytest.raises(ValueError, match="does not fit 100 bytes"):
        codes_in_frame(b"x" * 100, width, height, stride)


def in_mode(image: Image.Image, mode: str) -> Image.Image:
    if mode == "I;16":
        return image.convert("I").point(lambda level: level * 257).convert(mode)
    return image.convert(mode)


@pytest.mark.parametrize("form", ["PNG", "JPEG", "BMP", "GIF", "TIFF", "WEBP"])
@pytest.mark.parametrize("mode", ["L", "RGB", "RGBA", "P", "1", "I;16"])
def test_pictures_of_every_usual_kind_are_read(tmp_path: Path, form: str, mode: str) -> None:
    file = tmp_path / f"photo.{form.lower()}"
    try:
        in_mode(qr(TEXT), mode).save(file, form)
    except (OSError, ValueError, KeyError):
        pytest.skip(f"{form} holds no {mode}")
    assert texts(picture_in(file)) == [TEXT]


def test_a_code_on_transparent_ground_stands_on_white_paper(tmp_path: Path) -> None:
    code = qr(TEXT)
    clear = Image.new("RGBA", code.size, (0, 0, 0, 0))
    clear.paste((0, 0, 0, 255), mask=ImageOps.invert(code))
    clear.save(tmp_path / "clear.png")
    assert texts(picture_in(tmp_path / "clear.png")) == [TEXT]


def test_a_file_that_is_no_picture_is_said(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("V1C7K2M9")
    with pytest.raises(NoPicture, match=r"notes.txt is no picture this program can read. Save it as PNG or JPEG\."):
        picture_in(tmp_path / "notes.txt")
    (tmp_path / "empty.png").write_bytes(b"")
    with pytest.raises(NoPicture, match="no picture"):
        picture_in(tmp_path / "empty.png")


def test_a_file_that_is_not_there_or_is_a_folder_is_said(tmp_path: Path) -> None:
    with pytest.raises(NoPicture, match="can't be read: No such file or directory"):
        picture_in(tmp_path / "none.png")
    with pytest.raises(NoPicture, match="can't be read"):
        picture_in(tmp_path)


@pytest.mark.parametrize("form", ["PNG", "JPEG", "GIF", "TIFF", "WEBP"])
def test_a_picture_cut_short_anywhere_is_said_and_never_crashes(tmp_path: Path, form: str) -> None:
    whole = tmp_path / "whole"
    qr(TEXT).save(whole, form)
    raw, file, told = whole.read_bytes(), tmp_path / "photo", list[str]()
    for size in range(0, len(raw), max(1, len(raw) // 40)):
        file.write_bytes(raw[:size])
        try:
            found = texts(picture_in(file))
        except NoPicture as fault:
            told.append(str(fault))
        else:
            assert found in ([], [TEXT])
    assert told
    assert all(sentence.endswith(".") for sentence in told)


def test_a_picture_that_would_fill_the_memory_is_refused_before_it_is_unpacked(tmp_path: Path) -> None:
    def chunk(name: bytes, data: bytes) -> bytes:
        return pack(">I", len(data)) + name + data + pack(">I", zlib.crc32(name + data))

    file = tmp_path / "bomb.png"
    for side in (12_000, 60_000):
        header = pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
        file.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", b"") + chunk(b"IEND", b""))
        with pytest.raises(NoPicture, match=r"is too large\. Crop it to the code"):
            picture_in(file)
