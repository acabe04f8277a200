"""Pieces and sheets made ready for placing, and one trial: every piece placed in a given order."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import fsum

from partgen.layout.mask import lowest_free
from partgen.layout.piece import Piece
from partgen.layout.placing import Filling
from partgen.layout.shape import Shape, shapes
from partgen.layout.sheet import Sheet
from partgen.layout.steady import PER_MM2, steady, ticks
from partgen.layout.stock import Board, Fixed, Stock, grid_for

Key = tuple[object, ...]
Placing = Callable[[int, int], None]


@dataclass(frozen=True, eq=False)
class Shop:
    """What a trial needs, made once.

    Attributes:
        items: each piece as often as it is wanted; a trial's order is of indices into this.
        boards: the sheets' grids, largest sheet first.
        options: for each board, the ways each item may be turned.
        homes: the board, by word, that plates of this word must share with one that is fixed.
    """

    items: tuple[tuple[Piece, int], ...]
    boards: tuple[Board, ...]
    options: tuple[tuple[list[Shape], ...], ...]
    homes: Mapping[str, int]

    @cached_property
    def rough_order(self) -> list[int]:
        """Items by priority, then largest outside edge first."""
        sizes = [ticks(piece.edge.area, PER_MM2) for piece, _ in self.items]
        return self.by_priority(sorted(range(len(sizes)), key=lambda k: (-sizes[k], k)))

    def by_priority(self, order: Sequence[int]) -> list[int]:
        """Return ``order`` with higher priority first, otherwise as it is."""
        return sorted(order, key=lambda k: -self.items[k][0].priority)

    def box_fits(self, item: int) -> list[bool]:
        """Tell, board by board, whether a box of ``item`` is small enough for an empty sheet."""
        return [
            any(board.stock.holds(shape) for shape in options[item])
            for board, options in zip(self.boards, self.options, strict=True)
        ]

    def group(self, item: int, items: Sequence[int]) -> list[int]:
        """Return those of ``items`` that must share a sheet with ``item``, itself included."""
        word = self.items[item][0].together
        return [i for i in items if self.items[i][0].together == word] if word else [item]

    def fits(self, item: int) -> bool:
        """Tell whether there is a position for ``item`` on any empty sheet."""
        return any(
            _fits(board, shape)
            for board, options in zip(self.boards, self.options, strict=True)
            for shape in options[item]
        )


@dataclass(frozen=True, eq=False)
class Trial:
    """The outcome of one order.

    Attributes:
        fillings: each sheet used: which board, which copy from 1, and what is on it.
        left: items for which there was no room.
        left_area: their metal [mm2].
    """

    fillings: tuple[tuple[int, int, Filling], ...]
    left: tuple[int, ...]
    left_area: float

    @cached_property
    def ends(self) -> list[float]:
        """Used length of each sheet, margin included [mm]."""
        return [f.end + f.board.stock.margin for _, _, f in self.fillings]

    @cached_property
    def cost(self) -> tuple[float, ...]:
        """What to make small: metal left, sheets, length of the last sheet, of all, and spread."""
        spread = fsum(s.end for _, _, f in self.fillings for s in f.spots)
        last = self.ends[-1] if self.ends else 0.0
        return self.left_area, len(self.ends), last, fsum(self.ends), spread


def prepare(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    gap: float,
    margin: float,
    cell: float,
    fixed: Sequence[Fixed] = (),
) -> Shop:
    """Return the shop for a grid of ``cell`` [mm]; sheets with something on them come first."""
    lying = {(f.piece.name, f.placement.copy) for f in fixed}
    wanted = [p for p in pieces if p.count]
    stocks = [stock for s in sheets for stock in _stocks(s, gap, margin, fixed)]
    stocks.sort(key=lambda s: (not s.fixed, -ticks(s.sheet.outline.area, PER_MM2)))
    least = min((min(p.size) for p in wanted), default=0.0)
    boards = tuple(Board(s, grid_for(s, cell, 2, gap), least) for s in stocks)
    kinds: dict[Key, list[Shape]] = {}
    options = []
    for stock in stocks:
        row = [_options(kinds, p, stock.quarter, gap) for p in wanted]
        options.append(
            tuple(
                o
                for o, p in zip(row, wanted, strict=True)
                for copy in range(1, p.count + 1)
                if (p.name, copy) not in lying
            )
        )
    copies = ((p, copy) for p in wanted for copy in range(1, p.count + 1))
    items = tuple((p, copy) for p, copy in copies if (p.name, copy) not in lying)
    homes = {f.piece.together: k for k, stock in enumerate(stocks) for f in stock.fixed}
    homes.pop("", None)
    return Shop(items, boards, tuple(options), homes)


def _stocks(sheet: Sheet, gap: float, margin: float, fixed: Sequence[Fixed]) -> list[Stock]:
    """Return a sheet's copies with something on them one by one, and the others as one stock."""
    here = [f for f in fixed if f.placement.sheet == sheet.name]
    begun = sorted({f.placement.number for f in here})
    found = [
        Stock(sheet, margin, (n,), tuple(f for f in here if f.placement.number == n), gap)
        for n in begun
    ]
    rest = tuple(n for n in range(1, sheet.count + 1) if n not in begun)
    return [*found, Stock(sheet, margin, rest)] if rest else found


