"""Section through the bolt of a pair of ears that no rail stands between: to scale, dimensioned.

On a base or a tube; or one ear beside a rail, its bolt through the rail's two plates and the crush
sleeve. The outer side is on the right, where the bolt's head is.
"""

from __future__ import annotations

from collections.abc import Sequence

from partgen.fit.bolting import BoltFit
from partgen.fit.mount import Mount
from partgen.fit.sleeve import Through
from partgen.measure import length_text
from partgen.packet.dimension import across, far_end, line, rectangle, words
from partgen.packet.picture import METAL, Box, svg
from partgen.packet.section_picture import (
    FILL,
    PAD,
    PEN,
    RAIL,
    SIZE,
    STEEL,
    WIDE,
    Places,
    bolt_drawn,
    figure,
    in_lines,
    joint_drawn,
    reach,
)


def pair_section(mount: Mount, unit: str, webs: Sequence[Box] = ()) -> bytes:
    """Return the section of a pair as SVG, heights from the bolt.

    Args:
        mount: the pair.
        unit: of its figures.
        webs: what joins its ears, seen along the vehicle: least y and z, greatest y and z [mm].
    """
    stack, at = mount.bolt_fit or mount.bolts[-1], _places(mount)
    on, low = (mount.beside, mount.through), -max(mount.room, mount.body_diameter / 2)
    high = max(mount.ear_radius, mount.body_diameter / 2)
    body = [rectangle(x0, z0, x1, z1, FILL, PEN) for x0, z0, x1, z1 in webs]
    body.append(rectangle(at.backs[0], -mount.room, at.ears[0], mount.ear_radius, METAL, PEN))
    if on[0] is not None and on[1] is not None:
        drawn, low, high = _rail(on[0], on[1], low, high)
        body += drawn
    else:
        body.append(rectangle(at.ears[1], -mount.room, at.backs[1], mount.ear_radius, METAL, PEN))
        body.append(line(at.backs[0] - 15, -mount.room, at.backs[1] + 15, -mount.room, RAIL, PEN))
    body += [*joint_drawn(mount, at), *bolt_drawn(stack, mount, at)]
    lines, foot, far = _figures(mount, stack, at, (low, high), unit)
    left, right = reach(stack, at)
    right = max(right, far)
    notes = in_lines(_notes(mount, unit), right - left)
    right = max(right, left + WIDE * SIZE * max(len(text) for text in notes))
    texts = [words(t, left, foot - 1.4 * k * SIZE, SIZE, "start") for k, t in enumerate(notes)]
    title = f"{mount.name}: section through the bolt, {unit}"
    head = words(title, (left + right) / 2, high + 6.6 * SIZE, 1.1 * SIZE)
    box = (left, foot - 1.4 * SIZE * len(notes), right, high + 7 * SIZE)
    return svg([*body, *lines, *texts, head], box, title, 2 * SIZE).encode("utf-8")


def _places(mount: Mount) -> Places:
    first, (inner, outer) = mount.bolts[0], mount.faces
    half, width = mount.middle, mount.fit.joint_width
    return Places(
        rail=(inner, outer),
        ears=(inner, outer),
        backs=(inner - first.far_ear, outer + first.near_ear),
        joint=(half - width / 2, half + width / 2),
        y=0.0,
    )


def _rail(on: Mount, through: Through, low: float, high: float) -> tuple[list[str], float, float]:
    """Return rail, sleeve, spacers and plates the bolt goes through, and how far they reach."""
    fit, ears, first = on.fit, on.ears, on.bolts[0]
    bottom, half, sleeve = -through.height, fit.rail_width / 2, through.sleeve
    if ears is None:
        return [], low, high
    corner = min(ears.rail_corner, ears.rail_depth / 2)
    top, at = bottom + ears.rail_depth, (bottom + ears.low, bottom + ears.high)
    inner, outer = on.faces
    drawn = [
        rectangle(-half, bottom, half, top, RAIL, PEN, corner),
        rectangle(-sleeve.length / 2, -sleeve.outside / 2, sleeve.length / 2, sleeve.outside / 2,
                  STEEL, PEN),
        rectangle(inner - first.far_ear, at[0], inner, at[1], METAL, PEN),
        rectangle(outer, at[0], outer + first.near_ear, at[1], METAL, PEN),
    ]  # fmt: skip
    if inner < -half:
        drawn.append(rectangle(inner, at[0], -half, at[1], PAD, PEN))
    if outer > half:
        drawn.append(rectangle(half, at[0], outer, at[1], PAD, PEN))
    return drawn, min(low, bottom), max(high, top)


def _figures(
    mount: Mount, stack: BoltFit, at: Places, ends: tuple[float, float], unit: str
) -> tuple[list[str], float, float]:
    """Return the dimensions, the height of the first note under them, and their greatest x."""
    low, high = ends
    drawn = across(*at.ears, high + 2 * SIZE, f"gap {figure(mount.fit.gap, unit)}", SIZE,
                   (mount.ear_radius, mount.ear_radius))  # fmt: skip
    if mount.beside is not None:
        half = mount.beside.fit.rail_width / 2
        drawn += across(-half, half, high + 2 * SIZE, f"rail {figure(2 * half, unit)}", SIZE,
                        (high, high))  # fmt: skip
    head, first = at.backs[1] + stack.bolt.washer_thickness, mount.bolts[0]
    length = f"{stack.bolt.size} x {length_text(stack.length, unit)} under the head"
    rows = [
        (*at.joint, f"joint {figure(mount.fit.joint_width, unit)}"),
        (at.backs[0], at.ears[0], f"ear {figure(first.far_ear, unit)}"),
        (*at.backs, f"over all plates {figure(at.backs[1] - at.backs[0], unit)}"),
        (head - stack.thread_start, head, "plain " + figure(stack.thread_start, unit)),
        (head - stack.length, head, length),
    ]
    step = 2.2 * SIZE
    for k, (x0, x1, text) in enumerate(rows, 1):
        drawn += across(x0, x1, low - k * step, text, SIZE, (low, low))
    far = max(far_end(x0, x1, text, SIZE) for x0, x1, text in rows)
    return drawn, low - step * len(rows) - 2.5 * SIZE, far


def _notes(mount: Mount, unit: str) -> list[str]:
    fit, dummy, chosen = mount.fit, mount.dummy, mount.bolt_fit
    notes = [
        f"clearance {figure(fit.clearance, unit)} before welding = gap {figure(fit.gap, unit)} - "
        f"joint {figure(fit.joint_width, unit)}",
        f"dummy spacer {figure(dummy.length, unit)} long, outside at least "
        f"{figure(dummy.outside, unit)}, bore {figure(dummy.bore, unit)}",
        f"bolt {figure(mount.room, unit)} off the {mount.sits_on}",
    ]
    if mount.through is not None:
        sleeve = mount.through.sleeve
        notes.append(
            f"crush sleeve {figure(sleeve.length, unit)} long, outside "
            f"{figure(sleeve.outside, unit)}, in rail {mount.through.rail}"
        )
    return [*notes, f"bolt: {chosen.verdict if chosen else 'no stock length does'}"]
