"""Bolt shear: a worked splice, the Manual's single-bolt table, SAE grades, EN 1993-1-8 Table 3.4."""

from math import pi

import pytest

from partgen.errors import ProfileError
from partgen.reference.bolt import bolt
from partgen.reference.tables import load
from partgen.strength.bolt_grade import bolt_grade, nominal_class, stress_area
from partgen.strength.bolt_shear import (
    aisc_bolt_shear,
    en_bolt_shear,
    graded_bolt_shear,
    nominal_stress,
    other_stress,
)
from strength.units import INCH, KIP, KSI


def test_eleven_a325_x_in_single_shear_2005():
    """Worked lap splice: 3/4 in., Fnv 60: Ab .4418, rn 26.5, 11 bolts 292; 219 LRFD, 146 ASD."""
    stress = nominal_stress("A325", threads_in=False, edition="2005")
    assert pi / 4 * 0.75**2 == pytest.approx(0.4418, abs=1e-4)
    one = aisc_bolt_shear(0.75 * INCH, stress, edition="2005")
    assert one.nominal / KIP == pytest.approx(26.5, rel=0.005)
    got = [11 * v / KIP for v in (one.nominal, one.design, one.allowable)]
    assert got == pytest.approx([292, 219, 146], rel=0.005)
    assert "360-05" in one.clause


@pytest.mark.parametrize(
    ("size", "lrfd", "asd"),
    [(0.625, 12.4, 8.28), (0.75, 17.9, 11.9), (0.875, 24.3, 16.2), (1.0, 31.8, 21.2)],
)
def test_manual_table_7_1_a325_n_single_shear(size, lrfd, asd):
    """AISC Manual Table 7-1, from memory."""
    one = aisc_bolt_shear(size * INCH, nominal_stress("A325", threads_in=True))
    assert (one.design / KIP, one.allowable / KIP) == pytest.approx((lrfd, asd), rel=0.005)
    two = aisc_bolt_shear(size * INCH, nominal_stress("A325", threads_in=True), 2)
    assert two.design == pytest.approx(2 * one.design)


@pytest.mark.parametrize(
    ("size", "lrfd", "asd"), [("1/2", 9.94, 6.63), ("5/8", 15.5, 10.4), ("3/4", 22.4, 14.9)]
)
def test_grade_8_threads_in_plane(size, lrfd, asd):
    """Computed elsewhere: .450 x 150 ksi x Ab."""
    grade = bolt_grade("8", bolt(size))
    found = graded_bolt_shear(bolt(size).diameter, grade, 1, threads_in=True)
    assert (found.design / KIP, found.allowable / KIP) == pytest.approx((lrfd, asd), rel=0.005)


def test_editions_differ():
    """AISC J3.2: 2005 has 0.40 and 0.50 Fu, A325-N 48 ksi; 2010 and later 0.450 and 0.563, 54."""
    assert nominal_stress("A325", threads_in=True) / KSI == pytest.approx(54)
    assert nominal_stress("A325", threads_in=True, edition="2005") / KSI == pytest.approx(48)
    assert other_stress(100, threads_in=True, edition="2005") == 40


def test_a_fastener_the_table_does_not_print():
    with pytest.raises(ProfileError, match="no fastener 'A574'"):
        nominal_stress("A574", threads_in=True)
    with pytest.raises(ProfileError, match="no number for 'fnv_out'"):
        nominal_stress("A307", threads_in=False)


@pytest.mark.parametrize(("size", "kn"), [("M16", 60.3), ("M20", 94.1), ("M24", 136)])
def test_en_table_3_4_class_8_8(size, kn):
    """UK design tables (P363), from memory: Fv,Rd of 8.8 with threads in the plane."""
    area = load("iso_898_1_loads").find(bolt=size)["area"]
    found = en_bolt_shear(bolt(size).diameter, area, "8.8", threads_in=True)
    assert found.design / 1e3 == pytest.approx(kn, rel=0.005)


