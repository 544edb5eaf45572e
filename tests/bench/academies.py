"""Invented academies of any size: so many students, each with so many lessons, with or without photographs.

A lesson has six readings typed in, so that its page has about eight charts: six strips, the view from above, and the
courses of what is worked on.
"""

import os
import random
from datetime import date, timedelta
from pathlib import Path

import numpy as np
from PIL import Image

FIRST_DAY = date(2026, 1, 5)
READINGS = {
    "pelvis-closed-top": ("deg", 40, 6),
    "thorax-closed-top": ("deg", 88, 8),
    "pelvis-open-impact": ("deg", 44, 9),
    "thorax-open-impact": ("deg", 26, 7),
    "side-bend-impact": ("deg", 24, 6),
    "posture-change-impact": ("deg", -6, 4),
}
"""Metric -> unit, and the middle and spread of the invented values."""

NOTES = (
    "The turn is calmer than last time, and the low point follows it. *Leave the hands alone* this week.",
    "You asked about the wind. Swing no harder into it; take one club more and keep the same count.",
    "Two buckets, no more. Count aloud, and stop when the count gets faster than your feet.",
)
VIEWS = ("face-on", "down-the-line")


def write_academy(root: Path, students: int, lessons: int, *, stills: bool = True, seed: int = 1) -> Path:
    """An academy in `root` (which must not be there yet), with two `stills` to a lesson or none; the same seed gives
    the same sheets and pictures."""
    (root / "students").mkdir(parents=True)
    (root / "academy.yaml").write_text(
        "name: Bench Meadow\ninstructor: {name: Ines Invented, mail: ines@example.org}\n"
        "secret: so many invented students in one meadow\ntimezone: Europe/Lisbon\npaper: A4\nlesson_every: 7\n"
        "private: link-only\n"
        'notice: "Invented academy: every person and number here is made up to measure the program."\n',
        encoding="utf-8",
    )
    photos = [photograph(root / f"photo-{number}.jpg", seed + number) for number in range(4)] if stills else []
    for number in range(students):
        _write_student(
            root / "students" / f"student-{number:04}", number, lessons, photos, random.Random(seed + number)
        )
    for photo in photos:
        photo.unlink()
    return root


def photograph(file: Path, seed: int) -> Path:
    """A JPEG of 1080 x 1440 pixels that packs no better than a real one."""
    noise = np.random.default_rng(seed)
    coarse = Image.fromarray(noise.integers(40, 220, (12, 9, 3), dtype=np.uint8)).resize((1080, 1440))
    grain = noise.normal(0, 6, (1440, 1080, 1))
    Image.fromarray(np.clip(np.asarray(coarse) + grain, 0, 255).astype(np.uint8)).save(file, quality=88)
    return file


def _write_student(home: Path, number: int, lessons: int, photos: list[Path], chance: random.Random) -> None:
    (home / "lessons").mkdir(parents=True)
    (home / "stills").mkdir()
    born = date(1960 + number % 40, 1 + number % 12, 1 + number % 28)
    (home / "student.yaml").write_text(
        f"name: Student {_word(number)}\nborn: {born}\nplays: {'left' if number % 9 == 0 else 'right'}\n"
        f"mail: [student-{number}@example.org]\n"
        f"pictures: {{given_by: Student {_word(number)}, given_on: 2026-01-01}}\n"
        "practice: {minutes: 25, days: [wed, sat]}\nequipment: [wall, towel]\n",
        encoding="utf-8",
    )
    own = {metric: chance.gauss(middle, spread) for metric, (_, middle, spread) in READINGS.items()}
    for lesson in range(lessons):
        day = FIRST_DAY + timedelta(days=14 * lesson + number % 7)
        for view in VIEWS if photos else ():
            os.link(photos[(number + lesson + len(view)) % len(photos)], home / "stills" / f"{day}-{view}.jpg")
        sheet = _sheet(home.name, day, own, lesson, chance, stills=bool(photos))
        (home / "lessons" / f"{day}.yaml").write_text(sheet, encoding="utf-8")


def _sheet(student: str, day: date, own: dict[str, float], lesson: int, chance: random.Random, *, stills: bool) -> str:
    lines = [f"student: {student}", f"date: {day}", "club: 7-iron", f"focus: The turn, part {lesson + 1}", "readings:"]
    for metric, (unit, _, spread) in READINGS.items():
        own[metric] += chance.gauss(0, spread / 3)
        lines.append(f"  - {{metric: {metric}, value: {own[metric]:.0f}, unit: {unit}, how: still, views: 2}}")
    lines.append("stills:" if stills else "stills: []")
    for view in VIEWS if stills else ():
        lines.append(f"  - {{file: ../stills/{day}-{view}.jpg, view: {view}, checkpoint: impact, caption: At impact.}}")
    lines.append("drills: [{drill: pendulum-swings, dose: 2 x 10}, {drill: count-the-swing, dose: 3 x 10 slow}]")
    lines += [f"practice_log: [{{date: {day - timedelta(days=3)}, minutes: 25, swings: 40}}]", "notes: |"]
    lines += [f"  {note}\n" for note in (NOTES[lesson % 3], NOTES[(lesson + 1) % 3])]
    return "\n".join(lines) + "\n"


def _word(number: int) -> str:
    """A family name made of the number: `Bababe`."""
    return "".join("bdfgklmnrs"[int(digit)] + "aeiou"[int(digit) % 5] for digit in f"{number:04}").title()
