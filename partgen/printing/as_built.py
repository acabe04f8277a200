"""A filled-in as-built sheet on the screen: target, measured, difference, within or out."""

from __future__ import annotations

from partgen.cautions import SHORT
from partgen.measure import shown
from partgen.packet.as_built import DIGITS, printed
from partgen.printing.text import print_json, table
from partgen.tasks.as_built import AsBuilt, Reading

VERDICTS = {True: "within", False: "OUT", None: "not measured"}


def as_built(found: AsBuilt, *, as_json: bool) -> None:
    """Print every line of the sheet, and what is out or still blank."""
    unit = found.job.unit
    if as_json:
        print_json({"as_built": [_data(r, unit) for r in found.readings], "out": len(found.out),
                    "blank": len(found.blank)})  # fmt: skip
        return
    print(f"{found.job.name}: as built ({unit})")
    rows: list[tuple[str, ...]] = [("", "what", "target", "passes", "measured", "difference", "")]
    rows += [_row(k, r, unit) for k, r in enumerate(found.readings, 1)]
    table(rows, numbers=range(2, 6))
    total = len(found.readings)
    print(f"{total - len(found.blank)} of {total} measured, {len(found.out)} out of tolerance.")
    if found.out:
        print("Out of tolerance: do not drive on it; find out why before it is welded or used.")
    print(SHORT)


def _row(number: int, r: Reading, unit: str) -> tuple[str, ...]:
    t = r.target
    passes = t.words if t.value is None else f"{_text(t.low, unit)} to {_text(t.high, unit)}"
    measured = _text(r.value, unit) if r.answer is None else ("yes" if r.answer else "no")
    away = "" if r.difference is None else f"{_signed(r.difference, unit)}"
    return (str(number), t.what, _text(t.value, unit), passes, measured, away, VERDICTS[r.within])


def _signed(mm: float, unit: str) -> str:
    text = shown(mm, unit, DIGITS[unit] + 1)
    return text if text.startswith("-") else f"+{text}"


def _text(mm: float | None, unit: str) -> str:
    return "" if mm is None else shown(mm, unit, DIGITS[unit])


def _data(r: Reading, unit: str) -> dict[str, object]:
    """Return a line as plain data, lengths in mm."""
    limits = [None if v is None else printed(v, unit) for v in (r.target.low, r.target.high)]
    return {
        "what": r.target.what,
        "target": r.target.value,
        "least": limits[0],
        "greatest": limits[1],
        "look_for": r.target.words,
        "measured": r.value,
        "answer": r.answer,
        "difference": r.difference,
        "within": r.within,
    }
