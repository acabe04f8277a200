"""The ledger of published numbers, ``profiles/README.md``: ``python tests/ledger.py`` writes it."""

import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))  # this tree, whatever else is installed

from partgen.reference.tables import Table, load  # noqa: E402

TARGET = ROOT / "profiles" / "README.md"
HOW = {
    "primary": "read in the document",
    "secondary": "from a copy",
    "memory": "from memory",
}
HEAD = """# Ledger

Made by `python tests/ledger.py` from the files here; a test compares it. Tables are typed in twice,
here and in their test, each in the unit the document prints. What was recalled says so: check it
against the document before you rely on it. Screening only: none of this approves a bracket.
"""


def clauses():
    return tomllib.loads((ROOT / "profiles" / "clauses.toml").read_text(encoding="utf-8"))["clause"]


def numbers(table):
    """How many printed numbers a table holds."""
    return sum(isinstance(row[c], int | float) for row in table.rows for c in table.columns)


def table_rows():
    for name in Table.names():
        table = load(name)
        marks = {row["mark"] for row in table.rows}
        how = HOW[table.source.status]
        if len(marks) > 1 or (marks - {"found"} and table.source.status != "memory"):
            how += f", rows: {', '.join(sorted(marks))}"
        file, test = f"tables/{name}.toml", f"tests/published/test_{name}.py"
        yield f"| {table.source.cite} | {table.source.edition} | {numbers(table)} | {how} | `{file}` | `{test}` |"


def clause_rows():
    for c in clauses():
        state = c["state"] + (f": {c['note']}" if c.get("note") else "")
        where = f"`{c['where']}`" if c["where"] else "-"
        test = f"`{c['test']}`" if c["test"] else "-"
        yield f"| {c['document']} | {c['clause']} | {c['subject']} | {state} | {where} | {c['verified'] or '-'} | {test} | {c['values'] or '-'} |"


def totals():
    """Printed numbers in tables, values of worked examples and clauses."""
    return sum(numbers(load(n)) for n in Table.names()), sum(c["values"] for c in clauses())


def ledger():
    in_tables, worked = totals()
    lines = [
        HEAD,
        f"{in_tables} printed numbers in {len(Table.names())} tables; {worked} published or "
        "independently worked values compared in tests of formulas and rules.",
        "\n## Clauses\n",
        "| document | clause | subject | state | where | how verified | test | values |",
        "|---|---|---|---|---|---|---|---|",
        *clause_rows(),
        "\n## Tables\n",
        "| table | edition | numbers | how verified | file | test |",
        "|---|---|---|---|---|---|",
        *table_rows(),
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    TARGET.write_text(ledger(), encoding="utf-8")
    print(TARGET)
