"""Everything that a reader should know of a lesson's tables of shots, in one list."""

from collections.abc import Iterator, Sequence
from datetime import date
from statistics import median

from reportgen.judging.pattern import MISHIT
from reportgen.judging.shot_doubts import at, disagreements, face_computed, sign_doubts, too_high
from reportgen.judging.shot_groups import Group, by_device, by_spin_source, groups_of
from reportgen.records.shot_remarks import At, ShotCode, ShotRemark
from reportgen.records.shot_table import ShotTable, WhyNoShot

MEDIAN_OF = 5
"""Of fewer shots with a carry no mishit is told: half of them could be."""

_LEFT_OUT: dict[WhyNoShot, ShotCode] = {"no number": "no shot", "not numbered": "no shot", "mean": "summed up"}


def shot_remarks(tables: Sequence[ShotTable], on: date) -> tuple[ShotRemark, ...]:
    """What is remarkable about the tables of a lesson on that day: of devices and of all first, then by club, then by
    line."""
    groups = groups_of(tables)
    steps = {table.file: table.resolution for table in tables}
    found: list[ShotRemark] = []
    for device, shots in by_device(groups).items():
        found += sign_doubts(shots, device)
        computed = face_computed(shots, steps)
        if computed is not None:
            found.append(computed.model_copy(update={"device": device}))
        else:
            of_device = [group for group in groups if group.device == device]
            found += [
                _of(group, remark) for group in of_device if (remark := face_computed(group.shots, steps)) is not None
            ]
    found += disagreements(tables)
    found += _apart(groups)
    for group in groups:
        found += _of_group(group)
    for table in tables:
        found += _of_lines(table, on)
    return tuple(found)


def _apart(groups: Sequence[Group]) -> Iterator[ShotRemark]:
    codes: tuple[tuple[ShotCode, set[str | None]], ...] = (
        ("devices apart", {group.device for group in groups}),
        ("clubs apart", {group.club for group in groups}),
        ("surfaces apart", {group.surface for group in groups}),
    )
    for code, kinds in codes:
        if len(kinds) > 1:
            yield ShotRemark(code=code, figures={"groups": len(kinds)})


def _of_group(group: Group) -> Iterator[ShotRemark]:
    if (high := too_high(group.shots)) is not None:
        yield _of(group, high)
    carries = [shot.carry for shot in group.shots if shot.carry is not None]
    if len(carries) >= MEDIAN_OF:
        least = MISHIT * median(carries)
        short = [shot for shot in group.shots if shot.carry is not None and shot.carry < least]
        figures = {"percent": 100 * MISHIT, "shots": len(carries)}
        if short:
            yield _of(group, ShotRemark(code="mishits", words=("carry",), figures=figures, at=at(short)))
    spins = by_spin_source(group.shots)
    if "estimated" in spins:
        counts = {source: len(spins.get(source, ())) for source in ("measured", "estimated")}
        figures = {"shots": sum(map(len, spins.values())), **counts}
        remark = ShotRemark(code="spin estimated", words=("spin",), figures=figures, at=at(spins["estimated"]))
        yield _of(group, remark)


def _of(group: Group, remark: ShotRemark) -> ShotRemark:
    return remark.model_copy(update={"club": group.club, "surface": group.surface, "device": group.device})


def _of_lines(table: ShotTable, on: date) -> Iterator[ShotRemark]:
    """What is told by line of one table."""
    if table.absent:
        yield ShotRemark(code="column absent", words=table.absent, at=(At(file=table.file, line=1),))
    for word, lines in table.blanks.items():
        yield ShotRemark(code="blank cells", words=(word,), at=_lines(table, lines))
    for code in dict.fromkeys(_LEFT_OUT[one.why] for one in table.left_out):
        lines = tuple(one.line for one in table.left_out if _LEFT_OUT[one.why] == code)
        yield ShotRemark(code=code, at=_lines(table, lines))
    if table.unread_dates:
        yield ShotRemark(code="day not read", at=_lines(table, table.unread_dates))
    other = [shot for shot in table.shots if shot.day is not None and shot.day != on]
    if other:
        yield ShotRemark(code="other day", at=at(other))


def _lines(table: ShotTable, lines: Sequence[int]) -> tuple[At, ...]:
    return tuple(At(file=table.file, line=line) for line in lines)
