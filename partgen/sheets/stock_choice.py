"""Which of the sheets in the rack a set of plates is cut from.

A quick layout is made on all sheets together, on the cheapest of them, the two cheapest and so on,
and on each kind alone; then on so many of each kind as would be better than the best of these, the
best first. Taken is what costs least; then the fewest sheets; then the least area opened, so that
offcuts go before whole sheets that would do the same. A sheet without a cost is paid for already.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice, product
from math import ceil, fsum, prod

from partgen.layout import Layout, LayoutError, Piece, Placement, Sheet, lay_out

MOST = 12  # quick layouts
MOST_LARGE = 4  # the same where there are many plates
MANY = 500  # plates
FEW = 20  # plates; with no more, other orders are tried in each quick layout
STEPS = 40  # of that search
WAYS = 5000  # ways to take some of each kind; with more, only the simple ones are tried
Price = tuple[float, ...]  # cost, sheets, area [mm2], used length [mm]


def chosen(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    costs: Mapping[str, float],
    fixed: Sequence[Placement] = (),
    *,
    gap: float,
    margin: float,
    placing: Callable[[int, int], None] | None = None,
    is_late: Callable[[], bool] = lambda: False,
) -> list[Sheet]:
    """Return the sheets to lay the pieces on: all of them if nothing less will do.

    Args:
        pieces: what to place.
        sheets: what there is.
        costs: of one, by name of the sheet, in the shop's own money.
        fixed: what has to lie on a sheet, which is then among those chosen.
        gap: between plates [mm].
        margin: at the sheet's edge [mm].
        placing: called with how many of how many pieces lie, in each quick layout.
        is_late: asked after each; once it is so, the best by then is taken.
    """
    ranked = sorted(
        (s for s in sheets if s.count), key=lambda s: (costs.get(s.name, 0.0), s.outline.area)
    )
    if len(ranked) < 2:
        return list(sheets)
    begun = {p.sheet for p in fixed}

    def price(option: list[Sheet]) -> Price | None:
        """Return what a quick layout on ``option`` takes; None if it does not hold all."""
        try:
            found = lay_out(
                pieces, option, gap=gap, margin=margin, steps=steps, fixed=fixed, placing=placing
            )
        except LayoutError:
            return None
        return _price(found, option, costs)

    need, count = fsum(p.area * p.count for p in pieces), sum(p.count for p in pieces)
    most, steps = MOST if count <= MANY else MOST_LARGE, STEPS if count <= FEW else 0
    kinds = [_with(begun, option, ranked) for option in islice(_options(ranked), most)]
    best, option = _least([o for o in kinds if _area(o) >= need], price, is_late)
    if best is None:
        return list(sheets)
    if not begun and not is_late():
        fewer = [o for bound, o in _racks(ranked, costs, need) if bound < best[:3]]
        _, found = _least(fewer[: most if count <= FEW else MOST_LARGE], price, is_late, enough=1)
        option = found or option
    return option


def _least(
    options: list[list[Sheet]],
    price: Callable[[list[Sheet]], Price | None],
    is_late: Callable[[], bool],
    enough: int | None = None,
) -> tuple[Price | None, list[Sheet]]:
    """Return the option of least price, and the price; of the first ``enough`` that will do."""
    best: tuple[Price | None, list[Sheet]] = None, []
    for tried, option in enumerate(options):
        if tried and is_late():
            break
        found = price(option)
        if found is None:
            continue
        if best[0] is None or found < best[0]:
            best = found, option
        enough = None if enough is None else enough - 1
        if enough == 0:
            break
    return best


def cost_of(layout: Layout, costs: Mapping[str, float]) -> float:
    """Return what the sheets of a layout cost, in the shop's own money."""
    return sum(costs.get(u.sheet, 0.0) for u in layout.used)


def _options(ranked: list[Sheet]) -> Iterator[list[Sheet]]:
    yield ranked
    for k in range(1, len(ranked)):
        yield ranked[:k]
    for sheet in ranked[1:]:
        yield [sheet]


def _with(begun: set[str], option: list[Sheet], ranked: list[Sheet]) -> list[Sheet]:
    """Return the sheets of an option and those begun, in the order of ``ranked``."""
    names = begun | {s.name for s in option}
    return [s for s in ranked if s.name in names]


def _racks(
    ranked: list[Sheet], costs: Mapping[str, float], need: float
) -> list[tuple[Price, list[Sheet]]]:
    """Return every number of every kind that has enough area, and its price, least first.

    None where there are too many ways; for what it takes whole, the price is the bound of all.
    """
    most = [min(s.count, ceil(need / s.outline.area) + 1) for s in ranked]
    if prod(n + 1 for n in most) > WAYS:
        return []
    found = []
    for counts in product(*(range(n + 1) for n in most)):
        option = [replace(s, count=n) for s, n in zip(ranked, counts, strict=True) if n]
        if option and _area(option) >= need:
            cost = sum(costs.get(s.name, 0.0) * s.count for s in option)
            found.append(((cost, sum(counts), _area(option)), option))
    return sorted(found, key=lambda f: f[0])


def _area(sheets: Sequence[Sheet]) -> float:
    return sum(s.outline.area * s.count for s in sheets)


def _price(layout: Layout, sheets: Sequence[Sheet], costs: Mapping[str, float]) -> Price:
    areas = {s.name: s.outline.area for s in sheets}
    opened = sum(areas[u.sheet] for u in layout.used)
    return cost_of(layout, costs), len(layout.used), opened, layout.used_length
