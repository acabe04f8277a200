"""Rule sets: two-column edges, the shop's factors, a file of the job's own."""

from dataclasses import replace

import pytest
from helpers import plate, shop

from partgen.entries.cutting import cutting
from partgen.errors import PartgenError, ProfileError
from partgen.geometry.belt import rectangle
from partgen.job.job import load_job
from partgen.reference import profile_files
from partgen.reference.bolt import bolt
from partgen.reference.rule_set import rule_set
from partgen.rules import edge_distance, greatest_distance, hole_spacing
from partgen.rules.finding import Status

OBLONG = [(0, 0), (300, 0), (310, 120), (-5, 110)]


def only(found):
    (finding,) = found
    return finding


def at(y, size, rules, edge="cut", windows=()):
    where = shop(rules, cutting=cutting("plasma-65a", {"edge": edge}))
    return only(edge_distance.check(plate(OBLONG, [("A", 140, y, size)], windows), where))


# ANSI/AISC 360-05 Tables J3.4 (in.) and J3.4M (mm): sheared, rolled or thermally cut.
TWO_COLUMNS = [
    ("5/8", 1.125 * 25.4, 0.875 * 25.4), ("3/4", 1.25 * 25.4, 25.4), ("7/8", 1.5 * 25.4, 1.125 * 25.4),
    ("1", 1.75 * 25.4, 1.25 * 25.4), ("M16", 28, 22), ("M20", 34, 26), ("M24", 42, 30),
]  # fmt: skip


@pytest.mark.parametrize(("size", "sheared", "cut"), TWO_COLUMNS)
def test_the_column_follows_from_how_the_edge_is_cut(size, sheared, cut):
    for edge, required in (("sheared", sheared), ("cut", cut)):
        assert at(required, size, "aisc-360-05", edge).status is Status.PASS
        short = at(required - 0.01, size, "aisc-360-05", edge)
        assert (short.status, short.required) == (Status.FAIL, pytest.approx(required))
        assert f"{edge} edge" in short.source


def test_a_window_is_thermally_cut_even_where_the_outside_is_sheared():
    """M16: 28 mm to the sheared edge, 22 to the window; the window at 23 is nearer but passes."""
    window = rectangle(40, 30, 0, (140 + 23 + 20, 50))
    found = at(27, "M16", "aisc-360-05", "sheared", [("w", window)])
    assert (found.status, found.where) == (Status.FAIL, "hole A (M16) to outside edge")
    found = at(40, "M16", "aisc-360-05", "sheared", [("w", window)])
    assert (found.status, found.where) == (Status.PASS, "hole A (M16) to window w")
    assert found.measured == pytest.approx(23)


def test_the_2016_edition_has_one_column():
    assert at(22, "M16", "aisc-360-16", "sheared").status is Status.PASS


@pytest.mark.parametrize(
    ("y", "status"),
    [(24.0, Status.PASS), (23.9, Status.WARN), (20.0, Status.WARN), (19.9, Status.FAIL)],
)
def test_shop_factors_warn_under_1_5_d_and_fail_under_1_25_d(y, status):
    found = at(y, "M16", "shop")
    assert found.status is status
    assert found.source == "common practice, no source"


def test_shop_covers_sizes_no_table_prints():
    assert at(17.5, "M14", "shop").required == pytest.approx(17.5)
    assert at(50, "M14", "aisc-360-16").status is Status.NOT_COVERED


def pair(away, size, rules):
    """Two holes at 3 to 4."""
    holes = [("A", 80, 50, size), ("B", 80 + 0.6 * away, 50 + 0.8 * away, size)]
    found = hole_spacing.check(plate([(0, 0), (300, 0), (300, 220), (0, 200)], holes), shop(rules))
    return {f.where.rpartition(", ")[2]: f for f in found}


def test_aisc_spacing():
    """J3.3: 2-2/3 d, 3 d preferred, clear not under d; M16 in a 17.5 mm hole."""
    least, better = 16 * 8 / 3, 48
    assert pair(better, "M16", "aisc-360-16")["centres"].status is Status.PASS
    assert pair(better - 0.01, "M16", "aisc-360-16")["centres"].status is Status.WARN
    assert pair(least, "M16", "aisc-360-16")["centres"].status is Status.WARN
    short = pair(least - 0.01, "M16", "aisc-360-16")
    assert short["centres"].status is Status.FAIL
    assert short["clear"].status is Status.PASS
    assert short["clear"].measured == pytest.approx(least - 0.01 - 17.5)
    assert pair(33.5, "M16", "aisc-360-16")["clear"].status is Status.PASS
    assert pair(33.49, "M16", "aisc-360-16")["clear"].status is Status.FAIL


def test_the_shops_spacing_is_2_5_d_and_clear_1_d():
    """Common practice, no source; M16 in a 17.5 mm hole."""
    found = pair(41, "M16", "shop")
    assert (found["centres"].required, found["clear"].required) == (40, 16)
    assert found["centres"].note == "48 mm is preferred"


