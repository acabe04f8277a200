"""The whole job as data, for ``job.json``; every length in mm, whatever the job's unit."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from math import fsum
from typing import Any

from partgen import __version__
from partgen.cautions import CAUTIONS
from partgen.fit.bolting import BoltFit
from partgen.fit.fit import Fit
from partgen.fit.mount import Mount
from partgen.geometry.outline import Outline
from partgen.job.build import Build
from partgen.job.named_measures import figures
from partgen.packet.hardware import Item
from partgen.packet.linkage_data import linkage_data
from partgen.packet.screening import screening_data
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding
from partgen.sheets.known_layout import known_data
from partgen.sheets.nest import Nest
from partgen.welds.weld import Weld
from partgen.welds.weld_map import weld_map

DECIMALS = 9  # of numbers in job.json


def digest(content: bytes) -> str:
    """Return the SHA-256 of a file's content."""
    return hashlib.sha256(content).hexdigest()


def as_json(data: Any) -> bytes:
    r"""Return ``data`` as JSON text, stable and readable; numbers to nine decimals.

    Examples:
        >>> as_json({"length": 0.1 + 0.2, "lean": -1e-16})
        b'{\n "length": 0.3,\n "lean": 0.0\n}\n'
    """
    text = json.dumps(_settled(data), indent=1, ensure_ascii=False, allow_nan=False)
    return (text + "\n").encode("utf-8")


