"""The library of the trade: what is shipped, with the academy's own in the place of what has the same id."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from reportgen.records.bounds import OF_A_KIND
from reportgen.records.causes import Cause, CauseFile
from reportgen.records.conditions import Condition, FindingIs
from reportgen.records.content import Band, BandFile, CountKind, Drill, Metric
from reportgen.records.practice import PracticeRules
from reportgen.records.returning import ReturnRules
from reportgen.records.safety import SafetyFile, SafetyRule
from reportgen.records.setup import SetupKind
from reportgen.records.units import convert, convertible
from reportgen.sheets.band_fits import tied
from reportgen.sheets.beside_drills import Beside, find_beside
from reportgen.sheets.cause_checks import cause_problems
from reportgen.sheets.drill_files import read_drill
from reportgen.sheets.files import entries
from reportgen.sheets.formula_checks import with_sound_formulas
from reportgen.sheets.plausible import limit_fault, u_fault
from reportgen.sheets.practice_file import practice_rules
from reportgen.sheets.problems import Problem, nearest, shown
from reportgen.sheets.reading import R, Sheet, read_text, sheet_of
from reportgen.sheets.returning import read_returning
from reportgen.sheets.tree import Loc


@dataclass(frozen=True)
class Library:
    """Metrics and drills by id; bands by the id of their metric, limits in the metric's unit; safety rules by id; how
    a week of practice is put together; the video of each drill that has a file of its own, and its pictures by the
    number of the figure; what can be counted, what can be observed at setup, and what can lead to what, by id; the
    steps of a return after a stop."""

    metrics: Mapping[str, Metric]
    bands: Mapping[str, tuple[Band, ...]]
    drills: Mapping[str, Drill]
    rules: Mapping[str, SafetyRule]
    practice: PracticeRules
    videos: Mapping[str, Path] = field(default_factory=dict)
    pictures: Mapping[str, Mapping[int, Path]] = field(default_factory=dict)
    counts: Mapping[str, CountKind] = field(default_factory=dict)
    setup: Mapping[str, SetupKind] = field(default_factory=dict)
    causes: Mapping[str, Cause] = field(default_factory=dict)
    returning: ReturnRules | None = None


def load_library(shipped: Path, own: Path) -> tuple[Library, list[Problem]]:
    """The shipped library with the folders metrics/, bands/, drills/, safety/, counts/, setup/ and causes/ of `own`
    added."""
    problems = list(_misnamed(own))
    files = _sheets(shipped, own, "metrics", Metric, problems)
    metrics = with_sound_formulas(_by_id(files, problems), files, problems)
    beside = Beside({}, {})
    drills = _by_id(_drills(shipped, own, beside, problems), problems)
    bands = _bands(_sheets(shipped, own, "bands", BandFile, problems), metrics, problems)
    safety = _sheets(shipped, own, "safety", SafetyFile, problems)
    problems += _same_ids(safety, "rules", [[rule.id for rule in sheet.record.rules] for sheet in safety])
    problems += _weaker(safety)
    rules = {rule.id: rule for sheet in safety for rule in sheet.record.rules}
    practice = practice_rules(shipped, own, problems)
    counts = _by_id(_sheets(shipped, own, "counts", CountKind, problems), problems)
    seen = _sheets(shipped, own, "setup", SetupKind, problems)
    setup = _by_id(seen, problems)
    problems += _same_ids(seen, "words", [[word.id for word in sheet.record.words] for sheet in seen])
    rows = _sheets(shipped, own, "causes", CauseFile, problems)
    problems += _same_ids(rows, "causes", [[row.id for row in sheet.record.causes] for sheet in rows])
    problems += cause_problems(rows, metrics)
    returning = read_returning(shipped)
    causes = {row.id: row for sheet in rows for row in sheet.record.causes}
    known, countable, observed = _records(drills), _records(counts), _records(setup)
    library = Library(_records(metrics), bands, known, rules, practice, *beside, countable, observed, causes, returning)
    problems += _wrong_in_metrics_and_drills(metrics, drills, library)
    problems += _wrong_in_rules(safety, library)
    return library, problems


def _records(sheets: Mapping[str, Sheet[R]]) -> dict[str, R]:
    return {name: sheet.record for name, sheet in sheets.items()}


def _files(
    shipped: Path, own: Path, kind: str, suffix: str, problems: list[Problem]
) -> Iterator[tuple[Path, str, Path | None]]:
    """The files of a kind, what they are told as, and the folder within which they must lie."""
    of_its_own = entries(own / kind, kind, problems, own, OF_A_KIND)
    for files, told, within in ((sorted((shipped / kind).iterdir()), f"content/{kind}", None), (of_its_own, kind, own)):
        for file in files:
            if file.suffix == suffix and not file.name.startswith("."):
                yield file, f"{told}/{shown(file.name)}", within


def _misnamed(own: Path) -> Iterator[Problem]:
    """Files of the academy's own library that would be read if their names ended as they should."""
    for kind in ("metrics", "drills", "bands", "safety", "counts", "setup", "causes"):
        suffix = ".md" if kind == "drills" else ".yaml"
        for file in entries(own / kind, kind, [], own, OF_A_KIND):  # what is wrong with it is told where it is read
            meant = file.suffix.lower() in (".yaml", ".yml", ".md", ".markdown") and file.suffix != suffix
            if meant and not file.name.startswith((".", "README")):
                path = f"{kind}/{shown(file.name)}"
                yield Problem(path, 1, 1, "the file is not read", f"Name it {shown(file.stem)}{suffix}.")


