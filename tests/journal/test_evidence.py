"""Files kept as proof: found by their content, whole or not at all, and never taken for what they are not."""

from hashlib import sha256
from pathlib import Path

import pytest

from station.journal.evidence import FolderEvidence
from station.services.memory import MemoryEvidence
from station.services.ports import Evidence, JournalEnvironment, JournalRefusal, JournalTrouble


@pytest.fixture(params=["folder", "memory"])
def evidence(request: pytest.FixtureRequest, tmp_path: Path) -> Evidence:
    return FolderEvidence(tmp_path / "Kühlraum ë" / "evidence") if request.param == "folder" else MemoryEvidence()


def test_what_was_kept_comes_back_by_its_digest(evidence: Evidence) -> None:
    digest = evidence.keep(b"certificate")
    assert digest == sha256(b"certificate").hexdigest()
    assert evidence.fetch(digest) == b"certificate"
    assert list(evidence.digests()) == [digest]


def test_the_same_file_is_kept_once(evidence: Evidence) -> None:
    assert evidence.keep(b"photo") == evidence.keep(b"photo")
    assert len(list(evidence.digests())) == 1


def test_what_was_never_kept_is_said_so(evidence: Evidence) -> None:
    with pytest.raises(JournalRefusal) as caught:
        evidence.fetch("0" * 64)
    assert caught.value.code == "evidence-missing"


def test_nothing_kept_yet_is_no_trouble(evidence: Evidence) -> None:
    assert list(evidence.digests()) == []


def test_a_file_changed_afterwards_is_not_given_out_and_can_be_kept_again(tmp_path: Path) -> None:
    evidence = FolderEvidence(tmp_path)
    digest = evidence.keep(b"4.1 C")
    (tmp_path / digest).write_bytes(b"3.1 C")
    with pytest.raises(JournalEnvironment) as caught:
        evidence.fetch(digest)
    assert caught.value.code == "evidence-changed"
    evidence.keep(b"4.1 C")
    assert evidence.fetch(digest) == b"4.1 C"


def test_a_folder_that_cannot_be_written_is_told_and_leaves_nothing(tmp_path: Path) -> None:
    (tmp_path / "evidence").write_text("a file where the folder should be")
    with pytest.raises(JournalTrouble):
        FolderEvidence(tmp_path / "evidence").keep(b"x")
    assert [found.name for found in tmp_path.iterdir()] == ["evidence"]


@pytest.mark.parametrize("name", ["../journal.sqlite", "", "G" * 64])
def test_only_digests_are_names(tmp_path: Path, name: str) -> None:
    with pytest.raises(JournalRefusal):
        FolderEvidence(tmp_path).fetch(name)


def test_half_a_file_left_by_a_power_cut_is_not_listed(tmp_path: Path) -> None:
    evidence = FolderEvidence(tmp_path)
    digest = evidence.keep(b"whole")
    (tmp_path / f"{'a' * 64}.part").write_bytes(b"ha")
    assert list(evidence.digests()) == [digest]
