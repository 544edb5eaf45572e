"""An academy of students whom a page must bear as well: long names, one finding, eighteen, none, no range, a stop."""

from pathlib import Path

LONG_NAME = "Maximiliane-Theodora von Hohenstaufen-Weber"
SECRET = "a long phrase for the addresses of invented students"

ACADEMY = f"""
name: Academy for Patient and Unhurried Golfers beside the Lake
instructor: {{name: {LONG_NAME}, mail: maximiliane-theodora.von-hohenstaufen-weber@example.org}}
secret: {SECRET}
notice: "Invented academy, for tests."
"""
EIGHTEEN = {
    "pelvis-closed-top": "31 deg",
    "thorax-closed-top": "118 deg",
    "trail-hip-load": "5.1 cm",
    "trail-knee-kept": "14 deg",
    "trail-knee-flex-top": "41 deg",
    "lead-pressure-top": "48 %",
    "knee-flex-transition": "-17 deg",
    "seat-forward-delivery": "6.4 cm",
    "seat-forward-impact": "9.8 cm",
    "pelvis-open-impact": "71 deg",
    "thorax-open-impact": "4 deg",
    "posture-change-impact": "-22 deg",
    "pelvis-shift-impact": "24 cm",
    "side-bend-impact": "57 deg",
    "lead-knee-flex-impact": "44 deg",
    "trail-heel-lift-impact": "12.5 cm",
    "clubhead-speed": "31 m/s",
    "tempo-ratio": "5.5 1",
}
NOTES = """
notes: |
  That was a long morning, and you were patient with every one of my questions. Please read this slowly, and keep it
  beside the first thing to work on: all the rest can wait until that has become easy.

  The order matters more than the amount. Ten quiet swings that you feel are worth a hundred that you only make.
"""
STUDENTS = {
    "eighteen": (LONG_NAME, "1979-05-02", EIGHTEEN, NOTES),
    "one": ("Bo Li", "1990-01-01", {"pelvis-open-impact": "71 deg"}, ""),
    "none": ("Ann Okafor-Lindqvist", "1965-12-24", {}, NOTES),
    "junior": ("Tamsin Ferrywell", "2014-04-04", {"clubhead-speed": "24 m/s", "lead-hip-rise": "2 cm"}, ""),
    "stopped": ("Ezekiel Brandywine", "1958-08-08", {"pelvis-open-impact": "71 deg"}, NOTES),
}
"""Folder of each student -> name, born, what was measured by a sensor, and more of the sheet."""
AIMS = f"""goal:
  what: {LONG_NAME} wants to play every hole of the course by the lake without losing a single ball
  by: 2026-12-31
  seen_by: One round of eighteen holes that ends with the ball with which it began.
handicap: somewhere between 30 and 36
rounds:
  - {{date: 2026-03-01, score: 112, par: 72, course: {LONG_NAME} Memorial Golf and Country Club, competition: true}}
  - {{date: 2025-03-01, score: 149, par: 72}}
  - {{date: 2025-09-01, score: 61, holes: 9}}
"""
NEXT = f'next_lesson: {{date: 2026-03-19, time: "17:30", place: Behind the {LONG_NAME} Memorial Hall}}\n'
STOP = "comfort: [{site: low-back, score: 8, when: during}]\n"


def write_extremes(folder: Path) -> Path:
    """The academy, written into an empty folder."""
    (folder / "academy.yaml").write_text(ACADEMY, encoding="utf-8")
    for student, (name, born, values, more) in STUDENTS.items():
        lessons = folder / "students" / student / "lessons"
        lessons.mkdir(parents=True)
        about = f"name: {name}\nborn: {born}\nplays: left\n{AIMS}"
        (lessons.parent / "student.yaml").write_text(about, encoding="utf-8")
        for date in ("2026-03-05", "2026-03-12"):
            (lessons / f"{date}.yaml").write_text(_sheet(student, date, values, more), encoding="utf-8")
    return folder


def _sheet(student: str, date: str, values: dict[str, str], more: str) -> str:
    readings = [
        f"  - {{metric: {metric}, value: {said.split()[0]}, unit: '{said.split()[1]}', how: sensor}}"
        for metric, said in values.items()
    ]
    head = f"student: {student}\ndate: {date}\nclub: pitching-wedge\nfocus: {LONG_NAME}: the same again, but slower\n"
    listed = "readings:\n" + "\n".join(readings) + "\n" if readings else ""
    return (
        head.replace(f"focus: {LONG_NAME}:", "focus: Everything once more,")
        + listed
        + NEXT
        + (STOP if student == "stopped" and date == "2026-03-12" else "")
        + more
    )
