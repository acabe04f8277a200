"""How a plate may be turned on the sheet, as a job file says it."""

from __future__ import annotations

from math import ceil, isfinite
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from partgen.errors import PartgenError
from partgen.measure import parse_angle

QUARTERS = (0.0, 90.0, 180.0, 270.0)
ANY = 15.0  # degrees; the step that "any" stands for
MOST = 360  # angles


def _turns(value: Any) -> tuple[float, ...]:
    if value == "any":
        value = ANY
    if isinstance(value, list | tuple):
        if not 1 <= len(value) <= MOST:
            raise ValueError(f"a list of turns has 1 to {MOST} angles")
        return tuple(dict.fromkeys(_angle(v) % 360.0 for v in value))
    step = _angle(value)
    if not 1 <= step <= 360:
        raise ValueError(
            f"a step of {step:g} degrees is outside 1 to 360; write 15, 'any', or the angles "
            "allowed as [0, 180]"
        )
    return tuple(k * step for k in range(ceil(360 / step - 1e-9)))


def _angle(value: Any) -> float:
    try:
        angle = parse_angle(value)
    except PartgenError as error:
        raise ValueError(f"{error}; write a step, 'any', or a list as [0, 180]") from None
    if not isfinite(angle):
        raise ValueError("an angle must be finite")
    return angle


Turns = Annotated[
    tuple[float, ...],
    BeforeValidator(_turns),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "number"},
                {"type": "string"},
                {"type": "array", "items": {"anyOf": [{"type": "number"}, {"type": "string"}]}},
            ],
            "description": "a step in degrees, 'any' (a step of 15), or the angles allowed: [0]",
        }
    ),
]
