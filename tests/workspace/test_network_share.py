"""Which folders lie on a share, and a lock there that one owner has at a time."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

import pytest

from builder.problems import UsageError
from builder.workspace.network_share import held, is_elsewhere, linux_mounts, mac_mounts

# The first line is the example of proc(5).
MOUNTINFO = """\
36 35 98:0 /mnt1 /mnt2 rw,noatime master:1 - ext3 /dev/root rw,errors=continue
22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
40 22 0:40 / /home rw,relatime shared:9 - nfs4 server:/home rw,vers=4.2
41 40 8:2 / /home/lee/usb rw - vfat /dev/sdb1 rw
42 22 0:44 / /media/our\\040clinic rw - cifs //server/clinic rw
43 22 8:3 / /media/disk rw - fuseblk /dev/sdc1 rw
44 22 0:50 / /media/far rw - fuse.sshfs lee@server: rw
"""
# As mount(8) of macOS prints it.
MOUNT = """\
/dev/disk3s1s1 on / (apfs, sealed, local, read-only, journaled)
//lee@server/clinic on /Volumes/our clinic (2) (smbfs, nodev, nosuid, mounted by lee)
"""


@pytest.mark.parametrize(
    ("path", "elsewhere"),
    [
        ("/srv/clinic", False),
        ("/home/lee/clinic", True),
        ("/homes/lee", False),
        ("/home/lee/usb/clinic", False),
        ("/media/our clinic", True),
        ("/media/disk/clinic", False),
        ("/media/far/clinic", True),
    ],
)
def test_the_innermost_mount_tells(path: str, elsewhere: bool) -> None:
    assert is_elsewhere(PurePosixPath(path), linux_mounts(MOUNTINFO)) is elsewhere


def test_what_is_mounted_last_over_a_folder_counts() -> None:
    mounts = [("/a", "nfs"), ("/a", "ext4"), ("/", "nfs")]
    assert not is_elsewhere(PurePosixPath("/a/b"), mounts)


def test_a_mac_tells_in_its_own_way() -> None:
    assert is_elsewhere(PurePosixPath("/Volumes/our clinic (2)/x"), mac_mounts(MOUNT))
    assert not is_elsewhere(PurePosixPath("/Users/lee"), mac_mounts(MOUNT))


def test_another_computer_waits_and_is_told(tmp_path: Path) -> None:
    file = tmp_path / "in use"
    waits: list[float] = []
    with held(file, owner="one"):
        with (
            pytest.raises(UsageError, match=r"another computer \(one\).*delete this file"),
            held(file, owner="other", wait=1, pause=waits.append),
        ):
            pass
        assert file.read_text() == "one"
    assert 1 <= sum(waits) < 1.1
    assert not file.exists()


def test_another_computer_gets_it_when_it_is_free(tmp_path: Path) -> None:
    file = tmp_path / "in use"
    file.write_text("one")
    with held(file, owner="other", pause=lambda _: file.unlink()):
        assert file.read_text() == "other"


def test_what_a_killed_command_left_its_own_computer_takes_over(tmp_path: Path) -> None:
    file = tmp_path / "in use"
    file.write_text("one")
    with held(file, owner="one", pause=lambda _: pytest.fail("it waited for itself")):
        assert file.exists()
    assert not file.exists()
