"""A disk that is really full: a small file system of its own, where one may be mounted.

For every command that writes: the former output is whole, the run ends in one line, exit 2, and
leaves nothing half-written behind.
"""

import subprocess
import sys
from contextlib import suppress
from functools import cache, partial
from pathlib import Path

import pytest
from mishaps import DONE, REFUSED, needs_fork, outcome_of
from writers import WRITERS, tree

from partgen.output.staging import STAGING

SIZE = 8 << 20  # bytes
ROOM = 4096  # bytes of a page; a file takes whole ones


def mount(folder):
    call = ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", str(folder)]
    return subprocess.run(call, capture_output=True, check=False).returncode == 0


@cache
def may_mount():
    if sys.platform != "linux":
        return False
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        if not mount(folder):
            return False
        subprocess.run(["umount", folder], check=True)
    return True


pytestmark = [
    needs_fork,
    pytest.mark.skipif(not may_mount(), reason="nobody may mount a file system here"),
]


@pytest.fixture
def disk(tmp_path):
    folder = tmp_path / "disk"
    folder.mkdir()
    assert mount(folder)
    yield folder
    subprocess.run(["umount", str(folder)], check=True)


def fill(disk, left):
    """Fill the disk but for so many bytes."""
    there = disk / "ballast"
    with there.open("wb", buffering=0) as file, suppress(OSError):
        while file.write(b"x" * ROOM):
            pass
    with there.open("r+b") as file:
        file.truncate(max(0, there.stat().st_size - left))


@pytest.mark.parametrize("name", WRITERS)
def test_a_full_disk_leaves_the_former_output_whole(name, disk):
    """No room at all, and room for some of the files only: full between two of them."""
    writer = WRITERS[name]
    refused = 0
    for left in (0, 4 * ROOM, 16 * ROOM):
        folder = disk / f"out-{left}"
        folder.mkdir()
        if writer.before:
            writer.before(folder)
        before = tree(folder)
        fill(disk, left)
        status = outcome_of(partial(writer.after, folder))
        assert status in (REFUSED, DONE)
        if status == REFUSED:
            refused += 1
            assert tree(folder) == before
            assert not list(folder.glob(f"{STAGING}*"))
        (disk / "ballast").unlink()
        again = disk / f"again-{left}"
        again.mkdir()
        if writer.before:
            writer.before(again)
        assert outcome_of(partial(writer.after, again)) == DONE
    assert refused
    if name in ("make", "nest", "picture", "coupon"):
        assert refused >= 2  # some of its files had room


def test_the_folder_itself_finds_no_room(disk):
    fill(disk, 0)
    assert outcome_of(partial(WRITERS["cope"].after, disk / "a" / "b")) == REFUSED
    assert sorted(p.name for p in Path(disk).iterdir()) in (["a", "ballast"], ["ballast"])
