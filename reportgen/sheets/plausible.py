"""Whether a number can be right: its size against the bounds of what it measures, in the unit in which it is written.

Each function gives (what is wrong, how to mend it), or None where the number may be right. The unit must measure what
the metric is.
"""

from reportgen.records.bounds import Span, limits_in
from reportgen.records.content import Metric
from reportgen.records.shot_table import WORDS
from reportgen.records.units import convertible

Fault = tuple[str, str]


def span_of(unit: str, metric: Metric) -> Span:
    """The limits of a value of a metric in `unit`: those of the column of shots that the metric is called by, or else
    of what it measures."""
    of = WORDS.get(metric.id)
    return Span(of.low, of.high, of.unit) if of and convertible(unit, of.unit) else limits_in(unit, metric.unit)


def value_fault(value: float, unit: str, metric: Metric) -> Fault | None:
    """The fault of a reading that no swing gives."""
    low, high = span_of(unit, metric).within(unit)
    return None if low <= value <= high else (_wrong(value, unit, f"right for {metric.id}"), _mend(unit, metric))


def limit_fault(limit: float, unit: str, metric: Metric) -> Fault | None:
    """The fault of an end of a range, or of a figure that a rule asks for. It can lie where no value does, as in 0 for
    a speed."""
    _, high = span_of(unit, metric).within(unit)
    return None if abs(limit) <= high else (_wrong(limit, unit, f"a limit of {metric.id}"), _mend(unit, metric))


def u_fault(u: float, unit: str, metric: Metric) -> Fault | None:
    """The fault of a standard uncertainty that is larger than any value."""
    span = span_of(unit, metric)
    if u <= span.within(unit)[1]:
        return None
    wrong = _wrong(u, unit, f"the standard uncertainty of {metric.id}")
    return wrong, f"Look at the number and its unit (up to {span.high:g} {span.unit})."


def _wrong(number: float, unit: str, what: str) -> str:
    return f"{number:g}{'' if unit == '1' else f' {unit}'} cannot be {what}"


def _mend(unit: str, metric: Metric) -> str:
    low, high, shown_in = span_of(unit, metric)
    return f"Look at the number and its unit ({low:g} to {high:g} {shown_in})."
