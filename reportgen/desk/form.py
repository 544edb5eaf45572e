"""A lesson sheet as the fields of a page: what stands in it, sign by sign, and its problems beside their fields."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from reportgen.languages.speaking import say
from reportgen.saying.sheet_words import felt, kinds, practised, sites, units, ways
from reportgen.saying.wording import slug_name
from reportgen.sheets.editing import Written
from reportgen.sheets.library import Library
from reportgen.sheets.problems import Problem
from reportgen.sheets.tree import Loc, Tree

Shape = Literal["line", "text", "choice", "day", "time"]


@dataclass(frozen=True)
class Field:
    """One value: where it stands in the sheet, as `loc`, and its signs; `says` is what is wrong with it, `before` what
    it was in the last lesson."""

    loc: Loc
    name: str
    shape: Shape
    value: str
    choices: Mapping[str, str] = field(default_factory=dict)
    says: str | None = None
    many: bool = False
    """Several numbers, with commas between."""
    before: str | None = None


@dataclass(frozen=True)
class Row:
    """One item of a list, and what stands there now, by which it is known again."""

    loc: Loc
    was: Written
    fields: tuple[Field, ...]
    says: tuple[str, ...] = ()


@dataclass(frozen=True)
class Section:
    """A part of the page: fields of their own or rows. `key` is the list of the sheet that the rows are in, `fresh`
    what a new row begins with; None where rows are not added by hand."""

    id: str
    title: str
    fields: tuple[Field, ...] = ()
    rows: tuple[Row, ...] = ()
    key: str | None = None
    add: str | None = None
    fresh: Written = None


@dataclass(frozen=True)
class Form:
    """The whole sheet; `elsewhere` are the problems of what has no field here."""

    sections: tuple[Section, ...]
    elsewhere: tuple[Problem, ...]


def form_of(tree: Tree, problems: Sequence[Problem], library: Library, before: Mapping[str, str]) -> Form:
    """The page of a sheet by its `tree`, with the problems of that file; `library` is of the kind of the lesson and in
    the language of who writes, `before` has the values of the last lesson by metric. Labels are in the language that is
    spoken."""
    asked = _Asked(tree, {}, library, before)
    for problem in problems:
        asked.at.setdefault((problem.line, problem.column), []).append(problem)
    sections = tuple(_sections(asked))
    placed = {place for section in sections for place in _places(section, tree)}
    return Form(sections, tuple(p for p in problems if (p.line, p.column) not in placed))


def _places(section: Section, tree: Tree) -> Iterator[tuple[int, int]]:
    locs = [one.loc for one in section.fields]
    locs += [loc for row in section.rows for loc in (row.loc, *(one.loc for one in row.fields))]
    for loc in locs:
        if loc in tree.places:
            yield tree.place(loc)
        if loc in tree.keys:
            yield tree.key_place(loc)


@dataclass(frozen=True)
class _Asked:
    tree: Tree
    at: dict[tuple[int, int], list[Problem]]
    library: Library
    before: Mapping[str, str]

    def says(self, loc: Loc) -> str | None:
        """What is wrong with the value of `loc` or with its key."""
        places = [self.tree.place(loc)] if loc in self.tree.places else []
        places += [self.tree.key_place(loc)] if loc in self.tree.keys else []
        found = [problem for place in dict.fromkeys(places) for problem in self.at.get(place, ())]
        return " ".join(f"{_capital(p.wrong)}. {p.mend}" for p in found) or None

    def field(
        self,
        loc: Loc,
        name: str,
        shape: Shape = "line",
        choices: Mapping[str, str] | None = None,
        *,
        many: bool = False,
    ) -> Field:
        """The field of a value, which is shown as it stands there even where it is none of the choices."""
        found = self.tree.value(loc)
        written = ", ".join(map(str, found)) if isinstance(found, list) else "" if found is None else str(found)
        known = dict(choices or {})
        if shape == "choice" and written not in known:
            known = {written: written or "–", **known}
        return Field(loc, name, shape, written, known, self.says(loc), many)

    def rows(self, key: str) -> Iterator[Loc]:
        found = self.tree.value((key,))
        return ((key, number) for number in range(len(found) if isinstance(found, list) else 0))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _sections(asked: _Asked) -> Iterator[Section]:
    yield Section(
        "lesson",
        say("Lesson"),
        (
            asked.field(("kind",), say("Kind"), "choice", kinds()),
            asked.field(("club",), say("Club")),
            asked.field(("focus",), say("In one line")),
        ),
    )
    yield Section("letter", say("Letter"), (asked.field(("notes",), say("What you say to the student"), "text"),))
    yield _measured(asked)
    yield _shots(asked)
    yield _comfort(asked)
    yield _log(asked)
    yield _drills(asked)
    yield Section(
        "next",
        say("Next lesson"),
        (
            asked.field(("next_lesson", "date"), say("Day"), "day"),
            asked.field(("next_lesson", "time"), say("Time"), "time"),
            asked.field(("next_lesson", "place"), say("Place")),
        ),
    )


def _row(asked: _Asked, loc: Loc, fields: Sequence[Field]) -> Row:
    own = asked.says(loc)
    first = fields[0].says if fields else None
    return Row(loc, asked.tree.value(loc), tuple(fields), (own,) if own and own != first else ())


def _measured(asked: _Asked) -> Section:
    metrics = {metric.id: metric.name for metric in asked.library.metrics.values()}
    rows = []
    for loc in asked.rows("readings"):
        several = "trials" in (asked.tree.value(loc) or ()) or (*loc, "trials") in asked.tree.empty
        value = (*loc, "trials" if several else "value")
        fields = [
            asked.field((*loc, "metric"), say("What"), "choice", metrics),
            replace(
                asked.field(value, say("One value for each swing") if several else say("Value"), many=several),
                before=asked.before.get(str(asked.tree.value((*loc, "metric")))),
            ),
            asked.field((*loc, "unit"), say("Unit"), "choice", {"": "–", **units()}),
            asked.field((*loc, "how"), say("How"), "choice", ways()),
        ]
        rows.append(_row(asked, loc, fields))
    first = next(iter(asked.library.metrics.values()), None)
    fresh = {"metric": first.id, "unit": first.unit, "how": "by-eye"} if first else None
    return Section("readings", say("What was measured"), (), tuple(rows), "readings", say("Add a value"), fresh)


def _shots(asked: _Asked) -> Section:
    counts = {count.id: count.name for count in asked.library.counts.values()}
    whens = {"": "–", "before": say("before the work"), "after": say("after the work")}
    rows = []
    for loc in asked.rows("shots"):
        if asked.tree.value((*loc, "count")) is None:
            rows.append(_row(asked, loc, ()))
            continue
        needs = asked.library.counts.get(str(asked.tree.value((*loc, "count"))))
        fields = [
            asked.field((*loc, "count"), say("What"), "choice", counts),
            asked.field((*loc, "made"), say("Made")),
            asked.field((*loc, "of"), say("Of")),
            *(asked.field((*loc, size), _SIZES()[size]) for size in (needs.needs if needs else ())),
            asked.field((*loc, "when"), say("When"), "choice", whens),
        ]
        rows.append(_row(asked, loc, fields))
    first = next(iter(counts), None)
    return Section(
        "shots", say("Shots counted"), (), tuple(rows), "shots", say("Add a count"), {"count": first, "of": 10}
    )


def _SIZES() -> Mapping[str, str]:  # noqa: N802  labels in the language that is spoken
    return {"width": say("Width"), "distance": say("Distance"), "radius": say("Radius")}


def _comfort(asked: _Asked) -> Section:
    rows = [
        _row(
            asked,
            loc,
            [
                asked.field((*loc, "site"), say("Where"), "choice", sites()),
                asked.field((*loc, "score"), say("0 to 10")),
                asked.field((*loc, "when"), say("When"), "choice", felt()),
            ],
        )
        for loc in asked.rows("comfort")
    ]
    fresh = {"site": "low-back", "when": "after"}
    return Section("comfort", say("How the body felt"), (), tuple(rows), "comfort", say("Add a place"), fresh)


def _log(asked: _Asked) -> Section:
    rows = [
        _row(
            asked,
            loc,
            [
                asked.field((*loc, "date"), say("Day"), "day"),
                asked.field((*loc, "kind"), say("Where"), "choice", {"": slug_name("range"), **practised()}),
                asked.field((*loc, "minutes"), say("Minutes")),
                asked.field((*loc, "swings"), say("Full swings")),
                asked.field((*loc, "note"), say("Note")),
            ],
        )
        for loc in asked.rows("practice_log")
    ]
    fresh = {"date": asked.tree.value(("date",)), "minutes": 30}
    return Section(
        "log", say("Practised since the last lesson"), (), tuple(rows), "practice_log", say("Add a day"), fresh
    )


def _drills(asked: _Asked) -> Section:
    titles = {drill.id: drill.title for drill in asked.library.drills.values()}
    rows = []
    for loc in asked.rows("drills"):
        if isinstance(asked.tree.value(loc), Mapping):
            fields = [
                asked.field((*loc, "drill"), say("Drill"), "choice", titles),
                asked.field((*loc, "dose"), say("How much")),
                asked.field((*loc, "note"), say("Note")),
            ]
        else:
            fields = [asked.field(loc, say("Drill"), "choice", titles)]
        rows.append(_row(asked, loc, fields))
    return Section("drills", say("Drills"), (), tuple(rows), "drills")
