"""Whatever writes, for each command: killed anywhere, no room, no rights, two at once.

The former files are whole each time, or the run was decided and the next one completes it.
"""

import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from tempfile import TemporaryDirectory

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

from partgen.cli import COMMANDS
from partgen.errors import PartgenError
from partgen.linkage.cope import Cope
from partgen.output.staging import MOVES, STAGING
from partgen.printing.families import families
from partgen.sheets.searching import Searching
from partgen.tasks import (
    adjusting,
    couponing,
    demos,
    drawing_files,
    linking,
    making,
    measuring,
    nesting,
)
from partgen.template.paper import paper

pytestmark = needs_fork
DEMOS = Path(__file__).parents[2] / "demo_parts"
JOB = DEMOS / "hill-trial-buggy.toml"
WIDER = {"joint_width": "68 mm"}
MOST_POINTS = 14  # tried of all places a run may be killed at


@dataclass(frozen=True)
class Writer:
    """What a command does once its work is done.

    ``before`` is none where it only makes new files; ``reads_first`` where it refuses to replace
    what has changed since it was read.
    """

    after: Callable[[Path], object]
    before: Callable[[Path], object] | None = None
    reads_first: bool = False


@cache
def made(wider: bool):
    return making.make(JOB, WIDER if wider else {}, ("web", "outrigger-gusset"), "R2000")


@cache
def nested(wider: bool):
    size = "600x400" if wider else "500x500"
    asked = nesting.Request((JOB,), (size,), 9, {}, None, None, None, None, "R2000")
    return nesting.nest_files(asked, Searching())


@cache
def pictures(wider: bool):
    return drawing_files.make_pictures(
        JOB, WIDER if wider else {}, ("web", "outrigger-gusset"), None
    )[0]


@cache
def pages(wider: bool):
    changes = WIDER if wider else {}
    sheet = paper("a4", "")
    return drawing_files.make_templates(JOB, changes, ("web",), sheet)[0].content


@cache
def swept(wider: bool):
    return adjusting.sweep_files(JOB, f"joint_width=66..{68 if wider else 67}:1", {})


@cache
def coupon(wider: bool):
    return couponing.coupon("8 mm S355" if wider else "6 mm S355", "plasma-65a", "mm", "R2000")


@cache
def profile():
    form = coupon(False).files["form.toml"].decode().replace('square-50 = ""', "square-50 = 48.5")
    with TemporaryDirectory() as folder:
        path = Path(folder, "form.toml")
        path.write_text(form)
        return couponing.measured(path)


def cope(wider: bool, folder: Path):
    linking.write_cope(Cope(40, 60 if wider else 50, 90.0), folder / "cope.pdf", "a4", "mm")


def job_copied(folder: Path):
    (folder / "job.toml").write_bytes(JOB.read_bytes())


@cache
def form():
    return measuring.measuring(JOB).form


WRITERS = {
    "make": Writer(lambda f: making.write(made(True), f), lambda f: making.write(made(False), f)),
    "nest": Writer(
        lambda f: nesting.write(nested(True), f), lambda f: nesting.write(nested(False), f)
    ),
    "picture": Writer(
        lambda f: drawing_files.write(f, pictures(True)),
        lambda f: drawing_files.write(f, pictures(False)),
    ),
    "template": Writer(
        lambda f: drawing_files.write(f, {"t.pdf": pages(True)}),
        lambda f: drawing_files.write(f, {"t.pdf": pages(False)}),
    ),
    "cope": Writer(partial(cope, True), partial(cope, False)),
    "coupon": Writer(
        lambda f: couponing.write(coupon(True), f), lambda f: couponing.write(coupon(False), f)
    ),
    "adjust --sweep": Writer(
        lambda f: adjusting.write_sweep(swept(True), f),
        lambda f: adjusting.write_sweep(swept(False), f),
    ),
    "adjust --save": Writer(lambda f: adjusting.save(f / "job.toml", WIDER), job_copied, True),
    "coupon --measured": Writer(lambda f: couponing.write_profile(profile(), f / "mine.toml")),
    "measure --csv": Writer(lambda f: measuring.write_form(form(), f / "form.csv")),
    "families --svg": Writer(lambda f: families("gusset", as_json=False, svg=f / "g.svg")),
    "demo": Writer(demos.copy),
}


def tree(folder):
    """What is in a folder but for what is staged."""
    return {
        str(p.relative_to(folder)): p.read_bytes()
        for p in folder.rglob("*")
        if p.is_file() and not p.relative_to(folder).parts[0].startswith(STAGING)
    }


def is_decided(folder):
    return any(folder.glob(f"{STAGING}*/{MOVES}"))


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
