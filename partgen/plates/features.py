"""Features that any part may carry, whatever its family: what is cut into its plates afterwards.

Plug-weld slots, drain holes, openings, cutouts that break an edge, snipes and witness notches; in
the part's own drawing, for handed parts the left-hand one. Every inside corner ends up rounded, by
the part's ``inside_radius``, unless ``sharp = true`` asks for the sharp one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from pydantic import Field

from partgen.errors import GeometryError, nearest
from partgen.fields import Entry
from partgen.geometry.rounding import round_where
from partgen.plates.edge_feature import Cutout, Notch, Snipe
from partgen.plates.feature import Drain, Opening, Slot
from partgen.plates.plate import Plate, Window

_ONE = {
    "slots": "slot",
    "drains": "drain",
    "openings": "opening",
    "cutouts": "cutout",
    "snipes": "snipe",
    "notches": "notch",
}


class Features(Entry):
    """``features`` of a part.

    Attributes:
        slots: plug-weld slots.
        drains: drain holes.
        openings: lightening and other openings.
        cutouts: cuts that break the outside edge.
        snipes: corners cut off.
        notches: witness notches.
    """

    slots: tuple[Slot, ...] = Field(default=(), max_length=200)
    drains: tuple[Drain, ...] = Field(default=(), max_length=200)
    openings: tuple[Opening, ...] = Field(default=(), max_length=200)
    cutouts: tuple[Cutout, ...] = Field(default=(), max_length=200)
    snipes: tuple[Snipe, ...] = Field(default=(), max_length=200)
    notches: tuple[Notch, ...] = Field(default=(), max_length=200)

    def _all(self) -> Iterator[tuple[str, Slot | Drain | Opening | Cutout | Snipe | Notch]]:
        for kind, one in _ONE.items():
            for k, feature in enumerate(getattr(self, kind), 1):
                yield feature.name or f"{one}-{k}", feature

    def on(self, plates: Sequence[Plate]) -> list[Plate]:
        """Return a part's plates with the features cut into them.

        Raises:
            GeometryError: a feature names no plate of the part, or does not fit.
        """
        known = [p.name for p in plates]
        problems = [
            f"features: {name}: plates = '{plate}': no such plate; {nearest(plate, known)}"
            for name, feature in self._all()
            for plate in feature.plates
            if plate not in known
        ]
        if problems:
            raise GeometryError(problems)
        return [self._cut(plate) for plate in plates]

    def _cut(self, plate: Plate) -> Plate:
        edge, windows = plate.outline, list(plate.windows)
        for name, feature in self._all():
            if feature.plates and plate.name not in feature.plates:
                continue
            try:
                if isinstance(feature, Cutout | Snipe | Notch):
                    edge = feature.cut(edge)
                else:
                    windows.append(Window(name, feature.outline()))
            except GeometryError as error:
                raise GeometryError(f"{plate.key}: {name}: {error}") from None
        if edge is plate.outline and len(windows) == len(plate.windows):
            return plate
        return replace(plate, outline=edge, windows=tuple(windows))


def without_sharp_corners(plate: Plate, radius: float) -> Plate:
    """Return the plate with every sharp inside corner of the metal rounded.

    Raises:
        GeometryError: the radius finds no room; the corner is named.
    """
    try:
        edge = round_where(plate.outline, radius, lambda _, turn: turn < 0)
        windows = tuple(
            replace(w, outline=round_where(w.outline, radius, lambda _, turn: turn > 0))
            for w in plate.windows
        )
    except GeometryError as error:
        raise GeometryError(
            f"{plate.key}: sharp inside corner: {error} (inside_radius), or ask for it with "
            "sharp = true"
        ) from None
    if edge is plate.outline and all(
        new.outline is old.outline for new, old in zip(windows, plate.windows, strict=True)
    ):
        return plate
    return replace(plate, outline=edge, windows=windows)
