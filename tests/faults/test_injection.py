"""Words of a job reach files as words: every text field, found from the tables themselves.

Hostile text goes into each field that takes free text; what is accepted goes through everything
that is made. No file may then hold another element, cut, formula, command or place than before.
"""

import csv
import io
import json
import re
import tomllib
import unicodedata
import xml.etree.ElementTree as ET
from functools import cache
from html.parser import HTMLParser
from pathlib import Path, PurePosixPath
from types import UnionType
from typing import Union, get_args, get_origin

import ezdxf
import pypdf
import pytest
from pydantic import BaseModel

from partgen.cut.holes import refuse_unknown
from partgen.dxf.write import read
from partgen.errors import PartgenError
from partgen.families import FAMILIES
from partgen.job.build import build
from partgen.job.job import JobFile, read_job
from partgen.job.parameters import entries
from partgen.sheets.cut_plans import Asked
from partgen.tasks import making
from partgen.template.paper import paper
from partgen.template.templates import templates

DEMOS = Path(__file__).parents[2] / "demo_parts"
DEMO = DEMOS / "hill-trial-buggy.toml"
LINKS = DEMOS / "hill-trial-buggy-rear-links.toml"
MARKUP = "\"'><x-evil onload=a>-->]]></style></svg></script>&#x3c;x-evil>"
HOSTILE = {
    "formula": "=1+2|'x'!A1" + MARKUP,
    "at": "@SUM(1)" + MARKUP,
    "command": "%)M3;(G0 X9999\\) Tj" + MARKUP,
    "place": "../../\u202e\u2028\u0085\ufeffe\u0301" + MARKUP,
}
REFUSED = ("a\nb", "a\r\n  0\r\nEOF", "a\0b", "\x1b[31m", "x" * 1_000_000, "\ud800")
DEVICES = {"con", "prn", "aux", "nul"} | {f"{d}{k}" for d in ("com", "lpt") for k in range(10)}
PORTABLE = re.compile(r"[A-Za-z0-9_#.,-]+")
WORD = re.compile(r"([GMXYIJFP]-?[0-9.]+ ?)+")


EVERY_TABLE = Path(__file__).parents[1] / "fuzz" / "every-table.toml"
JOBS = (*sorted(DEMOS.glob("*.toml")), LINKS, EVERY_TABLE, DEMO)  # of a field the last is tried
NAME_OF_TABLE = "[name]"  # the last step of a way to the name that a table stands under


def data_of(path=DEMO):
    """A job's data, with the tables that no other has."""
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    if path == DEMO:
        web = next(p for p in data["part"] if p["name"] == "web")
        web["welded"] = [{"at": [30, 0], "to": "ear", "plates": ["gusset"]}]
        web["features"] = {"drains": [{"at": [20, 20], "plates": ["gusset"]}]}
        data["accept"] = [{"rule": "web", "plate": "web/gusset", "reason": "seen"}]
        data["prices"] = {"plate_per_kg": 2.0}
    return data


def is_text(kind) -> bool:
    """Whether a value may be text that no list of words bounds."""
    if hasattr(kind, "__metadata__"):
        return is_text(get_args(kind)[0])
    if get_origin(kind) in (Union, UnionType):
        return any(is_text(option) for option in get_args(kind))
    return kind is str


def is_list_of_text(kind) -> bool:
    """Whether it is a list with text in it, or a list of such lists."""
    if get_origin(kind) in (Union, UnionType):
        return any(is_list_of_text(option) for option in get_args(kind))
    inner = [k for k in get_args(kind) if k is not Ellipsis]
    return get_origin(kind) in (tuple, list) and any(
        is_text(k) or is_list_of_text(k) for k in inner
    )


def is_named(kind) -> bool:
    """Whether tables, or lengths, stand under names of the user's own."""
    return get_origin(kind) is dict


def texts(model):
    """Way to every text of a table, and to the first of those in a list; which class holds it."""
    for name, field in model.model_fields.items():
        owner = next(
            c for c in reversed(model.__mro__) if name in getattr(c, "__annotations__", ())
        )
        kind, key = field.annotation, field.alias or name
        if is_text(kind):
            yield (owner.__name__, key), (key,)
        if is_list_of_text(kind):
            inner = {"readings": (0, 0)}.get(key, (0,))
            yield (owner.__name__, key), (key, *inner)
        if is_named(kind):
            yield (owner.__name__, key), (key, NAME_OF_TABLE)


