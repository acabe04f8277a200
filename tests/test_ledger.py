"""The ledger of published numbers is what the files say, and leaves nothing out."""

import ledger
import pytest

from partgen.reference.tables import Table
from partgen.rules import BUILD_RULES, MOUNT_RULES, PLATE_RULES

ROOT = ledger.ROOT
HELPERS = {"__init__", "capacity", "finding", "ear", "on_rail", "screened", "screening", "screen_metal", "screen_weld"}  # fmt: skip


def test_it_is_fresh():
    assert ledger.TARGET.read_text(encoding="utf-8") == ledger.ledger()


def test_at_least_300_published_numbers_beside_the_tables():
    in_tables, worked = ledger.totals()
    assert in_tables >= 800
    assert worked >= 300


@pytest.mark.parametrize("entry", ledger.clauses(), ids=lambda c: f"{c['document']} {c['clause']}")
def test_every_clause_names_what_exists(entry):
    assert entry["state"] in ("implemented", "partly", "reference", "not implemented")
    assert bool(entry.get("note")) or entry["state"] in ("implemented", "not implemented")
    if entry["state"] == "not implemented":
        assert not entry["where"]
        return
    assert (ROOT / entry["where"]).is_file()
    assert (ROOT / entry["test"]).is_file()
    assert entry["verified"]
    stem = entry["where"].rpartition("/")[2].partition(".")[0]
    text = (ROOT / entry["test"]).read_text(encoding="utf-8")
    assert stem in text or stem.replace("_", "-") in text


@pytest.mark.parametrize("folder", ["strength", "rules"])
def test_every_module_stands_in_it(folder):
    listed = {c["where"] for c in ledger.clauses()}
    files = {p.stem for p in (ROOT / "partgen" / folder).glob("*.py")} - HELPERS
    missing = {name for name in files if f"partgen/{folder}/{name}.py" not in listed}
    assert not missing, f"add to profiles/clauses.toml: {missing}"


def test_every_table_stands_in_it():
    text = ledger.TARGET.read_text(encoding="utf-8")
    assert all(f"`tables/{name}.toml`" in text for name in Table.names())


def test_every_rule_has_its_own_name():
    names = [*PLATE_RULES, *MOUNT_RULES, *BUILD_RULES]
    assert len(set(names)) == len(names) >= 20
