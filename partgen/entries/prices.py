"""The shop's own prices, and what a plate costs by them.

No price is shipped: they stand in ``[prices]`` of a cutting profile or of a job. What is not given
costs nothing and is named as left out.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from partgen.fields import Entry, Text
from partgen.plates.plate import Plate

Amount = Annotated[float, Field(ge=0, le=1e9, allow_inf_nan=False)]


class Prices(Entry):
    """``[prices]``: the shop's own, in one currency.

    Attributes:
        currency: shown beside every sum.
        plate_per_kg: of finished metal; put the scrap of a sheet into it.
        cut_per_metre: of cut edge, openings included.
        pierce: each.
        piece: for handling each plate: cleaning, marking, drilling.
    """

    currency: Text = "money"
    plate_per_kg: Amount | None = None
    cut_per_metre: Amount | None = None
    pierce: Amount | None = None
    piece: Amount | None = None

    @property
    def given(self) -> bool:
        """Tell whether any price is given."""
        return self.left_out != list(PRICED)

    @property
    def left_out(self) -> list[str]:
        """Names of the prices that are not given."""
        return [name for name in PRICED if getattr(self, name) is None]

    def over(self, other: Prices) -> Prices:
        """Return these prices, with those of ``other`` where these are not given."""
        return Prices(
            **{**other.model_dump(exclude_unset=True), **self.model_dump(exclude_unset=True)}
        )

    def of(self, plate: Plate) -> float | None:
        """Return what one piece of a plate costs; None where no price is given."""
        if not self.given:
            return None
        return (
            plate.mass * (self.plate_per_kg or 0.0)
            + plate.cut_length / 1000 * (self.cut_per_metre or 0.0)
            + len(plate.outlines) * (self.pierce or 0.0)
            + (self.piece or 0.0)
        )


PRICED = ("plate_per_kg", "cut_per_metre", "pierce", "piece")
