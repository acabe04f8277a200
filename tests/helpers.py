"""Small makers for tests."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TypeVar

from partgen.entries.cutting import cutting
from partgen.entries.stock import Stock
from partgen.errors import GeometryError
from partgen.families import FAMILIES
from partgen.fields import Reading
from partgen.geometry.belt import belt, corners
from partgen.plates.plate import Hole, Plate, Window
from partgen.reference.bolt import bolt
from partgen.reference.material import material
from partgen.reference.rule_set import rule_set
from partgen.shop import Shop
from partgen.tasks.making import Made, make

DEMOS = Path(__file__).parents[1] / "demo_parts"


@cache
def made_demo(name: str) -> Made:
    """What a demo gives as it is, in DXF R2000; made once for all tests, so nobody changes it."""
    return make(DEMOS / f"{name}.toml", {}, (), "R2000")


def shop(rules="aisc-360-16", unit="mm", **changes):
    rack = [Stock(6.0, "S355"), Stock(4.0, "S355")]
    return replace(Shop(unit, {}, {}, rack, rule_set(rules), cutting("plasma-65a")), **changes)


def plate(points, holes=(), windows=(), thickness=6.0, blend=0.0):
    """A plate through points; holes are (name, x, y, size), windows (name, outline)."""
    return Plate(
        part="test",
        name="plate",
        outline=belt(corners(points, blend)),
        holes=tuple(Hole(n, x, y, bolt(s).hole("normal"), bolt(s)) for n, x, y, s in holes),
        windows=tuple(Window(n, o) for n, o in windows),
        thickness=thickness,
        material=material("S355"),
    )


def replaced(text, *pairs):
    """Text with each old piece, which has to be there, replaced by a new one."""
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return text


T = TypeVar("T")


def sound_or_named(work: Callable[[], T]) -> T | None:
    """Return what ``work`` makes, or None where it refuses in words of one line each."""
    try:
        return work()
    except GeometryError as error:
        if not error.problems or any("\n" in line or not line for line in error.problems):
            raise AssertionError(f"no one-line message: {error.problems}") from error
        return None


def part(family, unit="mm", **data):
    """A part of a family, read as from a job file."""
    named = {"name": "p", "family": family} | data
    return FAMILIES[family].model_validate(named, context=Reading(unit))


def points_of(outline):
    """Corners of an outline, rounded to 1e-6."""
    return {(round(v.x, 6), round(v.y, 6)) for v in outline.vertices}
