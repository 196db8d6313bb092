"""`station digest` and `station export`: what leaves the program can be checked by somebody who does not trust it."""

import csv
import json
import shutil
import subprocess
import sys
from base64 import b64encode
from collections.abc import Callable
from datetime import timedelta
from hashlib import sha256
from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME, keys_in
from station.care import facts as f
from station.care.words import Role
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.store import Journal
from station.journal.verify import verify
from station.labels.resources import resource_path
from station.reports.csv_file import from_csv
from station.services.people import hashed
from station.services.ports import Draft
from station.services.proof import NAMING
from tests.cli.answers import DEMO
from tests.cli.conftest import START, Say

LATER = START + timedelta(days=2)


@pytest.fixture
def record(data: Path) -> Path:
    """A data folder with a kept photo, and a note two days later that a spreadsheet would run."""
    photo = FolderEvidence(data / FOLDER).keep(b"\xff\xd8 photo")
    with Journal.open(data / JOURNAL_NAME) as journal:
        *_, last = journal.facts()
        bodies = (
            f.Attached("lot:SN-4/101", "photo", "a.jpg", photo, 7, ""),
            f.Attached("=1+1", "note", "", "", 0, "@x"),
        )
        for body, at in zip(bodies, (START, LATER), strict=True):
            journal.append([Draft(body, at, 1, "P12", last.segment)])
    return data


@pytest.fixture
def exported(station: Say, record: Path, tmp_path: Path) -> Path:
    answer = station("export", tmp_path / "out", "--data", record)
    assert (answer.code, answer.err) == (0, "")
    return tmp_path / "out"


def checked(folder: Path, *words: str) -> tuple[int, str]:
    """The script of the export, in an interpreter that finds no other package."""
    command = [sys.executable, "-I", "-S", str(folder / "check_chain.py"), *words]
    done = subprocess.run(command, capture_output=True, text=True, cwd=folder, check=False, timeout=60)
    assert done.stderr == ""
    return done.returncode, done.stdout


def test_an_export_is_checked_without_the_program(record: Path, exported: Path) -> None:
    (chain,) = verify(record / JOURNAL_NAME).chains
    code, out = checked(exported, "--digest", chain.head)
    assert code == 0, out
    assert f"journal {chain.journal:016x}: facts 1 to {chain.rows}, head {chain.head}" in out
    assert checked(exported, "--digest", "0" * 16) == (1, f"digest {'0' * 16}: not in this chain\n")


