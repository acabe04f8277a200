"""What one failure mode can carry by one clause; screening only, never a load to rely on."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isfinite

from partgen.cautions import LABEL
from partgen.errors import MeasureError


@dataclass(frozen=True, kw_only=True)
class Capacity:
    """One failure mode's strength.

    Attributes:
        mode: how it fails, for example "tear-out".
        nominal: strength before any reduction [N].
        phi: what the document multiplies it by, against factored loads [-].
        omega: what the document divides it by, against unfactored loads; 0 where it has none [-].
        clause: document and clause.
        assumptions: what was taken for granted.
        label: always "screening only".
    """

    mode: str
    nominal: float
    phi: float
    omega: float = 0.0
    clause: str
    assumptions: str
    label: str = field(default=LABEL, init=False)

    @property
    def design(self) -> float:
        """Reduced strength, to set against force times the user's own factor [N]."""
        return self.phi * self.nominal

    @property
    def allowable(self) -> float | None:
        """Strength divided by omega, to set against the unfactored force; None if none [N]."""
        return self.nominal / self.omega if self.omega else None


def weakest(capacities: list[Capacity]) -> Capacity:
    """Return the capacity with the least design strength.

    Raises:
        ValueError: the list is empty.
    """
    return min(capacities, key=lambda c: c.design)


def need_positive(**values: float) -> None:
    """Refuse sizes and strengths that are not above zero.

    Raises:
        MeasureError: naming each one.

    Examples:
        >>> need_positive(t=6.0)
    """
    wrong = [name for name, value in values.items() if not (isfinite(value) and value > 0)]
    if wrong:
        raise MeasureError([f"{name} = {values[name]:g}: must be more than 0" for name in wrong])
