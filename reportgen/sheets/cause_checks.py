"""Whether the rows of causes/ speak of things that are known."""

from collections.abc import Collection, Iterator, Sequence

from reportgen.records.causes import SEEN, CauseFile
from reportgen.sheets.problems import Problem, nearest
from reportgen.sheets.reading import Sheet


def cause_problems(files: Sequence[Sheet[CauseFile]], metrics: Collection[str]) -> Iterator[Problem]:
    """A problem for each end of a row that is neither a metric nor a word for club and ball."""
    known = [*metrics, *SEEN]
    for sheet in files:
        for number, row in enumerate(sheet.record.causes):
            for key, end in (("cause", row.cause), ("effect", row.effect)):
                if end.what not in known:
                    wrong = f"{end.what!r} is neither a metric nor a word for club and ball"
                    yield sheet.problem(("causes", number, key, "what"), wrong, nearest(end.what, known))
