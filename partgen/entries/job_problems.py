"""Validation errors of a job file as lines a person can act on."""

from __future__ import annotations

from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from partgen.errors import nearest
from partgen.fields import descriptions

_TEXTS = {
    "missing": "is missing",
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be at least {ge:g}",
    "less_than_equal": "must be at most {le:g}",
    "too_short": "needs at least {min_length} entry",
    "too_long": "has more than {max_length} entries",
    "string_too_long": "is longer than {max_length} characters",
    "literal_error": "must be {expected}",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "int_parsing": "must be a whole number",
    "string_type": "must be text in quotes",
    "dict_type": "must be a table",
    "model_type": "must be a table",
    "list_type": "must be a list; tables of one kind stand under double brackets, as [[part]]",
    "tuple_type": "must be a list in brackets, as [120, 40]",
}
KINDS = ("int", "Corner")
_NAME_PATTERN = "use lower-case letters, digits and single hyphens, a letter first"


def problems_of(error: ValidationError, model: type[BaseModel], data: Any) -> list[str]:
    """Return one line for each mistake: where, what was given, what to do.

    Args:
        error: as raised by validating ``data``.
        model: the model it was validated by.
        data: the raw table.
    """
    items = [dict(item) for item in error.errors(include_url=False)]
    return list(dict.fromkeys(_line(item, model, data) for item in _likeliest(items)))


def _likeliest(items: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return the mistakes less the names of kinds that a value may be of.

    Of a value that is of none of its kinds, what the kind says that it comes nearest to: whose
    mistake lies deepest in it.
    """
    chosen: dict[tuple[Any, ...], tuple[int, list[dict[str, Any]]]] = {}
    for item in items:
        loc = item["loc"]
        at = next((k for k, step in enumerate(loc) if _is_kind(step, loc[k + 1 :])), len(loc))
        deep = len(loc) - at
        best, there = chosen.get(loc[:at], (deep, []))
        if deep >= best:
            steps = tuple(s for k, s in enumerate(loc) if not _is_kind(s, loc[k + 1 :]))
            there = there if deep == best else []
            chosen[loc[:at]] = deep, [*there, {**item, "loc": steps, "whole": loc}]
    return [item for _, found in chosen.values() for item in found]


def _is_kind(step: Any, rest: tuple[Any, ...]) -> bool:
    """Tell whether a step of a place is no key but a kind of value, as the validator calls it."""
    named = isinstance(step, str) and rest[:1] != ("[key]",)
    return named and (step in KINDS or step.startswith(("tuple[", "function-", "constrained-")))


def _line(item: dict[str, Any], model: type[BaseModel], data: Any) -> str:
    loc = [part for part in item["loc"] if part != "[key]"]
    where = _where(loc)
    if item["type"] == "extra_forbidden":
        known = _model_at(model, [part for part in item["whole"] if part != "[key]"][:-1])
        hint = nearest(str(loc[-1]), _keys(known)) if known else "remove it"
        return f"{where}: unknown key; {hint}"
    text = _text(item)
    if item["type"] == "missing":
        return f"{where} is missing{_meaning(model, loc)}"
    given = item.get("input")
    if isinstance(given, dict) and item["type"] == "tuple_type":
        return f"{where} must be a list of tables, as [{{ ... }}]"
    if not isinstance(given, str | int | float):
        return f"{where or 'table'} {text}" if item["type"] in _TEXTS else _joined(where, text)
    shown = _shown(given)
    if text.startswith((shown, str(given)[:1000], f"'{given}'")) or (
        isinstance(given, str) and given[:20] in text
    ):
        return f"{where}: {text}"
    return f"{where} = {shown}: {text}"


def _shown(given: str | int | float) -> str:
    if isinstance(given, bool):
        return str(given).lower()
    return f"'{given[:40]}'" if isinstance(given, str) else _number(given)


def _number(given: int | float) -> str:
    try:
        return f"{given:.12g}"
    except OverflowError:
        return f"{str(given)[:12]}... ({len(str(given))} digits)"


def _meaning(model: type[BaseModel], loc: list[Any]) -> str:
    """Return what a missing key means, as the table it belongs to says it."""
    known = _model_at(model, loc[:-1])
    text = descriptions(known).get(str(loc[-1]), "") if known else ""
    return f": {text.rstrip('.').removesuffix(' [mm]')}" if text else ""


def _keys(model: type[BaseModel]) -> list[str]:
    """Return the keys a table of this kind may have, as they are typed."""
    return [field.alias or name for name, field in model.model_fields.items()]


def _joined(where: str, text: str) -> str:
    return f"{where}: {text}" if where else text


def _text(item: dict[str, Any]) -> str:
    kind, context = item["type"], item.get("ctx", {})
    if kind == "string_pattern_mismatch":
        return "cannot hold control characters" if "x00" in context["pattern"] else _NAME_PATTERN
    if kind in _TEXTS:
        return _TEXTS[kind].format(**context)
    message: str = item["msg"]
    return message.removeprefix("Value error, ")


def _where(loc: list[Any]) -> str:
    text = ""
    for part in loc:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else str(part)
    return text


def _model_at(model: type[BaseModel], loc: list[Any]) -> type[BaseModel] | None:
    """Return the model whose table ``loc`` leads to."""
    here: Any = model
    for step in loc:
        if isinstance(step, str) and _is_model(here):
            field = here.model_fields.get(step)
            here = field.annotation if field else None
        else:
            here = get_args(here)[-1 if isinstance(step, str) else 0] if get_args(here) else None
        here = _inside_optional(here)
    return here if _is_model(here) else None


def _inside_optional(kind: Any) -> Any:
    if hasattr(kind, "__metadata__"):
        return _inside_optional(get_args(kind)[0])
    options = [k for k in get_args(kind) if k is not type(None)]
    if type(None) in get_args(kind) and len(options) == 1:
        return _inside_optional(options[0])
    return kind


def _is_model(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)
