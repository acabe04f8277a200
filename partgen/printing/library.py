"""The library: joints and tube sections."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from partgen.entries.library import Library, user_folder
from partgen.errors import PartgenError, nearest
from partgen.measure import length_text
from partgen.printing.text import print_json, table
from partgen.reference.bolt import Bolt


def library(found: Library, name: str | None, *, as_json: bool) -> None:
    """Print every record, or one as it could stand in a library file.

    Raises:
        PartgenError: no such record.
    """
    records: dict[str, BaseModel] = {**found.joints, **found.sections}
    if name is not None:
        if name not in records:
            raise PartgenError(f"library: no '{name}'; {_hint(name, found)}")
        records = {name: records[name]}
    if as_json:
        print_json({key: {**record_data(r), "source": found.sources[key]}
                    for key, r in records.items()})  # fmt: skip
        return
    if name is not None:
        kind = "joint" if name in found.joints else "section"
        print(f"# {found.sources[name]}\n[{kind}.{name}]")
        for key, value in record_data(records[name]).items():
            print(f'{key} = "{_text(key, value)}"')
        return
    for kind, things in (("joint", found.joints), ("section", found.sections)):
        print(f"{kind}s:")
        table([(key, _sizes(r)) for key, r in things.items()], indent="  ")
    for source in dict.fromkeys(found.sources.values()):
        print(f"source: {source}")
    print(f'Your own file: beside the job or in {user_folder()}, library = "..." in [job].')


def record_data(record: BaseModel) -> dict[str, Any]:
    """Return what a record says, by the keys it is typed with; lengths in mm."""
    values = {f.alias or key: getattr(record, key) for key, f in type(record).model_fields.items()}
    typed = {f.alias or key for key, f in type(record).model_fields.items()
             if key in record.model_fields_set}  # fmt: skip
    return {
        key: value.size if isinstance(value, Bolt) else value
        for key, value in values.items()
        if value is not None and key in typed
    }


def _sizes(record: BaseModel) -> str:
    data = record_data(record)
    return ", ".join(
        f"{key.replace('_', ' ')} {_text(key, value)}"
        for key, value in data.items()
        if key != "note"
    )


def _text(key: str, value: Any) -> str:
    if not isinstance(value, float):
        return str(value)
    return f"{value:g} deg" if key == "max_misalignment" else length_text(value, "mm")


def _hint(name: str, found: Library) -> str:
    hint = nearest(name, [*found.joints, *found.sections])
    return "partgen library lists them" if hint.startswith("known") else hint
