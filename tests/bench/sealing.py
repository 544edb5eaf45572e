"""What sealing costs a publish.

    python -m tests.bench.sealing [STUDENTS]

publishes the demo academy, each student several times over under other ids until there are STUDENTS (10), link-only and
sealed, each from nothing in a process of its own, twice in opposite order, and prints the lesser processor time of both
and their ratio. The derivation of the members' keys is told apart: it belongs to `members add`, once for each member.
"""

import os
import resource
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "examples" / "academy"
ENVIRONMENT = {**os.environ, "REPORTGEN_PASSPHRASE": "seven herons at low tide", "SOURCE_DATE_EPOCH": "1795608000"}
AT_MOST = 1.15


def academy(folder: Path, students: int, private: str) -> Path:
    """An academy of so many students, copies of the demo's."""
    folder.mkdir()
    text = (DEMO / "academy.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("private:")]
    (folder / "academy.yaml").write_text("\n".join([*lines, f"private: {private}"]) + "\n", encoding="utf-8")
    demo = sorted((DEMO / "students").iterdir())
    for number in range(students):
        source, name = demo[number % len(demo)], f"{demo[number % len(demo)].name}-{number}"
        shutil.copytree(source, folder / "students" / name)
        for sheet in [folder / "students" / name / "student.yaml", *(folder / "students" / name / "lessons").glob("*")]:
            written = sheet.read_text(encoding="utf-8").splitlines()
            kept = [line for line in written if not line.startswith(("shares_with:", "compare:"))]
            said = "\n".join(f"student: {name}" if line.startswith("student:") else line for line in kept)
            sheet.write_text(said + "\n", encoding="utf-8")
    return folder


def seconds(*arguments: str | Path) -> float:
    """Processor time of one run of the program."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, "-m", "reportgen", *map(str, arguments)]
    subprocess.run(command, cwd=ROOT, env=ENVIRONMENT, check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    students = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        plain = academy(root / "plain", students, "link-only")
        sealed = academy(root / "sealed", students, "sealed")
        adding = seconds("members", "add", sealed, "--all")
        runs = [
            (a.name, seconds("publish", a, "--to", root / f"site-{n}"))
            for n, a in enumerate([plain, sealed, sealed, plain])
        ]
    took = {of: min(spent for name, spent in runs if name == of) for of in ("plain", "sealed")}
    ratio = took["sealed"] / took["plain"]
    sys.stdout.write(
        f"{students} students: link-only {took['plain']:.1f} s, sealed {took['sealed']:.1f} s of processor time\n"
        f"ratio {ratio:.3f}, at most {AT_MOST}; passphrases for all members, once: {adding:.1f} s\n"
    )
    sys.exit(ratio > AT_MOST)


if __name__ == "__main__":
    main()
