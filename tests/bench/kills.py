"""What fifty kills at moments of chance lose of a letter that somebody types at the desk.

    python -m tests.bench.kills [COUNT]

Desk, browser and both are killed in turn. Printed are how old the oldest word is that was lost, in seconds, of each,
and how many sheets were not whole; it takes about eight seconds a kill.
"""

import sys
import tempfile
from pathlib import Path

from tests.desk.typing_and_killing import moments
from tests.publishing.small import PETRA, link_only, small_academy

SEED, COUNT = 50, 50


def main() -> None:
    """Kill, and print what came of it."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else COUNT
    with tempfile.TemporaryDirectory() as folder:
        seen = moments(link_only(small_academy(Path(folder) / "academy", PETRA)), PETRA, SEED, count)
    for killed in ("desk", "browser", "both"):
        ages = [one.age for one in seen if one.killed == killed]
        sys.stdout.write(f"{killed}: {len(ages)} kills, oldest word lost {max(ages, default=0):.2f} s\n")
    sys.stdout.write(f"sheets that were not whole: {sum(not one.whole for one in seen)} of {len(seen)}\n")


if __name__ == "__main__":
    main()