def test_en_10_9_threads_in_plane_has_the_lower_share():
    at_8 = en_bolt_shear(20, 245, "8.8", threads_in=True).nominal / 800
    at_10 = en_bolt_shear(20, 245, "10.9", threads_in=True).nominal / 1000
    assert at_10 / at_8 == pytest.approx(0.5 / 0.6)


def test_grade_8_body_and_thread_in_double_shear():
    """0.6 Fu of 150 ksi: body 79.5 kip, tensile stress area (.3345 in2) 60.2, 24 % less."""
    tensile = bolt_grade("8", bolt("3/4")).tensile
    body = 2 * 0.6 * tensile * pi / 4 * (0.75 * INCH) ** 2 / KIP
    thread = 2 * 0.6 * tensile * stress_area(bolt("3/4")) / KIP
    assert (body, thread) == pytest.approx((79.5, 60.2), rel=0.001)
    assert 1 - thread / body == pytest.approx(0.24, abs=0.005)


@pytest.mark.parametrize(
    ("size", "grade", "proof", "tensile"),
    [
        ("M16", "8.8", 580, 800),
        ("M20", "8.8", 600, 830),
        ("M12", "10.9", 830, 1040),
        ("M10", "12.9", 970, 1220),
    ],
)
def test_class_8_8_changes_at_16_mm(size, grade, proof, tensile):
    found = bolt_grade(grade, bolt(size))
    assert (found.proof, found.tensile) == (proof, tensile)


def test_eurocode_uses_the_nominal_values():
    assert nominal_class("8.8") == (800, 640)
    assert nominal_class("10.9") == (1000, 900)
    with pytest.raises(ProfileError, match="unknown"):
        nominal_class("8.9")


LOADS = load("iso_898_1_loads")


@pytest.mark.parametrize("row", LOADS.rows, ids=lambda r: r["bolt"])
def test_strength_times_stress_area_is_the_printed_load(row):
    """ISO 898-1 load tables: least tensile load and proof load, within 1 %."""
    size = bolt(row["bolt"]) if row["bolt"] != "M22" else None
    area = row["area"] if size is None else stress_area(size)
    assert area == pytest.approx(row["area"], rel=0.01)
    for name, column in (("8.8", "8_8"), ("10.9", "10_9"), ("12.9", "12_9")):
        grade = bolt_grade(name, size or bolt("M20"))
        if row["bolt"] == "M12" and name == "8.8":
            assert row[f"tensile_{column}"] == 67400
        assert area * grade.tensile == pytest.approx(row[f"tensile_{column}"], rel=0.01)
        if row[f"proof_{column}"]:
            assert area * grade.proof == pytest.approx(row[f"proof_{column}"], rel=0.01)


def test_grades_are_refused_by_name():
    with pytest.raises(ProfileError, match=r"known: 10\.9, 12\.9, 8\.8"):
        bolt_grade("8.9", bolt("M16"))
    with pytest.raises(ProfileError, match="known: 2, 5, 8"):
        bolt_grade("10.9", bolt("3/4"))
    with pytest.raises(ProfileError, match="prints no grade 2 at this size"):
        bolt_grade("2", bolt("1"))


def test_seven_sixteenths_is_not_the_misprint():
    """One ANSI copy prints .0163 in2 for 7/16-14; right is .1063."""
    assert stress_area(bolt("7/16-14")) / INCH**2 == pytest.approx(0.1063, abs=1e-4)


@pytest.mark.parametrize(("planes", "words"), [(1, "single"), (2, "double"), (3, "several")])
def test_each_plane_counts(planes, words):
    found = aisc_bolt_shear(16, 400, planes)
    assert found.mode == f"bolt shear, {words}"
    assert found.nominal == pytest.approx(400 * pi / 4 * 256 * planes)


@pytest.mark.parametrize(
    ("size", "grade", "tensile"),
    [("3/4", "2", 74), ("1", "5", 120), ("1/4", "8", 150)],
)
def test_sae_grades_by_size(size, grade, tensile):
    """SAE J429: a size on the border of two rows belongs to the first."""
    assert bolt_grade(grade, bolt(size)).tensile / KSI == pytest.approx(tensile)
