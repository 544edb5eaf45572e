"""The marking page, written to disk."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.pages.marking import is_marking_page, marking_page
from reportgen.records.content import Metric
from reportgen.sheets.reading import read_sheet
from reportgen.sheets.shipped import shipped


def write_marking_page(pictures: Sequence[Path], video: Path | None, to: Path) -> Path:
    """Write the marking page to `to`, replacing an earlier one in one step.

    Raises ReportgenError where another file stands there or a picture or video cannot be used, OSError.
    """
    if to.exists() and not (to.is_file() and is_marking_page(to)):
        raise ReportgenError(f"{to} is there already, and is no marking page. Give another name with --to.")
    page = marking_page(pictures, video, _shipped_metrics())
    beside = to.with_name(f".{to.name}.new")
    beside.write_text(page, encoding="utf-8")
    beside.replace(to)
    return to


def _shipped_metrics() -> Mapping[str, Metric]:
    sheets = [read_sheet(f, f.name, Metric)[0] for f in sorted((shipped("content") / "metrics").glob("*.yaml"))]
    return {sheet.record.id: sheet.record for sheet in sheets if sheet is not None}
