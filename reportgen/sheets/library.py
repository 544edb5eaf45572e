"""The library of the trade: what is shipped, with the academy's own in the place of what has the same id."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import Any, get_args

from reportgen.records.conditions import Condition
from reportgen.records.content import Band, BandFile, Drill, Fits, Metric, SafetyFile, SafetyRule
from reportgen.records.practice import PracticeRules
from reportgen.records.units import convert, convertible
from reportgen.records.words import ClubFamily, GrowthStage, Hips, PressureStyle, Sex, Stage
from reportgen.sheets.drill_files import read_drill
from reportgen.sheets.problems import Problem, nearest, shown
from reportgen.sheets.reading import R, Sheet, read_sheet
from reportgen.sheets.tree import Loc


@dataclass(frozen=True)
class Library:
    """Metrics and drills by id; bands by the id of their metric, limits in the metric's unit; safety rules by id; and
    how a week of practice is put together."""

    metrics: Mapping[str, Metric]
    bands: Mapping[str, tuple[Band, ...]]
    drills: Mapping[str, Drill]
    rules: Mapping[str, SafetyRule]
    practice: PracticeRules


def fits(
    condition: Fits,
    stage: Stage,
    hips: Hips,
    sex: Sex | None,
    club: ClubFamily,
    pressure_style: PressureStyle | None,
    growth: GrowthStage | None = None,
) -> bool:
    """Whether each condition that is set holds; a condition on something unknown of the student does not."""
    facts = {
        "stage": stage, "hips": hips, "sex": sex, "club": club, "pressure_style": pressure_style, "growth": growth,
    }  # fmt: skip
    return all(not getattr(condition, name) or fact in getattr(condition, name) for name, fact in facts.items())


def load_library(shipped: Path, own: Path) -> tuple[Library, list[Problem]]:
    """The shipped library with the folders metrics/, bands/, drills/ and safety/ of `own` added."""
    problems = list(_misnamed(own))
    metrics = _by_id(_sheets(shipped, own, "metrics", Metric, problems), problems)
    drills = _by_id(_drills(shipped, own, problems), problems)
    bands = _bands(_sheets(shipped, own, "bands", BandFile, problems), metrics, problems)
    safety = _sheets(shipped, own, "safety", SafetyFile, problems)
    problems += _same_ids(safety, "rules", [[rule.id for rule in sheet.record.rules] for sheet in safety])
    problems += _weaker(safety)
    rules = {rule.id: rule for sheet in safety for rule in sheet.record.rules}
    practice = _practice(shipped, own, problems)
    library = Library(
        {i: s.record for i, s in metrics.items()}, bands, {i: s.record for i, s in drills.items()}, rules, practice
    )
    problems += _unknown_names(metrics, drills, library)
    problems += _unknown_in_rules(safety, library)
    return library, problems


def _practice(shipped: Path, own: Path, problems: list[Problem]) -> PracticeRules:
    """The academy's own practice.yaml, or else the shipped one."""
    if (own / "practice.yaml").is_file():
        sheet, found = read_sheet(own / "practice.yaml", "practice.yaml", PracticeRules)
        problems += found
        if sheet is not None:
            return sheet.record
    sheet, found = read_sheet(shipped / "practice.yaml", "content/practice.yaml", PracticeRules)
    if sheet is None:
        raise ValueError(f"the shipped practice.yaml is broken: {found[0]}")
    return sheet.record


def _files(shipped: Path, own: Path, kind: str, suffix: str) -> Iterator[tuple[Path, str]]:
    for root, told in ((shipped, f"content/{kind}"), (own, kind)):
        folder = root / kind
        if folder.is_dir():
            for file in sorted(folder.iterdir()):
                if file.suffix == suffix and not file.name.startswith("."):
                    yield file, f"{told}/{shown(file.name)}"


def _misnamed(own: Path) -> Iterator[Problem]:
    """Files of the academy's own library that would be read if their names ended as they should."""
    for kind, suffix in (("metrics", ".yaml"), ("drills", ".md"), ("bands", ".yaml"), ("safety", ".yaml")):
        folder = own / kind
        for file in sorted(folder.iterdir()) if folder.is_dir() else []:
            meant = file.suffix.lower() in (".yaml", ".yml", ".md", ".markdown") and file.suffix != suffix
            if meant and not file.name.startswith((".", "README")):
                path = f"{kind}/{shown(file.name)}"
                yield Problem(path, 1, 1, "the file is not read", f"Name it {shown(file.stem)}{suffix}.")


