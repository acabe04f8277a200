"""``[measures]``: named lengths, in the order they need each other."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from contextlib import suppress
from graphlib import CycleError, TopologicalSorter
from typing import Any

from partgen.errors import MeasureError, nearest
from partgen.expression import is_expression, names_in
from partgen.fields import Reading
from partgen.measure import per_unit

LONGEST = 40  # characters of a measure's name


def read_measures(data: dict[str, Any], changes: Mapping[str, str]) -> tuple[Reading, list[str]]:
    """Return the named lengths, in the order they need each other, and what is wrong with them."""
    head = data.get("job")
    unit = head.get("units") if isinstance(head, dict) else None
    unit = unit if unit in ("mm", "in") else "mm"
    raw = data.get("measures", {})
    raw = dict(raw) if isinstance(raw, dict) else {}
    problems = [
        f"--set {name}: no such measure; {nearest(name, raw)}"
        for name in changes
        if name not in raw
    ]
    raw.update({name: value for name, value in changes.items() if name in raw})
    known: dict[str, float] = {}
    broken: set[str] = set()
    for name in _in_order(raw):
        try:
            if not name.isidentifier() or len(name) > LONGEST:
                raise MeasureError(
                    f"a measure's name is letters, digits and underscores, at most {LONGEST}"
                )
            _refuse_circle(name, raw, known, broken)
            known[name] = Reading(unit, known, frozenset(broken)).length(raw[name])
        except MeasureError as error:
            broken.add(name)
            problems.append(f"measures.{name[:LONGEST]}: {error}")
    return Reading(unit, known, frozenset(broken), typed=raw), problems


def _in_order(raw: dict[str, Any]) -> list[str]:
    """Return the names so that each follows those it uses, plain lengths first, circles last."""
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for name, value in sorted(raw.items(), key=lambda item: is_expression(item[1])):
        sorter.add(name, *sorted((_uses(value) & raw.keys()) - {name}))
    with suppress(CycleError):  # what is not in the circle still comes in order
        sorter.prepare()
    order: dict[str, None] = {}
    while ready := sorter.get_ready():
        order |= dict.fromkeys(ready)
        sorter.done(*ready)
    return [*order, *(name for name in raw if name not in order)]


def _uses(value: Any) -> set[str]:
    return names_in(value) if is_expression(value) else set()


def _refuse_circle(
    name: str, raw: dict[str, Any], known: dict[str, float], broken: set[str]
) -> None:
    later = sorted((_uses(raw[name]) & raw.keys()) - known.keys() - broken)
    if later:
        raise MeasureError(
            f"goes round in a circle through '{later[0]}'; give one of them a number"
        )


def figures(measures: Mapping[str, float], numbers: Collection[str], unit: str) -> dict[str, float]:
    """Return every measure of a job: lengths in mm, numbers of holes as they are counted.

    Args:
        measures: named lengths, counts among them as if they were lengths [mm].
        numbers: those that count.
        unit: of the job, "mm" or "in".
    """
    counts = {name: measures[name] / per_unit(unit) for name in sorted(numbers)}
    counted = {n: round(c) if abs(c - round(c)) < 1e-9 else c for n, c in counts.items()}
    return {**measures, **counted}