def test_a_pin_chosen_at_a_station_is_exported_without_the_key_to_it(
    station: Say, record: Path, tmp_path: Path
) -> None:
    """No file of an export holds the key, in whatever way of writing; the chain is checked as ever."""
    keys, out = keys_in(record, create=False), tmp_path / "out"
    pin = hashed("7264", "P20", keys)
    with Journal.open(record / JOURNAL_NAME) as journal:
        *_, last = journal.facts()
        lead = f.PersonSet("P20", "Toni Rowan", (Role.LEAD,), pin, left=False)
        journal.append([Draft(lead, LATER, 1, "P20", last.segment)])
    assert station("export", out, "--data", record).code == 0
    key = keys.keys[keys.current]
    written = {path.name: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    assert pin.encode() in written["facts.jsonl"]
    for secret in (key, key.hex().encode(), key.hex().upper().encode(), b64encode(key)):
        assert [name for name, content in written.items() if secret in content] == []
    assert checked(out)[0] == 0


def summed_anew(folder: Path) -> None:
    """What a forger would do too: list the sums of what lies there now."""
    files = sorted(path for path in folder.rglob("*") if path.is_file() and path.name != "SHA256SUMS")
    listed = "".join(f"{sha256(p.read_bytes()).hexdigest()}  {p.relative_to(folder).as_posix()}\n" for p in files)
    (folder / "SHA256SUMS").write_text(listed, encoding="utf-8")


def a_fact_is_changed(folder: Path) -> None:
    path = folder / "facts.jsonl"
    path.write_bytes(path.read_bytes().replace(b'"SN-4"', b'"SN-6"', 1))


def the_last_fact_is_cut(folder: Path) -> None:
    for name in ("facts.jsonl", "chain.txt"):
        kept = (folder / name).read_bytes().splitlines(keepends=True)[:-1]
        (folder / name).write_bytes(b"".join(kept))


def a_fact_is_taken_out(folder: Path) -> None:
    for name in ("facts.jsonl", "chain.txt"):
        kept = (folder / name).read_bytes().splitlines(keepends=True)
        (folder / name).write_bytes(b"".join(kept[:2] + kept[3:]))


def a_photo_is_changed(folder: Path) -> None:
    (photo,) = (folder / "evidence").iterdir()
    photo.write_bytes(b"another")


def a_photo_is_gone(folder: Path) -> None:
    shutil.rmtree(folder / "evidence")


@pytest.mark.parametrize(
    ("forge", "found"),
    [
        (a_fact_is_changed, "fact or hash was changed"),
        (the_last_fact_is_cut, "missing"),
        (a_fact_is_taken_out, "fact 3 should stand here"),
        (a_photo_is_changed, "its content is another"),
        (a_photo_is_gone, "kept file"),
    ],
)
def test_a_changed_export_is_found_even_with_new_sums(
    exported: Path, forge: Callable[[Path], None], found: str
) -> None:
    forge(exported)
    assert checked(exported)[0] == 1
    summed_anew(exported)
    code, out = checked(exported)
    assert code == 1
    assert found in out


def test_a_file_put_in_or_changed_is_named(exported: Path) -> None:
    (exported / "letter.txt").write_text("dear auditor", encoding="utf-8")
    (exported / "facts.csv").write_text("nothing", encoding="utf-8")
    assert checked(exported) == (1, "letter.txt: not in SHA256SUMS\nfacts.csv: changed since it was exported\n")


def test_the_lines_are_the_bytes_the_chain_was_computed_over(record: Path, exported: Path) -> None:
    """By hand, as READ-ME.txt says it."""
    before = "0" * 64
    stored = (exported / "facts.jsonl").read_bytes().split(b"\n")[:-1]
    for line, expected in zip(stored, (exported / "chain.txt").read_text().splitlines(), strict=True):
        before = sha256(bytes.fromhex(before) + line).hexdigest()
        assert before == expected
    assert before == verify(record / JOURNAL_NAME).chains[0].head


def test_br_67_70_the_table_runs_nothing_and_keeps_its_codes(record: Path, exported: Path) -> None:
    table = from_csv((exported / "facts.csv").read_bytes())
    assert len(table.rows) == verify(record / JOURNAL_NAME).chains[0].rows
    headings = [column.heading for column in table.columns]
    assert table.rows[-1][headings.index("about")] == "=1+1"
    text = (exported / "facts.csv").read_text(encoding="utf-8-sig")
    cells = list(csv.reader(text.splitlines(), delimiter=";"))
    assert all(cell[0].startswith("'") for cell in cells[-len(table.rows) :] if cell[0][0].isdigit())


def test_br_70_a_journal_number_that_looks_like_a_power_of_ten_stays_text(
    station: Say, data: Path, tmp_path: Path
) -> None:
    shutil.rmtree(data)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("station.journal.database.secrets.randbits", lambda _bits: 0x12345678E0123456)
        with Journal.open(data / JOURNAL_NAME) as journal:
            journal.append([Draft(f.StationStopped("test"), START, 1, None, f.Segment("boot", 0))])
    assert station("export", tmp_path / "out", "--data", data).code == 0
    for name in ("heads.csv", "facts.csv"):
        assert '"\'12345678e0123456"' in (tmp_path / "out" / name).read_text(encoding="utf-8-sig")
    assert checked(tmp_path / "out")[0] == 0


def test_a_part_of_the_time_is_a_part_of_the_chain(station: Say, record: Path, tmp_path: Path) -> None:
    answer = station("export", tmp_path / "out", "--data", record, "--from", "2026-11-10")
    assert (answer.code, answer.err) == (0, "")
    (line,) = (tmp_path / "out" / "facts.jsonl").read_text(encoding="utf-8").splitlines()
    assert json.loads(line)["body"]["note"] == "@x"
    assert list((tmp_path / "out" / "evidence").iterdir()) == []
    assert checked(tmp_path / "out")[0] == 0
    assert station("export", tmp_path / "first", "--data", record, "--to", "2026-11-10").code == 0
    assert checked(tmp_path / "first")[0] == 0


def test_an_export_covers_nothing(station: Say, exported: Path, record: Path) -> None:
    answer = station("export", exported, "--data", record)
    assert answer.code == 2
    assert "is not empty" in answer.err


def test_a_kept_file_that_is_gone_is_named_and_the_rest_exported(station: Say, record: Path, tmp_path: Path) -> None:
    shutil.rmtree(record / FOLDER)
    answer = station("export", tmp_path / "out", "--data", record)
    assert answer.code == 1
    assert "is not in" in answer.err
    assert checked(tmp_path / "out")[0] == 1


def test_script_and_text_know_every_fact_that_names_a_kept_file() -> None:
    script = resource_path("proof", "check_chain.py").read_text(encoding="utf-8")
    text = resource_path("proof", "READ-ME.txt").read_text(encoding="utf-8")
    for kind, field in NAMING:
        name = kind.NAME  # type: ignore[attr-defined]
        (line,) = [line for line in script.splitlines() if f'"{name}": (' in line]
        assert f'"{field}"' in line
        assert f'"{name}"' in text
        assert f'"{field}"' in text


def test_a_days_digest_is_the_head_at_its_end_and_is_taken_back_by_verify(
    station: Say, record: Path, tmp_path: Path
) -> None:
    with Journal.open(record / JOURNAL_NAME) as journal:
        seq, head = journal.head()
    whole = station("digest", "--data", record, "--config", DEMO, "--day", "2026-11-11")
    assert (whole.code, whole.err) == (0, "")
    assert f"facts {seq}, of them 1 on that day, the last is number {seq}" in whole.out
    assert f"head  {head}" in whole.out
    assert f"short {head[:4]} {head[4:8]} {head[8:12]} {head[12:16]}\n" in whole.out
    day = station("digest", "--data", record, "--config", DEMO, "--day", "2026-11-09")
    assert head not in day.out
    assert f"the last is number {seq - 1}" in day.out
    note = tmp_path / "mail.txt"
    note.write_text(day.out, encoding="utf-8")
    assert station("verify", "--data", record, "--digest", note).code == 0


def test_a_day_before_the_record_has_nothing_and_one_to_come_is_refused(station: Say, data: Path) -> None:
    assert "No facts up to then." in station("digest", "--data", data, "--config", DEMO, "--day", "2020-01-01").out
    assert station("digest", "--data", data, "--config", DEMO, "--day", "9000-01-01").code == 2
