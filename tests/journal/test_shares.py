"""BR-48: which folders count as network shares."""

from pathlib import Path

import pytest

from station.journal.shares import refuse_share
from station.services.ports import JournalRefusal

MOUNTS = """\
/dev/sda1 / ext4 rw,relatime 0 0
proc /proc proc rw 0 0
server:/export /home/floor nfs4 rw 0 0
/dev/sdb1 /home/floor/local ext4 rw 0 0
//server/share /mnt/plant\\040data cifs rw 0 0
me@server: /mnt/ssh fuse.sshfs rw 0 0
/dev/sdc1 /mnt/twice ext4 rw 0 0
server:/b /mnt/twice nfs rw 0 0
server:/nf /nf nfsd rw 0 0
"""


@pytest.fixture
def mounts(tmp_path: Path) -> Path:
    listed = tmp_path / "mounts"
    listed.write_text(MOUNTS)
    return listed


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/home/floor/data", "nfs4"),
        ("/home/floor", "nfs4"),
        ("/mnt/plant data/deep/er", "cifs"),
        ("/mnt/ssh/x", "fuse.sshfs"),
        ("/mnt/twice/x", "nfs"),
    ],
)
def test_a_folder_on_a_share_is_refused_with_advice(folder: str, kind: str, mounts: Path) -> None:
    with pytest.raises(JournalRefusal, match=f"mounted as {kind}") as caught:
        refuse_share(Path(folder), mounts)
    assert caught.value.code == "journal-network-share"
    assert "a share is fine for backups" in caught.value.sentence


@pytest.mark.parametrize("folder", ["/home/floor/local/data", "/home/floors", "/var/lib", "/nf/x", "/"])
def test_a_folder_on_a_disk_of_this_pc_is_fine(folder: str, mounts: Path) -> None:
    refuse_share(Path(folder), mounts)


def test_a_link_to_a_share_is_seen_through(tmp_path: Path, mounts: Path) -> None:
    link = tmp_path / "data"
    link.symlink_to("/home/floor/data")
    with pytest.raises(JournalRefusal):
        refuse_share(link, mounts)


def test_without_a_list_of_mounts_there_is_nothing_to_refuse_by(tmp_path: Path) -> None:
    refuse_share(tmp_path, tmp_path / "no such list")
