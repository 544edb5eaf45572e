"""What `check` says where the two pictures of a moment do not show one moment."""

from collections.abc import Iterator, Sequence

from reportgen.records.academy import MarkingError
from reportgen.records.stills import Still, swing_numbers
from reportgen.records.words import CHECKPOINTS, Checkpoint, Side, View
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet
from reportgen.sheets.problems import Problem

VIEWS: tuple[View, View] = ("face-on", "down-the-line")

Pair = tuple[Checkpoint, int, int, int]
"""A checkpoint, the swing, and which stills show it face-on and down-the-line."""


def moment_warnings(folder: AcademyFolder) -> Iterator[str]:
    """Pictures whose films or whose marks say that they are not of one moment, each with its line in the sheet. Of a
    student with problems nothing is said: those come first."""
    if folder.academy is None:
        return
    for student in folder.students.values():
        for sheet in student.lessons:
            if student.student is not None and not student.problems:
                yield from map(str, _by_frames(sheet))
                yield from map(str, _by_heights(sheet, student.student.plays, folder.academy.marking))


def _by_frames(sheet: LessonSheet) -> Iterator[Problem]:
    stills = sheet.lesson.stills
    if all(still.seconds is None for still in stills):
        return
    # what it is built on takes a while to load, and few sheets have frames
    from reportgen.measuring.timing import FRAMES_APART, lag

    found = _pairs(stills)
    for swing in sorted({swing for _, swing, *_ in found}):
        pairs = {pair[0]: pair for pair in found if pair[1] == swing}
        numbers = {(stills[n].view, at): n for at, _, *shown in pairs.values() for n in shown}
        times = {key: seconds for key, n in numbers.items() if (seconds := stills[n].seconds) is not None}
        if (apart := lag(times)) is None:
            continue
        rates = [stills[numbers[view, "impact"]].fps or 0.0 for view in VIEWS]
        if abs(apart) * min(rates) > FRAMES_APART:
            late = numbers["down-the-line", "impact"]
            yield sheet.sheet.problem(
                ("stills", late, "frame" if stills[late].time is None else "time"),
                f"from delivery to impact this film takes {abs(1000 * apart):.0f} ms {'more' if apart > 0 else 'less'} "
                "than the face-on one",
                "Look at frame, fps and time of the four stills, or pick these moments again in both films.",
            )


def _by_heights(sheet: LessonSheet, plays: Side, marking: MarkingError) -> Iterator[Problem]:
    stills = sheet.lesson.stills
    if len({still.view for still in stills if _shows_a_wrist(still)}) < 2:
        return
    # numpy is needed for these lessons alone
    from reportgen.measuring.blur import SAMPLES, Noise
    from reportgen.measuring.sights import sights
    from reportgen.measuring.swing_sights import SwingSights

    marked = [still for still in stills if still.marks]
    seen = SwingSights(sights(marked, plays, sheet.attached.sizes, Noise(**dict(marking)), SAMPLES, {}))
    for at, swing, _, down in _pairs(stills):
        if (apart := seen.apart(at, swing)) is not None:
            side = "higher" if apart.higher > 0 else "lower"
            yield sheet.sheet.problem(
                ("stills", down, "marks", apart.mark),
                f"{apart.mark} stands {abs(100 * apart.higher):.0f} cm {side} over the hips than in the face-on still "
                f"({at}), and marks explain {200 * apart.u:.0f} cm: the two pictures are not of one moment, or a mark "
                "sits wrong",
                "Take both from the same moment, or set wrists and hips again in both.",
            )


def _pairs(stills: Sequence[Still]) -> list[Pair]:
    """The marked stills of one moment and swing from both views, in the order of the swing."""
    marked = [n for n, still in enumerate(stills) if still.marks]
    swings = swing_numbers([stills[n] for n in marked])
    number = {(stills[n].view, stills[n].checkpoint, swing): n for n, swing in zip(marked, swings, strict=True)}
    return [
        (at, swing, n, number["down-the-line", at, swing])
        for (view, at, swing), n in sorted(number.items(), key=lambda item: (CHECKPOINTS.index(item[0][1]), item[1]))
        if view == "face-on" and ("down-the-line", at, swing) in number
    ]


def _shows_a_wrist(still: Still) -> bool:
    return any(mark.endswith("-wrist") for mark in still.marks)