def test_en_spacing_is_2_4_hole_diameters():
    assert pair(2.4 * 17.5, "M16", "en-1993-1-8")["centres"].status is Status.PASS
    assert pair(2.4 * 17.5 - 0.01, "M16", "en-1993-1-8")["centres"].status is Status.FAIL
    assert "clear" not in pair(42, "M16", "en-1993-1-8")


def test_holes_over_six_diameters_apart_are_not_listed():
    """105 mm for holes of 17.5."""
    assert pair(105, "M16", "aisc-360-16")
    assert not pair(105.1, "M16", "aisc-360-16")


@pytest.mark.parametrize("sizes", [("M20", "M12"), ("M12", "M20")])
def test_the_larger_of_two_bolts_counts(sizes):
    """M20 in 22 mm beside M12 in 13.5 mm: 2-2/3 x 20, clear 20; 2.4 x 22; to 6 x 22 listed."""

    def beside(away, rules="aisc-360-16"):
        holes = [("A", 80, 50, sizes[0]), ("B", 80 + away, 50, sizes[1])]
        return hole_spacing.check(
            plate([(0, 0), (300, 0), (300, 90), (0, 120)], holes), shop(rules)
        )

    centres, clear = beside(130)
    assert (centres.status, centres.required, centres.note) == (
        Status.PASS,
        pytest.approx(160 / 3),
        "",
    )
    assert (clear.required, clear.measured) == (20, pytest.approx(130 - 17.75))
    assert only(beside(53, "en-1993-1-8")).required == pytest.approx(52.8)
    assert not beside(133)
    short, _ = beside(50)
    assert (short.status, short.note) == (Status.FAIL, "move the holes apart")
    assert beside(55)[0].note == "60 mm is preferred"


def test_adjustment_holes_for_one_bolt_are_no_pair():
    holes = [("joint", 80, 50, "M16"), ("joint-adjust-1", 80, 80, "M16"), ("other", 80, 20, "M16")]
    piece = plate([(0, 0), (300, 0), (300, 220), (0, 200)], holes)
    found = hole_spacing.check(piece, shop())
    assert {f.where.split(",")[0] for f in found} == {
        "hole joint to hole other",
        "hole joint-adjust-1 to hole other",
    }


def big(y, rules, thickness=6.0, unit="mm"):
    piece = plate([(0, 0), (900, 0), (900, 800), (0, 790)], [("A", 450, y, "M16")], (), thickness)
    return greatest_distance.check(piece, shop(rules, unit=unit))


@pytest.mark.parametrize(
    ("rules", "thickness", "unit", "most"),
    [("aisc-360-16", 6, "mm", 72), ("aisc-360-16", 20, "mm", 150), ("aisc-360-16", 20, "in", 152.4),
     ("en-1993-1-8", 6, "mm", 64), ("aisc-360-05", 6, "mm", 72)],
)  # fmt: skip
def test_greatest_edge_distance(rules, thickness, unit, most):
    """AISC J3.5: 12 t, 150 mm or 6 in.; EN Table 3.3: 4 t + 40 mm."""
    assert not big(most, rules, thickness, unit)
    found = only(big(most + 0.01, rules, thickness, unit))
    assert (found.status, found.required) == (Status.WARN, pytest.approx(most))
    assert found.margin == pytest.approx(-0.01)


def test_the_nearest_edge_of_all_counts_also_a_windows():
    """A window 72 from the hole, 0.01 farther, and one far off; the plate's edges 390 away."""
    board = [(0, 0), (900, 0), (900, 800), (0, 790)]
    far = ("far", rectangle(40, 30, 0, (700, 600)))
    for gap, warns in ((72, False), (72.01, True)):
        near = ("near", rectangle(40, 30, 0, (450 + gap + 20, 390)))
        piece = plate(board, [("A", 450, 390, "M16")], [near, far])
        found = greatest_distance.check(piece, shop())
        assert [f.where for f in found] == (["hole A to window near, at most"] if warns else [])


def test_the_shop_set_has_no_greatest_distance():
    assert not big(400, "shop")


def test_greatest_spacing_is_known_but_no_rule():
    """J3.5: 24 t, 300 mm; Table 3.3: 14 t, 200 mm."""
    assert rule_set("aisc-360-16").greatest_spacing(6, "mm").value == 144
    assert rule_set("aisc-360-16").greatest_spacing(20, "mm").value == 300
    assert rule_set("en-1993-1-8").greatest_spacing(6, "mm").value == 84
    assert rule_set("en-1993-1-8").greatest_spacing(20, "mm").value == 200
    assert rule_set("shop").greatest_spacing(6, "mm") is None


OWN = """
title = "Our own limits"
base = "aisc-360-16"
source = "our shop book, page 4"

[edge_distance]
by = "factor"
least = 1.6
preferred = 2

[limits]
inside_radius = "1/2 in"
"""


def own(tmp_path, text=OWN):
    (tmp_path / "ours.toml").write_text(text, encoding="utf-8")
    return rule_set("ours.toml", tmp_path)


