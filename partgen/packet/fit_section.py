"""The fit of each mount on the page: section through the bolt, and the sum across the vehicle."""

from __future__ import annotations

from partgen.fit.fit import pad_text
from partgen.fit.mount import Mount
from partgen.job.build import Build
from partgen.measure import in_unit, length_text, shown
from partgen.packet.html import Html, bullets, inside, picture, section, table, tag
from partgen.packet.mount_section import mount_section

WIDTH = 160.0  # mm


def fit_section(build: Build) -> Html:
    """Return the fit of every mount; nothing where the job has none."""
    if not build.mounts:
        return inside()
    return section("Fit at the bolt", "fit", *(_mount(mount, build) for mount in build.mounts))


def _mount(mount: Mount, build: Build) -> Html:
    unit = build.job.unit
    rows = [(name, shown(value, unit), note) for name, value, note in fit_rows(mount, unit)]
    ways = mount.fit.ways_out(unit)
    return tag(
        "article",
        tag("h3", f"{mount.name}, {mount.pieces} of it"),
        _section(mount, build),
        table(("", unit, "note"), rows, (1,), narrow=True),
        *([tag("p", "The rail is wider than the joint. Ways out:"), bullets(ways)] if ways else []),
        tag("p", _bolt_text(mount, unit)),
        class_="plate",
    )


def _section(mount: Mount, build: Build) -> Html:
    drawn = mount_section(build, mount).decode("utf-8")
    return picture(drawn, "Section through the bolt, inner side left.", WIDTH, fine=True)


def fit_rows(mount: Mount, unit: str) -> list[tuple[str, float, str]]:
    """Return what the gap is made of and what is left: name, value [mm], note."""
    fit = mount.fit
    inner, outer = pad_text(fit.inner, unit), pad_text(fit.outer, unit)
    rows = [
        ("rail width", fit.rail_width, ""),
        ("spacer, inner", fit.spacers[0], inner),
        ("spacer, outer", fit.spacers[1], outer),
    ]
    rows = [
        *(rows if mount.rail_between else []),
        (f"gap between {mount.ears_text}", fit.gap, f"{mount.gap_text}, before welding"),
        ("joint width", fit.joint_width, "measured beats nominal"),
        ("clearance, both sides", fit.clearance, f"wanted {shown(fit.side_clearance, unit)}"),
    ]
    if fit.coating:
        rows.append(("coating, each face", fit.coating, "paint or powder"))
    if fit.pull_in:
        rows.append(("closed by welding", fit.pull_in, "expected, both ears"))
    if fit.coating or fit.pull_in:
        rows.append(("clearance at last", fit.final_clearance, "below zero it does not go in"))
    rows.append(("dummy spacer", mount.dummy.length, "between the ears while welding"))
    if mount.through:
        rows.append(("crush sleeve", mount.through.sleeve.length, f"in rail {mount.through.rail}"))
    if fit.shim:
        rows.append(("shim, each side", fit.shim, "between joint and ear"))
    if fit.shift:
        rows.append(("joint off the rail's centre", fit.shift, "outward"))
    return rows


def _bolt_text(mount: Mount, unit: str) -> str:
    fit = mount.bolt_fit
    if fit is None:
        return f"Bolt {mount.bolt.size}: no stock length does; see the findings."
    return in_unit(
        f"Bolt {fit.bolt.size} x {length_text(fit.length, unit)}: {fit.verdict}. Grip "
        f"{shown(fit.grip, unit)}, thread starts {shown(fit.thread_start, unit)} under the head, "
        f"far shear plane at {shown(fit.shear_planes[1], unit)} {unit}, "
        f"{fit.threads_showing:.1f} threads showing.",
        unit,
    )
