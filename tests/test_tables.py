"""Table files: what the loader takes, converts and refuses. Own example, no published numbers."""

import copy

import pytest

from partgen.errors import ProfileError
from partgen.reference import profile_files, tables
from partgen.reference.tables import load, parse

GOOD = {
    "source": {
        "cite": "Example 7",
        "body": "nobody",
        "document": "An example",
        "edition": "first",
        "locator": "Table 7",
        "clause": "",
        "status": "secondary",
        "note": "",
    },
    "meaning": {"above_rows": {"over": 1.5, "edge": 2}},
    "units": {"bolt": "in", "edge": "in", "name": "label", "load": "N"},
    "table": {
        "columns": ["bolt", "edge", "name", "load"],
        "blanks": ["load"],
        "rows": [["1/2", "1-3/8", "a", 10], [1.5, 2, "b", "-", "memory"]],
    },
}


def changed(block, field, value):
    data = copy.deepcopy(GOOD)
    if value is None:
        del data[block][field]
    else:
        data[block][field] = value
    return data


def test_a_good_file_is_read_in_its_printed_unit():
    table = parse("example", GOOD)
    assert table.name == "example"
    assert table.columns == ("bolt", "edge", "name", "load")
    assert table.cells() == [(0.5, 1.375, "a", 10), (1.5, 2, "b", None)]
    assert [row["mark"] for row in table.rows] == ["found", "memory"]
    assert [table.cite(row) for row in table.rows] == ["Example 7", "Example 7 (from memory)"]


def test_lengths_convert_and_nothing_else():
    table = parse("example", GOOD)
    assert table.mm(table.rows[0], "edge") == 1.375 * 25.4
    metric = changed("units", "edge", "mm")
    assert parse("example", metric).mm(parse("example", metric).rows[0], "edge") == 1.375
    with pytest.raises(ProfileError, match="Example 7: 'load' is in N, not a length"):
        table.mm(table.rows[0], "load")
    with pytest.raises(ProfileError, match=r"row 1\.5 prints no number for 'load'"):
        table.mm(table.rows[1], "load")
    with pytest.raises(ProfileError, match="prints no number for 'name'"):
        table.number(table.rows[1], "name")


def test_lookup_goes_on_only_as_the_document_says():
    table = parse("example", GOOD)
    assert [table.lookup(bolt, "edge") for bolt in (0.4, 0.5, 1, 1.5, 3)] == [
        None,
        1.375,
        None,
        2,
        6,
    ]
    silent = parse("example", changed("meaning", "above_rows", None))
    assert silent.lookup(3, "edge") is None
    with pytest.raises(ProfileError, match="no column 'egde'; did you mean 'edge'"):
        table.lookup(9, "egde")


def test_find_wants_every_key():
    table = parse("example", GOOD)
    assert table.find(bolt=0.5, name="a")["load"] == 10
    assert table.find(bolt=0.5, name="b") is None
    assert table.find(bolt="1/2") is None
    with pytest.raises(ProfileError, match="no column 'size'"):
        table.find(size=1)


def test_rows_cannot_be_changed():
    with pytest.raises(TypeError):
        load("iso_273").rows[0]["fine"] = 5


@pytest.mark.parametrize("block", ["source", "meaning", "units", "table"])
def test_a_missing_block_is_refused(block):
    data = {name: value for name, value in GOOD.items() if name != block}
    with pytest.raises(ProfileError, match=rf"tables/example\.toml: block \[{block}\] is missing"):
        parse("example", data)


def test_an_unknown_block_is_refused():
    with pytest.raises(ProfileError, match=r"block \[row\] is unknown"):
        parse("example", GOOD | {"row": {}})


@pytest.mark.parametrize("field", ["cite", "body", "document", "edition", "locator", "note"])
def test_a_missing_source_field_is_refused(field):
    with pytest.raises(ProfileError, match=rf"example\.toml: \[source\] field '{field}'"):
        parse("example", changed("source", field, None))


