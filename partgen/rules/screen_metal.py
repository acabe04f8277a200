"""Screening of the metal round a mount's hole, by the document the job's rule set names."""

from __future__ import annotations

from partgen.entries.load import Load, StrengthEntry
from partgen.errors import PartgenError
from partgen.fit.mount import Mount
from partgen.geometry.segment import Point
from partgen.rules.ear import Ear
from partgen.strength import en_pin
from partgen.strength.bearing import aisc_bearing, en_bearing
from partgen.strength.bolt_grade import nominal_class
from partgen.strength.bth_pin import BthLug, bth_capacities
from partgen.strength.capacity import Capacity
from partgen.strength.net_section import net_rupture
from partgen.strength.pin_connection import Lug, pin_capacities
from partgen.strength.tear_out import aisc_tear_out


def metal(
    ear: Ear,
    mount: Mount,
    way: Point | None,
    document: str,
    load: Load | None,
    asked: StrengthEntry,
) -> list[Capacity]:
    """Return the capacities of one ear's metal round the hole; none without a known material.

    Args:
        ear: the plate about the hole.
        mount: its mount.
        way: direction of the force; None for the worst one.
        document: "aisc" or "en".
        load: the user's, if any: its factor then stands in the place of Nd.
        asked: the job's ``[strength]``.
    """
    strength = ear.plate.material.strength(ear.plate.thickness)
    if strength is None:
        return []
    end = ear.clear(way) if way else ear.least
    beside = ear.side(way) if way else ear.least
    if document == "en":
        return _en_metal(ear, mount, end, beside, strength, asked)
    return _aisc_metal(ear, mount, end, beside, strength, 1.0 if load else asked.design_factor)


def _aisc_metal(
    ear: Ear, mount: Mount, end: float, beside: float, strength: tuple[float, float], nd: float
) -> list[Capacity]:
    (fy, fu), t = strength, ear.plate.thickness
    hole, pin = ear.hole.diameter, mount.bolt.diameter
    width = 2 * beside + hole
    lug = Lug(thickness=t, width=width, hole=hole, pin=pin, end=end, side=beside, fy=fy, fu=fu)
    bth = BthLug(
        thickness=t, hole=hole, pin=pin, end=end, side=beside, fy=fy, fu=fu, curved_end=True
    )
    return [
        aisc_tear_out(end, t, fu),
        aisc_bearing(pin, t, fu),
        net_rupture(width, hole, t, fu),
        *pin_capacities(lug),
        *bth_capacities(bth, nd),
    ]


def _en_metal(
    ear: Ear,
    mount: Mount,
    end: float,
    beside: float,
    strength: tuple[float, float],
    asked: StrengthEntry,
) -> list[Capacity]:
    (fy, fu), t, hole = strength, ear.plate.thickness, ear.hole.diameter
    e1, e2 = end + hole / 2, beside + hole / 2
    by_end, by_side = en_pin.end_force(t, hole, fy, end, beside)
    found = [
        Capacity(
            mode=f"pin plate, {what}",
            nominal=force,
            phi=1.0,
            clause="EN 1993-1-8 Table 3.9, type A",
            assumptions="gamma_M0 1; given thickness",
        )
        for what, force in (("metal beyond the hole", by_end), ("metal beside the hole", by_side))
    ]
    found.append(en_pin.pin_bearing(t, mount.bolt.diameter, fy))
    if asked.bolt_grade is not None:
        try:
            fub, _ = nominal_class(asked.bolt_grade)
        except PartgenError:
            return found
        found.append(en_bearing(mount.bolt.diameter, hole, t, fu, e1, e2, fub))
    return found
