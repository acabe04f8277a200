"""Joint fit: the clearance between joint and ears, before welding and after welding and coating.

Limit before: the joint's own side clearance and the coating. Too much is a warning with the shim
that fills it; a rail too wide for the joint fails and lists ways out. Limit after: the joint still
goes in. The pull-in follows from the ear's length and the lean the job expects, 0 while a dummy
spacer holds the ears. Common practice, no source. Not covered: how far a given weld pulls.
"""

from __future__ import annotations

from partgen.fit.fit import LARGEST_SHIFT, Fit
from partgen.fit.mount import Mount
from partgen.measure import shown
from partgen.rules.finding import SLACK, Finding, Status, at_least, judged
from partgen.shop import Shop

RULE = "joint-fit"


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return the clearance left in the mount, and what welding and coating leave of it."""
    fit = mount.fit
    status = at_least(fit.excess, 0.0)
    if status is Status.PASS and fit.shim:
        status = Status.FAIL if fit.need < -SLACK else Status.WARN
    if status is Status.PASS and fit.off > LARGEST_SHIFT + SLACK:
        status = Status.WARN
    found = [
        Finding(
            rule=RULE,
            plate=mount.name,
            where="joint between the ears",
            status=status,
            measured=fit.clearance,
            required=fit.side_clearance + 2 * fit.coating,
            source="common practice, no source",
            note=_note(fit, status, shop.unit),
        )
    ]
    return [*found, _after_welding(mount, shop.unit)] if fit.coating or fit.pull_in else found


def _after_welding(mount: Mount, unit: str) -> Finding:
    fit = mount.fit
    short = shown(-fit.final_clearance, unit)
    return judged(
        RULE,
        (mount.name, "joint between the ears, welded and coated"),
        (fit.final_clearance, 0.0),
        "common practice, no source",
        f"{short} {unit} too tight: the ears pull in {shown(fit.pull_in, unit)} {unit} and "
        f"coating takes {shown(2 * fit.coating, unit)} {unit}; weld with the dummy spacer bolted "
        "in, mask the faces, or raise side_clearance",
    )


def _note(fit: Fit, status: Status, unit: str) -> str:
    if status is Status.PASS:
        return ""
    if fit.excess >= -SLACK and fit.off > LARGEST_SHIFT + SLACK:
        return (
            f"the joint sits {shown(fit.shift, unit)} {unit} off the rail's centre, wanted "
            f"{shown(fit.wanted_shift, unit)} {unit}; add plates to the rack"
        )
    if fit.need < -SLACK:
        return "rail wider than the joint: " + "; or ".join(fit.ways_out(unit))
    if fit.shim:
        return f"fill with a shim of {shown(fit.shim, unit)} {unit} on each side"
    each, most = shown(fit.need / 2, unit), shown((fit.need + fit.excess) / 2, unit)
    note = f"needs {each} {unit} on each side, the plates at hand fill {most} {unit}"
    note += "; add a [[sheet]] of a thickness that makes it up"
    if fit.clearance > SLACK:
        note += f", or set the joint's side_clearance to {shown(fit.clearance, unit)} {unit}"
    return note
