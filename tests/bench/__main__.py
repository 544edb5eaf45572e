"""How fast the program is, as ratios within one run, and how it grows.

    python -m tests.bench                 a small academy, some minutes: to see whether something got slower
    python -m tests.bench --full          the academy of the bars: 200 students with 10 lessons each
    python -m tests.bench --full --huge   with growth up to 5,000 students

Wall times are the least of several runs where a run is short; growth is fitted to processor time. Results that were
written down stand in RESULTS.md.
"""

import argparse
import hashlib
import math
import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from tests.bench.academies import photograph, write_academy
from tests.bench.alone import apart, one_lesson_alone

ROOT = Path(__file__).parents[2]
ENVIRONMENT = {**os.environ, "SOURCE_DATE_EPOCH": "1795608000"}
ENVIRONMENT.pop("PYTHONDONTWRITEBYTECODE", None)  # an installed program is compiled once, and not anew in each run
DRILL = "pendulum-swings.md"
KIB_IN_MIB = 1024


@dataclass(frozen=True)
class Run:
    """A finished command: seconds on the clock and of processors, peak memory of its largest process in KiB."""

    wall: float
    cpu: float
    memory: int


def run(*arguments: str | Path) -> Run:
    """Run the program in a process of its own."""
    command = [sys.executable, "-m", "reportgen", *map(str, arguments)]
    begin = time.monotonic()
    with subprocess.Popen(
        command, cwd=ROOT, env=ENVIRONMENT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    ) as process:
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"{' '.join(command)} ended with {process.returncode}")
    return Run(time.monotonic() - begin, used.ru_utime + used.ru_stime, used.ru_maxrss)


def least(times: int, *arguments: str | Path) -> Run:
    """The quickest of several runs."""
    return min((run(*arguments) for _ in range(times)), key=lambda done: done.wall)


def content_of(site: Path) -> str:
    """One digest of everything that was published."""
    found = hashlib.sha256()
    for file in sorted(f for part in ("upload", "desk") for f in (site / part).rglob("*") if f.is_file()):
        found.update(f"{file.relative_to(site)}\0".encode() + hashlib.sha256(file.read_bytes()).digest())
    return found.hexdigest()


def exponent(sizes: list[int], seconds: list[float]) -> float:
    """The slope of seconds over sizes, both as logarithms."""
    xs, ys = [math.log(size) for size in sizes], [math.log(second) for second in seconds]
    x, y = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((a - x) * (b - y) for a, b in zip(xs, ys, strict=True)) / sum((a - x) ** 2 for a in xs)


def change(file: Path, old: str, new: str) -> None:
    """Replace a word in a file."""
    text = file.read_text(encoding="utf-8")
    if old not in text:
        raise ValueError(f"{file} does not say {old}")
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def _measure_again(sheet: Path, seed: int) -> None:
    """Other values in a sheet, and other photographs in the place of its own."""
    text = sheet.read_text(encoding="utf-8")
    sheet.write_text(re.sub(r"value: (-?\d+)", lambda m: f"value: {int(m[1]) + 1}", text), encoding="utf-8")
    for number, still in enumerate(sorted((sheet.parents[1] / "stills").glob(f"{sheet.stem}-*.jpg"))):
        still.unlink()  # several lessons' stills are links to one file
        apart(photograph, still, 100 + 10 * seed + number)


PACE = "a lesson by the plain script"
"""The pace of the machine: where the bars for seconds were set, this took about 0.9 s."""
Row = tuple[str, str, str]
"""What was measured, the result, and the bar."""


def one(times: int) -> Iterator[Row]:
    """One lesson, and the start of the program."""
    found = one_lesson_alone(times)
    yield PACE, f"{found.plain:.2f} s", ""
    what = f"one lesson, {found.charts:.1f} charts, {found.pages:.1f} pages ({1000 * found.ours:.0f} ms)"
    yield what, f"the plain script takes {found.plain / found.ours:.1f} times as long", "5 times"
    yield "the same against the PDF engine's floor", f"{100 * (found.ours / found.floor - 1):+.0f} %", "at most +15 %"
    run("--help")
    yield "reportgen --help", f"{least(5, '--help').wall:.2f} s", "0.15 s"
    yield "reportgen check, the demo", f"{least(5, 'check', ROOT / 'examples' / 'academy').wall:.2f} s", "0.5 s"


