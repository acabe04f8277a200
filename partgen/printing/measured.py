"""The measurement form of a job, and what its readings say of each other."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from partgen.cautions import SHORT
from partgen.entries.net_check import NetCheck, Residual
from partgen.measure import shown
from partgen.printing.text import print_json, table
from partgen.tasks.measuring import Measuring

BLANK = "________"


def measured(found: Measuring, csv: Path | None, *, as_json: bool) -> None:
    """Print the numbered form, then every net's check."""
    if as_json:
        nets = {name: net_data(net) for name, net in found.nets.items()}
        print_json({"form": [asdict(b) for b in found.form], "nets": nets})
        return
    unit = found.job.unit
    print(f"{found.job.name}: what to measure ({unit})")
    rows = [("", "thing", "what", "tool", "job now", "left", "right")]
    for b in found.form:
        blanks = (BLANK, BLANK) if len(b.sides) == 2 else (BLANK, "")
        rows.append((f"{b.number}", b.thing, b.what, b.tool, b.now, *blanks))
    table(rows)
    print("One blank: write it there once. Measured wins: type it into the job, then make it anew.")
    for name, net in found.nets.items():
        _net(name, net, unit)
    if csv is not None:
        print(f"form for a spreadsheet: {csv}")
    print(SHORT)


def net_data(net: NetCheck) -> dict[str, object]:
    """Return a net's check as plain data, lengths in mm."""
    return {
        **asdict(net),
        "consistent": net.consistent,
        "suspects": [asdict(r) for r in net.suspects],
        "verdict": net.verdict,
    }


def _net(name: str, net: NetCheck, unit: str) -> None:
    print()
    print(
        f"net {name}: {len(net.residuals)} readings, {net.spare} spare, misfit "
        f"{_number(net.misfit, unit)} {unit} (tolerance {_number(net.tolerance, unit)}): "
        f"{net.verdict}"
    )
    rows = [("  from", "to", "reading", "off by", "normalised")]
    rows += [
        (f"  {r.start}", r.end, _number(r.reading, unit), _number(r.residual, unit), _ratio(r))
        for r in net.residuals
    ]
    table(rows, numbers=range(2, 5))
    for k, r in enumerate(net.suspects, 1):
        print(
            f"  suspect {k}: {r.start} to {r.end}; alone to blame it would be off by "
            f"{_number(r.error or 0.0, unit)} {unit}"
        )
    if net.skew is not None:
        print(f"  out of square by {net.skew:+.2f} degrees at the first corner")


def _ratio(r: Residual) -> str:
    return "unchecked" if r.normalised is None else f"{r.normalised:.2f}"


def _number(mm: float, unit: str) -> str:
    return shown(mm, unit, 1 if unit == "mm" else 3)
