r"""Ear: one plate that holds a bolt, a bushing or a pin, welded on by its base.

              __
            /    \      radius about the eye at (offset, height)
           |  o   |
          /        \
         /          \
        |            |  foot
        |____________|
            base            base from -base/2 to base/2, at y = 0

Lengths in mm. The face you see is the one towards the middle of the vehicle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from partgen.errors import GeometryError
from partgen.families.base_seams import base_seams
from partgen.families.eared import EaredPart
from partgen.families.openings import RE_ENTRANT
from partgen.families.stands import (
    Foot,
    Stands,
    both_on_one,
    need_places,
    slots_of,
    tab_length,
)
from partgen.fields import Length, Margin, Size
from partgen.geometry.belt import Pin, belt
from partgen.geometry.foot_tabs import INNER, OUTER, foot_of, with_tabs
from partgen.geometry.outline import Outline
from partgen.plates.plate import Plate, Window
from partgen.plates.seam import Seam
from partgen.plates.solid import Solid
from partgen.shop import Shop

FOOT = 6.0  # mm; common practice, no source


class SingleEar(EaredPart):
    """``family = "ear"``.

    Attributes:
        height: from the base to the eye [mm].
        base: length of the welded edge; default three ear radii [mm].
        offset: of the eye from the base's middle [mm].
        foot: height of the base's upright ends [mm].
        blend: radius of a corner that turns inward [mm].
        stands: the part whose plate it stands on, where, and by which tabs.
    """

    family: Literal["ear"]
    height: Size
    base: Size | None = None
    offset: Length = 0.0
    foot: Margin = FOOT
    blend: Margin = RE_ENTRANT
    stands: Stands | None = None

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the ear.

        Raises:
            GeometryError: ear and base do not go together.
        """
        eye = self.eye(shop)
        ear = self.piece("ear", self.outline(eye.radius), eye, [(self.offset, self.height)])
        return self.on_tabs([ear], shop)

    def cuts(self, shop: Shop) -> dict[str, tuple[Window, ...]]:
        """Return the slots for its tabs in the plate it stands on.

        Raises:
            GeometryError: no such plate, or tabs and foot do not go together.
        """
        if self.stands is None:
            return {}
        floor = shop.floor(self.stands.on)
        need_places(self.stands, self.count)
        if not self.stands.tabs:
            return {}
        twice = both_on_one(self.hands_in(shop), floor)
        feet = self._feet(self.stands, self.plain(shop), shop)
        return {floor.key: slots_of(self.name, self.stands, feet, floor, twice=twice)}

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the ear, in the middle."""
        return self.ears_in_space(shop, self.finished(shop))

    def plain(self, shop: Shop) -> list[Plate]:
        """Return the plates as they are without tabs.

        Raises:
            GeometryError: ear and base do not go together.
        """
        return self.model_copy(update={"stands": None}).plates(shop) if self.stands else []

    def on_tabs(self, ears: list[Plate], shop: Shop) -> list[Plate]:
        """Return the ears with the tabs they stand on, if they do.

        Raises:
            GeometryError: no such plate, or tabs and foot do not go together.
        """
        stands = self.stands
        if stands is None or not stands.tabs:
            return ears
        out = tab_length(stands, shop)
        feet = self._feet(stands, ears, shop)
        return [
            replace(ear, outline=with_tabs(ear.outline, foot.tabs, out, stands.relief))
            for ear, foot in zip(ears, feet, strict=True)
        ]

    def _feet(self, stands: Stands, ears: Sequence[Plate], shop: Shop) -> list[Foot]:
        found = []
        for ear, across in zip(ears, self.across(shop, len(ears)), strict=True):
            _, (x0, x1) = foot_of(ear.outline)
            places = OUTER if ear.name == "outer" else INNER
            tabs = stands.foot_tabs(places, x1 - x0, self.plate, shop)
            found.append(Foot(ear.name, across, (x0 + x1) / 2, tabs))
        return found

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the base."""
        return base_seams(plate)

    def outline(self, radius: float) -> Outline:
        """Return the outside edge with an ear of ``radius`` [mm].

        Raises:
            GeometryError: the eye is too near the base, or foot and ear collide.
        """
        if self.height < radius:
            raise GeometryError(
                f"height = {self.height:g} mm is less than the ear's radius, {radius:g} mm; raise "
                "the eye"
            )
        half = (3 * radius if self.base is None else self.base) / 2
        pins = [Pin(-half, 0.0), Pin(half, 0.0)]
        if self.foot:
            pins.append(Pin(half, self.foot, 0.0, self.blend))
        pins.append(Pin(self.offset, self.height, radius))
        if self.foot:
            pins.append(Pin(-half, self.foot, 0.0, self.blend))
        return belt(pins)
