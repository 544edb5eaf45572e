"""Random academies on random machines for as long as one likes; what does not hold is written down as a case.

    python -m tests.bench.fuzz --minutes 30 --seed 1 --jobs 2 --to found

A found case is kept by moving its file into `tests/fuzz/found/`, where the suite tries it for ever. The same seed tries
the same cases in the same order, for each job.
"""

import argparse
import random
import sys
import tempfile
import time
from collections import Counter
from multiprocessing import Process
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, seed, settings

from tests.fuzz.cases import Case
from tests.fuzz.changes import cases
from tests.fuzz.running import FoundError, look

_ENDS = ("published whole", "published but for some students", "refused as a whole")
AT_ONCE = 50
"""Cases of one seed."""


def tried(until: float, first: int, to: Path) -> None:
    """Try cases until that time of the clock, beginning with the seed `first`."""
    seeds = random.Random(first)
    done = set[str]()
    ended = Counter[str]()
    with tempfile.TemporaryDirectory() as folder:

        def one(case: Case) -> None:
            text = case.written()
            if time.monotonic() > until or text in done:
                return
            done.add(text)
            try:
                ended[_ENDS[look(case, Path(folder))]] += 1
            except FoundError as find:
                ended["found"] += 1
                name = to / f"{first}-{len(done)}.json"
                name.write_text(text, encoding="utf-8")
                name.with_suffix(".txt").write_text(str(find), encoding="utf-8", errors="replace")
                tell(f"{name}: {find}\n")

        while time.monotonic() < until:
            once = settings(
                max_examples=AT_ONCE, database=None, deadline=None, derandomize=False, phases=[Phase.generate],
                suppress_health_check=list(HealthCheck),
            )  # fmt: skip
            seed(seeds.getrandbits(32))(once(given(cases())(one)))()
    tell(f"seed {first}: {len(done)} cases; " + ", ".join(f"{count} {how}" for how, count in ended.most_common()))


def tell(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main() -> None:
    """Try random academies, as asked for on the command line; ends with 1 where something was found."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--minutes", type=float, default=30.0)
    parser.add_argument("--seed", type=int, default=1, help="the first job's; the others have the next ones")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--to", type=Path, default=Path("found"), help="a folder for what is found")
    asked = parser.parse_args()
    asked.to.mkdir(parents=True, exist_ok=True)
    until = time.monotonic() + asked.minutes * 60
    jobs = [Process(target=tried, args=(until, asked.seed + number, asked.to)) for number in range(asked.jobs)]
    for job in jobs:
        job.start()
    for job in jobs:
        job.join()
    raise SystemExit(any(job.exitcode for job in jobs) or any(asked.to.glob("*.json")))


if __name__ == "__main__":
    main()