def test_a_file_beside_the_job_goes_over_its_base(tmp_path):
    rules = own(tmp_path)
    asked = rules.edge_distance(bolt("M16"), 17.5)
    assert (asked.value, asked.preferred) == pytest.approx((25.6, 32))
    assert asked.source == "our shop book, page 4"
    assert rules.spacing(bolt("M16"), 17.5)[0].source == "AISC 360-16 J3.3"
    assert rules.limits.values.inside_radius == pytest.approx(12.7)
    assert (
        rules.limits.source("inside_radius", "mark_gap")
        == "our shop book, page 4; common practice, no source"
    )
    assert rules.limits.values.mark_gap == 3
    assert rules.title == "Our own limits"


@pytest.mark.parametrize("least", [0, 0.5, 20])
def test_a_factor_from_0_to_20_will_do_and_a_preferred_one_may_be_left_out(tmp_path, least):
    text = OWN.replace("least = 1.6\npreferred = 2\n", f"least = {least}\n")
    asked = own(tmp_path, text).edge_distance(bolt("M16"), 17.5)
    assert (asked.value, asked.preferred) == (16 * least, None)


def test_a_row_that_is_not_in_the_table_is_named():
    rules = rule_set("en-1993-1-8")
    entry = rules.data["edge_distance"] | {"row": "e9"}
    wrong = replace(rules, data={**rules.data, "edge_distance": entry})
    with pytest.raises(ProfileError, match=r"en-1993-1-8: EN 1993-1-8.* has no row 'e9'"):
        wrong.edge_distance(bolt("M16"), 17.5)


def test_a_job_names_its_own_file(tmp_path):
    own(tmp_path)
    job = tmp_path / "job.toml"
    part = '[[part]]\nname = "pad"\nfamily = "spacer"\nsize = [60, 60]\nplate = "6 mm S355"\nbolt = "M16"'
    head = '[job]\nname = "own rules"\nunits = "mm"\nrules = "ours.toml"\n'
    job.write_text(f"{head}\n{part}\n", encoding="utf-8")
    assert load_job(job).shop.rule_set.title == "Our own limits"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            OWN.replace("inside_radius", "inside_radios"),
            "limits.inside_radios: unknown key; did you mean 'inside_radius'",
        ),
        (OWN.replace('"1/2 in"', '"1/2 furlong"'), "limits.inside_radius"),
        (OWN.replace('"1/2 in"', "-2"), "limits.inside_radius"),
        (OWN.replace("least = 1.6", 'least = "much"'), "edge_distance.least: must be a number"),
        (OWN.replace("least = 1.6", "least = nan"), "edge_distance.least: must be a number"),
        (OWN.replace('by = "factor"', 'by = "bolt"'), "edge_distance.by: must be 'factor'"),
        (OWN.replace('"aisc-360-16"', '"aisc-360-99"'), "base = 'aisc-360-99'"),
        (OWN.replace('base = "aisc', 'base = "../aisc'), "no such rule set"),
        (OWN.replace('title = "Our own limits"', ""), "'title' is missing"),
        (OWN + "\n[greatest]\n", "comes from the base"),
        (OWN + "\n[spacings]\n", "unknown key; did you mean 'spacing'"),
        (OWN.replace("[limits]", "[limits"), "'[limits': not readable as TOML"),
        (OWN + '\n[strength]\ndocument = "x"\n', "must be 'aisc' or 'en'"),
        ("spacing = 3\n" + OWN, "[spacing] must be a table"),
        (OWN.replace("preferred = 2", 'preferred = "wide"'), "edge_distance.preferred: must be"),
        (OWN.replace("least = 1.6", "least = 20.5"), "least: must be a number from 0 to 20"),
        (OWN.replace("least = 1.6", "least = -0.1"), "least: must be a number from 0 to 20"),
    ],
)
def test_mistakes_in_it_are_named(tmp_path, text, words):
    with pytest.raises(PartgenError) as error:
        own(tmp_path, text)
    assert words in str(error.value)
    assert "ours.toml" in str(error.value)


@pytest.mark.parametrize(
    "name", ["../ours.toml", "/etc/ours.toml", "a/../../b.toml", "..\\ours.toml"]
)
def test_it_may_not_leave_the_jobs_folder(tmp_path, name):
    with pytest.raises(ProfileError, match="the job's own folder"):
        rule_set(name, tmp_path)


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(ProfileError, match="No such file"):
        rule_set("none.toml", tmp_path)


@pytest.mark.parametrize("name", ["aisc-360-16", "aisc-360-05", "en-1993-1-8", "shop"])
def test_every_shipped_set_answers_every_question(name):
    rules = rule_set(name)
    assert rules.edge_distance(bolt("M16"), 17.5).value > 0
    assert rules.edge_distance(bolt("3/4"), 20.6, "sheared").value > 0
    assert rules.spacing(bolt("3/4"), 20.6)[0].value > 0
    assert rules.strength[0] in ("aisc", "en")


def test_the_shops_own_file_may_be_copied_and_edited(tmp_path):
    text = profile_files.path("rules", "shop").read_text(encoding="utf-8")
    rules = own(tmp_path, text.replace("least = 1.25", "least = 1.4"))
    assert rules.edge_distance(bolt("M16"), 17.5).value == pytest.approx(22.4)
    assert rules.limits == rule_set("shop").limits