def _sheets(shipped: Path, own: Path, kind: str, record: type[R], problems: list[Problem]) -> list[Sheet[R]]:
    sheets = []
    for file, path in _files(shipped, own, kind, ".yaml"):
        sheet, found = read_sheet(file, path, record)
        problems += found
        if sheet is not None:
            sheets.append(sheet)
    return sheets


def _drills(shipped: Path, own: Path, problems: list[Problem]) -> list[Sheet[Drill]]:
    sheets = []
    for file, path in _files(shipped, own, "drills", ".md"):
        sheet, found = read_drill(file, path)
        problems += found
        if sheet is not None:
            sheets.append(sheet)
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
        for band in file.bands:
            by_metric.setdefault(file.metric, {})[band.id] = _in_unit(band, file.unit, unit)
        last[file.metric] = sheet
    for metric, bands in by_metric.items():
        if tie := tied(tuple(bands.values())):
            wrong = f"the bands {tie[0].id} and {tie[1].id} fit the same student equally well"
            sheet = last[metric]
            at = max(number for number, band in enumerate(sheet.record.bands) if band.id in (tie[0].id, tie[1].id))
            mend = "Give one of them one more condition under fits:."
            problems.append(sheet.problem(("bands", at), wrong, mend))
    return {metric: tuple(bands.values()) for metric, bands in by_metric.items()}


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


def tied(bands: tuple[Band, ...]) -> tuple[Band, Band] | None:
    """Two bands that fit some student equally well, better than all others; None where there is no such student."""
    kinds = {
        "stage": get_args(Stage), "hips": get_args(Hips), "sex": (*get_args(Sex), None), "club": get_args(ClubFamily),
        "pressure_style": (*get_args(PressureStyle), None), "growth": (*get_args(GrowthStage), None),
    }  # fmt: skip
    # what no band asks about makes no difference, so one student of that kind stands for all
    asked = {name: any(getattr(band.fits, name) for band in bands) for name in kinds}
    students = product(*(values if asked[name] else values[:1] for name, values in kinds.items()))
    for student in students:
        fitting = sorted((b for b in bands if fits(b.fits, *student)), key=lambda b: -b.fits.conditions)
        if len(fitting) > 1 and fitting[0].fits.conditions == fitting[1].fits.conditions:
            return fitting[0], fitting[1]
    return None


def _unknown_names(
    metrics: Mapping[str, Sheet[Metric]], drills: Mapping[str, Sheet[Drill]], library: Library
) -> Iterator[Problem]:
    for metric in metrics.values():
        for number, cause in enumerate(metric.record.follows):
            if cause not in metrics:
                yield metric.problem(
                    ("follows", number), f"the metric {cause!r} is not known", nearest(cause, library.metrics)
                )
    for drill in drills.values():
        for number, serves in enumerate(drill.record.serves):
            if serves.metric not in metrics:
                loc = ("serves", number, "metric")
                wrong = f"the metric {serves.metric!r} is not known"
                yield drill.problem(loc, wrong, nearest(serves.metric, library.metrics))


def _unknown_in_rules(safety: Sequence[Sheet[SafetyFile]], library: Library) -> Iterator[Problem]:
    """A rule on a metric that is not known would never fire."""
    for sheet in safety:
        for number, rule in enumerate(sheet.record.rules):
            for loc, metric in _metrics_of(rule.when, ("rules", number, "when")):
                if metric not in library.metrics:
                    mend = nearest(metric, library.metrics)
                    yield sheet.problem(loc, f"the metric {metric!r} is not known", mend)


def _metrics_of(condition: Condition, loc: Loc) -> Iterator[tuple[Loc, str]]:
    if condition.finding is not None:
        yield (*loc, "finding", "metric"), condition.finding.metric
    if condition.not_ is not None:
        yield from _metrics_of(condition.not_, (*loc, "not"))
    for key in ("all", "any"):
        for number, inner in enumerate(getattr(condition, key) or ()):
            yield from _metrics_of(inner, (*loc, key, number))
