"""Screening strength on the command line: words, exit status, waivers, strict."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from helpers import replaced

from partgen.cli import main

DEMOS = Path(__file__).parents[2] / "demo_parts"
BUGGY = DEMOS / "hill-trial-buggy.toml"


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    assert "Traceback" not in result.output
    return result.output


def changed(tmp_path, *changes, more=""):
    text = replaced(BUGGY.read_text(encoding="utf-8"), *changes)
    path = tmp_path / "job.toml"
    path.write_text(text + more, encoding="utf-8")
    return path


def test_the_weakest_link_is_named_and_called_screening_only():
    lines = [line for line in run("check", BUGGY).splitlines() if "weakest link" in line]
    assert len(lines) == 2
    assert all(line.startswith("screening only: ") and " kN (" in line for line in lines)


def test_all_modes_on_request_in_the_jobs_unit():
    output = run("check", DEMOS / "camping-trailer.toml", "--strength")
    for words in (
        "tear-out",
        "ASME BTH-1",
        "AISC 360-16 J3.6, Table J3.2",
        "lbf",
        "no figure to rely on",
    ):
        assert words in output
    assert " kN" not in output
    assert "clear distance 0.609 in along the force" in output


def test_no_output_names_a_safe_load():
    for args in (("check", BUGGY, "--strength"), ("check", BUGGY, "--json")):
        assert "safe" not in run(*args).lower()


def test_data_holds_findings_and_screening():
    data = json.loads(run("check", BUGGY, "--json"))
    strength = [f for f in data["findings"] if f["rule"] == "strength"]
    assert {f["unit"] for f in strength} == {"N"}
    assert data["screening"][0]["mount"] == "lower-front-mount"
    assert {m.get("label") for m in data["screening"][0]["modes"]} == {"screening only"}


def test_a_force_too_large_stops_the_cut_files_until_it_is_accepted(tmp_path):
    job = changed(tmp_path, ('force = "6 kN"', 'force = "31 kN"'))
    output = run("make", job, "--out", tmp_path / "out", code=1)
    assert (
        "FAIL strength, lower-front-mount/inner, tear-out, load 1: 43.28 kN, needs 46.50 kN"
        in output
    )
    assert not list((tmp_path / "out").rglob("*.dxf"))
    entries = "".join(
        f'\n[[accept]]\nrule = "strength"\nplate = "lower-front-mount/{side}"\nreason = "ear doubled on the bench"\n'
        for side in ("inner", "outer")
    )
    job = changed(tmp_path, ('force = "6 kN"', 'force = "31 kN"'), more=entries)
    output = run("make", job, "--out", tmp_path / "out2")
    assert "ear doubled on the bench" in output
    assert "FAIL strength" in output


def test_what_is_not_covered_fails_only_when_strict(tmp_path):
    job = changed(tmp_path, ('weld_metal = "480 MPa"', ""))
    assert "weld_metal is not given" in run("check", job)
    assert "weld_metal is not given" in run("check", job, "--strict", code=1)
    run("check", BUGGY, "--strict")


def test_an_unused_waiver_is_a_warning(tmp_path):
    entry = '\n[[accept]]\nrule = "strength"\nplate = "lower-front-mount/inner"\nreason = "not needed"\n'
    assert "WARN accept, lower-front-mount/inner, rule strength" in run(
        "check", changed(tmp_path, more=entry)
    )


def test_a_waiver_needs_a_reason(tmp_path):
    entry = '\n[[accept]]\nrule = "strength"\nplate = "lower-front-mount/inner"\n'
    assert "accept[1].reason is missing" in run("check", changed(tmp_path, more=entry), code=2)


@pytest.mark.parametrize("rules", ["aisc-360-16", "aisc-360-05", "en-1993-1-8", "shop"])
def test_every_rule_set_checks_every_demo(rules, tmp_path):
    folder = tmp_path / "demos"
    shutil.copytree(DEMOS, folder)
    for demo in folder.glob("*.toml"):
        text = demo.read_text(encoding="utf-8").replace('"aisc-360-16"', f'"{rules}"')
        demo.write_text(text, encoding="utf-8")
        result = CliRunner().invoke(main, ["check", str(demo)])
        assert result.exit_code in (0, 1)
        assert "Traceback" not in result.output
        assert "weakest link" in result.output or 'family = "link-mount"' not in text


def test_notes_are_in_the_jobs_unit(tmp_path):
    text = (DEMOS / "camping-trailer.toml").read_text(encoding="utf-8")
    path = tmp_path / "job.toml"
    path.write_text(
        text.replace('"aisc-360-16"', '"shop"')
        .replace("5/8-11", "3/4-10")
        .replace('weld_leg = "3/16 in"', 'weld_leg = "3/16 in"\near_radius = 1')
    )
    output = run("check", path)
    assert "1-1/8 in is preferred" in output
    assert " mm " not in output.split("SCREENING")[0]


def test_an_unknown_rule_set_is_named(tmp_path):
    path = changed(tmp_path, ('"aisc-360-16"', '"aisc-360-15"'))
    assert "did you mean 'aisc-360-16'" in run("check", path, code=2)
    path = changed(tmp_path, ('"aisc-360-16"', '"ours.toml"'))
    assert "job.rules: 'ours.toml': cannot be read: No such file" in run("check", path, code=2)
