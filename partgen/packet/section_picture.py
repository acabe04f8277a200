"""Section of a mount through the bolt's axis, seen along the vehicle: to scale, dimensioned.

Rail, spacers, ears, shims, joint, bolt with its thread, washers and nut. The outer side is on the
right, where the bolt's head is. Across is true to scale; so is height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap

from partgen.fit.bolting import BoltFit
from partgen.fit.fit import thickness
from partgen.fit.mount import Ears, Mount
from partgen.measure import length_text, shown
from partgen.packet.dimension import across, far_end, line, rectangle, words
from partgen.packet.picture import METAL, svg

FILL = "fill:#8a99a8;fill-opacity:.35;stroke:#3d4b59"
RAIL = "fill:#8a7a5c;fill-opacity:.18;stroke:#8a7a5c"
PAD = "fill:#c08a3e;fill-opacity:.45;stroke:#3d4b59"
SOFT = "fill:#5c8a6a;fill-opacity:.3;stroke:#3d4b59"
STEEL = "fill:#5a6875;fill-opacity:.55;stroke:#3d4b59"
THREAD = "stroke:#3d4b59"
SIZE = 5.5  # mm, height of figures
WIDE = 0.58  # of a letter's height, its width
NOTE = 44  # letters in a line that a note may always have
PEN = 0.35  # mm


@dataclass(frozen=True)
class Places:
    """Where things lie across the vehicle, zero on the rail's centre, outer side right [mm].

    Attributes:
        rail: the two faces of the rail, inner then outer.
        ears: inner faces of the ears, inner then outer.
        backs: outer faces of the ears.
        joint: the two faces of the joint.
        y: of the bolt, above the rail's lower edge.
    """

    rail: tuple[float, float]
    ears: tuple[float, float]
    backs: tuple[float, float]
    joint: tuple[float, float]
    y: float


def section_picture(mount: Mount, unit: str) -> bytes | None:
    """Return the section of a mount as SVG; None where its ears are not known."""
    stack = mount.bolt_fit or mount.bolts[-1]
    if mount.ears is None:
        return None
    at = _places(mount, stack)
    body = [
        *_rail_and_pads(mount, mount.ears, at),
        *_ears(mount.ears, at),
        *joint_drawn(mount, at),
        *bolt_drawn(stack, mount, at),
    ]
    bottom = at.y - max(mount.ears.radius, mount.body_diameter / 2)
    top = mount.ears.rail_depth
    lines, height, far = _figures(mount, stack, at, (bottom, top), unit)
    left, right = reach(stack, at)
    half = max(4 * SIZE + max(right, -left), far)
    notes = in_lines(_notes(mount, unit), 2 * half)
    half = max(WIDE * SIZE * max(len(text) for text in notes) / 2, half)
    foot = bottom - height - 2.5 * SIZE
    texts = [words(t, -half, foot - 1.4 * k * SIZE, SIZE, "start") for k, t in enumerate(notes)]
    box = (-half, foot - 1.4 * SIZE * len(notes), half, top + 7 * SIZE)
    title = f"{mount.name}: section through the bolt, {unit}"
    head = words(title, 0.0, top + 6.6 * SIZE, 1.1 * SIZE)
    return svg([*body, *lines, *texts, head], box, title, 2 * SIZE).encode("utf-8")


def _places(mount: Mount, stack: BoltFit) -> Places:
    fit = mount.fit
    half = fit.rail_width / 2
    inner, outer = -half - fit.spacers[0], half + fit.spacers[1]
    middle = (inner + outer) / 2
    return Places(
        rail=(-half, half),
        ears=(inner, outer),
        backs=(inner - stack.far_ear, outer + stack.near_ear),
        joint=(middle - fit.joint_width / 2, middle + fit.joint_width / 2),
        y=-mount.room,
    )


def _rail_and_pads(mount: Mount, ears: Ears, at: Places) -> list[str]:
    corner = min(ears.rail_corner, ears.rail_depth / 2)
    drawn = [rectangle(at.rail[0], 0, at.rail[1], ears.rail_depth, RAIL, PEN, corner)]
    for face, way, pad in ((at.rail[0], -1, mount.fit.inner), (at.rail[1], 1, mount.fit.outer)):
        x = face
        for plate in pad:
            far = x + way * plate.thickness
            drawn.append(rectangle(x, ears.low, far, ears.high, PAD, PEN))
            x = far
    return drawn


def _ears(ears: Ears, at: Places) -> list[str]:
    low = at.y - ears.radius
    return [
        rectangle(front, low, back, ears.high, METAL, PEN)
        for front, back in zip(at.ears, at.backs, strict=True)
    ]


def joint_drawn(mount: Mount, at: Places) -> list[str]:
    """Return the joint, and shims beside it."""
    radius, shim = mount.body_diameter / 2, mount.fit.shim
    joint, eye = mount.joint, 0.8 * mount.bolt.diameter
    middle = (at.joint[0] + at.joint[1]) / 2
    wide = mount.fit.joint_width
    if joint is not None:
        wide = joint.housing_width or joint.bush_width or wide
    drawn = [
        rectangle(
            middle - wide / 2, at.y - radius, middle + wide / 2, at.y + radius, SOFT, PEN, 1.0
        ),
        rectangle(at.joint[0], at.y - eye, at.joint[1], at.y + eye, FILL, PEN),
    ]
    if shim:
        reach = mount.bolt.washer_diameter / 2
        for face, way in zip(at.joint, (-1, 1), strict=True):
            drawn.append(rectangle(face, at.y - reach, face + way * shim, at.y + reach, PAD, PEN))
    return drawn


def bolt_drawn(stack: BoltFit, mount: Mount, at: Places) -> list[str]:
    """Return the bolt from its head on the right, as if the gap were drawn shut on the joint."""
    bolt, y = stack.bolt, at.y
    washer = bolt.washer_thickness
    head = at.backs[1] + washer
    radius, tip = bolt.diameter / 2, head - stack.length
    pads = 1 + stack.extra_washers
    seat = at.backs[0] - pads * washer
    drawn = [
        _block(head, head + bolt.head_height, y, bolt.head_flats),
        rectangle(tip, y - radius, head, y + radius, STEEL, PEN, 0.6),
        _block(at.backs[1], head, y, bolt.washer_diameter),
        *(
            _block(
                at.backs[0] - (k + 1) * washer, at.backs[0] - k * washer, y, bolt.washer_diameter
            )
            for k in range(pads)
        ),
        _block(seat - stack.nut_height, seat, y, bolt.nut_flats),
    ]
    start = head - stack.thread_start
    for k in range(int(max(start - tip, 0.0) / bolt.pitch)):
        x = start - k * bolt.pitch
        drawn.append(line(x, y - radius, x - bolt.pitch / 2, y + radius, THREAD, PEN / 2))
    drawn.append(line(start, y - radius, start, y + radius, THREAD, PEN))
    return drawn


def _block(x0: float, x1: float, y: float, high: float) -> str:
    return rectangle(x0, y - high / 2, x1, y + high / 2, STEEL, PEN)


def reach(stack: BoltFit, at: Places) -> tuple[float, float]:
    """Return from where to where bolt and plates reach across, words beside them [mm]."""
    right = at.backs[1] + stack.bolt.washer_thickness + stack.bolt.head_height
    left = at.backs[1] + stack.bolt.washer_thickness - stack.length
    return min(left, at.backs[0]) - 2 * SIZE, right + 2 * SIZE


def _figures(
    mount: Mount, stack: BoltFit, at: Places, ends: tuple[float, float], unit: str
) -> tuple[list[str], float, float]:
    """Return the dimensions, how far those below reach down, and their greatest x."""
    bottom, top = ends
    fit, head = mount.fit, at.backs[1] + stack.bolt.washer_thickness
    high = mount.ears.high if mount.ears else top
    drawn = [
        *across(*at.rail, top + 2 * SIZE, f"rail {figure(fit.rail_width, unit)}", SIZE, (top, top)),
        *across(*at.ears, top + 4 * SIZE, f"gap {figure(fit.gap, unit)}", SIZE, (high, high)),
    ]
    drawn += _sides(mount, stack, at, unit)
    below = [
        (*at.joint, f"joint {figure(fit.joint_width, unit)}", at.y - mount.body_diameter / 2),
        (*at.backs, f"over ears {figure(at.backs[1] - at.backs[0], unit)}", bottom),
        (head - stack.thread_start, head, "plain " + figure(stack.thread_start, unit), at.y),
        (head - stack.length, head,
         f"{stack.bolt.size} x {length_text(stack.length, unit)} under the head", at.y),
    ]  # fmt: skip
    step = 2.2 * SIZE
    for k, (x0, x1, text, origin) in enumerate(below, 1):
        drawn += across(x0, x1, bottom - k * step, text, SIZE, (origin, origin))
    far = max(far_end(x0, x1, text, SIZE) for x0, x1, text, _ in below)
    return drawn, step * len(below), far


def _sides(mount: Mount, stack: BoltFit, at: Places, unit: str) -> list[str]:
    """Return thickness of spacers and ears, beside them."""
    ears = mount.ears
    assert ears is not None
    y = ears.high - 3.5 * SIZE
    rows = [
        (-1, at.backs[0], "inner side", y + 1.5 * SIZE),
        (1, at.backs[1], "outer side", y + 1.5 * SIZE),
        (-1, at.backs[0], f"ear {figure(stack.far_ear, unit)}", y),
        (1, at.backs[1], f"ear {figure(stack.near_ear, unit)}", y),
    ]
    for way, back, pad in ((-1, at.backs[0], mount.fit.inner), (1, at.backs[1], mount.fit.outer)):
        pads = " + ".join(figure(plate.thickness, unit) for plate in pad)
        text = f"spacer {pads}" if thickness(pad) else "no spacer"
        rows.append((way, back, text, y - 1.5 * SIZE))
    return [
        words(text, x + way * SIZE, height, SIZE, "start" if way > 0 else "end")
        for way, x, text, height in rows
    ]


def _notes(mount: Mount, unit: str) -> list[str]:
    fit, dummy = mount.fit, mount.dummy
    notes = [
        f"clearance {figure(fit.clearance, unit)} before welding = gap {figure(fit.gap, unit)} - "
        f"joint {figure(fit.joint_width, unit)}; wanted {figure(fit.side_clearance, unit)}",
        f"less coating 2 x {figure(fit.coating, unit)}, weld pull-in {figure(fit.pull_in, unit)}"
        + (f", shims 2 x {figure(fit.shim, unit)}" if fit.shim else "")
        + f" = {figure(fit.final_clearance, unit)} welded and coated",
        f"dummy spacer {figure(dummy.length, unit)} long, outside at least "
        f"{figure(dummy.outside, unit)}, bore {figure(dummy.bore, unit)}; joint "
        f"{figure(fit.shift, unit)} outward of the rail's centre",
    ]
    chosen = mount.bolt_fit
    return [*notes, f"bolt: {chosen.verdict if chosen else 'no stock length does'}"]


def in_lines(notes: Sequence[str], width: float) -> list[str]:
    """Return notes broken into lines about as wide as the drawing [mm]."""
    most = max(NOTE, int(width / (WIDE * SIZE)))
    return [line for note in notes for line in wrap(note, most, subsequent_indent="    ")]


def figure(mm: float, unit: str) -> str:
    """Return a length as it is written into the picture."""
    return shown(mm, unit)