def models():
    """Every model that a job file is read by, found from the tables and the families."""
    found, waiting = set(), [JobFile, *FAMILIES.values()]
    while waiting:
        model = waiting.pop()
        if model not in found:
            found.add(model)
            waiting += entries(model).values()
    return found


def tables(model: type[BaseModel], data, way=()):
    """Every table of a job's data with its model and its way from the top."""
    if isinstance(data, list):
        for k, one in enumerate(data):
            yield from tables(model, one, (*way, k))
    elif isinstance(data, dict):
        if model is JobFile:
            for k, part in enumerate(data.get("part", ())):
                yield from tables(FAMILIES[part["family"]], part, ("part", k))
        yield model, way
        inner = entries(model)
        for key, value in data.items():
            if key in inner and not isinstance(value, str):
                field = next(f for n, f in model.model_fields.items() if (f.alias or n) == key)
                named = is_named(field.annotation)
                for name, one in value.items() if named else ((None, value),):
                    more = (key,) if name is None else (key, name)
                    yield from tables(inner[key], one, (*way, *more))


def text_fields(path):
    """Way to every text of a job's tables, filled in or not; each kind of field once."""
    found = {}
    for model, way in tables(JobFile, data_of(path)):
        for field, more in texts(model):
            found.setdefault(field, (*way, *more))
    return found


def with_value(data, way, value):
    """The data with a value at the end of a way; lists are made that are not there."""
    *steps, last = way
    here = data
    for k, step in enumerate(steps):
        if isinstance(here, dict) and step not in here:
            here[step] = [] if isinstance(way[k + 1], int) else {}
        if isinstance(here, list) and step == len(here):
            here.append([])
        here = here[step]
    if last == NAME_OF_TABLE:
        here[value] = next(iter(here.values()), {})
    elif isinstance(here, list) and last == len(here):
        here.append(value)
    else:
        here[last] = value
    return data


FIELDS = {k: (p, way) for p in JOBS for k, way in text_fields(p).items()}


def refusal(path, way, value):
    """Lines of refusal, or none where the value is taken."""
    try:
        built = build(read_job(with_value(data_of(path), way, value), path, {}))
        refuse_unknown(built.plates, built.job.holes)
    except PartgenError as error:
        return error.problems
    return []


def test_every_text_of_every_table_is_walked():
    """The list comes from the models: a text in a new table of the job file is missed here."""
    wanted = {field for model in models() for field, _ in texts(model)}
    assert {
        ("Net", "readings"),
        ("Box", "parts"),
        ("FixedPlace", "sheet"),
        ("Stands", "on"),
    } <= wanted
    assert wanted - set(FIELDS) == set()


@pytest.mark.parametrize("field", FIELDS, ids=".".join)
def test_control_characters_and_floods_are_refused_in_one_line(field):
    path, way = FIELDS[field]
    for value in REFUSED:
        lines = refusal(path, way, value)
        assert lines, f"{way} takes {value[:10]!r}"
        for line in lines:
            assert line.isprintable()
            assert len(line) <= 1000


@cache
def free_fields(path):
    """Ways to the text fields that take anything printable; others name something."""
    placed = [way for way in text_fields(path).values() if "fixed" not in way]  # by the layout
    ways = [way for way in placed if not refusal(path, way, MARKUP)]
    assert ("job", "name") in ways
    return ways


class Page(HTMLParser):
    """Notes every element and attribute."""

    def __init__(self):
        super().__init__()
        self.seen = set()

    def handle_starttag(self, tag, attrs):
        self.seen |= {tag, *(f"@{name}" for name, _ in attrs)}


def page_faults(content):
    page = Page()
    page.feed(content.decode("utf-8"))
    return {name for name in page.seen if name == "x-evil" or name.startswith("@on")}


def svg_faults(content):
    return [e.tag for e in ET.fromstring(content).iter() if "x-evil" in e.tag]


def csv_faults(content):
    cells = [c for row in csv.reader(io.StringIO(content.decode("utf-8"), newline="")) for c in row]
    number = re.compile(r"[+-]?[0-9.]+( .*)?")
    return [c for c in cells if c[:1] in "=+-@\t\r" and c and not number.fullmatch(c) and c != "-"]


def motion_faults(content):
    lines = content.decode("ascii").split("\n")
    return [
        line
        for line in lines
        if line
        and not WORD.fullmatch(line)
        and not re.fullmatch(r"\([^()]*\)", line)
        and line != "%"
    ]


