"""How much of the teacher's letter stands open at the top of a page: the drill below it must come soon."""

import re
from dataclasses import dataclass

from reportgen.records.told import ToldLesson

TO_THE_DRILL = 60
"""Words that a student reads at most before the name of the first drill."""
_OF_THE_PAGE = 13
"""Those of them that the page itself needs: its title, the headings, the line that opens the rest of the letter."""
_WITHOUT_A_PRIORITY = 14
"""Those that are said where nothing is to be worked on: that all is well."""
_ABOVE_A_CAUTION = 12
"""Words of the letter that stand open where a caution of the day follows, which matters more."""
_NO_PROSE = re.compile(r"[-*+#>|`\[]|\d+[.)]\s|\s")
"""How a paragraph of Markdown begins that is a list, a heading, a quote or code: it is not cut into sentences."""
_BETWEEN_SENTENCES = re.compile(r"(?<=[.!?…])([\"'”’»)]*)\s+(?=[\"'“„«‘(¿¡*_]*[^\W\d_a-zà-öø-ÿ])")


@dataclass(frozen=True)
class OpenLetter:
    """A letter in Markdown: its `first` words, which stand open, and the `rest`, folded below them. Either can be
    empty, not both."""

    first: str
    rest: str


def open_letter(report: ToldLesson) -> OpenLetter | None:
    """The letter of a lesson as its pages begin with it; None where the teacher wrote none.

    A short letter stands open whole. Of a longer one stands the first paragraph, or as many of its sentences as leave
    room for what was seen, why it matters and the drill within `TO_THE_DRILL` words. A letter whose first sentence is
    too long for that is folded whole. Where no drill waits below, the letter has all of these words.
    """
    return cut(report.notes.strip(), _room(report)) if report.notes and report.notes.strip() else None


def cut(letter: str, room: int) -> OpenLetter:
    """`letter` with at most `room` words of it open, by whole sentences of its first paragraph."""
    if _words(letter) <= room:
        return OpenLetter(letter, "")
    paragraph, _, after = letter.partition("\n\n")
    if _words(paragraph) <= room:
        return OpenLetter(paragraph, after.strip())
    ends = [] if _NO_PROSE.match(paragraph) else [match.end(1) for match in _BETWEEN_SENTENCES.finditer(paragraph)]
    fitting = [end for end in ends if _words(paragraph[:end]) <= room and _whole(paragraph[:end])]
    end = fitting[-1] if fitting else 0
    return OpenLetter(letter[:end], letter[end:].strip())


def _room(report: ToldLesson) -> int:
    if not report.drills:
        return TO_THE_DRILL
    said = [report.person.first_name, report.focus or ""]
    if report.ball_first is not None:
        said += [report.ball_first.headline, report.ball_first.seen, report.ball_first.because, report.ball_first.name]
    served = {given.serves for given in report.drills}
    for place, priority in enumerate(report.priorities):
        said += [priority.headline] if place else [priority.headline, priority.seen, priority.because]
        if priority.metric in served:
            break
        said.append(priority.name)
    outlook = report.outlook
    if outlook is not None:
        said.append(outlook.next_says or outlook.keep_says or "")
    without = 0 if report.priorities or report.ball_first or outlook else _WITHOUT_A_PRIORITY
    left = TO_THE_DRILL - _OF_THE_PAGE - without - _words(" ".join(said))
    return left if all(caution.usual for caution in report.cautions) else min(left, _ABOVE_A_CAUTION)


def _words(text: str) -> int:
    return len(text.split())


def _whole(text: str) -> bool:
    """Whether no emphasis, code or link of Markdown goes on after it."""
    return all(text.count(mark) % 2 == 0 for mark in "*_`") and text.count("[") == text.count("](")
