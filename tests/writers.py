"""Whatever writes, for each command: what it does once its work is done."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from tempfile import TemporaryDirectory

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

DEMOS = Path(__file__).parents[1] / "demo_parts"
JOB = DEMOS / "hill-trial-buggy.toml"
WIDER = {"joint_width": "68 mm"}


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
