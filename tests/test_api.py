"""``partgen.api`` is whole: documented, typed, its errors told, its signatures not moved unseen."""

import ast
import dataclasses
import inspect
import re
import textwrap
import tomllib
import typing
from pathlib import Path

import outside_program
import pytest
from click.testing import CliRunner
from pydantic import BaseModel

import partgen
from partgen import api
from partgen.cli import main

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
JOB = ROOT / "demo_parts" / "hill-trial-buggy.toml"
PUBLIC = [getattr(api, name) for name in api.__all__]
FUNCTIONS = {name: f for name, f in zip(api.__all__, PUBLIC, strict=True) if inspect.isfunction(f)}
# Another line here is another API: say it in DEVELOPERS.md under Changes, and raise the version.
SIGNATURES = """
adjust(path, changes)
bolt(size, *, washer='N')
build(job, fits=None)
check(build)
check_plates(plates, shop)
compare_files(first, second)
demo_files()
load_job(path, changes=None)
make(path, changes=None, only=(), version='R2000', folder=None, asked=None, searching=None)
make_job(made, only=(), version='R2000', folder=None, asked=None, searching=None)
material(name)
nest_job(build, searching=None)
save(path, changes)
write(made, folder)
"""
# What outsiders make themselves.
CONSTRUCTORS = """
Asked(kerf, leads, clockwise, joints, one_layer, text, motion, cool, order, png)
Hole(name, x, y, diameter, bolt, instead_of)
Mark(kind, path, radius, angle)
Outline(vertices)
Plate(part, name, outline, holes, windows, marks, thickness, material, count, hand, notes, revision)
Searching(seconds, told, unit, known, fresh, once, begun)
Vertex(x, y, bulge)
Window(name, outline, is_filled)
"""


def classes_in(hint):
    """The classes of partgen in a type."""
    if isinstance(hint, type) and hint.__module__.startswith("partgen"):
        yield hint
    for inner in typing.get_args(hint):
        yield from classes_in(inner)


def function_of(member):
    """The function behind a method or property; None for anything else."""
    if isinstance(member, property):
        return member.fget
    found = getattr(member, "__func__", None) or getattr(member, "func", None) or member
    return found if inspect.isfunction(found) else None


def methods(cls):
    """Public methods and properties of its own."""
    found = {name: function_of(member) for name, member in vars(cls).items()}
    return {name: f for name, f in found.items() if f and not name.startswith("_")}


def fields(cls):
    """Names and types of its own fields."""
    is_entry = dataclasses.is_dataclass(cls) or issubclass(cls, BaseModel)
    own = inspect.get_annotations(cls) if is_entry else {}
    hints = typing.get_type_hints(cls) if own else {}
    shown = {name: hints[name] for name in own if not name.startswith("_")}
    return {n: hint for n, hint in shown.items() if typing.get_origin(hint) is not typing.ClassVar}


def reachable():
    """Every class that somebody who holds only public names may come to hold."""
    found: list[type] = []
    ahead = [c for o in PUBLIC for c in ([o] if isinstance(o, type) else of_function(o))]
    while ahead:
        cls = ahead.pop()
        if cls in found:
            continue
        found.append(cls)
        ahead += [c for hint in fields(cls).values() for c in classes_in(hint)]
        ahead += [c for f in methods(cls).values() for c in of_function(f)]
        ahead += [c for base in cls.__mro__[1:] for c in classes_in(base)]
    return sorted(found, key=lambda cls: (cls.__module__, cls.__name__))


def of_function(function):
    """The classes a function takes and gives."""
    return [c for hint in typing.get_type_hints(function).values() for c in classes_in(hint)]


REACHABLE = reachable()


def is_a_measure(hint):
    return hint is float or any(is_a_measure(inner) for inner in typing.get_args(hint))


def described(cls):
    """What the docstring says of each field."""
    doc = inspect.getdoc(cls) or ""
    return dict(re.findall(r"^    (\w+): ((?:.+)(?:\n {8,}.+)*)", doc, re.MULTILINE))


def test_the_version_is_one_and_semantic():
    assert PROJECT["project"]["version"] == partgen.__version__
    assert re.fullmatch(r"\d+\.\d+\.\d+(-[\w.]+)?(\+[\w.]+)?", partgen.__version__)
    said = CliRunner().invoke(main, ["--version"]).output
    assert said == f"partgen, version {partgen.__version__}\n"


def test_the_changes_tell_of_this_version():
    changes = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("## Changes")[1]
    heads = re.findall(r"^### (\S+)", changes, re.MULTILINE)
    assert heads[:2] == ["Unreleased", partgen.__version__]


def test_types_go_with_the_package():
    assert (ROOT / "partgen" / "py.typed").exists()
    assert "py.typed" in PROJECT["tool"]["setuptools"]["package-data"]["*"]
    assert PROJECT["tool"]["mypy"]["strict"]
    assert "tests/outside_program.py" in PROJECT["tool"]["mypy"]["files"]


def test_every_folder_is_packed():
    packed = set(PROJECT["tool"]["setuptools"]["packages"])
    there = {p.parent.relative_to(ROOT) for p in (ROOT / "partgen").rglob("*.py")}
    assert {".".join(p.parts) for p in there} == {
        p for p in packed if (ROOT / p.replace(".", "/")).exists()
    }