_sheet_of = lru_cache(maxsize=512)(sheet_of)
"""As for drills: what has not changed is read once in a process."""


def _sheets(shipped: Path, own: Path, kind: str, record: type[R], problems: list[Problem]) -> list[Sheet[R]]:
    sheets = []
    for file, path, within in _files(shipped, own, kind, ".yaml", problems):
        text, fault = read_text(file, path, within)
        sheet, found = (None, []) if text is None else _sheet_of(text, path, record)
        problems += [*filter(None, [fault]), *found]
        if sheet is not None:
            sheets.append(sheet)
    return sheets


def _drills(shipped: Path, own: Path, beside: Beside, problems: list[Problem]) -> list[Sheet[Drill]]:
    sheets = []
    for file, path, within in _files(shipped, own, "drills", ".md", problems):
        sheet, found = read_drill(file, path, within)
        problems += found
        if sheet is not None:
            sheets.append(sheet)
            problems += find_beside(sheet, file, beside, own=within is not None)
    return sheets


def _by_id(sheets: list[Sheet[Any]], problems: list[Problem]) -> dict[str, Sheet[Any]]:
    """The later sheet of an id takes the place of the earlier one; an id that is not the file's name is a problem."""
    found = {}
    for sheet in sheets:
        named = Path(sheet.path).stem
        if sheet.record.id != named:
            wrong = f"id {sheet.record.id} is not the name of the file"
            problems.append(sheet.problem(("id",), wrong, f"Write id: {named}, or rename the file."))
        found[sheet.record.id] = sheet
    return found


def _bands(
    sheets: list[Sheet[BandFile]], metrics: Mapping[str, Sheet[Metric]], problems: list[Problem]
) -> dict[str, tuple[Band, ...]]:
    by_metric: dict[str, dict[str, Band]] = {}
    last: dict[str, Sheet[BandFile]] = {}
    own = {b.id for sheet in sheets if not sheet.path.startswith("content/") for b in sheet.record.bands}
    problems += _same_ids(sheets, "bands", [[band.id for band in sheet.record.bands] for sheet in sheets])
    for sheet in sheets:
        file = sheet.record
        if file.metric not in metrics:
            mend = nearest(file.metric, metrics)
            problems.append(sheet.problem(("metric",), f"the metric {file.metric!r} is not known", mend))
            continue
        unit = metrics[file.metric].record.unit
        if not convertible(file.unit, unit):
            wrong = f"{file.unit} does not measure what {file.metric} is ({unit})"
            problems.append(sheet.problem(("unit",), wrong, f"Write unit: {unit}."))
            continue
        for number, band in enumerate(file.bands):
            for side in ("low", "high"):
                limit = getattr(band, side)
                if limit is not None and (fault := limit_fault(limit, file.unit, metrics[file.metric].record)):
                    problems.append(sheet.problem(("bands", number, side), *fault))
            by_metric.setdefault(file.metric, {})[band.id] = _in_unit(band, file.unit, unit)
        last[file.metric] = sheet
    for metric, bands in by_metric.items():
        if tie := tied(_of(bands, own)) or tied(_of(bands, bands.keys() - own)):
            wrong = f"the bands {tie[0].id} and {tie[1].id} fit the same student equally well"
            sheet = last[metric]
            at = max(number for number, band in enumerate(sheet.record.bands) if band.id in (tie[0].id, tie[1].id))
            mend = "Give one of them one more condition under fits:."
            problems.append(sheet.problem(("bands", at), wrong, mend))
    # where both fit equally well the academy's own wins: what is shipped later never unsettles an academy
    return {metric: (*_of(bands, own), *_of(bands, bands.keys() - own)) for metric, bands in by_metric.items()}


