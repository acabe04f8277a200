"""Files and options mistaken at the bench: one line with what is wrong and what to do."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from partgen.cli import main

ROOT = Path(__file__).parents[2]
BUGGY = (ROOT / "demo_parts" / "hill-trial-buggy.toml").read_text(encoding="utf-8")
FORM = "[coupon]\nplate = '6 mm S355'\ncutting = 'plasma-65a'\nuint = 'mm'\n[drawn]\n[measured]\n"
MISTAKES = [
    (["check", "wagn.toml"], ["wagn.toml: No such file or directory; did you mean 'wagon.toml'?"]),
    (["check", "q.txt"], ["q.txt: No such file or directory; check its name and folder"]),
    (["check", "folder"], ["folder: is a directory; name a file in it"]),
    (["check", "empty.toml"], [
        'empty.toml: job is missing: [job] with name = "..." and units = "mm" or "in"',
        "empty.toml: part is missing: at least one [[part]] with its name and family; all other "
        "tables may be left out"]),
    (["make", "wagon.toml", "--cool", "far"], [
        "--cool: 'far' is no length; write '66.7 mm', '2.625 in' or '2-5/8 in'"]),
    (["make", "wagon.toml", "--motion", "plane"], [
        "--motion: profiles/post: 'plane' is unknown; did you mean 'plain'?"]),
    (["make", "wagon.toml", "--motion", "wagn.toml"], [
        "--motion: wagn.toml: No such file or directory; did you mean 'wagon.toml'?"]),
    (["make", "wagon.toml", "--out", "note.txt"], [
        "note.txt: is a file, no folder; choose another place"]),
    (["nest", "wagon.toml", "--sheet", "1250x2500", "--gap", "5x"], [
        "--gap: '5x': unit 'x' is not known; use mm, cm, m, in, ft"]),
    (["nest", "wagon.toml", "--sheet", "1250x2500", "--margin", "wide"], [
        "--margin: 'wide' is no length; write '66.7 mm', '2.625 in' or '2-5/8 in'"]),
    (["nest", "wagon.toml", "--sheet", "12x5furlong"], [
        "--sheet 12x5furlong: '5furlong': unit 'furlong' is not known; use mm, cm, m, in, ft"]),
    (["nest", "wagn.toml", "--sheet", "1250x2500"], [
        "wagn.toml: No such file or directory; did you mean 'wagon.toml'?"]),
    (["coupon", "--measured", "wagon.toml"], [
        "wagon.toml: is no coupon form, [coupon] is missing; fill in the form.toml that partgen "
        "coupon wrote"]),
    (["coupon", "--measured", "form.toml"], [
        "form.toml: coupon.unit is missing",
        "form.toml: coupon.uint: unknown key; did you mean 'unit'?"]),
    (["coupon", "--measured", "frm.toml"], [
        "frm.toml: No such file or directory; did you mean 'form.toml'?"]),
    (["measure", "wagon.toml", "--as-built", "folder"], [
        "folder: cannot be read: is a directory; name a file in it"]),
    (["library", "urethane"], ["library: no 'urethane'; did you mean 'urethane-bush-5-8'?"]),
    (["linkage", "wagon.toml"], [
        "wagon.toml: no [linkage] in this job; 'partgen schema linkage' prints its keys, 'partgen "
        "demo' copies jobs that have one"]),
    (["cope", "--tube", "0", "--onto", "30"], [
        "tube = 0 mm, onto = 30 mm: both must be more than 0 mm"]),
]  # fmt: skip


@pytest.mark.parametrize(("words", "lines"), MISTAKES, ids=lambda v: " ".join(v)[:40])
def test_a_wrong_file_or_option_is_told_with_what_to_do(words, lines, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder").mkdir()
    files = {"wagon.toml": BUGGY, "empty.toml": "", "note.txt": "mine", "form.toml": FORM}
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 2
    assert result.output.splitlines() == lines
    assert {
        p.name: p.read_text(encoding="utf-8") for p in tmp_path.iterdir() if p.is_file()
    } == files


@pytest.mark.parametrize("words", [["make", "wagon.toml", "--out", ""], ["check", ""]])
def test_nothing_typed_is_not_the_current_folder(words, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "wagon.toml").write_text(BUGGY, encoding="utf-8")
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 2
    assert "is empty; name a file or folder" in result.output
    assert [p.name for p in tmp_path.iterdir()] == ["wagon.toml"]
