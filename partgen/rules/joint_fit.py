"""Joint fit: the clearance that is left between joint and ears with the spacers chosen.

Limit: the joint's own side clearance. Too much is a warning with the shim that fills it; a rail too
wide for the joint fails and lists ways out. Common practice, no source. Not covered: pull-in by
welding, coating.
"""

from __future__ import annotations

from partgen.fit import LOOSE, Fit
from partgen.measure import shown
from partgen.mount import Mount
from partgen.rules.finding import SLACK, Finding, Status, at_least
from partgen.shop import Shop

RULE = "joint-fit"


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return one finding: the clearance left in the mount."""
    fit = mount.fit
    status = at_least(fit.clearance, fit.side_clearance)
    if status is Status.PASS and fit.excess > LOOSE + SLACK:
        status = Status.FAIL if fit.need < 0 else Status.WARN
    return [
        Finding(
            rule=RULE,
            plate=mount.name,
            where="joint between the ears",
            status=status,
            measured=fit.clearance,
            required=fit.side_clearance,
            source="common practice, no source",
            note=_note(fit, status, shop.unit),
        )
    ]


def _note(fit: Fit, status: Status, unit: str) -> str:
    if status is Status.PASS:
        return ""
    if fit.need < -SLACK:
        return "rail wider than the joint: " + "; or ".join(fit.ways_out(unit))
    if fit.excess > 0:
        return f"fill with a shim of {shown(fit.shim, unit)} {unit} on each side"
    each = shown(fit.need / 2, unit)
    return f"needs {each} {unit} on each side; add a sheet of thicker plate to the job"
