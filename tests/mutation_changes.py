"""Small mistakes in Python source, one at a time: what ``mutation.py`` plants.

One comparison, sign, number, min/max, condition or and/or is changed. What differs only within a
tolerance (SLACK, SAME, TOUCH, ...) is not tried: no test on real plates can or should tell it.
"""

import ast
import copy
from collections.abc import Iterator

COMPARE = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
TURN = {ast.Lt: ast.Gt, ast.LtE: ast.GtE, ast.Gt: ast.Lt, ast.GtE: ast.LtE}
ARITHMETIC = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "sin": "cos", "cos": "sin"}


TOLERANCES = {"SLACK", "SAME", "TOUCH", "FLAT", "CREEP", "CHORD_ERROR", "STRAIGHT"}


def changes(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the node in other words, one change each."""
    match node:
        case ast.Compare(ops=[op]):
            strict = () if _tolerant(node) else (COMPARE,)
            tables = [table for table in (*strict, TURN) if type(op) in table]
            yield from (_with(node, ops=[table[type(op)]()]) for table in tables)
        case ast.BinOp(op=op) if type(op) in ARITHMETIC and not _is_tolerance(node.right):
            yield _with(node, op=ARITHMETIC[type(op)]())
        case ast.UnaryOp(op=ast.USub() | ast.Not(), operand=operand) if not _is_tolerance(operand):
            yield copy.deepcopy(operand)
        case ast.BoolOp(op=op):
            yield _with(node, op=ast.And() if isinstance(op, ast.Or) else ast.Or())
        case ast.Constant():
            yield from _constants(node.value)
        case ast.Name(id=name, ctx=ast.Load()) if name in NAMES:
            yield ast.Name(NAMES[name], ast.Load())
        case ast.If(test=test):
            constants = (ast.copy_location(ast.Constant(v), test) for v in (True, False))
            yield from (_with(node, test=constant) for constant in constants)


def _is_tolerance(node: ast.AST) -> bool:
    return isinstance(node, ast.Name) and node.id in TOLERANCES


def _tolerant(node: ast.AST) -> bool:
    return any(_is_tolerance(n) for n in ast.walk(node))


def _with(node: ast.AST, **fields: object) -> ast.AST:
    other = copy.deepcopy(node)
    for name, value in fields.items():
        setattr(other, name, value)
    return other


def _constants(value: object) -> Iterator[ast.AST]:
    if isinstance(value, bool):
        yield ast.Constant(not value)
    elif isinstance(value, int | float):
        yield ast.Constant(value + 1)
        if isinstance(value, float) and 0 < abs(value) < 1e-3:
            yield ast.Constant(value * 1e6)


def mutants(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Change the tree in each way in turn; yield line and what was changed, while it is."""
    skip = {id(n) for n in _never(tree)}
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            nodes = value if isinstance(value, list) else [value]
            for k, node in enumerate(nodes):
                if not isinstance(node, ast.AST) or id(node) in skip:
                    continue
                for other in changes(node):
                    ast.copy_location(other, node)
                    ast.fix_missing_locations(other)
                    before = _text(node, parent)
                    _put(parent, field, value, k, other)
                    yield getattr(node, "lineno", 0), f"{before} -> {_text(other, parent)}"
                    _put(parent, field, value, k, node)


def _never(tree: ast.AST) -> Iterator[ast.AST]:
    """Yield what is no sum: annotations, decorators, texts, tolerances' own values."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            for decorator in node.decorator_list:
                yield from ast.walk(decorator)
        if isinstance(node, ast.Assign) and any(_is_tolerance(t) for t in node.targets):
            yield from ast.walk(node)
        if isinstance(node, ast.FunctionDef):
            for part in [node.returns, *(a.annotation for a in node.args.args)]:
                yield from ast.walk(part) if part else ()
        if isinstance(node, ast.AnnAssign):
            yield from ast.walk(node.annotation)
        if isinstance(node, ast.keyword) and node.arg == "strict":
            yield node.value
        if isinstance(node, ast.JoinedStr):
            yield from ast.walk(node)


def _put(parent: ast.AST, field: str, value: object, k: int, node: ast.AST) -> None:
    if isinstance(value, list):
        value[k] = node
    else:
        setattr(parent, field, node)


def _text(node: ast.AST, parent: ast.AST) -> str:
    """Return what tells a place from others: the condition, a constant with what it stands in."""
    shown = node.test if isinstance(node, ast.If) else node
    if isinstance(node, ast.Constant) and not isinstance(parent, ast.arguments):
        shown = parent
    return ast.unparse(shown).partition("\n")[0]