def publishes(students: int, lessons: int, work: Path) -> Iterator[Row]:
    """A whole academy, and what changes make again."""
    academy, site = apart(write_academy, work / "academy", students, lessons), work / "site"
    count = students * lessons
    alone = run("publish", academy, "--to", site)
    small = apart(write_academy, work / "tenth", max(students // 10, 2), lessons)
    tenth = run("publish", small, "--to", work / "tenth-site")
    flat = f"{alone.memory / KIB_IN_MIB:.0f} MiB; with a tenth of the lessons {tenth.memory / KIB_IN_MIB:.0f} MiB"
    yield "peak memory, 1 worker", flat, "220 MiB, flat"
    both = run("publish", academy, "--to", work / "both", "--jobs", "2")
    yield f"full publish, {count} lessons, 1 worker", f"{alone.wall:.1f} s, {alone.wall / count * 1000:.0f} ms each", ""
    yield "the same, 2 workers against 1", f"{alone.wall / both.wall:.2f} times", "1.8 times"
    yield "of the time of two processors, 2 workers use", f"{50 * both.cpu / both.wall:.0f} %", ""
    yield "peak memory, 2 workers, the largest process", f"{both.memory / KIB_IN_MIB:.0f} MiB", "220 MiB"
    yield "the same bytes from 1 and 2 workers", _same(site, work / "both"), "yes"
    run("publish", academy, "--to", site)  # the files have settled: none is read again from now on
    nothing = least(5, "publish", academy, "--to", site)
    yield "nothing changed", f"{nothing.wall:.2f} s, {100 * nothing.wall / alone.wall:.2f} %", "1.0 s, 1 %"

    sheet = max((academy / "students" / "student-0001" / "lessons").iterdir())
    changed: list[float] = []
    new: list[float] = []
    for number in range(7):
        change(sheet, "focus: ", f"focus: {number}, ")
        changed.append(run("publish", academy, "--to", site).wall)
    told = f"{min(changed):.2f} s, {median(changed):.2f} s in the middle of {len(changed)}"
    yield "one sheet changed (a latest lesson with two stills)", told, "1.5 s"
    yield f"{PACE}, just now", f"{one_lesson_alone(1).plain:.2f} s", ""
    for number in range(3):
        _measure_again(sheet, number)
        new.append(run("publish", academy, "--to", site).wall)
    yield "other values and two other stills too", f"{min(new):.2f} s", ""

    (academy / "drills").mkdir()
    change(Path(shutil.copy(ROOT / "content" / "drills" / DRILL, academy / "drills")), "title: ", "title: Our ")
    drill = run("publish", academy, "--to", site, "--jobs", "2")
    yield "one drill changed, 2 workers", f"{drill.wall:.1f} s, {100 * drill.wall / both.wall:.0f} % of a full one", ""
    (academy / "look").mkdir()
    shutil.copy(ROOT / "themes" / "letter" / "recap.css", academy / "look")
    change(academy / "academy.yaml", "paper: A4", "paper: A4\ntheme: look")
    theme = run("publish", academy, "--to", site, "--jobs", "2")
    yield "theme changed, 2 workers", f"{theme.wall:.1f} s, {100 * theme.wall / both.wall:.0f} % of a full one", ""
    run("publish", academy, "--to", work / "again", "--jobs", "2")
    yield "the same bytes, change by change and afresh", _same(site, work / "again"), "yes"


def growth(sizes: list[int], work: Path) -> Iterator[Row]:
    """Academies of several sizes, with a lesson for each student: processor time, which other work disturbs less."""
    full, still = [], []
    for size in sizes:
        academy, site = apart(write_academy, work / f"grown-{size}", size, 1, stills=False), work / f"site-{size}"
        full.append(run("publish", academy, "--to", site, "--jobs", "2").cpu)
        run("publish", academy, "--to", site)
        still.append(least(3, "publish", academy, "--to", site).cpu)
        shutil.rmtree(site)
    told = ", ".join(map(str, sizes))
    yield f"growth of a full publish ({told} students)", f"exponent {exponent(sizes, full):.2f}", "1.05"
    yield f"growth of nothing changed ({told} students)", f"exponent {exponent(sizes, still):.2f}", "1.0"


def _same(one: Path, other: Path) -> str:
    return "yes" if content_of(one) == content_of(other) else "NO"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench")
    parser.add_argument("--full", action="store_true", help="the academy of the bars, 200 students with 10 lessons")
    parser.add_argument("--huge", action="store_true", help="growth up to 5,000 students")
    parser.add_argument("--growth-alone", action="store_true", help="of the table, the last rows alone")
    asked = parser.parse_args()
    students, lessons, sizes = (200, 10, [50, 200, 1000]) if asked.full else (20, 5, [10, 40])
    sizes += [5000] * asked.huge
    commit = subprocess.run(["git", "rev-parse", "--short", "HEAD"], cwd=ROOT, capture_output=True, text=True)
    machine = f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}"
    write = sys.stdout.write
    write(f"{time.strftime('%Y-%m-%d')}, {machine}, commit {commit.stdout.strip() or 'unknown'}\n\n")
    write("| what | measured | bar |\n| --- | --- | --- |\n")
    with tempfile.TemporaryDirectory() as work:
        first = () if asked.growth_alone else (one(5), publishes(students, lessons, Path(work)))
        for rows in (*first, growth(sizes, Path(work))):
            for row in rows:
                write(f"| {' | '.join(row)} |\n")
                sys.stdout.flush()


if __name__ == "__main__":
    main()