def _of(bands: Mapping[str, Band], ids: Collection[str]) -> tuple[Band, ...]:
    return tuple(band for name, band in bands.items() if name in ids)


def _same_ids(sheets: Sequence[Sheet[Any]], key: str, ids: list[list[str]]) -> Iterator[Problem]:
    """A problem for each item under `key` whose id stands in the same file before."""
    for sheet, names in zip(sheets, ids, strict=True):
        for number, name in enumerate(names):
            if name in names[:number]:
                loc = (key, number, "id")
                yield sheet.problem(loc, f"the id {name} stands in this file already", "Give each its own id.")


def _weaker(safety: Sequence[Sheet[SafetyFile]]) -> Iterator[Problem]:
    """A problem for each rule that would take the place of a shipped one that asks for more."""
    asks = ("note", "hold", "stop")
    shipped = {rule.id: rule for s in safety if s.path.startswith("content/") for rule in s.record.rules}
    for sheet in safety:
        for number, rule in enumerate(sheet.record.rules):
            known = shipped.get(rule.id, rule)
            if asks.index(rule.level) < asks.index(known.level):
                wrong = f"{rule.id} is a {known.level} as shipped, and this {rule.level} would take its place"
                yield sheet.problem(("rules", number, "level"), wrong, f"Write level: {known.level}, or another id.")


def _in_unit(band: Band, unit: str, metric_unit: str) -> Band:
    limits = {
        side: None if limit is None else convert(limit, unit, metric_unit)
        for side, limit in (("low", band.low), ("high", band.high))
    }
    return band.model_copy(update=limits)


def _wrong_in_metrics_and_drills(
    metrics: Mapping[str, Sheet[Metric]], drills: Mapping[str, Sheet[Drill]], library: Library
) -> Iterator[Problem]:
    for metric in metrics.values():
        for way in ("by_eye", "one_view", "two_views", "sensor"):
            u = getattr(metric.record.uncertainty, way)
            if u is not None and (fault := u_fault(u, metric.record.unit, metric.record)) is not None:
                yield metric.problem(("uncertainty", way.replace("_", "-")), *fault)
    for drill in drills.values():
        for number, serves in enumerate(drill.record.serves):
            if serves.metric not in metrics:
                loc = ("serves", number, "metric")
                wrong = f"the metric {serves.metric!r} is not known"
                yield drill.problem(loc, wrong, nearest(serves.metric, library.metrics))
        for number, count in enumerate(drill.record.trains):
            if count not in library.counts:
                wrong = f"the count {count!r} is not known"
                yield drill.problem(("trains", number), wrong, nearest(count, library.counts))


def _wrong_in_rules(safety: Sequence[Sheet[SafetyFile]], library: Library) -> Iterator[Problem]:
    """A rule on a metric that is not known would never fire, nor one on a value that none has."""
    for sheet in safety:
        for number, rule in enumerate(sheet.record.rules):
            for loc, finding in _findings_of(rule.when, ("rules", number, "when")):
                metric = library.metrics.get(finding.metric)
                if metric is None:
                    mend = nearest(finding.metric, library.metrics)
                    yield sheet.problem((*loc, "metric"), f"the metric {finding.metric!r} is not known", mend)
                    continue
                for side in ("at_least", "at_most"):
                    limit = getattr(finding, side)
                    if limit is not None and (fault := limit_fault(limit, metric.unit, metric)) is not None:
                        yield sheet.problem((*loc, side), *fault)


def _findings_of(condition: Condition, loc: Loc) -> Iterator[tuple[Loc, FindingIs]]:
    if condition.finding is not None:
        yield (*loc, "finding"), condition.finding
    if condition.not_ is not None:
        yield from _findings_of(condition.not_, (*loc, "not"))
    for key in ("all", "any"):
        for number, inner in enumerate(getattr(condition, key) or ()):
            yield from _findings_of(inner, (*loc, key, number))
