"""Whatever writes, for each command: killed anywhere, no room, no rights, two at once.

The former files are whole each time, or the run was decided and the next one completes it.
"""

import os
from contextlib import suppress
from functools import partial
from pathlib import Path

import pytest
from mishaps import (
    DONE,
    KILLED,
    REFUSED,
    as_nobody,
    at_once,
    killed_before,
    needs_fork,
    needs_open_tree,
    no_room_after,
)
from writers import DEMOS, WRITERS, is_decided, tree

from partgen.cli import COMMANDS
from partgen.errors import PartgenError
from partgen.output.staging import STAGING
from partgen.tasks import (
    demos,
)

pytestmark = needs_fork
MOST_POINTS = 14  # tried of all places a run may be killed at


@pytest.fixture(params=WRITERS)
def writer(request):
    return WRITERS[request.param]


@pytest.fixture
def fresh(writer, tmp_path):
    """Makes a folder as the former run left it."""

    def make(name):
        folder = tmp_path / name
        folder.mkdir()
        if writer.before:
            writer.before(folder)
        return folder

    return make


@pytest.fixture
def old(fresh):
    return tree(fresh("old"))


@pytest.fixture
def new(writer, fresh):
    folder = fresh("new")
    writer.after(folder)
    assert not list(folder.glob(f"{STAGING}*"))
    return tree(folder)


def again(writer, folder):
    """Run it once more; what only makes new files finds them there if they were decided."""
    if writer.before:
        if writer.reads_first:
            with suppress(PartgenError):  # the run completed the killed one, and says so
                writer.after(folder)
        writer.after(folder)
    else:
        with suppress(PartgenError):
            writer.after(folder)


def test_a_kill_leaves_the_old_whole_or_the_next_run_completes_it(writer, fresh, old, new):
    assert old != new
    points = count = 0
    while killed_before(count, partial(writer.after, fresh(f"count-{count}"))) == KILLED:
        count = 2 * count + 1
    low, high = count // 2, count  # the number of changes lies between
    while low < high:
        middle = (low + high) // 2
        status = killed_before(middle, partial(writer.after, fresh(f"half-{low}-{high}")))
        low, high = (middle + 1, high) if status == KILLED else (low, middle)
    for nth in sorted({round(k * (low - 1) / MOST_POINTS) for k in range(MOST_POINTS + 1)}):
        folder = fresh(f"kill-{nth}")
        assert killed_before(nth, partial(writer.after, folder)) == KILLED
        points += 1
        whole = {p.read_bytes() for p in folder.rglob("*") if p.is_file()}
        if not is_decided(folder):
            assert tree(folder) in (old, new)
        elif any(name.startswith("superseded") for name in new):
            assert set(old.values()) - {old.get("job.json")} <= whole
        again(writer, folder)
        assert tree(folder) == new
        assert not list(folder.glob(f"{STAGING}*"))
    assert points >= 5


@pytest.mark.parametrize("kill", [False, True], ids=["refused", "killed"])
def test_no_room_leaves_the_old_whole(writer, fresh, old, new, kill):
    largest = max(
        len(content)
        for name, content in new.items()
        if old.get(name) != content and not name.startswith("superseded")
    )
    for size in (0, 1, largest // 2, largest - 1):
        folder = fresh(f"room-{size}")
        status = no_room_after(size, partial(writer.after, folder), kill=kill)
        assert status < 0 if kill else status == REFUSED
        assert tree(folder) == old
        if not kill:
            assert not list(folder.glob(f"{STAGING}*"))
        again(writer, folder)
        assert tree(folder) == new


@needs_open_tree
def test_no_rights_leave_the_old_whole(writer, fresh, old, new, monkeypatch):
    folder = fresh("locked")
    before = {p: p.stat().st_mode for p in folder.rglob("*")}
    monkeypatch.chdir(folder)
    folder.chmod(0o555)
    try:
        assert as_nobody(lambda: writer.after(Path())) == REFUSED
    finally:
        folder.chmod(0o755)
    assert tree(folder) == old
    assert {p: p.stat().st_mode for p in folder.rglob("*")} == before


def test_two_at_once_do_not_mix(writer, fresh, new):
    folder = fresh("both")
    result = at_once([partial(writer.after, folder) for _ in range(4)])
    if writer.reads_first:
        assert DONE in result
        assert set(result) <= {DONE, REFUSED}
    elif writer.before is None:
        assert sorted(result) == [DONE, REFUSED, REFUSED, REFUSED]
    else:
        assert result == [DONE] * 4
    assert tree(folder) == new
    assert not list(folder.glob(f"{STAGING}*"))


def test_every_command_that_writes_is_here():
    """All options of all commands that name a file or folder to write."""
    named = {"out", "csv", "svg", "save", "folder"}
    found = {c.name for c in COMMANDS if named & {p.name for p in c.params}}
    assert found == {name.split(" ")[0] for name in WRITERS}
    assert os.path.samefile(DEMOS, Path(demos.demo_files()[0]).parent)
