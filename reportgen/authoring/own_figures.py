"""The academy's own figures of marking, from its second looks, as lines for `marking:` in academy.yaml."""

from collections.abc import Iterator

from reportgen.authoring.again import name_of_marker, readable_rounds, stills_by_key
from reportgen.judging.components import Deviation
from reportgen.judging.confirmed_marks import Beside, ConfirmedMarks, confirmed_marks
from reportgen.judging.second_looks import GROUPS_AT_LEAST, Look, MarkingFigures, marking_figures
from reportgen.records.academy import MarkingError
from reportgen.sheets.academy_folder import AcademyFolder, sound

LEAST = 0.05
"""Millimetres or pixels: a smaller figure would be printed as 0.0."""


def own_figures(folder: AcademyFolder) -> list[str]:
    """Lines that say what the rounds of an academy tell of marking, and what is not known yet.

    Raises ReportgenError where the academy or a round has problems.
    """
    marking = sound(folder).academy.marking
    looks = list(_looks(folder))
    found = marking_figures(looks, marking.click_px, marking.visit_mm)
    once, two = found.pairs
    lines = [f"{once} pictures were marked twice by one person, {two} by two."]
    if found.still is None:
        return [
            *lines,
            f"That is not enough. Two looks must share {GROUPS_AT_LEAST // 2} points on two pictures of a lesson.",
            "Mark the pictures again at the desk.",
        ]
    if not any(one is not None and one.sd >= LEAST for one in (found.clicks, found.visit, found.habit)):
        return [*lines, "The two looks are alike to a twentieth of a pixel. Were the marks copied?"]
    lines += ["Lines for academy.yaml, each with its 95 % interval:", "marking:"]
    return [*lines, *_lines(found, marking), "", *_not_known(found, marking), *_of_confirmed(confirmed_marks(looks))]


def _looks(folder: AcademyFolder) -> Iterator[Look]:
    """The look of the sheet at each picture that was marked again, and every later one."""
    known, told = stills_by_key(folder), set()
    for number, sheet in enumerate(sorted(readable_rounds(folder).rounds, key=lambda one: (one.record.date, one.path))):
        for entry in sheet.record.stills:
            key = (entry.student, entry.lesson, entry.file)
            if (of := known.get(key)) is None:
                continue
            lesson, picture, scale = f"{key[0]}/{key[1]}", "/".join(key), of.px_per_m
            if key not in told:
                told.add(key)
                first = name_of_marker(of.lesson.lesson.marked_by, folder)
                how = {mark: one.by for mark, one in of.still.placed.items() if one.by is not None}
                yield Look(lesson, picture, "", first, scale, of.still.marks, how)
            marker = name_of_marker(sheet.record.marked_by, folder)
            yield Look(lesson, picture, f"{number:04}", marker, scale, entry.marks)


def _lines(found: MarkingFigures, marking: MarkingError) -> Iterator[str]:
    still, clicks = found.still, found.clicks
    if still is not None and still.sd >= LEAST:
        yield _line("still_mm", still, f"besides a click of {marking.click_px:g} px")
    elif clicks is not None and clicks.sd >= LEAST:
        yield _line("click_px", clicks, f"surer than the {marking.click_px:g} px of academy.yaml")
        yield "  still_mm: 0.0  # the click holds all of it"
    for key, figure, now in (("visit_mm", found.visit, marking.visit_mm), ("habit_mm", found.habit, marking.habit_mm)):
        if figure is not None and figure.sd > now:
            yield _line(key, figure, "larger than what stands there")
        elif figure is not None:
            yield _line(f"# {key}", figure, f"no reason to go below {now:g}: see below")


def _line(key: str, figure: Deviation, why: str) -> str:
    return f"  {key}: {figure.sd:.1f}  # {figure.low:.1f} to {figure.high:.1f}; {why}"


def _not_known(found: MarkingFigures, marking: MarkingError) -> Iterator[str]:
    """What the looks cannot tell, and what would."""
    if found.visit is not None:
        yield (
            "visit_mm is only what one person sees otherwise on another day. What clothing, new dots and a new film "
            "add is not seen on the same picture."
        )
    else:
        yield (
            f"Visit is not known yet: nobody has marked a picture twice. Habit was worked out with visit_mm: "
            f"{marking.visit_mm:g}. Mark them again yourself, a week later or more."
        )
    if found.habit is not None:
        yield (
            "habit_mm is only how two people differ. Where both set a point wrong in the same way, no second look "
            "shows it."
        )
    else:
        yield ("Habit is not known yet: one person has marked these pictures. Let somebody else mark them at the desk.")


def _of_confirmed(found: ConfirmedMarks) -> Iterator[str]:
    """Whether proposed and confirmed points are as good as those set by hand; nothing where there are none."""
    if not found.confirmed:
        return
    yield f"{found.confirmed} of the points were proposed and confirmed, {found.hand} were set by hand."
    if found.scatter is None or found.lean is None:
        yield f"To compare them takes {GROUPS_AT_LEAST // 2} points of each kind, on two pictures of a lesson each."
        return
    yield _beside("Scatter", found.scatter)
    yield _beside("Lean, which the pictures of a lesson share", found.lean)
    if found.scatter.more or found.lean.more:
        yield "A proposed place draws the eye to it. Look at each one before you press Enter, or set it yourself."


def _beside(what: str, found: Beside) -> str:
    verdict = "confirmed points have clearly more" if found.more else "no clear difference"
    return f"{what}: {found.confirmed:.1f} mm confirmed, {found.hand:.1f} mm by hand; {verdict}."
