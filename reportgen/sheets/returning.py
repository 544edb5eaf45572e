"""The steps of a return after a stop, as shipped."""

from pathlib import Path

from reportgen.records.returning import ReturnRules
from reportgen.sheets.reading import read_sheet


def read_returning(shipped: Path) -> ReturnRules:
    """The steps of content/returning.yaml. No academy has its own: they are part of what keeps people safe."""
    sheet, found = read_sheet(shipped / "returning.yaml", "content/returning.yaml", ReturnRules)
    if sheet is None:
        raise ValueError(f"the shipped returning.yaml is broken: {found[0]}")
    return sheet.record
