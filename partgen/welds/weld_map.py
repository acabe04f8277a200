"""Weld map: every mating edge of a job once, with leg, length, sequence and where to stay away.

Each family says which of its edges mate with what; plug-weld slots and edges that the job names
come beside them. Here they are gathered, given a leg, and put into a sequence. Corners are not
welded round: every run stops short of its ends.

Leg: at least AISC 360-16 Table J2.4 by the thinner part as far as it is known (a rail's or a tube's
wall counts where the job gives it; else a note says so), along a plate's edge at most the
thickness, or 2 mm (1/16 in) less from 6 mm (1/4 in) on (J2.2b). Where nobody named one: three
quarters of the thickness between those two (common practice, no source). Runs shorter than 4 legs
(J2.2b) say so. Screening only: no strength is claimed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from partgen.families.part import Part
from partgen.families.spacer import Spacer
from partgen.geometry.chain import length
from partgen.job.build import Build
from partgen.measure import point_text
from partgen.plates.edges import SHORT
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam, slot_seam
from partgen.welds.sequence import in_sequence, middle
from partgen.welds.weld import Weld, mirrored, weld_of


def weld_map(build: Build) -> tuple[list[Weld], list[str]]:
    """Return every weld in its sequence, and what there is to say of plates without one."""
    parts = {part.name: part for part in build.job.parts}
    by_plate: list[list[Weld]] = []
    notes: list[str] = []
    for plate in build.plates:
        part = parts[plate.part]
        drawn = plate.mirrored() if plate.hand == "right" else plate
        seams = list(_seams(part, drawn, build))
        short = [seam for seam in seams if _is_short(seam)]
        notes += [*_about_short(plate.key, short), *_about_walls(seams)]
        seams = [seam for seam in seams if seam not in short]
        if all(s.piece for s in seams) and part.NO_SEAM and part.welded is None:
            notes.append(f"{plate.key}: {part.NO_SEAM}")
        by_plate.append([_weld(seam, part, plate, drawn, build) for seam in seams])
    notes += _about_spacers(build)
    return in_sequence(by_plate), list(dict.fromkeys(notes))


def _seams(part: Part, drawn: Plate, build: Build) -> Iterator[Seam]:
    yield from part.all_seams(drawn, build.shop)
    for k, slot in enumerate(part.features.slots, 1):
        if not slot.plates or drawn.name in slot.plates:
            yield slot_seam(slot.name or f"slot-{k}", slot, drawn)


def _weld(seam: Seam, part: Part, plate: Plate, drawn: Plate, build: Build) -> Weld:
    """Return a seam's weld on a plate of either hand; a plate alike on both counts for both."""
    both = plate.hand == "same" and part.hands_in(build.shop) == "both"
    pieces = plate.count if seam.count is None else seam.count * (2 if both else 1)
    owner = replace(plate, name=seam.piece) if seam.piece else plate
    weld = weld_of(seam, drawn, pieces, build.shop)
    weld = replace(weld, plate=owner.label, key=owner.key)
    if plate.hand != "right":
        return weld
    return replace(weld, path=mirrored(weld.path), run=mirrored(weld.run))


def _is_short(seam: Seam) -> bool:
    """Tell whether a seam is a piece of edge too short for a weld that stops at its ends."""
    return seam.kind == "fillet" and any(seam.stops) and length(seam.path) < SHORT


def _about_short(key: str, short: Sequence[Seam]) -> list[str]:
    if not short:
        return []
    each = ", ".join(
        f"{s.edge.split(' at ')[0]} at {point_text(middle(s.path))}, {length(s.path):.1f} mm, to "
        f"{s.mate}"
        for s in short
    )
    return [
        f"{key}: edges under {SHORT:g} mm stay unwelded, too short to stop at both ends: {each}"
    ]


def _about_walls(seams: Sequence[Seam]) -> list[str]:
    hollow = dict.fromkeys(s.hollow for s in seams if s.hollow and s.beside is None)
    return [
        f"{name}: its wall is not known, legs of welds to it are by the plate; give 'wall' and "
        "they are by the thinner of the two"
        for name in hollow
    ]


def _about_spacers(build: Build) -> list[str]:
    has = {p.mount for p in build.job.parts if isinstance(p, Spacer)}
    return [
        f"{m.name}: a spacer's edge must end a leg short of the plate's edge or a leg beyond it, "
        "or one of its fillets has no room"
        if m.name in has
        else f"{m.name}: its fit has spacers but the job has no spacer part: plan their welds"
        for m in build.mounts
        if any(m.fit.spacers)
    ]
