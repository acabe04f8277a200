"""The page in a real browser: loads clean, fits a phone, nothing printed on anything, prints.

Skipped where no Chromium is installed; ``.ci/run`` installs one where it can.
"""

import json
import re
import shutil
import subprocess
from html import unescape

import pytest
from helpers import DEMOS, made_demo
from pypdf import PdfReader

from partgen.packet.page import FILE, POLICY, STOPPED
from partgen.tasks.making import make

BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         "--disable-dev-shm-usage"]  # fmt: skip
PHONE, WIDE = 360, 1280  # CSS pixels across
pytestmark = pytest.mark.skipif(BROWSER is None, reason="no Chromium installed")
WELD_TITLE = "Weld map: number, leg x length"  # in the picture
LEAST_TEXT = 7  # CSS pixels, the letters inside a drawing; the page can be zoomed
# Runs in a page around the page: its size, what sticks out, texts that lie on each other.
PROBE = """
const frame = document.querySelector('iframe');
frame.onload = () => {
  const page = frame.contentDocument, wide = frame.clientWidth;
  const out = [...page.querySelectorAll('body *')].filter(e => !e.closest('svg') && !e.closest('thead')
    && e.getBoundingClientRect().right > wide + 0.5).map(e => e.outerHTML.slice(0, 90));
  const met = [];
  for (const svg of page.querySelectorAll('svg')) {
    const boxes = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
    boxes.forEach(([a, p], k) => boxes.slice(k + 1).forEach(([b, q]) => {
      const slack = 0.15 * Math.min(p.width, p.height, q.width, q.height);
      if (p.left + slack < q.right && q.left + slack < p.right &&
          p.top + slack < q.bottom && q.top + slack < p.bottom) met.push(a + ' | ' + b);
    }));
    const view = svg.getBoundingClientRect();
    boxes.filter(([, p]) => p.left < view.left - 1 || p.right > view.right + 1)
      .forEach(([a]) => met.push(a + ' | edge of the picture'));
  }
  // Lines of a plate's drawing, looked at every pixel, against the letters' middle: their ink.
  const crossed = [];
  for (const svg of page.querySelectorAll('.plate svg')) {
    if (!svg.querySelector('title').textContent.includes(' x ')) continue;
    const boxes = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
    for (const line of svg.querySelectorAll('path')) {
      const long = line.getTotalLength(), m = line.getScreenCTM();
      for (let at = 0; at <= long; at += 1 / m.a) {
        const p = line.getPointAtLength(at), x = m.a * p.x + m.e, y = m.d * p.y + m.f;
        for (const [text, b] of boxes) {
          const dx = (b.width < b.height ? 0.25 : 0.05) * b.width, dy = (b.width < b.height ? 0.05 : 0.25) * b.height;
          if (x > b.left + dx && x < b.right - dx && y > b.top + dy && y < b.bottom - dy) crossed.push(text);
        }
      }
    }
  }
  const small = Math.min(...[...page.querySelectorAll('.plate text')].map(t => t.getAttribute('font-size')
    * t.ownerSVGElement.getBoundingClientRect().width / t.ownerSVGElement.viewBox.baseVal.width));
  const columns = new Set([...page.querySelectorAll('.plate')].map(e => e.getBoundingClientRect().left)).size;
  document.body.textContent = JSON.stringify({columns, crossed: [...new Set(crossed)], scroll: page.documentElement.scrollWidth, out, met,
    texts: page.querySelectorAll('svg text').length, small, title: page.title});
};
"""


def run(folder, *flags):
    done = subprocess.run([BROWSER, *FLAGS, f"--user-data-dir={folder / 'profile'}", *flags],
                          capture_output=True, text=True, timeout=120, check=True)  # fmt: skip
    return done.stdout, done.stderr


def probe(folder, content, width):
    """Return what the probe sees; the copy lets a script look at it, the page itself allows none."""
    (folder / "copy.html").write_text(
        content.replace(POLICY, "").replace(unescape(POLICY), ""), encoding="utf-8"
    )
    (folder / "probe.html").write_text(
        f"<body style='margin:0'><iframe style='border:0' width={width} height=800></iframe>"
        f"<script>{PROBE} frame.src = 'copy.html';</script></body>", encoding="utf-8")  # fmt: skip
    dom, _ = run(folder, "--allow-file-access-from-files", "--virtual-time-budget=8000", "--hide-scrollbars",
                 "--window-size=1200,900", "--dump-dom", (folder / "probe.html").as_uri())  # fmt: skip
    return json.loads(unescape(re.search(r"<body[^>]*>(.*)</body>", dom, re.DOTALL)[1]))


