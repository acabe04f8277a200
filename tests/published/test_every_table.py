"""Every published table has a complete source block and a test against the document."""

from pathlib import Path

import pytest

from partgen.reference.source import FIELDS, MAY_BE_EMPTY
from partgen.reference.tables import Table, load

HERE = Path(__file__).parent


def test_there_are_tables():
    assert len(Table.names()) >= 24


@pytest.mark.parametrize("name", Table.names())
def test_every_table_loads_with_its_source(name):
    source = load(name).source
    for field in FIELDS:
        assert getattr(source, field) or field in MAY_BE_EMPTY, field


@pytest.mark.parametrize("name", Table.names())
def test_every_table_is_checked_against_the_document(name):
    text = (HERE / f"test_{name}.py").read_text(encoding="utf-8")
    assert f'load("{name}")' in text
    assert ".cells() == " in text or "== printed" in text or "RECALLED" in text


@pytest.mark.parametrize("name", Table.names())
def test_a_recalled_table_has_no_row_marked_found(name):
    table = load(name)
    if table.source.status == "memory":
        assert {row["mark"] for row in table.rows} == {"memory"}


def test_citations_differ():
    cites = [load(name).source.cite for name in Table.names()]
    assert len(set(cites)) == len(cites)
