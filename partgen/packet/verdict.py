"""The page's first line: whether the job can be cut, and where to look before."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.packet.html import Content, Html, tag
from partgen.rules.finding import Finding, Status

HEEDED = {
    Status.WARN: ("warning", "warnings"),
    Status.NOT_COVERED: ("finding not covered", "findings not covered"),
}


def verdict(findings: Sequence[Finding], plates: int, sheets: int) -> Html:
    """Return one line with links to what it speaks of; it says nothing of strength.

    Args:
        findings: what the rules say.
        plates: pieces to cut.
        sheets: that carry them.
    """
    stopping = sum(f.stops for f in findings)
    if stopping:
        fails = "1 finding fails" if stopping == 1 else f"{stopping} findings fail"
        line: list[Content] = ["Not for cutting: ", _link("findings", fails)]
    elif plates:
        cut = _link("plates", _count(plates, "plate", "plates"))
        line = ["Ready to cut: ", cut, " on ", _link("sheets", _count(sheets, "sheet", "sheets"))]
    else:
        line = ["Nothing to cut: the job has no plates"]
    heeded = _heeded(findings)
    if heeded:
        line += ["; ", _link("findings", heeded), " to look at"]
    kind = "fail" if stopping else "heed" if heeded else "clear"
    return tag("p", *line, ".", class_=f"verdict {kind}")


def _heeded(findings: Sequence[Finding]) -> str:
    """Return what does not stop the job and is no pass: counted, what the shop accepts last."""
    still = [f.status for f in findings if not f.accepted]
    told = [
        _count(still.count(status), *words) for status, words in HEEDED.items() if status in still
    ]
    accepted = sum(bool(f.accepted) for f in findings)
    if accepted:
        told.append(f"{accepted} accepted by the shop")
    return ", ".join(told)


def _count(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


def _link(anchor: str, text: str) -> Html:
    return tag("a", text, href=f"#{anchor}")
