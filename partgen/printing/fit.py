"""The sum through each mount's bolt: budget, ways to fill the gap, bolt lengths."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.cautions import SHORT
from partgen.fit.bolting import BoltFit
from partgen.fit.fit import SLACK, pad_text
from partgen.fit.mount import Mount, pull_in
from partgen.job.build import Build
from partgen.measure import UNIT_WORDS, length_text, shown
from partgen.packet.data import mount_data
from partgen.printing.text import print_json, table

SHORT_ONES = 2  # ways that fall short, told besides those that do
BEFORE, AFTER = 2, 4  # bolt lengths told below and above the first that is long enough


def fit(build: Build, *, as_json: bool) -> None:
    """Print every mount's sums."""
    if as_json:
        mounts = [mount_data(mount) for mount in build.mounts]
        print_json({"job": build.job.name, "unit_of_this_file": "mm", "mounts": mounts})
        return
    unit = build.job.unit
    print(f"{build.job.name}. Lengths in {UNIT_WORDS[unit]}.")
    for mount in build.mounts:
        _mount(mount, unit)
    if not build.mounts:
        print("no mounts in this job")
    print(SHORT)


def _mount(mount: Mount, unit: str) -> None:
    on = "spacers from the plates in the rack" if mount.rail_between else f"on a {mount.sits_on}"
    print(f"\n{mount.name}: {mount.pieces} on the vehicle, {on}")
    table(_budget(mount, unit), numbers=range(1, 2), indent="  ")
    for way in mount.fit.ways_out(unit):
        print(f"  rail wider than the joint, a way out: {way}")
    if mount.rail_between:
        print("  ways to fill the gap, best first:")
        table(_ways(mount, unit), numbers=range(2, 7), indent="    ")
    _bolts(mount, unit)


def _budget(mount: Mount, unit: str) -> list[tuple[str, ...]]:
    fit, joint = mount.fit, mount.joint
    origin = ""
    if joint is not None and joint.measured is not None:
        origin = f"measured; nominal {shown(joint.nominal, unit)}"
    arm = max(mount.room + mount.ears.low, 0.0) if mount.ears else 0.0
    each = (
        f"1 degree of lean over {shown(arm, unit)} would take {shown(pull_in(arm, 1.0), unit)}"
        if arm
        else ""
    )
    filled = [
        ("+ coating, both ear faces", 2 * fit.coating, ""),
        ("- rail", fit.rail_width, ""),
        ("= spacers must make up", fit.need, ""),
    ]
    gap = [(f"= gap between {mount.ears_text}", fit.gap, "the dummy spacer sets it")]
    rows: list[tuple[str, float, str]] = [
        ("joint", fit.joint_width, origin),
        ("+ side clearance wanted", fit.side_clearance, "before welding"),
        *(filled if mount.rail_between else gap),
        ("clearance before welding", fit.clearance, f"gap {shown(fit.gap, unit)}"),
        ("- weld pull-in, both ears", fit.pull_in, each),
        ("- coating, both ear faces", 2 * fit.coating, ""),
        ("- shims, both sides", 2 * fit.shim, ""),
        ("= clearance at last", fit.final_clearance, ""),
        ("dummy spacer to weld with", mount.dummy.length, "bolted in until cold, shims beside it"),
    ]
    return [(what, shown(mm, unit), note) for what, mm, note in rows]


def _ways(mount: Mount, unit: str) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = [
        ("inner", "outer", "gap", "clearance", "residual", "shim each", "shift")
    ]
    good = [f for f in mount.fits if f.excess >= -SLACK]
    short = [f for f in mount.fits if f.excess < -SLACK]
    for f in [*good, *short[:SHORT_ONES]]:
        figures = (f.gap, f.clearance, f.excess, f.shim, f.shift)
        rows.append(
            (pad_text(f.inner, unit), pad_text(f.outer, unit), *(shown(v, unit) for v in figures))
        )
    return rows


def _bolts(mount: Mount, unit: str) -> None:
    first = mount.bolts[0]
    near, far = (shown(plane, unit) for plane in first.shear_planes)
    print(
        f"  bolt {mount.bolt.size}, from under the head: shear planes at {near} and {far}, far ear "
        f"ends at {shown(first.ears_end, unit)}, grip {shown(first.grip, unit)}"
    )
    rows: list[tuple[str, ...]] = [
        ("", "length", "thread from", "body to", "washers", "threads showing", "verdict")
    ]
    own = [mount.in_hand] if mount.in_hand else []
    rows += [_bolt_row(mount, b, unit) for b in [*own, *_about(mount.bolts)]]
    table(rows, numbers=range(2, 6), indent="    ")


def _about(bolts: Sequence[BoltFit]) -> Sequence[BoltFit]:
    """Return the lengths round the first that is long enough."""
    first = next((k for k, b in enumerate(bolts) if b.long_enough), len(bolts))
    return bolts[max(0, first - BEFORE) : first + AFTER]


def _bolt_row(mount: Mount, bolt: BoltFit, unit: str) -> tuple[str, ...]:
    mark = "buy" if bolt is mount.bolt_fit else ""
    if bolt is mount.in_hand:
        mark = "in hand, use" if mark else "in hand"
    return (
        mark,
        length_text(bolt.length, unit),
        shown(bolt.thread_start, unit),
        shown(bolt.body_end, unit),
        str(2 + bolt.extra_washers),
        f"{bolt.threads_showing:.1f}",
        bolt.verdict,
    )