@pytest.mark.parametrize(
    ("block", "field", "value", "message"),
    [
        ("source", "edition", " ", "'edition' is missing or empty"),
        ("source", "edition", 2016, "'edition' is missing or empty"),
        ("source", "page", "3", "'page' is unknown"),
        ("source", "status", "sure", "status is 'sure', needs one of primary, secondary, memory"),
        ("units", "edge", None, "column 'edge' has unit ''"),
        ("units", "edge", "inch", "column 'edge' has unit 'inch'; needs one of label"),
        ("units", "extra", "mm", "names 'extra', which is no column"),
        ("table", "columns", None, "'columns' is missing or empty"),
        ("table", "rows", [], "'rows' is missing or empty"),
        ("table", "rows", [1, 2], "row 1 is 1, needs a list of cells"),
        ("table", "blanks", ["laod"], "blanks names 'laod', which is no column"),
        ("table", "columns", ["bolt", "edge", "name", "edge"], "columns must differ"),
        ("table", "columns", ["bolt", "edge", "name", "mark"], "none is 'mark'"),
        ("table", "row", [], "'row' is unknown"),
        ("table", "mark", "sure", "row 1: mark is 'sure', needs one of found, memory, computed"),
        ("table", "rows", [[1, 2, "a", 3, "sure"]], "row 1: mark is 'sure'"),
        ("table", "rows", [[1, 2, "a", 3], [1, 2, "a"]], "row 2 has 3 cells, needs 4"),
        ("table", "rows", [[1, 2, "a", 3, "found", 5]], "row 1 has 6 cells, needs 4"),
        ("table", "rows", [[1, "two", "a", 3]], "row 1, column 'edge': 'two' is no number"),
        ("table", "rows", [[1, "-", "a", 3]], "row 1, column 'edge': '-' is no number"),
        ("table", "rows", [[1, True, "a", 3]], "row 1, column 'edge': True is no number"),
        ("table", "rows", [[1, float("nan"), "a", 3]], "column 'edge': nan is no number"),
        ("table", "rows", [[1, -2, "a", 3]], "column 'edge': -2 is below 0"),
        ("table", "rows", [[1, "1/0", "a", 3]], "column 'edge': '1/0' is no number"),
        ("table", "rows", [[1, 2, 5, 3]], "column 'name': 5 is no text"),
    ],
)
def test_a_faulty_file_is_refused_by_name_and_field(block, field, value, message):
    with pytest.raises(ProfileError, match=r"^profiles/tables/example\.toml: ") as caught:
        parse("example", changed(block, field, value))
    assert message in str(caught.value)


def test_an_unknown_table_names_the_nearest():
    with pytest.raises(ProfileError, match="'iso_237' is unknown; did you mean 'iso_273'"):
        load("iso_237")
    assert "iso_273" in tables.Table.names()


def test_a_table_is_read_once():
    assert load("iso_273") is load("iso_273")


def test_an_unknown_kind_names_the_nearest():
    with pytest.raises(ProfileError, match="kind 'table' is unknown; did you mean 'tables'"):
        profile_files.names("table")


@pytest.mark.parametrize("place", ["partgen/profiles", "profiles"])
def test_profiles_are_found_in_a_wheel_and_in_a_checkout(place, tmp_path, monkeypatch):
    (tmp_path / place / "tables").mkdir(parents=True)
    (tmp_path / place / "tables" / "one.toml").write_text('a = "b"', encoding="utf-8")
    (tmp_path / place / "tables" / "bad.toml").write_text("a = ", encoding="utf-8")
    monkeypatch.setattr(
        profile_files, "__file__", str(tmp_path / "partgen" / "reference" / "profile_files.py")
    )
    assert profile_files.names("tables") == ["bad", "one"]
    assert profile_files.read("tables", "one") == {"a": "b"}
    assert profile_files.path("tables", "one") == tmp_path / place / "tables" / "one.toml"
    with pytest.raises(ProfileError, match=r"profiles/tables/bad\.toml: cannot be read"):
        profile_files.read("tables", "bad")


def test_no_profiles_anywhere_is_said(tmp_path, monkeypatch):
    monkeypatch.setattr(
        profile_files, "__file__", str(tmp_path / "partgen" / "reference" / "profile_files.py")
    )
    with pytest.raises(ProfileError, match="no folder with tables in"):
        profile_files.names("tables")
