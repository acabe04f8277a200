"""Seams of the pads between a rail and a mount's plates: each mating edge once, stacked or not."""

from __future__ import annotations

from collections import Counter

from partgen.fit.fit import Fit, Pad
from partgen.fit.mount import Mount
from partgen.plates.edges import edges_of, is_closed
from partgen.plates.plate import Plate
from partgen.plates.seam import STOP, Seam, which_side

NEXT = "the next pad"


def pad_seams(
    plate: Plate, mount: Mount, thinner_ear: float, each: int, wall: float | None
) -> list[Seam]:
    """Return the seams of one plate of a spacer.

    The pad nearest to the rail is welded to it, the last one to the mount's plate. Of two pads
    stacked the one nearer to the rail has the seam between them; their edges are flush.

    Args:
        plate: the pad.
        mount: whose pad it is.
        thinner_ear: thickness of the thinner of its plates [mm].
        each: spacers of a kind on one side of the vehicle.
        wall: of the rail; None where it is not known [mm].
    """
    fit = mount.fit
    meets = Counter[str]()
    for name, pad in stacks(fit):
        for k, piece in enumerate(pieces(name, pad)):
            if piece == plate.name:
                meets += Counter(_mates(k, len(pad), mount.name))
    edges = edges_of(plate.outline) or [plate.outline.segments]
    return [
        Seam(
            edge=which_side(path),
            mate=mate,
            path=path,
            kind="flush" if mate == NEXT else "fillet",
            sides=1,
            lap=True,
            beside=wall if mate == "rail" else thinner_ear,
            hollow=f"rail {mount.rail_between}" if mate == "rail" else "",
            count=count * each,
            stops=(0.0, 0.0) if is_closed(path) else (STOP, STOP),
            note="edges flush: bevel both and fill" if mate == NEXT else "",
        )
        for path in edges
        for mate, count in meets.items()
    ]


def _mates(k: int, of: int, mount: str) -> list[str]:
    """Return what the pad at place ``k`` of a stack is welded to."""
    return [*(["rail"] if k == 0 else []), f"{mount} plate" if k == of - 1 else NEXT]


def stacks(fit: Fit) -> list[tuple[str, Pad]]:
    """Return the two spacers of a mount, by the name of their plates."""
    if fit.inner == fit.outer:
        return [("pad", fit.inner), ("pad", fit.outer)]
    return [("inner", fit.inner), ("outer", fit.outer)]


def pieces(name: str, pad: Pad) -> list[str]:
    """Return the plate's name for each place of a stack; places of one stock share a plate."""
    kinds = list(dict.fromkeys(pad))
    return [name if (k := kinds.index(s)) == 0 else f"{name}-{k + 1}" for s in pad]
