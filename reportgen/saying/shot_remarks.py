"""What a reader should know of a table of shots, in words."""

from collections.abc import Iterable
from itertools import groupby
from pathlib import PurePosixPath

from reportgen.languages.speaking import later, say, say_count
from reportgen.records.shot_remarks import At, ShotCode, ShotRemark
from reportgen.records.told_shots import ToldShotRemark
from reportgen.saying.wording import apart, listed, number

OPENLY: frozenset[ShotCode] = frozenset(
    ("sign doubted", "face computed", "difference off", "ratio off", "spins off", "ratio too high")
)
"""Remarks that stand beside the shots; the others are folded away."""

_SAYS: dict[ShotCode, str] = {
    "sign doubted": later(
        "In most shots {words} go against each other, so the sign of one of these columns may be turned. Sides are "
        "told as the table has them."
    ),
    "face computed": later(
        "The device worked out the face angle from start direction and club path. So these shots cannot "
        "show that the face explains the start."
    ),
    "difference off": later("Face to path is not face angle less club path: a column may be mixed up ({lines})."),
    "ratio off": later("The speed ratio is not ball speed over clubhead speed: a unit may be mixed up ({lines})."),
    "spins off": later("The spin does not agree with back spin and side spin: a column may be mixed up ({lines})."),
    "ratio too high": later("No clubhead gives a ball more than {highest} times its speed: check both ({lines})."),
    "mishits": later("Carried less than {percent} % of the usual, and counted all the same: {lines}."),
    "spin estimated": later(
        "The device measured the spin of {measured} shots and estimated that of {estimated}. We keep the two apart."
    ),
    "devices apart": later("Shots of {groups} devices are looked at apart."),
    "clubs apart": later("Shots with {groups} clubs are looked at apart."),
    "surfaces apart": later("Shots from {groups} kinds of ground are looked at apart."),
    "blank cells": later("Blank, {words}: {lines}."),
    "no shot": later("Not a shot, and left out: {lines}."),
    "summed up": later("A mean of other rows, and left out: {lines}."),
    "column absent": later("The table has no column for: {words}."),
    "day not read": later("The day can be read in two ways, so it was not read: {lines}."),
    "other day": later("Another day than that of the lesson, and counted all the same: {lines}."),
}

_WORDS = {
    "start-direction": later("start direction"), "launch-angle": later("launch angle"),
    "face-angle": later("face angle"), "club-path": later("club path"), "face-to-path": later("face to path"),
    "attack-angle": later("attack angle"), "dynamic-loft": later("loft at impact"), "swing-plane": later("swing plane"),
    "spin": later("spin"), "back-spin": later("back spin"), "side-spin": later("side spin"),
    "spin-axis": later("spin axis"), "carry": later("carry"), "side": later("side"), "height": later("height"),
    "strike-across": later("strike across the face"), "strike-up": later("strike up the face"),
    "ball-speed": later("ball speed"), "clubhead-speed": later("clubhead speed"), "speed-ratio": later("speed ratio"),
    "curve": later("curve"), "club": later("club"), "surface": later("ground"), "device": later("device"),
    "spin-source": later("how the spin came about"), "date": later("day"),
    "distance": later("distance to the hole"), "past": later("past the hole"), "result": later("holed or missed"),
}  # fmt: skip


def told_remark(remark: ShotRemark) -> ToldShotRemark:
    """A remark as its reader is told it."""
    figures = {name: number(value, 2 if name == "highest" else 0) for name, value in remark.figures.items()}
    words = listed([say(_WORDS[word]) for word in remark.words])
    said = say(_SAYS[remark.code], **{**figures, "words": words, "lines": _lines(remark)})
    return ToldShotRemark(**dict(remark), says=said, openly=remark.code in OPENLY)


def _lines(remark: ShotRemark) -> str:
    """`shots.csv, lines 3, 7 and 9`; and how many more there are than are named."""
    if not remark.at:
        return ""
    more = round(remark.figures.get("lines", 0)) - len(remark.at)
    rest = [say_count("{count} more", "{count} more", count=more)] if more > 0 else []
    return apart([*_by_file(remark.at), *rest])


def _by_file(at: Iterable[At]) -> Iterable[str]:
    for file, places in groupby(at, key=lambda one: one.file):
        lines = [str(one.line) for one in places]
        words = {"file": PurePosixPath(file).name, "lines": listed(lines)}
        yield say("{file}, line {lines}", **words) if len(lines) == 1 else say("{file}, lines {lines}", **words)