def trial(shop: Shop, order: Sequence[int], placing: Placing | None = None) -> Trial:
    """Place all items in ``order``, sheet after sheet, largest sheets first; tell how many lie."""
    left = list(order)
    used: list[tuple[int, int, Filling]] = []
    for k, board in enumerate(shop.boards):
        for number in board.stock.numbers:
            told = None if placing is None else _from(len(order) - len(left), len(order), placing)
            filling, rest = _fill(shop, k, left, told)
            if len(rest) == len(left) and not board.stock.fixed:
                break
            used.append((k, number, filling))
            left = rest
    area = steady(fsum(shop.items[k][0].area for k in left), PER_MM2)
    return Trial(tuple(_last_smaller(shop, used)), tuple(left), area)


def _from(before: int, count: int, placing: Placing) -> Callable[[int], None]:
    """Return what tells that ``before`` and more of ``count`` items are placed."""
    return lambda placed: placing(before + placed, count)


def _fill(
    shop: Shop, k: int, items: list[int], told: Callable[[int], None] | None = None
) -> tuple[Filling, list[int]]:
    """Fill a sheet of board ``k`` in order; return it and the items that found no room."""
    options = shop.options[k]
    filling = Filling(shop.boards[k])
    rest: list[int] = []
    done: set[int] = set()
    full: set[int] = set()  # kinds that found no room: what is free only shrinks
    for item in items:
        if item in done:
            continue
        if told is not None:
            told(len(filling.spots))
        group = shop.group(item, items)
        done.update(group)
        before = filling.copy() if len(group) > 1 else filling
        away = shop.homes.get(shop.items[item][0].together, k) != k
        if away or any(id(options[i]) in full for i in group):
            rest += group
        elif not all(filling.place(i, options[i]) for i in group):
            filling = before
            rest += group
            if len(group) == 1:
                full.add(id(options[item]))
    return filling, rest


def _last_smaller(
    shop: Shop, used: list[tuple[int, int, Filling]]
) -> list[tuple[int, int, Filling]]:
    """Return ``used`` with the last sheet exchanged for the smallest that holds the same."""
    if not used or used[-1][2].board.stock.fixed:
        return used
    last = used[-1][0]
    items = [s.item for s in used[-1][2].spots]
    for k in range(len(shop.boards) - 1, last, -1):
        filling = Filling(shop.boards[k])
        if all(filling.place(i, shop.options[k][i]) for i in items):
            return [*used[:-1], (k, shop.boards[k].stock.numbers[0], filling)]
    return used


def _options(
    kinds: dict[Key, list[Shape]], piece: Piece, quarter: float, gap: float
) -> list[Shape]:
    turns = tuple((t - quarter) % 360.0 for t in piece.turns)
    key = (piece.outlines, turns)
    if key not in kinds:
        kinds[key] = shapes(piece, turns, gap)
    return kinds[key]


def _fits(board: Board, shape: Shape) -> bool:
    if not board.stock.holds(shape):
        return False
    return lowest_free(board.base(shape)) // board.grid.rows <= board.last(shape)[0]