def test_signatures_are_those_listed():
    def text(name, function):
        bare = [
            p.replace(annotation=inspect.Parameter.empty)
            for p in inspect.signature(function).parameters.values()
        ]
        return f"{name}{inspect.Signature(bare)}"

    assert [text(n, f) for n, f in sorted(FUNCTIONS.items())] == SIGNATURES.split("\n")[1:-1]
    for line in CONSTRUCTORS.split("\n")[1:-1]:
        name, listed = re.fullmatch(r"(\w+)\((.*)\)", line).groups()
        assert list(fields(getattr(api, name))) == listed.split(", "), name


def test_what_public_functions_take_and_give_is_public():
    taken = {c for f in FUNCTIONS.values() for c in of_function(f)}
    assert not {c.__name__ for c in taken} - set(api.__all__)


def test_a_module_docstring_tells_of_every_function():
    doc = inspect.getdoc(api)
    told = {name for name in FUNCTIONS if re.search(rf"\b{name}\b", doc)}
    assert set(FUNCTIONS) - told <= {"make", "compare_files"}  # make_job and adjust of two files


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_every_parameter_is_typed(name):
    signature = inspect.signature(FUNCTIONS[name])
    assert signature.return_annotation is not inspect.Signature.empty
    assert all(p.annotation is not p.empty for p in signature.parameters.values())


@pytest.mark.parametrize("cls", REACHABLE, ids=lambda cls: f"{cls.__module__}.{cls.__name__}")
def test_every_field_and_method_within_reach_is_documented(cls):
    assert cls.__doc__, cls
    lines = described(cls)
    assert set(fields(cls)) <= set(lines)
    for name, function in methods(cls).items():
        assert inspect.getdoc(function), name


@pytest.mark.parametrize(
    "cls", [o for o in PUBLIC if isinstance(o, type)], ids=lambda c: c.__name__
)
def test_every_measure_of_a_public_class_has_its_unit(cls):
    lines = described(cls)
    for name, hint in fields(cls).items():
        assert "[" in lines[name] or not is_a_measure(hint), name
    for name, function in methods(cls).items():
        if any(is_a_measure(hint) for hint in typing.get_type_hints(function).values()):
            assert "[" in inspect.getdoc(function), name


@pytest.mark.parametrize("cls", REACHABLE, ids=lambda cls: f"{cls.__module__}.{cls.__name__}")
def test_what_raises_says_so(cls):
    for name, function in methods(cls).items():
        tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
        raised = any(isinstance(node, ast.Raise) for node in ast.walk(tree))
        assert not raised or "Raises:" in inspect.getdoc(function), name


def wrong(tmp_path):
    """For each function that can, how it is made to raise; the others take what was built."""
    missing, built = tmp_path / "none.toml", api.build(api.load_job(JOB))
    bare = dataclasses.replace(built, job=dataclasses.replace(built.job, sheets=[]))
    (tmp_path / "out").write_text("a file in the way")
    outside = tmp_path / "outside.toml"
    outside.write_text(JOB.read_text(encoding="utf-8").replace("at = [330, 34]", "at = [900, 34]"))
    return {
        "adjust": lambda: api.adjust(JOB, {"no_such": "1 mm"}),
        "bolt": lambda: api.bolt("M17"),
        "build": lambda: api.build(api.load_job(outside)),
        "compare_files": lambda: api.compare_files(missing, JOB),
        "load_job": lambda: api.load_job(missing),
        "make": lambda: api.make(missing),
        "make_job": lambda: api.make_job(built, only=["no-such-part"]),
        "material": lambda: api.material("S3555"),
        "nest_job": lambda: api.nest_job(bare),
        "save": lambda: api.save(missing, {"joint_width": "60 mm"}),
        "write": lambda: api.write(api.make_job(built), tmp_path / "out"),
    }


def test_functions_raise_what_their_docstrings_say(tmp_path):
    ways = wrong(tmp_path)
    for name, way in ways.items():
        assert re.search(
            r"Raises:\n\s+(PartgenError|ProfileError)", inspect.getdoc(FUNCTIONS[name])
        )
        with pytest.raises(api.PartgenError) as caught:
            way()
        assert all(caught.value.problems), name
    told = {name for name, f in FUNCTIONS.items() if "Raises:" in inspect.getdoc(f)}
    assert told - {"demo_files"} == set(ways)  # demos go with the package


def test_an_outside_program_gets_all_of_a_job(tmp_path):
    tree = ast.parse(inspect.getsource(outside_program))
    known = {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    assert known == {"collections.abc", "dataclasses", "pathlib", "partgen"}
    seen = outside_program.main(JOB, {"joint_width": "60 mm"}, tmp_path / "out")
    assert all(seen.values())
    assert {f.rule for f in seen["foot"]} == {"web"}
    cut = {n: c for n, c in seen["files"].items() if n.endswith(".dxf")}
    assert len(cut) > 10
    assert {n: (tmp_path / "out" / n).read_bytes() for n in cut} == cut
