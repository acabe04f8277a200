"""The findings on the page: failures first, each with the picture of where; passes folded away.

What passes is one line for each rule and plate, its least margin, and so is what a rule says of one
plate more than ``MOST_ALIKE`` times; every finding is in ``findings.csv`` and ``job.json``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import inf

from partgen.job.build import Build
from partgen.measure import UNIT_WORDS, in_unit
from partgen.packet.finding_text import MARKS, counts, figures, limit, ordered
from partgen.packet.html import Html, inside, picture, section, table, tag
from partgen.packet.mount_section import mount_section
from partgen.packet.where import finding_picture
from partgen.rules.finding import Finding, Status

ALL = "Every finding one by one is in findings.csv and job.json."
MOST_ALIKE = 12  # findings of one rule on one plate that are shown one by one
WIDTH, MOUNT_WIDTH = 75.0, 120.0  # mm, of the picture of a plate's finding, of a mount's
HEAD = ("rule", "plate", "passed", "tightest at", "measured", "required", "margin", "source")


def findings_section(build: Build, findings: Sequence[Finding]) -> Html:
    """Return what the rules say."""
    unit = build.job.unit
    in_order = ordered(findings)
    cards: list[Html] = []
    drawn: set[str] = set()
    seen = Counter[str]()
    for f in in_order:
        if f.status is not Status.PASS or f.accepted:
            kind = _title(f)
            seen[kind] += 1
            if seen[kind] <= MOST_ALIKE:
                cards.append(_card(f, build, drawn))
    more = [f"{kind}: {n - MOST_ALIKE} more like it." for kind, n in seen.items() if n > MOST_ALIKE]
    passed = [f for f in in_order if f.status is Status.PASS and not f.accepted]
    rows = [_row(alike, unit) for alike in grouped(passed)]
    return section(
        "Findings",
        "findings",
        tag(
            "p", f"{counts(findings)}. {build.shop.rule_set.title}. Lengths in {UNIT_WORDS[unit]}."
        ),
        *cards,
        *(tag("p", line) for line in more),
        *([tag("p", ALL)] if more else []),
        *([_folded(rows, len(passed))] if rows else []),
    )


def _folded(rows: Sequence[Sequence[str]], count: int) -> Html:
    """Return the table of passes behind a line that opens it; on paper the line alone."""
    line = tag("summary", f"Passed: {count}, by rule and plate. {ALL}")
    return tag("details", line, table(HEAD, rows, (2, 4, 5, 6)))


def grouped(passed: Sequence[Finding]) -> list[list[Finding]]:
    """Return findings of one rule on one plate together, the one with the least margin first."""
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for f in passed:
        groups.setdefault((f.rule, f.plate, f.unit), []).append(f)
    return [sorted(group, key=_tightness) for group in groups.values()]


def _tightness(f: Finding) -> float:
    return inf if f.margin is None else round(f.margin, 6)


def _title(finding: Finding) -> str:
    return f"{MARKS[finding.status]}: {finding.rule}, {finding.plate}"


def _card(finding: Finding, build: Build, drawn: set[str]) -> Html:
    """Return one finding; ``drawn`` are the mounts whose section is on the page already."""
    unit = build.job.unit
    kind = "fail" if finding.stops else "heed"
    lines = [
        tag("h3", _title(finding)),
        tag("p", in_unit(finding.where, unit)),
    ]
    if finding.measured is not None:
        lines.append(tag("p", _numbers(finding, unit), class_="figures"))
    if finding.note:
        lines.append(tag("p", in_unit(finding.note, unit)))
    if finding.accepted:
        lines.append(tag("p", tag("b", "Accepted by the shop: "), finding.accepted))
    if finding.plate in drawn:
        lines.append(tag("p", "Its section stands above."))
    lines.append(tag("p", finding.source, class_="source"))
    return tag(
        "article", tag("div", *lines), _where(finding, build, drawn), class_=f"finding {kind}"
    )


def _numbers(finding: Finding, unit: str) -> str:
    measured, _, margin = figures(finding, unit)
    asked = f", {limit(finding, unit)}, margin {margin}" if finding.required is not None else ""
    return f"measured {measured}{asked}" + (f" {unit}" if finding.unit == "mm" else "")


def _where(finding: Finding, build: Build, drawn: set[str]) -> Html:
    plate = next((p for p in build.plates if p.key == finding.plate), None)
    if plate is not None:
        return picture(finding_picture(finding, plate), width=WIDTH)
    mount = next((m for m in build.mounts if m.name == finding.plate), None)
    if mount is None or mount.name in drawn:
        return inside()
    drawn.add(mount.name)
    section_ = mount_section(build, mount).decode("utf-8")
    return picture(section_, width=MOUNT_WIDTH, kind="mount")


def _row(alike: Sequence[Finding], unit: str) -> tuple[str, ...]:
    f, count = alike[0], str(len(alike))
    return (f.rule, f.plate, count, in_unit(f.where, unit), *figures(f, unit), f.source)
