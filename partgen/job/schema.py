"""The job file as JSON Schema, every family in it; units and limits in the descriptions.

Draft 2020-12, as pydantic writes it. Lengths may be numbers, text with a unit or expressions, so
their limits cannot be written as numbers: they are said in words, and checked when a job is read.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from partgen.families import FAMILIES
from partgen.job.job import JobFile
from partgen.job.parameters import Parameter, entries, parameters

LIBRARY_KEYS = {"like", "section"}  # what names a record that fills in the rest
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def job_schema() -> dict[str, Any]:
    """Return the schema of a job file."""
    whole = JobFile.model_json_schema()
    defs = whole.pop("$defs", {})
    refs = []
    for family in FAMILIES.values():
        part = family.model_json_schema()
        defs |= part.pop("$defs", {})
        defs[family.__name__] = part
        refs.append({"$ref": f"#/$defs/{family.__name__}"})
    for model in _models(JobFile, *FAMILIES.values()):
        _describe(model, whole if model is JobFile else defs[model.__name__])
    whole["properties"]["part"] = {
        "type": "array",
        "minItems": 1,
        "description": "what the job makes; the keys of each follow from its family",
        "items": {"type": "object", "required": ["family"], "oneOf": refs},
    }
    whole["properties"]["measures"] = {
        "type": "object",
        "description": "named lengths, to be used in expressions",
        "additionalProperties": {"anyOf": [{"type": "number"}, {"type": "string"}]},
    }
    return {"$schema": DIALECT, **whole, "title": "partgen job", "$defs": defs}


def _models(*roots: type[BaseModel]) -> list[type[BaseModel]]:
    """Return tables and the tables inside them, each once."""
    found = dict.fromkeys(roots)
    for root in roots:
        found |= dict.fromkeys(_models(*entries(root).values()))
    return list(found)


def _describe(model: type[BaseModel], schema: dict[str, Any]) -> None:
    """Put unit, limits and words of each key into the schema of a table."""
    for parameter in parameters(model):
        here = schema["properties"][parameter.name]
        text = _text(parameter, here.get("description", ""))
        if text:
            here["description"] = text
    for key in LIBRARY_KEYS & schema["properties"].keys():
        schema["anyOf"] = [{"required": schema.pop("required", [])}, {"required": [key]}]
    schema["description"] = (model.__doc__ or "").strip().splitlines()[0]


def _text(parameter: Parameter, kind: str) -> str:
    limits = "" if "|" in parameter.limits else parameter.limits
    unit = "" if parameter.unit == "-" else parameter.unit
    numbers = f"{limits} {unit}".strip()
    parts = [parameter.text.rstrip("."), numbers, kind]
    return "; ".join(part for part in parts if part)