def dxf_faults(content):
    """Nothing but pairs of a group code and a value; what ezdxf reads has no fault either."""
    text = content.decode("utf-8")
    lines = text.replace("\r\n", "\n").rstrip("\n").split("\n")
    faults = [code for code in lines[::2] if not re.fullmatch(r" *-?\d+", code)]
    faults += [line for line in lines if not all(c.isprintable() for c in line)]
    if not faults:
        faults += [str(e) for e in ezdxf.read(io.StringIO(text)).audit().errors]
    return faults or ([] if read(content, where="x").outside else ["no plate"])


def name_faults(names):
    """File names that a system would refuse, take for a device, or for one another."""
    parts = {part for name in names for part in PurePosixPath(name).parts}
    same = [unicodedata.normalize("NFC", name).casefold() for name in names]
    return [
        *(p for p in parts if not PORTABLE.fullmatch(p) or p.endswith(".") or p.startswith(".")),
        *(p for p in parts if p.split(".")[0].lower() in DEVICES),
        *(p for p in parts if len(p.encode()) > 255),
        *(n for n in names if len(n) > 200 or n.startswith("/") or ".." in n),
        *(n for n in same if same.count(n) > 1),
    ]


FAULTS = {".html": page_faults, ".svg": svg_faults, ".csv": csv_faults, ".dxf": dxf_faults,
          ".json": lambda content: [] if json.loads(content) else ["empty"],
          ".nc": motion_faults, ".ngc": motion_faults, ".tap": motion_faults}  # fmt: skip


def faults_in(files):
    found = {"names": name_faults(list(files))}
    for name, content in files.items():
        check = FAULTS.get(PurePosixPath(name).suffix)
        found[name] = check(content) if check else []
    return {name: wrong for name, wrong in found.items() if wrong}


@pytest.mark.parametrize(
    ("path", "kind"),
    [(LINKS, "formula"), (EVERY_TABLE, "command"), *((DEMO, kind) for kind in HOSTILE)],
)
def test_hostile_text_stays_text_in_everything_that_is_made(path, kind):
    data = data_of(path)
    for way in free_fields(path):
        data = with_value(data, way, HOSTILE[kind])
    built = build(read_job(data, path, {}))
    made = making.make_job(built, (), "R2000", asked=Asked(text=True, motion="plain", order=True))
    assert faults_in(made.files) == {}
    pages = pypdf.PdfReader(
        io.BytesIO(templates(built, paper("a4", ""), (), stopped=False).content)
    )
    as_before = templates(
        build(read_job(data_of(path), path, {})), paper("a4", ""), (), stopped=False
    )
    assert len(pages.pages) == len(pypdf.PdfReader(io.BytesIO(as_before.content)).pages)
    assert not any("/Annots" in page or "/AA" in page for page in pages.pages)
    assert "/OpenAction" not in pages.trailer["/Root"]


@pytest.mark.parametrize("stem", ["CON", "nul.x", "aux ", "..", "a b", "x" * 180, "=1+2", "é" * 60,
                                  "\u202ecod", "<x-evil>", "-rf", "a;b|c", "$(x)"])  # fmt: skip
def test_a_hostile_name_of_the_job_file_makes_names_that_any_system_takes(stem):
    path = DEMO.with_name(f"{stem}.toml")
    made = making.make_job(build(read_job(data_of(), path, {})), ("web",), "R12")
    assert faults_in(made.files) == {}


def test_the_checks_bite():
    """Each check sees the fault it is there for."""
    assert page_faults(b"<p onload='a'>") == {"@onload"}
    assert page_faults(b"<p><x-evil>") == {"x-evil"}
    assert svg_faults(b"<svg><x-evil/></svg>") == ["x-evil"]
    assert csv_faults(b"a,=1+2,-3.5,+4 mm\r\n") == ["=1+2"]
    assert motion_faults(b"G21\nG0 X1.0 Y2.0\n(a)\n(a) M3 (b)\nM3)\n") == ["(a) M3 (b)", "M3)"]
    assert dxf_faults(b"  0\nLINE\nzero\n1\n  0\nEOF\n")
    assert set(name_faults(["a/B.dxf", "A/b.dxf", "nul.dxf", "x.", "a b"])) == {
        "a/b.dxf", "nul.dxf", "x.", "a b"
    }  # fmt: skip
