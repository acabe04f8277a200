"""An ear that stands on another part's plate: where, at which plan angle, and by which tabs.

The ear's x runs along ``angle`` in that plate's drawing; the pair stands astride ``at``. Tabs go
through slots in the plate, one way only. On a plate that is made once across the vehicle, the ears
of the right side stand mirrored about the middle of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from partgen.entries.stock import Stock
from partgen.errors import GeometryError
from partgen.families.bridge import CUT_TOLERANCE, RELIEF, SLOT_RADIUS, THICKER
from partgen.fields import Angle, At, Entry, Margin, Name, Size
from partgen.geometry.foot_tabs import FootTabs, need_one_way
from partgen.geometry.outline import Outline, cos_sin
from partgen.plates.plate import Plate, Window
from partgen.plates.solid import Frame, Solid, cross
from partgen.shop import Floor, Shop


class Footing(Entry):
    """One more place of such ears.

    Attributes:
        at: as drawn in the plate they stand on [mm].
        angle: of the ears' x there, anticlockwise [degrees].
        face: "near": the one you see in that plate's drawing; or "far".
        piece: which of that part's placed pieces, where it is made more than once.
    """

    at: At
    angle: Angle = 0.0
    face: Literal["near", "far"] = "near"
    piece: int = Field(default=1, ge=1, le=100, strict=True)

    def spot(self) -> Frame:
        """Return the axes of the ears in those of the plate's drawing: x along, z off the face."""
        c, s = cos_sin(self.angle)
        up = 1.0 if self.face == "near" else -1.0
        return Frame((*self.at, 0.0), (c, s, 0.0), cross((0.0, 0.0, up), (c, s, 0.0)))

    def on_plate(self, carrier: Solid) -> Frame:
        """Return the axes of the ears in space, on a placed plate."""
        low, high = sorted((0.0, carrier.depth))
        spot, out = self.spot(), high if self.face == "near" else low
        origin = carrier.frame.at(self.at, out)
        return Frame(origin, carrier.frame.direction(spot.u), carrier.frame.direction(spot.v))


class Stands(Footing):
    """``stands`` of an ear.

    Attributes:
        on: name of the part whose plate it stands on.
        more: further places; with the first one as many as ``count``.
        tabs: false only welds it on.
        measured: thickest place of the ears' plate as measured; default nominal + 0.25 mm [mm].
        cut_tolerance: of one cut edge [mm].
        proud: how far tabs stand out of the plate, for a weld beyond; 0 is flush [mm].
        relief: radius of the relief beside a tab [mm].
        slot_radius: of the slots' corners, which lie beyond the tab [mm].
    """

    on: Name
    more: tuple[Footing, ...] = Field(default=(), max_length=99)
    tabs: bool = True
    measured: Size | None = None
    cut_tolerance: Size = Field(default=CUT_TOLERANCE, le=3)
    proud: Margin = 0.0
    relief: Size = RELIEF
    slot_radius: Size = SLOT_RADIUS

    @property
    def footings(self) -> tuple[Footing, ...]:
        """Every place, the first one first."""
        return (self, *self.more)

    def foot_tabs(
        self, places: tuple[float, float], foot: float, stock: Stock, shop: Shop
    ) -> FootTabs:
        """Return the tabs of one ear.

        Args:
            places: of the long and the short tab, as parts of the foot.
            foot: its length [mm].
            stock: what the ear is cut from.
            shop: knows the plate it stands on.

        Raises:
            GeometryError: no such plate, or the foot is too short.
        """
        thickest = max(self.measured or stock.thickness + THICKER, stock.thickness)
        tabs = FootTabs.of(
            places,
            foot,
            stock.thickness,
            thickest=thickest,
            tolerance=self.cut_tolerance,
            radius=self.slot_radius,
        )
        floor = shop.floor(self.on)
        webs = shop.cutting.web(stock.thickness), shop.cutting.web(floor.stock.thickness)
        need_one_way(foot, tabs, self.relief, webs)
        return tabs


@dataclass(frozen=True)
class Foot:
    """One ear's foot.

    Attributes:
        name: of the ear.
        across: its middle plane off the middle of the pair, the ears' y [mm].
        middle: of the foot along the ears' x [mm].
        tabs: on it.
    """

    name: str
    across: float
    middle: float
    tabs: FootTabs


def slots_of(
    name: str, stands: Stands, feet: Sequence[Foot], floor: Floor, *, twice: bool
) -> tuple[Window, ...]:
    """Return the slots that ears need in the plate they stand on.

    Args:
        name: of the ears' part.
        stands: where.
        feet: of the ears.
        floor: that plate.
        twice: whether the ears of both sides stand on it.
    """
    return tuple(_each(name, stands, feet, floor, twice))


def _each(
    name: str, stands: Stands, feet: Sequence[Foot], floor: Floor, twice: bool
) -> Iterator[Window]:
    for k, footing in enumerate(stands.footings, 1):
        side = 1.0 if footing.face == "near" else -1.0
        for foot in feet:
            for tab, slot in zip(("long", "short"), foot.tabs.slots(), strict=True):
                at = slot.moved(foot.middle, side * foot.across).turned(footing.angle)
                placed = at.moved(*footing.at)
                tag = f"{name}-{foot.name}-{tab}" + (f"-{k}" if stands.more else "")
                yield Window(tag, placed, is_filled=True)
                if twice:
                    yield Window(f"{tag}-right", _mirrored(placed, floor.middle), is_filled=True)


def _mirrored(outline: Outline, middle: float) -> Outline:
    return outline.mirrored().moved(2 * middle, 0.0)


def both_on_one(hands: str, floor: Floor) -> bool:
    """Tell whether the ears of both sides stand on one plate."""
    return hands == "both" and floor.hands != "both"


def need_places(stands: Stands, count: int) -> None:
    """Refuse ears that have no place each.

    Raises:
        GeometryError: there are more or fewer places than ears.
    """
    if len(stands.footings) != count:
        raise GeometryError(
            f"stands: {len(stands.footings)} place(s) for count = {count} on each side; give the "
            "others in 'more'"
        )


def tab_length(stands: Stands, shop: Shop) -> float:
    """Return how far a tab stands out of the foot: through the plate, and proud [mm]."""
    return shop.floor(stands.on).stock.thickness + stands.proud


def floor_of(plates: Sequence[Plate], hands: Literal["both", "left", "right"]) -> Floor:
    """Return what others need to know of the one plate they stand on.

    Raises:
        GeometryError: there is not one plate but several.
    """
    if len(plates) != 1:
        raise GeometryError(
            f"others stand on it, but it makes {len(plates)} plates; only a part with one plate "
            "can carry ears"
        )
    (plate,) = plates
    if plate.bends:
        raise GeometryError("others stand on it, but it is bent; only a flat part can carry ears")
    x0, _, x1, _ = plate.outline.box
    stock = Stock(plate.thickness, plate.material.name)
    return Floor(plate.key, stock, hands, (x0 + x1) / 2)
