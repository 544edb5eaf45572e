"""Two films of a real swing: how often intervals hold the truth, by how far apart the films are.

    python -m tests.bench.films

prints, for each metric, how many of 100 intervals (95 %) hold the truth and, in brackets, how many of 100 values are
withheld because the pictures are not of one moment: with everything drawn as declared, and with one film off by one,
two and three frames of 60 a second at every checkpoint. `tests/published/real_swing.py` tells whose swing it is.
"""

import sys

from tests.bench.measuring import MEASURES
from tests.published.real_swing import ON_TIME, Late, counted

CASES: dict[str, Late | None] = {
    "as declared": None,
    "of one moment": ON_TIME,
    "down-the-line 1 late": Late(down=1),
    "1 early": Late(down=-1),
    "2 early": Late(down=-2),
    "3 early": Late(down=-3),
    "face-on 1 early": Late(face_on=-1),
    "2 early ": Late(face_on=-2),
    "3 early ": Late(face_on=-3),
}


def table(times: int, seed: int) -> list[str]:
    """The table as Markdown; the first case is counted three times as often."""
    ids = [measure.metric for measure in MEASURES]
    found = {
        case: counted(times if late else 3 * times, seed, late, ids, samples=1024 if late is None else 512)
        for case, late in CASES.items()
    }
    lines = ["| metric | " + " | ".join(map(str.strip, CASES)) + " |", "| --- |" + " ---: |" * len(CASES)]
    for metric in ids:
        cells = [
            (f"{of.held[metric]:.0f}" if metric in of.held else "–") + f" ({of.withheld[metric]:.0f})"
            for of in found.values()
        ]
        lines.append(f"| `{metric}` | " + " | ".join(cells) + " |")
    return lines


if __name__ == "__main__":
    sys.stdout.write("\n".join(table(times=400, seed=17)) + "\n")
