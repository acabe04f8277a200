"""The standard streams and the current folder as they may be: closed, full, gone."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
FULL = Path("/dev/full")
PARTGEN = f'"{sys.executable}" -m partgen'
pytestmark = pytest.mark.skipif(os.name != "posix", reason="asks a POSIX shell")


def shell(command, cwd, **more):
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **more}
    environment.pop("PYTHONUNBUFFERED", None)
    done = subprocess.run(
        ["sh", "-c", command], cwd=cwd, env=environment | more, capture_output=True, check=False
    )
    assert b"Traceback" not in done.stderr, done.stderr
    assert b"Exception ignored" not in done.stderr, done.stderr
    return done


@pytest.mark.parametrize("closed", ["2>&-", "--json >&- 2>&- <&-"])
def test_closed_streams_stop_no_work(closed, tmp_path):
    done = shell(f'{PARTGEN} make "{BUGGY}" --only web --out out {closed}', tmp_path)
    assert done.returncode == 0
    assert (tmp_path / "out" / "job.json").exists()
    assert shell(f"{PARTGEN} make none.toml {closed}", tmp_path).returncode == 2


@pytest.mark.skipif(not FULL.exists(), reason="needs a device that is always full")
@pytest.mark.parametrize("more", [{}, {"PYTHONUNBUFFERED": "1"}], ids=["buffered", "unbuffered"])
def test_a_full_console_is_one_line_and_no_failing_rule(more, tmp_path):
    done = shell(f'{PARTGEN} fit "{BUGGY}" > {FULL}', tmp_path, **more)
    assert (done.returncode, done.stderr.count(b"\n")) == (2, 1)
    assert done.stderr.startswith(b"what is printed cannot be written: ")
    assert shell(f"{PARTGEN} --version > {FULL}", tmp_path, **more).returncode == 2
    assert shell(f"{PARTGEN} fit --help > {FULL}", tmp_path, **more).returncode == 2
    assert shell(f"{PARTGEN} fit none.toml 2> {FULL}", tmp_path, **more).returncode == 2


def test_a_reader_that_has_gone_is_no_failing_rule(tmp_path):
    command = f"({PARTGEN} schema; echo $? > status) | true"
    done = shell(command, tmp_path)
    assert (done.stderr, (tmp_path / "status").read_text().strip()) == (b"", "2")


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere a folder in use stays")
def test_a_current_folder_that_is_gone_is_one_line(tmp_path):
    done = shell(f'mkdir gone; cd gone; rmdir ../gone; {PARTGEN} check "{BUGGY}"', tmp_path)
    assert (done.returncode, done.stderr.count(b"\n")) == (2, 1)
    assert done.stderr.startswith(b"the folder you are in cannot be read")
