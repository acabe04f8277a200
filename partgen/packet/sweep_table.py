"""A sweep as a table for a spreadsheet."""

from __future__ import annotations

from math import fsum

from partgen.fit.fit import pad_text
from partgen.fit.mount import Mount
from partgen.linkage.figures import figures
from partgen.measure import length_text, per_unit
from partgen.packet.tables import Row, csv_bytes
from partgen.sweep import Point, Sweep


def sweep_csv(found: Sweep) -> bytes:
    """Return one line for each value and mount, lengths in the job's unit."""
    unit = found.unit
    head = (
        f"{found.measure}{found.after}", "mount", f"gap {unit}", "spacer inner", "spacer outer",
        f"clearance {unit}", f"welded and coated {unit}", f"shim each {unit}", "bolt", "verdict",
        f"least margin {unit}", "of", "rules failing", "mass kg", "problem",
    )  # fmt: skip
    return csv_bytes(head, (row for point in found.points for row in _rows(point, unit)))


def sweep_links_csv(found: Sweep) -> bytes | None:
    """Return one line of the linkage's figures for each value, or None for a job without links."""
    lines = [
        (point.value, figures(point.build.shop.linkage, found.unit) if point.build else {})
        for point in found.points
    ]
    names = list(dict.fromkeys(name for _, line in lines for name in line))
    if not names:
        return None
    rows = (
        [_figure(v, found.unit), *(_number(line.get(n, "")) for n in names)] for v, line in lines
    )
    return csv_bytes([f"{found.measure}{found.after}", *names], rows)


def _number(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


def _rows(point: Point, unit: str) -> list[Row]:
    if point.build is None:
        return [(_figure(point.value, unit), *[""] * 13, point.problem)]
    least = point.least
    ends = (
        _figure(least.margin or 0.0, unit) if least else "",
        f"{least.rule}, {least.plate}, {least.where}" if least else "",
        point.fails,
        f"{fsum(p.mass * p.count for p in point.build.plates):.3f}",
        "",
    )
    mounts = point.build.mounts
    if not mounts:
        return [(_figure(point.value, unit), *[""] * 9, *ends)]
    return [(_figure(point.value, unit), *_mount(mount, unit), *ends) for mount in mounts]


def _mount(mount: Mount, unit: str) -> Row:
    fit, chosen = mount.fit, mount.bolt_fit
    return (
        mount.name,
        _figure(fit.gap, unit),
        pad_text(fit.inner, unit),
        pad_text(fit.outer, unit),
        _figure(fit.clearance, unit),
        _figure(fit.final_clearance, unit),
        _figure(fit.shim, unit),
        f"{mount.bolt.size} x {length_text(chosen.length, unit)}" if chosen else "none",
        chosen.verdict if chosen else "no stock length does",
    )


def _figure(mm: float, unit: str) -> str:
    return f"{mm / per_unit(unit):.{2 if unit == 'mm' else 4}f}"
