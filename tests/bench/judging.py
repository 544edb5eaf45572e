"""How often a judgement is wrong, how soon it is right, and how long judging takes.

    python -m tests.bench.judging

prints, from seasons drawn as the program declares its uncertainty (`tests/judging/seasons.py`), how often *has moved*
and *out of range* are said falsely and truly, beside the bars; then the time of judging a lesson with 14 before it. It
takes some minutes.
"""

import sys
import tempfile
from pathlib import Path
from time import process_time

from reportgen.pipeline import load, reports_of
from reportgen.sheets.academy_folder import sound
from tests.bench.measuring import METRICS
from tests.judging.academies import ADULT, ID, reading, sheet, write_academy
from tests.judging.seasons import found_moving, found_outside, parts_of, said_moved_falsely, said_outside


def milliseconds(root: Path, lessons: int) -> float:
    """Judging one lesson more with so many before it, all metrics of stills in each: the processor's time, the least of
    seven runs."""

    def academy(count: int) -> Path:
        values = "".join(reading(name, 20 + k % 5, METRICS[name].unit) for k, name in enumerate(parts_of(1)))
        days = [f"2026-{1 + k // 4:02}-{1 + 7 * (k % 4):02}" for k in range(count)]
        return write_academy(root / str(count), {day: sheet(values) for day in days}, ADULT)

    def least(count: int) -> float:
        folder = load(academy(count))
        times = []
        for _ in range(7):
            begin = process_time()
            reports_of(folder.students[ID], sound(folder), folder.students)
            times.append(process_time() - begin)
        return min(times)

    return 1000 * (least(lessons + 1) - least(lessons))


def main() -> None:
    """Print the table."""
    pages, of_all = said_outside(1000, seed=9)
    rows = [
        ("pages with a false has moved", said_moved_falsely(400, seed=3), "at most 2 %"),
        ("pages with a false out of range, lessons 8 to 14", pages, "at most 12 %"),
        ("share of out of range that is false", of_all, "at most 20 %"),
        ("out by half a half-width: found", found_outside(1000, seed=13), "at least 73 %"),
        *(
            (f"pelvis -20\u00b0 along 14 lessons, by lesson {lesson}", found_moving(2000, 5, lesson), bar)
            for lesson, bar in ((8, ""), (10, ""), (12, "at least 88 %"))
        ),
    ]
    for name, share, bar in rows:
        sys.stdout.write(f"{name:52} {100 * share:6.1f} %   {bar}\n")
    with tempfile.TemporaryDirectory() as scratch:
        sys.stdout.write(
            f"judging one lesson with 14 before it: {milliseconds(Path(scratch), 14):.1f} ms   under 15 ms\n"
        )


if __name__ == "__main__":
    main()
