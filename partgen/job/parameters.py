"""The parameters of a table of the job file: unit, default, limits, words, from its own model."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from partgen.fields import descriptions

_UNIT = re.compile(r"\s*\[([^\]]+)\]\.?$|\s*\[([^\]]+)\]\.$")
_BOUNDS = {"gt": "over {}", "ge": "from {}", "lt": "under {}", "le": "to {}"}


@dataclass(frozen=True)
class Parameter:
    """One key of a table.

    Attributes:
        name: the key.
        unit: "mm", "degrees", "-", or nothing.
        default: as text; "required", or "-" where it follows from others.
        limits: as text; nothing where there are none.
        text: what it means.
        entry: the model of a table, or of tables, that it holds.
        form: how that is typed: one table, a list of them, or each under a name.
    """

    name: str
    unit: str
    default: str
    limits: str
    text: str
    entry: type[BaseModel] | None
    form: str


def parameters(model: type[BaseModel]) -> list[Parameter]:
    """Return the parameters of a table, in the order of the model's fields."""
    texts = descriptions(model)
    found = []
    for name, field in model.model_fields.items():
        text, unit = _split(texts.get(name, ""))
        found.append(
            Parameter(
                field.alias or name,
                unit,
                _default(field),
                _limits(field),
                text,
                _entry(field.annotation),
                _form(field.annotation),
            )
        )
    return found


def entries(model: type[BaseModel]) -> dict[str, type[BaseModel]]:
    """Return the tables inside a table, by key."""
    return {p.name: p.entry for p in parameters(model) if p.entry is not None}


def _split(text: str) -> tuple[str, str]:
    match = _UNIT.search(text)
    if match is None:
        return text, ""
    return text[: match.start()].rstrip("."), match[1] or match[2]


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "required"
    value = field.default
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, tuple) and value and all(isinstance(v, float) for v in value):
        return "[" + ", ".join(f"{v:g}" for v in value) + "]"
    return str(value) if isinstance(value, str | int) else "-"


def _limits(field: FieldInfo) -> str:
    choices = _choices(field.annotation)
    if choices:
        return " | ".join(choices)
    found: dict[str, Any] = {}
    for extra in (*_extras(field.annotation), *field.metadata):
        for bound in _BOUNDS:
            value = getattr(extra, bound, None)
            if value is not None:
                found[bound] = value
    if "ge" in found and "gt" in found:
        del found["gt" if found["ge"] > found["gt"] else "ge"]
    return " ".join(_BOUNDS[b].format(f"{found[b]:g}") for b in _BOUNDS if b in found)


def _choices(kind: Any) -> list[str]:
    plain = [a for a in get_args(kind) if isinstance(a, str | int) and not isinstance(a, bool)]
    if plain and len(plain) == len(get_args(kind)):
        return [str(a) for a in plain]
    for option in get_args(kind):
        if option is not type(None) and _choices(option):
            return _choices(option)
    return []


def _extras(kind: Any) -> list[Any]:
    """Return the limits of an optional number, or of those in a list."""
    options = {str(a): a for a in get_args(kind) if a is not type(None) and a is not Ellipsis}
    if len(options) != 1:
        return []
    (option,) = options.values()
    given = getattr(option, "__metadata__", ())
    found = [m for extra in given for m in getattr(extra, "metadata", [extra])]
    return found or _extras(option)


def _entry(kind: Any) -> type[BaseModel] | None:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return kind
    for option in get_args(kind):
        found = _entry(option)
        if found is not None:
            return found
    return None


def _form(kind: Any) -> str:
    kinds = {get_origin(kind), *(get_origin(option) for option in get_args(kind))}
    if kinds & {tuple, list}:
        return "[{ ... }]"
    return "{ NAME = { ... } }" if dict in kinds else "{ ... }"