def failing(folder):
    text = (DEMOS / "hill-trial-buggy.toml").read_text(encoding="utf-8")
    path = folder / ("long-name-" * 12 + ".toml")
    name = "W" * 118
    text = text.replace('Hill-trial buggy, rear lower links"', f'{name}"')
    path.write_text(
        text.replace("pivot = [310, -68]", "pivot = [310, -68]\near_radius = 18"), encoding="utf-8"
    )
    return path


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    made = {path.stem: made_demo(path.stem) for path in sorted(DEMOS.glob("*.toml"))}
    made["failing"] = make(failing(folder), {}, (), "R2000")
    return {name: m.files[FILE].decode("utf-8") for name, m in made.items()}


def test_fits_a_phone_with_no_text_on_another(pages, tmp_path):
    for name, content in pages.items():
        seen = probe(tmp_path, content, PHONE)
        assert seen["title"]
        assert seen["texts"] > 20
        assert (seen["scroll"], seen["out"]) == (PHONE, []), name
        assert seen["met"] == [], name
        assert seen["crossed"] == [], name
        assert seen["small"] > LEAST_TEXT, name
        assert seen["columns"] == 1


def test_plates_stand_in_two_columns_on_a_wide_screen(pages, tmp_path):
    for width in (1000, WIDE):
        seen = probe(tmp_path, pages["hill-trial-buggy"], width)
        assert (seen["columns"], seen["scroll"], seen["out"]) == (2, width, [])
        assert seen["met"] == []
        assert seen["small"] > LEAST_TEXT


def test_the_probe_sees_a_page_that_is_too_wide(pages, tmp_path):
    wide = pages["failing"].replace("<h1>", "<h1 style='width:400px'>")
    assert probe(tmp_path, wide, PHONE)["out"]


def test_the_probe_sees_a_line_through_a_letter(pages, tmp_path):
    content = pages["hill-trial-buggy"]
    letter = re.search(r'<text x="([-\d.]+)" y="([-\d.]+)"[^>]*>B</text>', content)
    x, y = float(letter[1]), float(letter[2])
    line = f'<path d="M{x - 9} {y}L{x + 9} {y}"/>'
    struck = content.replace(letter[0], letter[0] + line, 1)
    assert probe(tmp_path, struck, PHONE)["crossed"] == ["B"]


def test_loads_without_an_error(pages, tmp_path):
    page = tmp_path / "packet.html"
    page.write_text(pages["failing"], encoding="utf-8")
    dom, noise = run(tmp_path, "--enable-logging=stderr", "--v=0", "--dump-dom", page.as_uri())
    assert "As-built sheet" in dom
    assert "CONSOLE" not in noise


def test_prints_and_the_stamp_is_on_every_page(pages, tmp_path):
    page, pdf = tmp_path / "packet.html", tmp_path / "packet.pdf"
    page.write_text(pages["failing"], encoding="utf-8")
    run(tmp_path, f"--print-to-pdf={pdf}", "--no-pdf-header-footer", page.as_uri())
    printed = [" ".join(p.extract_text().split()) for p in PdfReader(pdf).pages]
    assert 4 <= len(printed) <= 12
    assert all(STOPPED.replace(" ", "") in text.replace(" ", "") for text in printed)
    assert any("FAIL: edge-distance" in text for text in printed)
    assert not any("Fit-up order" in text for text in printed)  # on screen only while it is stopped


def test_a_job_that_passes_prints_what_is_filled_in_by_hand(pages, tmp_path):
    page, pdf = tmp_path / "packet.html", tmp_path / "packet.pdf"
    page.write_text(pages["hill-trial-buggy"], encoding="utf-8")
    run(tmp_path, f"--print-to-pdf={pdf}", "--no-pdf-header-footer", page.as_uri())
    printed = [" ".join(p.extract_text().split()) for p in PdfReader(pdf).pages]
    assert len(printed) <= 16
    assert any("As-built sheet" in text for text in printed)
    assert any("Looked at by" in text for text in printed)
    assert not any("On paper:" in text for text in printed)


def test_headings_stand_on_the_page_of_what_they_head(pages, tmp_path):
    for name in ("hill-trial-buggy", "hill-trial-buggy-rear-links", "fold-down-carrier"):
        page, pdf = tmp_path / "packet.html", tmp_path / "packet.pdf"
        page.write_text(pages[name], encoding="utf-8")
        run(tmp_path, f"--print-to-pdf={pdf}", "--no-pdf-header-footer", page.as_uri())
        printed = [p.extract_text().splitlines() for p in PdfReader(pdf).pages]
        first_plate = re.search(r'class="plate"><h3>(.*?)</h3>', pages[name])[1]
        for heading, below in (("Weld map", WELD_TITLE), ("Plates", first_plate)):
            (lines,) = [p for p in printed if heading in (line.strip() for line in p)]
            assert any(below in line for line in lines), (name, heading)
        text = " ".join(line for lines in printed for line in lines)
        assert "Passed: " in text
        assert "tightest at" not in text  # on paper the line alone
