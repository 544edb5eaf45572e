"""What is proposed from rendered films whose truth is known, each figure beside its bar.

    python -m tests.bench.proposals FOLDER [--mirrored]

FOLDER has sN-fo.mp4, sN-dtl.mp4 and sN.json (their truth) of each swing. With --mirrored every picture is mirrored and
the player plays the other way, which must change nothing of note. The figures are printed as they come, the worst of
all films at the end; it takes about half a minute of a processor a swing.
"""

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from time import process_time
from typing import Any, NamedTuple, get_args

import numpy as np

from reportgen.films.following import followed, next_crop
from reportgen.films.proposals import Still, proposed_marks
from reportgen.films.reading import Picture, pictures
from reportgen.films.sound import strikes_heard
from reportgen.films.swings import TRACKED, FilmedSwing, on_one_clock, swing_of
from reportgen.films.tracks import Seen
from reportgen.records.words import CHECKPOINTS, Mark, Side, View

PICTURES = {"impact": 1, "delivery": 2, "takeaway": 3}
TURN = {"top": 1.0, "setup": 2.0}
VIEWS: dict[str, View] = {"fo": "face-on", "dtl": "down-the-line"}
OTHER: dict[Side, Side] = {"right": "left", "left": "right"}


class Film(NamedTuple):
    """A film with its truth, and what was found in it; `silent` as if it had no sound."""

    truth: dict[str, Any]
    swing: FilmedSwing
    silent: FilmedSwing
    marks_mm: list[float]
    seconds: float
    first: float


def read(folder: Path, swing: str, view: str, mirrored: bool) -> Film:
    """One film, read and held against its truth."""
    told = json.loads((folder / f"{swing}.json").read_text(encoding="utf-8"))["swing"]
    truth = told["films"][f"{swing}-{view}.mp4"]
    plays: Side = OTHER[told["plays"]] if mirrored else told["plays"]
    file = folder / f"{swing}-{view}.mp4"
    began = process_time()
    heard = strikes_heard(file, truth["camera"]["distance_m"])
    seen: list[Seen] = []
    first = float("nan")
    for _, one in followed(_mirrored(pictures(file, longest=TRACKED), mirrored)):
        if not seen:
            first = process_time() - began
        seen.append(one)
    found, silent = (swing_of(seen, sound, VIEWS[view], plays) for sound in (heard, ()))
    seconds = process_time() - began
    return Film(truth, found, silent, _marks(file, truth, seen, plays, mirrored), seconds, first)


def _mirrored(given: Iterator[Picture], mirrored: bool) -> Iterator[Picture]:
    for one in given:
        yield one._replace(pixels=np.ascontiguousarray(one.pixels[:, ::-1])) if mirrored else one


def _marks(file: Path, truth: dict[str, Any], seen: list[Seen], plays: Side, mirrored: bool) -> list[float]:
    """By how many millimetres each proposed mark that is kept is off, at the true checkpoints."""
    at = {number: name for name, number in truth["frame"].items()}
    poses = {one.number: one.pose for one in seen}
    off = []
    for picture in _mirrored(pictures(file, longest=TRACKED, only=at), mirrored):
        still = Still(truth["view"], plays, at[picture.number], truth["camera"]["px_per_m"])
        pose = poses[picture.number]
        for one in proposed_marks(picture.pixels, still, get_args(Mark), next_crop(pose) if pose else None):
            if not one.start_only:
                x, y = truth["marks"][picture.number][one.mark]
                x = picture.pixels.shape[1] - 1 - x if mirrored else x
                off.append(1000 * float(np.hypot(one.at[0] - x, one.at[1] - y)) / truth["camera"]["px_per_m"])
    return off


def _turn(truth: dict[str, Any], number: int, line: str) -> float:
    lead, trail = (np.array(truth["joints"][number][f"{side}-{line}"]) for side in ("lead", "trail"))
    return float(np.degrees(np.arctan2(lead[1] - trail[1], lead[0] - trail[0])))


def figures(film: Film) -> dict[str, float]:
    """What is off of one film: pictures, degrees."""
    found = {one.moment: one for one in film.swing.moments}
    silent = {one.moment: one for one in film.silent.moments}
    if not found or not silent:
        return {"no swing found": 1}
    frame = film.truth["frame"]
    out: dict[str, float] = {"impact, with sound": abs(found["impact"].picture - frame["impact"])}
    for moment in PICTURES:
        out[moment] = abs(next(one.picture for one in silent.values() if one.moment == moment) - frame[moment])
    for moment in TURN:
        number = next(one.picture for one in found.values() if one.moment == moment)
        lines = ("shoulder", "hip")
        out[f"turn lost at {moment}"] = max(
            abs(_turn(film.truth, number, line) - _turn(film.truth, frame[moment], line)) for line in lines
        )
    return out


BARS = {
    "impact, with sound": 0, **PICTURES, **{f"turn lost at {moment}": bar for moment, bar in TURN.items()},
    "no swing found": 0, "lag by sound, ms": 1, "lag by pictures, ms": 8, "marks, median mm": 30,
    "marks, nine of ten within mm": 55, "first picture, s": 3, "processor for 600 pictures, s": 30,
}  # fmt: skip


def main(arguments: list[str]) -> int:
    """Prints all; 1 where a bar is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.proposals")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--mirrored", action="store_true")
    given = parser.parse_args(arguments)
    worst: dict[str, float] = {}
    marks: list[float] = []
    for swing in sorted(one.stem for one in given.folder.glob("*.json")):
        films = {view: read(given.folder, swing, view, given.mirrored) for view in VIEWS}
        rows = [*map(figures, films.values()), _both(films)]
        marks += [off for film in films.values() for off in film.marks_mm]
        for name, value in ((name, value) for row in rows for name, value in row.items()):
            worst[name] = max(worst.get(name, 0), value)
        _say(f"{swing}: " + "; ".join(", ".join(f"{name} {value:.3g}" for name, value in row.items()) for row in rows))
        for view, film in films.items():
            off = {one.moment: one.picture - film.truth["frame"][one.moment] for one in film.silent.moments}
            _say(f"    {view}: pictures off " + ", ".join(f"{name} {off.get(name, '–')}" for name in CHECKPOINTS))
    if marks:
        worst |= {
            "marks, median mm": float(np.median(marks)),
            "marks, nine of ten within mm": float(np.percentile(marks, 90)),
        }
    for name, value in worst.items():
        _say(f"{'  ' if value <= BARS[name] else '! '}{name}: {value:.2f} (bar {BARS[name]})")
    _say(f"  marks kept: {len(marks)}")
    return int(any(value > BARS[name] for name, value in worst.items()))


def _both(films: dict[str, Film]) -> dict[str, float]:
    first, second = films["fo"], films["dtl"]
    true = second.truth["first_picture_s"] - first.truth["first_picture_s"]
    began = process_time()
    found = on_one_clock(first.swing, second.swing)
    clock = process_time() - began
    number = sum(len(film.swing.track.times) for film in films.values())
    out = {"first picture, s": max(film.first for film in films.values())}
    out["processor for 600 pictures, s"] = 600 / number * (clock + sum(film.seconds for film in films.values()))
    for way, seconds in (("sound", found.by_sound), ("pictures", found.by_pictures)):
        out[f"lag by {way}, ms"] = float("inf") if seconds is None else 1000 * abs(seconds - true)
    return out


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
