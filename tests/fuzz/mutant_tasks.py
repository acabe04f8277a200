"""What a mutant of a job goes through: every task, with its words, and checks of what comes out."""

import contextlib
import csv
import datetime
import io
import json
import random
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from mutant_text import change_text

from partgen.dxf.write import read
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.as_built import as_built_list
from partgen.printing.as_built import as_built
from partgen.printing.compared import compared
from partgen.printing.findings import findings
from partgen.printing.fit import fit
from partgen.printing.linkage import linkage
from partgen.printing.made import made as print_made
from partgen.printing.measured import measured
from partgen.printing.nested import nested
from partgen.sheets.cut_plans import Asked
from partgen.tasks import adjusting, drawing_files, linking, making, measuring, nesting
from partgen.tasks import as_built as reading_back
from partgen.template.paper import paper

Kind = str
Work = Callable[[], Kind]
SWEEP_STEPS = 2
ASKED = (
    Asked(),
    Asked(kerf="profile", leads=True, clockwise=True, joints=2, text=True),
    Asked(motion="plain", order=True, cool="60 mm", one_layer=True),
)


def toml(value: Any) -> str:
    """Return a value as TOML, tables inline; tables of a whole file one a line."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, dict):
        return "{" + ", ".join(f"{toml(k)} = {toml(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return value.isoformat() if isinstance(value, datetime.date) else repr(value)


def toml_file(data: Mapping[str, Any]) -> bytes:
    """Return a job's data as a file."""
    return "".join(f"{toml(k)} = {toml(v)}\n" for k, v in data.items()).encode("utf-8")


def check_files(files: Mapping[str, bytes]) -> None:
    """Need names that stay in the folder, and content that its readers take."""
    for name, content in files.items():
        assert not name.startswith(("/", "..")), name
        assert ".." not in Path(name).parts, name
        assert len(name) < 240, name
        if name.endswith(".dxf"):
            assert read(content, where=name).outside
        elif name.endswith(".svg"):
            ET.fromstring(content)
        elif name.endswith(".json"):
            json.loads(content)
        elif name.endswith(".csv"):
            list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))


def said(show: Callable[..., None], *args: Any, **options: Any) -> None:
    """Run what prints, in words and as data; neither may hold a number that is none."""
    for as_json in (False, True):
        with contextlib.redirect_stdout(io.StringIO()) as printed:
            show(*args, **options, as_json=as_json)
        if as_json:
            json.loads(printed.getvalue(), parse_constant=_no_number)


def _no_number(word: str) -> None:
    raise AssertionError(f"{word} in what is printed as data")


def make(path: Path, chance: random.Random) -> Kind:
    """``partgen make``, not written."""
    made = making.make(path, {}, (), "R2000", asked=chance.choice(ASKED))
    check_files(made.files)
    said(print_made, made, path.parent)
    return "stopped" if made.stopped else "made"


def check(path: Path, chance: random.Random) -> Kind:
    """``partgen check --strength`` and ``fit``."""
    built, found = making.checked(path, {})
    said(findings, built, found, strength=True)
    said(fit, built)
    return "checked"


def link(path: Path, chance: random.Random) -> Kind:
    """``partgen linkage``."""
    f = linking.link_up(path, {}, chance.choice((None, "5", "-3 deg", "nan", "59")))
    said(linkage, f.name, f.study, f.drops, f.bump_angle, f.unit)
    return "linked"


def nest(path: Path, chance: random.Random, beside: Path) -> Kind:
    """``partgen nest``, with a drawing beside the job."""
    files = [path, beside] if chance.random() < 0.5 else [path]
    sizes = [chance.choice(("1250x2500", "900x700", "48x96in"))]
    request = nesting.Request(files, sizes, 2, {}, None, "mm", None, None, "R12", "6 mm S355")
    found = nesting.nest_files(request, asked=chance.choice(ASKED))
    check_files(found.files)
    said(nested, found, path.parent)
    return "nested"


def template(path: Path, chance: random.Random) -> Kind:
    """``partgen template``."""
    found, _ = drawing_files.make_templates(path, {}, (), paper("a3", ""))
    assert found.content.startswith(b"%PDF")
    return "template"


def picture(path: Path, chance: random.Random) -> Kind:
    """``partgen picture``."""
    check_files(drawing_files.make_pictures(path, {}, (), chance.choice((None, None, 300)))[0])
    return "picture"


def measure(path: Path, chance: random.Random) -> Kind:
    """``partgen measure``."""
    found = measuring.measuring(path)
    check_files({"form.csv": measuring.form_csv(found.form)})
    said(measured, found, None)
    return "measured"


def read_back(path: Path, chance: random.Random) -> Kind:
    """``partgen measure --as-built``, the sheet filled in and changed by chance too."""
    rows = list(csv.reader(io.StringIO(as_built_list(build(load_job(path))).decode("utf-8"))))
    for row in rows[1:]:
        row[-1] = chance.choice((row[2], "", "yes", "58.4", "1e999", "= a", "9" * 5000, "٣"))
        if chance.random() < 0.03:
            row[0] = chance.choice(("9" * 5000, "-1", "²", "٣", "1e3"))
    stream = io.StringIO()
    csv.writer(stream, delimiter=chance.choice(",;")).writerows(rows)
    sheet = path.with_name("as-built-filled.csv")
    text = stream.getvalue()
    text = change_text(text, chance) if chance.random() < 0.5 else text
    sheet.write_bytes(text.encode("utf-8"))
    said(as_built, reading_back.compared(path, sheet))
    return "read back"


def compare(path: Path, chance: random.Random, other: Path) -> Kind:
    """``partgen compare`` with the job it is a mutant of."""
    said(compared, adjusting.compare_files(other, path), None)
    return "compared"


def adjust(path: Path, chance: random.Random) -> Kind:
    """``partgen adjust``, of a measure of the mutant, to anything."""
    names = list(load_job(path).measures) or ["joint_width"]
    value = chance.choice(("63 mm", "2-1/2 in", "0", "-5", "nan", "1e9", "= 1/0", "= rail_width"))
    changes = {chance.choice(names): value}
    said(compared, adjusting.adjust(path, changes), None)
    adjusting.save(path, changes)
    assert load_job(path).measures
    return "adjusted"


def sweep(path: Path, chance: random.Random) -> Kind:
    """``partgen adjust --sweep``, a few steps."""
    spec = chance.choice(("joint_width=57..60mm:2", "joint_width=1e9..1:1", "rail_width=50..52:2"))
    check_files(adjusting.sweep_files(path, spec, {}).files)
    return "swept"


def tasks(original: Path, drawing: Path) -> Iterable[Callable[[Path, random.Random], Kind]]:
    """Return every task besides ``make``, for mutants of a job and with a drawing beside it."""
    return (
        check, link, partial(nest, beside=drawing), template, picture, measure, read_back,
        partial(compare, other=original), adjust, sweep,
    )  # fmt: skip
