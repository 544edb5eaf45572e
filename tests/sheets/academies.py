"""A small academy on disk, one student and one lesson, of which a test changes what it is about."""

import shutil
from collections.abc import Mapping
from pathlib import Path

from PIL import Image

DEMO = Path(__file__).parents[2] / "examples" / "academy"

ACADEMY = """\
name: Example School
instructor: {name: Ada Example}
secret: long enough that nobody guesses it
"""
STUDENT = """\
name: Mara Lind
born: 1990-05-17
plays: right
"""
LESSON = """\
student: mara-l
date: 2026-03-05
club: 7-iron
"""
STUDENT_FILE = "students/mara-l/student.yaml"
LESSON_FILE = "students/mara-l/lessons/2026-03-05.yaml"


def make_academy(root: Path, files: Mapping[str, str | bytes] | None = None) -> Path:
    """An academy in `root` without a problem; `files` are written into it by their paths, over what stands there."""
    for path, content in {"academy.yaml": ACADEMY, STUDENT_FILE: STUDENT, LESSON_FILE: LESSON, **(files or {})}.items():
        write(root, path, content)
    return root


def write(root: Path, path: str, content: str | bytes) -> Path:
    """Write one file below `root`, byte by byte as given."""
    file = root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content.encode() if isinstance(content, str) else content)
    return file


def with_picture(root: Path, kind: str = "png", name: str | None = None) -> Path:
    """A noisy picture of 60 × 40 pixels among the student's stills, so that its file has a body to damage."""
    file = root / "students/mara-l/stills" / (name or f"impact.{kind}")
    file.parent.mkdir(parents=True, exist_ok=True)
    Image.effect_noise((60, 40), 80).convert("RGB").save(file, "JPEG" if kind == "jpg" else "PNG")
    return file


def demo_student(root: Path, student: str) -> Path:
    """An academy with one student of the demo, copied."""
    root.mkdir(parents=True, exist_ok=True)
    shutil.copy(DEMO / "academy.yaml", root / "academy.yaml")
    shutil.copytree(DEMO / "students" / student, root / "students" / student)
    return root
