"""Plain arithmetic on measures: ``= joint_width + 3``, in the job's unit.

Only + - * / parentheses, min, max, numbers and the names of measures; read by a whitelist over
Python's own parser, never by eval.
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable, Mapping
from math import isfinite

from partgen.errors import MeasureError, nearest

LONGEST_TEXT = 200
_OPERATORS: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}
_FUNCTIONS: dict[str, Callable[..., float]] = {"min": min, "max": max}


def is_expression(value: object) -> bool:
    """Tell whether a value of the job file is an expression (starts with an equals sign)."""
    return isinstance(value, str) and value.lstrip().startswith("=")


def evaluate(text: str, names: Mapping[str, float]) -> float:
    """Return the value of ``text``, in the unit that ``names`` are in.

    Args:
        text: an expression, its equals sign first.
        names: measures by name.

    Raises:
        MeasureError: not plain arithmetic, an unknown name, a division by zero, no finite result.

    Examples:
        >>> evaluate("= max(a, 2) * (b - 1) / 4", {"a": 3.0, "b": 9.0})
        6.0
    """
    body = " ".join(text.strip().removeprefix("=").split())  # one line, also in messages
    if len(body) > LONGEST_TEXT:
        raise MeasureError(f"expression of {len(body)} characters; at most {LONGEST_TEXT}")
    try:
        tree = ast.parse(body, mode="eval").body
        value = float(_value(tree, body, names))
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise MeasureError(
            f"'{body}' is no plain arithmetic; use + - * / ( ) min max, measures and bare numbers"
        ) from None
    except ZeroDivisionError:
        raise MeasureError(f"'{body}' divides by zero") from None
    except OverflowError:
        raise MeasureError(f"'{body}' is too large a number") from None
    if not isfinite(value):
        raise MeasureError(f"'{body}' is too large a number")
    return value


def names_in(text: str) -> set[str]:
    """Return the names that an expression uses; empty when it cannot be read."""
    try:
        tree = ast.parse(text.strip().removeprefix("=").strip()[:LONGEST_TEXT], mode="eval")
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        return set()
    return {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)} - set(_FUNCTIONS)


def summed_names(text: str) -> set[str]:
    """Return the names in an expression that must be of its own kind: counts where it is a count.

    What is divided by a measure, and that measure, may be of any kind: ``= drop / pitch``.

    Examples:
        >>> sorted(summed_names("= row + 2 * each - (drop - low) / pitch + max(least, 1) / 2"))
        ['each', 'least', 'row']
    """
    try:
        tree = ast.parse(text.strip().removeprefix("=").strip()[:LONGEST_TEXT], mode="eval")
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        return set()
    divided = [n for n in ast.walk(tree) if isinstance(n, ast.BinOp) and isinstance(n.op, ast.Div)]
    ratios = [n for n in divided if any(isinstance(m, ast.Name) for m in ast.walk(n.right))]
    within = {id(m) for ratio in ratios for m in ast.walk(ratio)}
    names = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and id(n) not in within}
    return names - set(_FUNCTIONS)


def _value(node: ast.expr, body: str, names: Mapping[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
            return float(number)
        case ast.Name(id=name):
            if name not in names:
                raise MeasureError(
                    f"'{body}' uses '{name}', no such measure; {nearest(name, names)}"
                )
            return names[name]
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, body, names)
        case ast.UnaryOp(op=ast.UAdd(), operand=operand):
            return _value(operand, body, names)
        case ast.BinOp(left=left, op=sign, right=right) if type(sign) in _OPERATORS:
            return _OPERATORS[type(sign)](_value(left, body, names), _value(right, body, names))
        case ast.Call(func=ast.Name(id=name), args=[_, *_] as args, keywords=[]) if (
            name in _FUNCTIONS
        ):
            values = [_value(arg, body, names) for arg in args]
            return float(_FUNCTIONS[name](values))
    raise ValueError(ast.dump(node)[:40])
