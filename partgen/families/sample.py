"""One small part of each family with the fewest words: what its sketch shows.

Everything not named here is the family's default. Invented numbers.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from partgen.dxf.item import Item
from partgen.dxf.read import INSIDE, OUTSIDE
from partgen.dxf.write import write_items
from partgen.entries.cutting import cutting
from partgen.entries.dxf_file import Drawn
from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.entries.stock import Stock
from partgen.errors import PartgenError, nearest
from partgen.families import FAMILIES
from partgen.families.part import Part
from partgen.fields import Reading
from partgen.geometry.belt import Pin, belt
from partgen.geometry.outline import Outline
from partgen.plates.plate import Plate
from partgen.reference.rule_set import DEFAULT, rule_set
from partgen.shop import Shop

CLEVIS = {"joint": "bush", "height": 110, "base": 130, "foot": 40, "plate": "6 mm S355"}
SAMPLES: dict[str, dict[str, Any]] = {
    "axle-saddle": {"joint": "bush", "tube": 76, "pivot": [20, -95]},
    "bridge": {"mount": "clevis", "at": [0, 24], "length": 100},
    "clevis": {"joint": "bush", "height": 60},
    "crossmember-flange": {"size": [160, 110], "bolts": {"bolt": "M16", "size": [104, 54]}},
    "dummy-spacer": {"mount": "clevis"},
    "ear": {"bolt": "M16", "height": 60},
    "face-plate": {
        "length": 420,
        "height": 90,
        "ears": [{"at": 90, "drop": 30, "bolt": "M16"}],
        "arches": [{"at": 270, "radius": 45}],
    },
    "from-dxf": {"file": "sample.dxf", "bolts": [{"at": [40, 30], "bolt": "M16"}]},
    "gusset": {"width": 90, "height": 70},
    "link-mount": {"rail": "main", "joint": "bush", "pivot": [0, -68]},
    "plate": {"points": [[0, 0], [160, 0], [160, 50], [60, 50], [60, 110], [0, 110]]},
    "shock-mount": {"joint": "bush", "height": 60, "eyes": 2},
    "skid-plate": {"flats": [80, 220, 80], "angles": [35, 35], "width": 200},
    "spacer": {"size": [150, 60]},
    "through-ear": {"joint": "bush", "mount": "link-mount", "hole": "upper", "height": 60},
    "tower": {"joint": "bush", "rail": "main", "height": 190, "base": 120},
    "washer": {"bolt": "M16"},
}
NO_PLATE = ("dummy-spacer",)  # families that take no ``plate``


def sample_shop() -> Shop:
    """Return the shop of the samples: a rail, a bushing, three thicknesses of plate."""
    rack = [Stock(t, "S355") for t in (6.0, 4.0, 3.0)]
    shop = Shop(
        "mm",
        {"main": Rail(width=52, depth=100, corner_radius=8)},
        {"bush": Joint.model_validate({"width": 57, "body_diameter": 64, "bolt": "M16"})},
        rack,
        rule_set(DEFAULT),
        cutting("plasma-65a"),
    )
    clevis = _part("clevis", CLEVIS).as_mount(shop)
    on_rail = sample("link-mount").as_mount(shop)
    return replace(shop, mounts={m.name: m for m in (clevis, on_rail) if m})


def sample(family: str) -> Part:
    """Return a part of a family.

    Raises:
        PartgenError: no such family.
    """
    if family not in SAMPLES:
        raise PartgenError(f"family '{family}' has no sample; {nearest(family, SAMPLES)}")
    plate = {} if family in NO_PLATE else {"plate": "6 mm S355"}
    file = {"file": _drawing()} if family == "from-dxf" else {}
    return _part(family, plate | SAMPLES[family] | file)


def _drawing() -> Drawn:
    """Return a small drawing as found elsewhere: its edge in loose pieces, one drawn twice."""
    edge = belt([Pin(0, 0), Pin(120, 0, 0, 12), Pin(96, 62, 16), Pin(24, 62, 0, 10)])
    loose = [Item(OUTSIDE, (s,)) for s in (*edge.segments, edge.segments[0])]
    rounds = [Outline.circle(40, 30, 17.5), Outline.circle(88, 34, 30)]
    items = [*loose, *(Item(INSIDE, o) for o in rounds)]
    return Drawn("sample.dxf", write_items(items, [], unit="mm"))


def sample_plates(family: str) -> list[Plate]:
    """Return the plates of a family's sample.

    Raises:
        PartgenError: no such family, or it has no sample.
    """
    return sample(family).plates(sample_shop())


def _part(family: str, data: dict[str, Any]) -> Part:
    named = {"name": family, "family": family} | data
    return FAMILIES[family].model_validate(named, context=Reading("mm"))
