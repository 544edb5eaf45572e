"""How a week of practice is put together: the academy's own practice.yaml, completed by the shipped one."""

import os
from pathlib import Path

from reportgen.records.practice import PracticeRules, WarmUp
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import read_sheet


def practice_rules(shipped: Path, own: Path, problems: list[Problem]) -> PracticeRules:
    """The academy's own practice.yaml, or else the shipped one; what the own one does not say of putts and short shots,
    and of a warm-up without a club, is the shipped one's."""
    usual, found = read_sheet(shipped / "practice.yaml", "content/practice.yaml", PracticeRules)
    if usual is None:
        raise ValueError(f"the shipped practice.yaml is broken: {found[0]}")
    if os.path.lexists(own / "practice.yaml"):
        sheet, found = read_sheet(own / "practice.yaml", "practice.yaml", PracticeRules, own)
        problems += found
        if sheet is not None:
            return _completed(sheet.record, usual.record)
    return usual.record


def _completed(own: PracticeRules, usual: PracticeRules) -> PracticeRules:
    small = own.small_game or usual.small_game
    if small is not None and usual.small_game is not None:
        small = small.model_copy(update={"warm_up": _with_all(small.warm_up, usual.small_game.warm_up)})
    return own.model_copy(update={"warm_up": _with_all(own.warm_up, usual.warm_up), "small_game": small})


def _with_all(own: WarmUp, usual: WarmUp) -> WarmUp:
    return own.model_copy(update={"without_swings": own.without_swings or usual.without_swings})
