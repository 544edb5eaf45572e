"""What the marks on pictures give so far, in the words of the one who sets them."""

from dataclasses import dataclass
from functools import partial

from reportgen.records.content import Metric
from reportgen.records.findings import Reading
from reportgen.records.report import Missing
from reportgen.records.units import convert
from reportgen.saying.findings import remark_said
from reportgen.saying.missing import told_missing
from reportgen.saying.wording import amount, size, way_taken
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class SaidValue:
    """A metric by its name, with its value and standard uncertainty; without them, where the marks do not give it yet.
    `settles` is what would make it possible, or surer."""

    metric: str
    name: str
    value: str | None = None
    u: str | None = None
    way: str | None = None
    settles: str = ""


def said_reading(reading: Reading, metric: Metric, library: Library) -> SaidValue:
    """A reading of `metric`, in whose unit it is; `library` is the reader's."""
    shown = library.metrics[metric.id]
    into = partial(convert, from_unit=metric.unit, to_unit=shown.unit)
    return SaidValue(
        metric.id,
        shown.name,
        amount(into(reading.value), shown.unit, shown.decimals, shown.sign),
        size(into(reading.u), shown.unit, shown.decimals + 1),
        way_taken(reading.how, reading.views),
        " ".join(remark_said(remark, shown, into) for remark in reading.remarks),
    )


def said_missing(missing: Missing, library: Library) -> SaidValue:
    """What a metric lacks."""
    told = told_missing(missing, library)
    return SaidValue(missing.metric or "", told.name or "", settles=told.says)
