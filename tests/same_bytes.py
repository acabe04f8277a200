"""Same job, same bytes: on every Python given, whatever hash seed, locale, time zone and folder.

    python tests/same_bytes.py                              # this Python, under each of SETTINGS
    python tests/same_bytes.py python3.12 .venv/bin/python  # these, each with what partgen needs

Every demo is made plain and with every cut option, its plates are drawn and printed as templates.
Exit status 1 if any file differs; the files are named.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEMOS = ROOT / "demo_parts"
# name: environment. The second speaks ASCII only, lives a quarter of an hour off and names its jobs
# from the folder they lie in.
SETTINGS = {
    "plain": {"PYTHONHASHSEED": "0", "LC_ALL": "C.UTF-8", "TZ": "UTC"},
    "odd": {
        "PYTHONHASHSEED": "4711", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0",
        "TZ": "XYZ-12:45", "PARTGEN_FROM": "beside",
    },
}  # fmt: skip
Digests = dict[str, str]


def digests(names: Sequence[str]) -> Digests:
    """Return the SHA-256 of every file made of the demos named, by demo and file."""
    sys.path.insert(0, str(ROOT))
    import partgen
    from partgen.packet.data import digest
    from partgen.sheets.cut_plans import Asked
    from partgen.tasks import making
    from partgen.tasks.drawing_files import make_pictures, make_templates
    from partgen.template.paper import paper

    assert Path(partgen.__file__).is_relative_to(ROOT), partgen.__file__
    if os.environ.get("PARTGEN_FROM") == "beside":
        os.chdir(DEMOS)
    cut = Asked(kerf="profile", leads=True, text=True, motion="plain")
    found: Digests = {}
    for name in names:
        job = Path(name) if Path.cwd() == DEMOS else DEMOS / name
        files = dict(making.make(job, {}, (), "R2000").files)
        files |= {
            f"cut/{k}": v for k, v in making.make(job, {}, (), "R12", asked=cut).files.items()
        }
        files |= make_pictures(job, {}, (), None)[0]
        files["templates.pdf"] = make_templates(job, {}, (), paper("a4", ""))[0].content
        found |= {f"{name}: {file}": digest(content) for file, content in files.items()}
    return found


def made_by(python: str, setting: str, names: Sequence[str]) -> Digests:
    """Return the same from another process."""
    python = str(Path(python).absolute()) if os.sep in python else python  # other folder, same file
    keep = {k: v for k, v in os.environ.items() if k not in ("LANG", "LC_CTYPE", "PYTHONPATH")}
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            [python, "-B", str(Path(__file__).resolve()), "--print", *names],
            cwd=folder, env={**keep, **SETTINGS[setting]}, capture_output=True, check=False,
        )  # fmt: skip
    if done.returncode:
        raise SystemExit(f"{python}, {setting}: {done.stderr.decode('utf-8', 'replace')}")
    result: Digests = json.loads(done.stdout)
    return result


def different(pythons: Sequence[str], names: Sequence[str]) -> list[str]:
    """Return a line for each file that is not the same everywhere."""
    runs = [(python, setting) for python in pythons for setting in SETTINGS]
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        found = dict(zip(runs, pool.map(lambda run: made_by(*run, names), runs), strict=True))
    first = found[runs[0]]
    return [
        f"{file}: {' '.join(run)} differs from {' '.join(runs[0])}"
        for run in runs[1:]
        for file in sorted({*first, *found[run]})
        if first.get(file) != found[run].get(file)
    ]


def main(arguments: Sequence[str]) -> int:
    """Compare, or print the digests of this process."""
    if arguments[:1] == ["--print"]:
        print(json.dumps(digests(arguments[1:])))
        return 0
    lines = different(arguments or [sys.executable], sorted(p.name for p in DEMOS.glob("*.toml")))
    print(*lines, sep="\n")
    return int(bool(lines))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
