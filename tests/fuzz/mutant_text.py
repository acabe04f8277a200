"""Hostile jobs: a job's text with characters and lines changed, its values replaced by worse ones."""

import copy
import datetime
import random
from typing import Any


def deep(depth: int) -> Any:
    """A list in a list in a list..."""
    value: Any = 1
    for _ in range(depth):
        value = [value]
    return value


VALUES: list[Any] = [
    0, -1, 1, 0.001, 1e-300, 1e300, 1e308, -1e308, 10**30, float("nan"), float("inf"), True, False,
    "", " ", "mm", "1e9 mm", "-5 mm", "1/0 in", "9999999999/3 in", "2-5/8", "5 furlong", "= a", "= 1/0",
    "= " + "(" * 90 + "1" + ")" * 90, "= 9*9*9*9*9*9*9*9*9*9", "= min()", "= joint_width*1e9",
    "= __import__('os')", "= joint_width if 1 else 2", "=", "x" * 5000, "\u202e\u0000evil", "ünïcode ☃",
    "../../etc/passwd", "/etc/passwd", "con", "nul.dxf", "a\nb", "0\r\n  9\r\nSECTION", "<script>x</script>",
    "=cmd|' /C calc'!A0", [], {}, [[]], [1], [1, 2, 3], deep(80), {"at": [0, 0]}, datetime.date(2026, 1, 1),
    [0.0, 0.0], [[0, 0], [1, 0]], ["nan", "nan"], "link-mount", "gusset", "spacer", "6 mm S355", "M16", "3/4-10",
    10_000, 1_000_000_000, [[i * 2, i % 5] for i in range(999)],
]  # fmt: skip


def places(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path into the data."""
    found = [path] if path else []
    items = (
        data.items()
        if isinstance(data, dict)
        else enumerate(data)
        if isinstance(data, list)
        else ()
    )
    for key, value in items:
        found += places(value, (*path, key))
    return found


def replace_values(data: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """Return the data with a few values replaced, dropped, doubled, renamed or scaled."""
    data = copy.deepcopy(data)
    for _ in range(chance.choice((1, 1, 1, 2, 3, 8))):
        spots = places(data)
        if not spots:
            break
        *way, key = chance.choice(spots)
        holder: Any = data
        for step in way:
            holder = holder[step]
        kind = chance.randrange(10)
        if kind < 6:
            holder[key] = copy.deepcopy(chance.choice(VALUES))
        elif kind < 7:
            del holder[key]
        elif kind < 8 and isinstance(holder, list):
            holder.insert(key, copy.deepcopy(holder[key]))
        elif kind < 9 and isinstance(holder[key], int | float):
            holder[key] = holder[key] * chance.choice((-1, 0.01, 0.5, 1.5, 10, 1000))
        elif isinstance(holder, dict):
            holder[str(key) + "x"] = holder.pop(key)
    return data


def scale_numbers(data: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """Return the data with a few numbers a little or much larger or smaller: most can be made."""
    data = copy.deepcopy(data)
    spots = [spot for spot in places(data) if _is_number(_at(data, spot))]
    for spot in chance.choices(spots, k=chance.choice((1, 1, 2, 4))):
        holder = _at(data, spot[:-1])
        factor = chance.choice((0.5, 0.8, 0.95, 1.02, 1.1, 1.3, 2, 10, -1))
        holder[spot[-1]] = type(holder[spot[-1]])(holder[spot[-1]] * factor)
    return data


def _at(data: Any, way: tuple[Any, ...]) -> Any:
    for step in way:
        data = data[step]
    return data


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def change_text(text: str, chance: random.Random) -> str:
    """Return the text with a few characters or lines changed."""
    for _ in range(chance.choice((1, 2, 4, 16))):
        lines = text.split("\n")
        k = chance.randrange(len(lines))
        at = chance.randrange(len(text)) if text else 0
        kind = chance.randrange(6)
        if kind == 0:
            text = text[:at] + text[at + chance.randrange(1, 12) :]
        elif kind == 1:
            text = text[:at] + chance.choice("=[]{}\"'.,-#0123456789eé\x00\n ") + text[at:]
        elif kind == 2:
            lines.insert(chance.randrange(len(lines)), lines[k])
            text = "\n".join(lines)
        elif kind == 3:
            del lines[k]
            text = "\n".join(lines)
        elif kind == 4:
            text = text[: at + 1] if chance.random() < 0.2 else text
        else:
            digits = [i for i, c in enumerate(text) if c.isdigit()]
            if digits:
                i = chance.choice(digits)
                text = text[:i] + chance.choice("0123456789") + text[i + 1 :]
    return text
