"""Notes and photos on the record: what is kept, what is turned away, and where it is found again."""

import pytest

from station.care import facts as f
from station.services.attaching import Enclosed
from station.services.attachments import MOST_BYTES, attach, attachments_of, kind_of, lots_known
from station.services.outcome import Refusal
from tests.care.bench import Bench

JPEG = b"\xff\xd8\xff\xe0 a photo"
ABOUT = "container:K7-001"


@pytest.fixture
def bench() -> Bench:
    made = Bench()
    assert made.receive() == "K7-001"
    return made


def place(bench: Bench) -> str:
    return bench.station.place


def test_a_photo_with_a_note_is_kept_and_found_by_what_it_is_about(bench: Bench) -> None:
    outcome = attach(bench.station, ABOUT, " lid was off ", [Enclosed("pail.jpg", JPEG)], place(bench))
    assert outcome.verdict is not None
    assert outcome.verdict.headline == "ON RECORD"
    (fact,) = attachments_of(bench.station.ledger, ABOUT)
    assert isinstance(fact.body, f.Attached)
    assert (fact.body.what, fact.body.name, fact.body.size, fact.body.note) == (
        "photo",
        "pail.jpg",
        len(JPEG),
        "lid was off",
    )
    assert bench.station.evidence.fetch(fact.body.digest) == JPEG
    assert attachments_of(bench.station.ledger, "container:K7-002") == ()


def test_a_note_needs_no_file_and_what_is_taken_back_is_not_shown(bench: Bench) -> None:
    for note in ("first", "second"):
        attach(bench.station, ABOUT, note, (), place(bench))
    first, second = attachments_of(bench.station.ledger, ABOUT)
    assert isinstance(first.body, f.Attached)
    assert (first.body.note, first.body.digest) == ("first", "")
    bench.station._say([f.Undone(first.key, "wrong jar")], None)
    assert attachments_of(bench.station.ledger, ABOUT) == (second,)


@pytest.mark.parametrize(
    ("name", "content", "kind"),
    [
        ("a.jpg", JPEG, "jpg"),
        ("called-otherwise.txt", b"\x89PNG\r\n\x1a\n rest", "png"),
        ("certificate", b"%PDF-1.7 rest", "pdf"),
        ("log.csv", "Zeit;°C\r\n1;5,2\r\n".encode("cp1252"), "csv"),
        ("log.TXT", "Zeit\t°C\n".encode("utf-16"), "txt"),
        ("log.txt", b"\xff\xfe\x00", None),  # half a character
        ("program.jpg", b"MZ\x90\x00", None),
        ("program.txt", b"MZ\x90\x00", None),
        ("page.html", b"<html>", None),
        ("empty.txt", b"", None),
    ],
)
def test_the_content_says_what_a_file_is(name: str, content: bytes, kind: str | None) -> None:
    assert kind_of(Enclosed(name, content)) == kind


@pytest.mark.parametrize(
    ("note", "files", "code"),
    [
        (" ", [], "attach-nothing"),
        ("x" * 401, [], "note-long"),
        ("", [Enclosed("a.jpg", JPEG), Enclosed("b.jpg", b"GIF89a")], "file-kind"),
        ("", [Enclosed("a.jpg", JPEG.ljust(MOST_BYTES + 1))], "file-large"),
    ],
)
def test_what_is_no_proof_is_turned_away_and_nothing_of_it_kept(
    bench: Bench, note: str, files: list[Enclosed], code: str
) -> None:
    with pytest.raises(Refusal) as caught:
        attach(bench.station, ABOUT, note, files, place(bench))
    assert caught.value.code == code
    assert list(bench.station.evidence.digests()) == []
    assert attachments_of(bench.station.ledger, ABOUT) == ()


@pytest.mark.parametrize("about", [ABOUT, "position:1", "lot:SN-4/101", "store:FRIDGE", "person:P12"])
def test_a_note_is_kept_with_anything_on_record(bench: Bench, about: str) -> None:
    attach(bench.station, about, "seen at the audit", (), place(bench))
    assert len(attachments_of(bench.station.ledger, about)) == 1


@pytest.mark.parametrize("about", ["container:K7-999", "position:9", "lot:SN-4/102", "alarm:x", "store:X", "K7-001"])
def test_a_note_of_nothing_on_record_is_refused_and_its_photo_not_kept(bench: Bench, about: str) -> None:
    with pytest.raises(Refusal, match="not on record"):
        attach(bench.station, about, "", [Enclosed("a.jpg", JPEG)], place(bench))
    assert list(bench.station.evidence.digests()) == []


def test_the_newest_lots_come_first_each_once(bench: Bench) -> None:
    bench.receive(lot="102")
    bench.receive(lot="101")
    assert lots_known(bench.station.ledger) == ("SN-4/101", "SN-4/102")