def _settled(data: Any) -> Any:
    """Return ``data`` without the last bits of its numbers, which differ between machines."""
    if isinstance(data, float):
        return round(data, DECIMALS) + 0.0
    if isinstance(data, Mapping):
        return {key: _settled(value) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [_settled(value) for value in data]
    return data


def job_data(
    build: Build,
    findings: Sequence[Finding],
    nests: Sequence[Nest],
    items: Sequence[Item],
    files: Mapping[str, bytes],
) -> dict[str, Any]:
    """Return everything about a job; ``files`` are listed with their digests."""
    stopped = any(f.stops for f in findings)
    return {
        "partgen": __version__,
        "job": build.job.name,
        "file": build.job.path.name,
        "state": "stopped by a failing rule: no cut files" if stopped else "cut files written",
        "kerf": "not compensated",
        "unit_of_dxf": build.job.unit,
        "unit_of_this_file": "mm",
        "rules": build.shop.rule_set.title,
        "cutting": build.shop.cutting.model_dump(),
        "measures": figures(build.job.measures, build.job.numbers, build.job.unit),
        "mounts": [mount_data(m) for m in build.mounts],
        "plates": [plate_data(p) for p in build.plates],
        "linkage": linkage_data(build.shop.linkage),
        "findings": [finding_data(f) for f in findings],
        "screening": screening_data(build),
        "welds": [weld_data(w) for w in weld_map(build)[0]],
        "hardware": [asdict(item) for item in items],
        "sheets": [nest_data(n) for n in nests],
        "cautions": list(CAUTIONS),
        "files": {name: digest(content) for name, content in sorted(files.items())},
    }


def totals(build: Build) -> dict[str, Any]:
    """Return pieces, mass, area, cut length, pierces and, with prices, cost of a whole job."""
    plates, prices = build.plates, build.job.prices
    data: dict[str, Any] = {
        "pieces": sum(p.count for p in plates),
        "mass_kg": fsum(p.mass * p.count for p in plates),
        "area": fsum(p.area * p.count for p in plates),
        "cut_length": fsum(p.cut_length * p.count for p in plates),
        "pierces": sum(len(p.outlines) * p.count for p in plates),
    }
    if prices.given:
        data["cost"] = fsum((prices.of(p) or 0.0) * p.count for p in plates)
        data["currency"] = prices.currency
        data["not_in_cost"] = prices.left_out
    return data


def finding_data(finding: Finding) -> dict[str, Any]:
    """Return a finding with its margin."""
    return {**asdict(finding), "margin": finding.margin}


def mount_data(mount: Mount) -> dict[str, Any]:
    """Return a mount's sums."""
    chosen = mount.bolt_fit
    return {
        "name": mount.name,
        "hands": mount.hands,
        "count": mount.count,
        "pivot": mount.pivot,
        "fit": _fit_data(mount.fit, mount),
        "other_fits": [_fit_data(fit, mount) for fit in mount.fits[1:]],
        "ways_out": mount.fit.ways_out("mm"),
        "dummy_spacer": asdict(mount.dummy),
        "through": None if mount.through is None else asdict(mount.through),
        "bolt": None if chosen is None else _bolt_data(chosen),
        "bolt_in_hand": None if mount.in_hand is None else _bolt_data(mount.in_hand),
        "bolt_lengths": [{"length": b.length, "verdict": b.verdict} for b in mount.bolts],
        "sits_on": mount.sits_on,
        "room": mount.room,
    }


def weld_data(weld: Weld) -> dict[str, Any]:
    """Return a weld: where, how large, how long."""
    return {
        "step": weld.step,
        "plate": weld.plate,
        "count": weld.count,
        "edge": weld.seam.edge,
        "to": weld.seam.mate,
        "kind": weld.seam.kind,
        "edge_length": weld.edge_length,
        "leg": weld.leg,
        "fillets": weld.seam.sides,
        "length": weld.length,
        "to_flange": weld.flange,
        "notes": list(weld.notes),
    }


def plate_data(plate: Plate) -> dict[str, Any]:
    """Return a plate with its exact outlines."""
    return {
        "name": plate.label,
        "count": plate.count,
        "hand": plate.hand,
        "revision": plate.revision,
        "thickness": plate.thickness,
        "material": plate.material.name,
        "area": plate.area,
        "mass_kg": plate.mass,
        "cut_length": plate.cut_length,
        "pierces": len(plate.outlines),
        "outline": _vertices(plate.outline),
        "holes": [
            {"name": h.name, "at": [h.x, h.y], "diameter": h.diameter, "bolt": h.bolt.size}
            for h in plate.holes
        ],
        "windows": [{"name": w.name, "outline": _vertices(w.outline)} for w in plate.windows],
        "marks": [asdict(mark) for mark in plate.marks],
        "notes": list(plate.notes),
    }


def nest_data(nest: Nest) -> dict[str, Any]:
    """Return a layout: sheets used and where every plate lies."""
    stock = nest.stock
    return {
        "thickness": stock.thickness if stock else None,
        "material": stock.grade if stock else None,
        "cost": nest.cost,
        **known_data(nest.digest, nest.known),
    }


def _fit_data(fit: Fit, mount: Mount) -> dict[str, Any]:
    return {
        "rail_width": fit.rail_width if mount.rail_between else None,
        "joint_width": fit.joint_width,
        "need": fit.need,
        "spacer_inner": fit.spacers[0],
        "spacer_outer": fit.spacers[1],
        "spacer_plates": [[s.thickness for s in pad] for pad in (fit.inner, fit.outer)],
        "gap": fit.gap,
        "clearance": fit.clearance,
        "wanted_clearance": fit.side_clearance,
        "coating_each_face": fit.coating,
        "weld_pull_in": fit.pull_in,
        "final_clearance": fit.final_clearance,
        "shim_each_side": fit.shim,
        "joint_shift": fit.shift,
    }


def _bolt_data(fit: BoltFit) -> dict[str, Any]:
    return {
        "size": fit.bolt.size,
        "length": fit.length,
        "grip": fit.grip,
        "shear_planes": fit.shear_planes,
        "thread_start": fit.thread_start,
        "body_end": fit.body_end,
        "extra_washers": fit.extra_washers,
        "threads_showing": fit.threads_showing,
        "verdict": fit.verdict,
        "sources": fit.bolt.sources,
    }


def _vertices(outline: Outline) -> list[list[float]]:
    return [[v.x, v.y, v.bulge] for v in outline.vertices]
