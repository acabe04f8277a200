"""The families of parts and their parameters."""

from __future__ import annotations

import re
import sys
from typing import Any

from partgen.errors import PartgenError, nearest
from partgen.families import FAMILIES
from partgen.printing.text import print_json, table


def families(name: str | None, *, as_json: bool) -> None:
    """Print the families, or one family's sketch and parameters.

    Raises:
        PartgenError: no such family.
    """
    if name is None:
        listed = {
            key: _first_line(sys.modules[f.__module__].__doc__) for key, f in FAMILIES.items()
        }
        if as_json:
            print_json(listed)
        else:
            table([(key, text) for key, text in listed.items()])
        return
    if name not in FAMILIES:
        raise PartgenError(f"family '{name}' is not known; {nearest(name, FAMILIES)}")
    family = FAMILIES[name]
    if as_json:
        print_json(family.model_json_schema())
        return
    print((sys.modules[family.__module__].__doc__ or "").strip() + "\n")
    texts: dict[str, str] = {}
    for parent in reversed(family.__mro__):
        texts |= dict(re.findall(r"^\s+(\w+): (.+)$", parent.__doc__ or "", re.MULTILINE))
    rows = [("parameter", "default", "")]
    for key, field in family.model_fields.items():
        rows.append((key, _default(field), texts.get(key, "")))
    table(rows)


def _default(field: Any) -> str:
    if field.is_required():
        return "required"
    value = field.default
    if isinstance(value, float):
        return f"{value:g}"
    return str(value) if isinstance(value, str | int) else "-"


def _first_line(doc: str | None) -> str:
    return (doc or "").strip().splitlines()[0].split(": ", 1)[-1]
