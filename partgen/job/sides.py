"""Left and right of a job: rails mirrored by choice, parts that lie on a pair of rails.

A part whose ``rail`` is a table, ``{ left = "...", right = "..." }``, becomes two parts, one for
each side, ``NAME-left`` and ``NAME-right``; so does every part that belongs to it by ``mount``.
"""

from __future__ import annotations

from typing import Any

from partgen.errors import nearest

SIDES = ("left", "right")
KEPT = {"mirror_from", "other_side", "difference"}


def mirrored_rails(data: dict[str, Any]) -> tuple[dict[str, Any], list[str]]:
    """Return a job's raw tables with mirrored rails filled in, and what is wrong."""
    rails = data.get("rail")
    if not isinstance(rails, dict):
        return data, []
    filled: dict[str, Any] = dict(rails)
    problems: list[str] = []
    for name, rail in rails.items():
        source = rail.get("mirror_from") if isinstance(rail, dict) else None
        if not isinstance(source, str):
            continue
        wrong = _why_not(name, rail, source, rails)
        if wrong:
            problems.append(f"rail.{name}{wrong}")
            del filled[name]
        else:
            filled[name] = {**rails[source], **rail}
    return {**data, "rail": filled}, problems


def _why_not(name: str, rail: dict[str, Any], source: str, rails: dict[str, Any]) -> str:
    there = rails.get(source)
    if source == name or not isinstance(there, dict):
        others = [key for key in rails if key != name]
        return f".mirror_from = '{source[:40]}': no such other rail; {nearest(source, others)}"
    if "mirror_from" in there:
        return f".mirror_from = '{source}': is mirrored itself; name the one that was measured"
    extra = sorted(set(rail) - KEPT)
    if extra:
        return f".{extra[0]}: a mirrored rail has no measures of its own; remove it or mirror_from"
    return ""


def one_for_each_side(parts: Any) -> tuple[list[tuple[str, Any]], list[str]]:
    """Return raw parts, those on a pair of rails as two, and what is wrong with the pairs.

    Each part comes with the words for its entry as it was typed: ``part[4] "strip"``.
    """
    if not isinstance(parts, list):
        return [], []
    pairs = {_name(p) for p in parts if isinstance(p, dict) and isinstance(p.get("rail"), dict)}
    result: list[tuple[str, Any]] = []
    problems: list[str] = []
    for number, part in enumerate(parts, 1):
        where = f"part[{number}]"
        if not isinstance(part, dict):
            result.append((where, part))
            continue
        where += f' "{_name(part)}"' if isinstance(part.get("name"), str) else ""
        both: list[Any] = [part]
        if isinstance(part.get("rail"), dict):
            if wrong := _wrong_pair(part):
                problems.append(f"{where}{wrong}")
                continue
            both = [_on(part, side, rail=part["rail"][side]) for side in SIDES]
        elif str(part.get("mount"))[:40] in pairs and "hands" not in part:
            both = [_on(part, side, mount=f"{part['mount']}-{side}") for side in SIDES]
        result += [(where, piece) for piece in both]
    return result, problems


def _name(part: dict[str, Any]) -> str:
    return str(part.get("name"))[:40]


def _on(part: dict[str, Any], side: str, **changes: Any) -> dict[str, Any]:
    return {**part, **changes, "name": f"{part.get('name')}-{side}", "hands": side}


def _wrong_pair(part: dict[str, Any]) -> str:
    if set(part["rail"]) != set(SIDES):
        return '.rail: a pair of rails is { left = "...", right = "..." }'
    if "hands" in part:
        return ".hands: a part on a pair of rails is made for both sides; remove it"
    return ""
