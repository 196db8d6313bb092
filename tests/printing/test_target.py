"""A folder takes labels as files, whole or not at all, and says what hinders it."""

import errno
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from station.labels.builtin import builtin_templates
from station.labels.faults import LabelFault
from station.labels.raster import read_back
from station.labels.target import PrintTarget
from station.printing.target import FolderTarget
from tests.labels.samples import content

TEMPLATE = builtin_templates()["60x40"]


def refused(target: PrintTarget) -> LabelFault:
    with pytest.raises(LabelFault) as caught:
        target.send(content())
    return caught.value


def test_each_label_becomes_a_png_and_a_pdf_named_after_it(tmp_path: Path) -> None:
    folder = tmp_path / "Étiquettes" / "labels"
    where = FolderTarget(folder, TEMPLATE, 203).send(content())
    assert where == str(folder / "K7-311-print-1.png")
    assert sorted(path.name for path in folder.iterdir()) == ["K7-311-print-1.pdf", "K7-311-print-1.png"]
    with Image.open(where) as image:
        read_back(image, content().code)
    assert (folder / "K7-311-print-1.pdf").read_bytes().rstrip().endswith(b"%%EOF")


def test_a_second_print_does_not_replace_the_first(tmp_path: Path) -> None:
    target = FolderTarget(tmp_path, TEMPLATE, 203)
    first = target.send(content())
    second = target.send(replace(content(), print_number="2"))
    assert first != second
    assert Path(first).is_file()


def test_a_folder_that_cannot_be_made_is_named_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "a file").write_text("in the way", encoding="utf-8")
    fault = refused(FolderTarget(tmp_path / "a file" / "labels", TEMPLATE, 203))
    assert fault.code == "folder"
    assert str(tmp_path / "a file") in fault.sentence
    assert fault.sentence.endswith("Choose another folder or ask for write permission.")


@contextmanager
def files_of_at_most(count: int) -> Iterator[None]:
    """The system refuses to write any file longer than `count` bytes, much as a full disk does."""
    import resource  # noqa: PLC0415  # Linux only

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (count, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.skipif(sys.platform != "linux", reason="file size limits are a Linux thing")
@pytest.mark.parametrize("count", [0, 100, 3000])
def test_a_full_disk_leaves_no_half_label_behind(tmp_path: Path, count: int) -> None:
    """BR-50: refused by the system in mid-file; 3000 bytes let the PNG through and stop the PDF."""
    with files_of_at_most(count):
        fault = refused(FolderTarget(tmp_path, TEMPLATE, 203))
    assert fault.code == "disk-full"
    assert "is full" in fault.sentence
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("number", "code"), [(errno.ENOSPC, "disk-full"), (errno.EROFS, "folder"), (errno.EACCES, "folder")]
)
def test_what_the_system_says_decides_the_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, code: str
) -> None:
    def hindered(descriptor: int) -> None:
        raise OSError(number, "as the system puts it")

    monkeypatch.setattr("station.printing.target.os.fsync", hindered)
    assert refused(FolderTarget(tmp_path, TEMPLATE, 203)).code == code
    assert list(tmp_path.iterdir()) == []


def test_a_label_that_does_not_fit_is_not_written(tmp_path: Path) -> None:
    folder = tmp_path / "labels"
    with pytest.raises(LabelFault) as caught:
        FolderTarget(folder, TEMPLATE, 203).send(replace(content(), code=3 * content().code))
    assert caught.value.code == "layout"
    assert not folder.exists()


def test_it_is_named_by_its_folder(tmp_path: Path) -> None:
    assert FolderTarget(tmp_path, TEMPLATE, 203).name == f"folder {tmp_path}"
