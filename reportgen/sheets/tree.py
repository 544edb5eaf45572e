"""YAML text -> plain data whose every value knows its line and column.

The parser's events are read directly: no tag is ever resolved and nothing is constructed, so a sheet cannot run code;
all scalars stay text for our own records to convert, so YAML's guesses (`no`, `1:30`, `012`, `1e3`) cannot go wrong
unseen. They are told by name, since another reader of the same file would fall for them.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from reportgen.records.bounds import DEPTH, INDENT, VALUES, WORD
from reportgen.sheets.long_texts import text_faults
from reportgen.sheets.problems import Problem, shown
from reportgen.sheets.traps import syntax_problem, trap_in

Loc = tuple[str | int, ...]
Place = tuple[int, int]
"""Line and column, the first of each is 1."""

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_GLUED = re.compile(r"^([\w-]+):(\S.*)$")
_BREAK = re.compile("\r\n|[\r\n\x85\u2028\u2029]")
_ITEMS = (">", "-", "*", "+")
_DIGITS = re.compile(r"^[-+]?\d+$")
_EMPTY = frozenset(("", "~", "null", "Null", "NULL"))


@dataclass(frozen=True)
class Tree:
    """One YAML document: dictionaries, lists and texts; an empty value of a key is left out.

    `places` and `keys` map the location of a value, and of its key, to the parser's mark; `first_line` is what its
    first line is in the file. `empty` lists the keys without a value.
    """

    data: Any
    places: dict[Loc, Any]
    keys: dict[Loc, Any]
    empty: list[Loc]
    problems: list[Problem]
    too_much: list[Problem]
    """What texts hold that is too much for a page: the data are sound all the same."""
    first_line: int = 1

    def value(self, loc: Loc) -> Any:
        """What stands at `loc`; None where nothing does."""
        at = self.data
        for key in loc:
            if isinstance(at, dict):
                at = at.get(key)
            elif isinstance(at, list) and isinstance(key, int) and key < len(at):
                at = at[key]
            else:
                return None
        return at

    def place(self, loc: Loc) -> Place:
        """Where the value at `loc` stands, or the nearest thing around it that is written in the file."""
        while loc and loc not in self.places:
            loc = loc[:-1]
        return _place(self.places[loc], self.first_line) if loc in self.places else (1, 1)

    def key_place(self, loc: Loc) -> Place:
        """Where the key of `loc` stands; the place of its value where it has none (an item of a list)."""
        return _place(self.keys[loc], self.first_line) if loc in self.keys else self.place(loc)


def _place(mark: Any, first_line: int) -> Place:
    return mark.line + first_line, mark.column + 1


@dataclass(frozen=True)
class _Mark:
    """A place that the parser has no mark for; both count from 0."""

    line: int
    column: int


def parse(text: str, path: str, first_line: int = 1) -> Tree:
    """Read one YAML document. Never raises for what the text contains: what is wrong stands in `problems`.

    `first_line` is the line of the file that the text begins at (front matter begins at 2).
    """
    builder = _Builder(path, first_line)
    data = None
    try:
        for event in iter(_LOADER(text).get_event, None):
            builder.take(event)
            if builder.values > VALUES:
                builder.too_many(event)
                break
        else:
            data = builder.root
    except yaml.YAMLError as error:
        builder.problems.append(syntax_problem(error, text, path, first_line - 1))
    too_much = [problem for event in builder.long for problem in _in_text(event, text, path, first_line)]
    return Tree(data, builder.places, builder.keys, builder.empty, builder.problems, too_much, first_line)


def _in_text(event: Any, text: str, path: str, first_line: int) -> Iterator[Problem]:
    """What a long text holds too much of: at its line where it is written line by line (|), or else at its
    beginning."""
    start = event.start_mark
    for at, wrong, mend in text_faults(event.value):
        line, column = start.line, start.column
        if event.style == "|":
            *before, here = _BREAK.split(event.value[:at])
            row = _BREAK.split(event.value[at - len(here) :], 1)[0]
            line += 1 + len(before)
            column = max(_BREAK.split(text)[line].find(row), 0) + len(here)
        yield Problem(path, line + first_line, column + 1, wrong, mend)


@dataclass(slots=True)
class _Open:
    """A list or block that is being read; `key` is set between a key and its value, with the location of both."""

    loc: Loc
    data: Any
    is_list: bool
    flow: bool
    key: str | None = None
    at: Loc = ()
    before: Any = None
    """The item before the one that is read."""
    commas: list[tuple[Any, Any] | None] = field(default_factory=list)
    """For each comma of a list in brackets the two whole numbers that it joins without a space, or None."""


@dataclass(slots=True)
class _Builder:
    """Takes the parser's events one by one and builds the tree without recursion. An academy is read as some hundred
    thousand of them: nothing is computed here that only a problem needs."""

    path: str
    first_line: int
    root: Any = None
    top: _Open | None = None
    """The innermost list or block, the last of the `stack`."""
    places: dict[Loc, Any] = field(default_factory=dict)
    keys: dict[Loc, Any] = field(default_factory=dict)
    empty: list[Loc] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    stack: list[_Open] = field(default_factory=list)
    documents: int = 0
    values: int = 0
    long: list[Any] = field(default_factory=list)
    """The texts that are long enough to hold more than a page can show."""
    skipping: int = 0
    """How deep inside a list or block that is not read."""

    def take(self, event: Any) -> None:
        if type(event) is yaml.ScalarEvent and self.documents == 1 and not self.skipping:  # by far the most
            self.values += 1
            if event.anchor is not None or event.tag is not None:
                self._no_marks(event)
            self._value_or_key(event, event.value)
            return
        self.values += isinstance(event, yaml.NodeEvent)
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents == 2:
                self._problem(event, "a second document begins here (---)", "Keep one document in a file.")
        elif self.documents > 1:
            return
        elif isinstance(event, yaml.CollectionEndEvent):
            if self.skipping:
                self.skipping -= 1
            else:
                self._close(self.stack.pop())
                self.top = self.stack[-1] if self.stack else None
        elif self.skipping:
            self.skipping += isinstance(event, yaml.CollectionStartEvent)
        elif isinstance(event, yaml.AliasEvent):
            self._no_marks(event)
            self._value_or_key(event, None)
        elif isinstance(event, yaml.CollectionStartEvent):
            self._list_or_block(event)

    def _list_or_block(self, event: Any) -> None:
        self._no_marks(event)
        top = self.top
        if top is not None and top.key is None and not top.is_list:
            self._problem(
                event, "a list or block stands where a name belongs", "Begin the line with a name and a colon."
            )
            top.key, top.at = "?", (*top.loc, "?")
            self.skipping = 1
        elif len(self.stack) >= DEPTH:
            self._problem(event, f"lists or blocks stand more than {DEPTH} deep", "Take out some brackets.")
            self._put(event, None)
            self.skipping = 1
        else:
            is_list = isinstance(event, yaml.SequenceStartEvent)
            data: Any = [] if is_list else {}
            loc = self._put(event, data)
            self.top = _Open(loc, data, is_list, bool(event.flow_style))
            self.stack.append(self.top)

    def _value_or_key(self, event: Any, text: str | None) -> None:
        top = self.top
        if top is not None and top.key is None and not top.is_list:
            self._key(top, event, text or "?")
            return
        if text is not None and len(text) > (2 * INDENT if text[:1] in _ITEMS else WORD):
            self.long.append(event)
        plain = text is not None and not event.style
        if plain and (trap := trap_in(str(text))):
            self._problem(event, *trap)
        self._put(event, None if plain and text in _EMPTY else text)

    def _key(self, top: _Open, event: Any, key: str) -> None:
        loc = (*top.loc, key)
        if loc in self.keys:
            first = self.keys[loc].line + self.first_line
            wrong = f"the key {shown(key)!r} stands here a second time (first in line {first})"
            is_list = isinstance(top.data.get(key), list)
            self._problem(
                event, wrong, "Put its items under the first, and take it out." if is_list else "Keep one of the two."
            )
            if key in top.data:  # what stands below it is no second time of what stands below the first
                loc = (*top.loc, f"{key}\0{event.start_mark.line}")
        else:
            self.keys[loc] = event.start_mark
        top.key, top.at = key, loc

    def _put(self, event: Any, value: Any) -> Loc:
        """Put a value where it belongs; returns its location."""
        top = self.top
        if top is None:
            self.places.setdefault((), event.start_mark)
            self.root = value
            return ()
        if top.is_list:
            loc = (*top.loc, len(top.data))
            self.places[loc] = event.start_mark
            if top.flow:
                self._note_comma(top, event)
            top.data.append(value)
            return loc
        loc = top.at
        self.places.setdefault(loc, event.start_mark)
        if value is not None:
            top.data.setdefault(top.key, value)
        elif glued := _GLUED.match(str(top.key)):
            key = self.keys[loc]
            mark = _Mark(key.line, key.column + len(glued[1]) + 1)
            wrong = f"a space is missing after the colon in {shown(glued[0])}"
            self.problems.append(Problem(self.path, *_place(mark, self.first_line), wrong, "Write key: value."))
            self.places.setdefault((*top.loc, glued[1]), mark)
            top.data.setdefault(glued[1], glued[2])
        else:
            self.empty.append(loc)
        top.key = None
        return loc

    def _note_comma(self, top: _Open, event: Any) -> None:
        if top.data:
            end, start = top.before.end_mark, event.start_mark
            tight = (end.line, end.column + 1) == (start.line, start.column)
            pair = (top.before, event)
            numbers = all(isinstance(item, yaml.ScalarEvent) and _DIGITS.match(item.value) for item in pair)
            top.commas.append(pair if tight and numbers else None)
        top.before = event

    def _close(self, closed: _Open) -> None:
        """`[12,5, 13,2]` is four numbers where two were meant. Told where a comma without a space can be a decimal one:
        beside others with a space, or where all numbers come in such pairs; [512,433] reads as the place it is."""
        tight = [pair for pair in closed.commas if pair]
        if not tight or (len(tight) == len(closed.commas) and len(closed.data) % 2):
            return
        before, after = tight[0]
        if len(closed.data) == 2 and len(after.value) > 2:
            return
        self._problem(
            before,
            f"the comma in {shown(f'{before.value},{after.value}')} parts two numbers",
            "Write decimals with a point; if two numbers are meant, put a space after each comma.",
        )

    def too_many(self, event: Any) -> None:
        """Tells that the file holds more values than are read."""
        wrong = f"the file holds more than {VALUES} values"
        self._problem(event, wrong, "A sheet holds a lesson: take out what is not part of it.")

    def _no_marks(self, event: Any) -> None:
        if event.anchor is not None:
            mend = "Write the value out where it is needed; put a text that begins with & or * in quotes."
            self._problem(event, "anchors and aliases (& and *) are not read", mend)
        if getattr(event, "tag", None) is not None:
            mend = "Take out the word with the exclamation mark, or put the text in quotes."
            self._problem(event, f"a tag ({shown(event.tag)}) is not read", mend)

    def _problem(self, event: Any, wrong: str, mend: str) -> None:
        self.problems.append(Problem(self.path, *_place(event.start_mark, self.first_line), wrong, mend))
