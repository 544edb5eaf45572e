"""YAML text -> plain data whose every value knows its line and column.

The parser's events are read directly: no tag is ever resolved and nothing is constructed, so a sheet cannot run code;
all scalars stay text for our own records to convert, so YAML's guesses (`no`, `1:30`, `012`, `1e3`) cannot go wrong
unseen. They are told by name, since another reader of the same file would fall for them.
"""

import re
from dataclasses import dataclass, field
from typing import Any

import yaml

from reportgen.sheets.problems import Problem, shown
from reportgen.sheets.traps import syntax_problem, trap_in

Loc = tuple[str | int, ...]
Place = tuple[int, int]

MAX_DEPTH = 20
MAX_VALUES = 20_000
"""More values than any sheet holds; a file with more is not read on, so that no file takes long."""

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_GLUED = re.compile(r"^([\w-]+):(\S.*)$")
_DIGITS = re.compile(r"^[-+]?\d+$")
_EMPTY = ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True)
class Tree:
    """One YAML document: dictionaries, lists and texts; an empty value of a key is left out.

    `places` and `keys` map the location of a value, and of its key, to (line, column); `empty` lists the keys without
    a value.
    """

    data: Any
    places: dict[Loc, Place]
    keys: dict[Loc, Place]
    empty: list[Loc]
    problems: list[Problem]

    def place(self, loc: Loc) -> Place:
        """Where the value at `loc` stands, or the nearest thing around it that is written in the file."""
        while loc and loc not in self.places:
            loc = loc[:-1]
        return self.places.get(loc, (1, 1))

    def key_place(self, loc: Loc) -> Place:
        """Where the key of `loc` stands; the place of its value where it has none (an item of a list)."""
        return self.keys.get(loc) or self.place(loc)


def parse(text: str, path: str, first_line: int = 1) -> Tree:
    """Read one YAML document. Never raises for what the text contains: what is wrong stands in `problems`.

    `first_line` is the line of the file that the text begins at (front matter begins at 2).
    """
    builder = _Builder(path, first_line - 1)
    data = None
    try:
        for event in iter(_LOADER(text).get_event, None):
            builder.take(event)
            if builder.values > MAX_VALUES:
                builder.too_many(event)
                return Tree(None, builder.places, builder.keys, builder.empty, builder.problems)
        data = builder.root
    except yaml.YAMLError as error:
        builder.problems.append(syntax_problem(error, text, path, first_line - 1))
    return Tree(data, builder.places, builder.keys, builder.empty, builder.problems)


@dataclass
class _Open:
    """A list or block that is being read; `key` is set between a key and its value."""

    loc: Loc
    data: Any
    key: str | None = None
    flow: bool = False
    before: Any = None
    """The item before the one that is read."""
    commas: list[tuple[Any, Any] | None] = field(default_factory=list)
    """For each comma of a list in brackets the two whole numbers that it joins without a space, or None."""


@dataclass
class _Builder:
    """Takes the parser's events one by one and builds the tree without recursion."""

    path: str
    offset: int
    root: Any = None
    places: dict[Loc, Place] = field(default_factory=dict)
    keys: dict[Loc, Place] = field(default_factory=dict)
    empty: list[Loc] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    stack: list[_Open] = field(default_factory=list)
    documents: int = 0
    values: int = 0
    skipping: int = 0
    """How deep inside a list or block that is not read."""

    def take(self, event: Any) -> None:
        self.values += isinstance(event, yaml.NodeEvent)
        if type(event) is yaml.ScalarEvent and self.documents == 1 and not self.skipping:  # by far the most
            self._scalar(event)
        elif isinstance(event, yaml.DocumentStartEvent):
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
        elif self.skipping:
            self.skipping += isinstance(event, yaml.CollectionStartEvent)
        elif isinstance(event, yaml.AliasEvent):
            self._no_marks(event)
            self._value_or_key(event, None)
        elif isinstance(event, yaml.CollectionStartEvent):
            self._list_or_block(event)

    def _scalar(self, event: Any) -> None:
        if event.anchor is not None or event.tag is not None:
            self._no_marks(event)
        self._value_or_key(event, event.value)

    def _list_or_block(self, event: Any) -> None:
        self._no_marks(event)
        if self._expects_key():
            self._problem(
                event, "a list or block stands where a name belongs", "Begin the line with a name and a colon."
            )
            self.stack[-1].key = "?"
            self.skipping = 1
        elif len(self.stack) >= MAX_DEPTH:
            self._problem(event, f"lists or blocks stand more than {MAX_DEPTH} deep", "Take out some brackets.")
            self._put(event, None)
            self.skipping = 1
        else:
            loc = self._loc()
            data: Any = [] if isinstance(event, yaml.SequenceStartEvent) else {}
            self._put(event, data)
            self.stack.append(_Open(loc, data, flow=bool(event.flow_style)))

    def _value_or_key(self, event: Any, text: str | None) -> None:
        if self._expects_key():
            self._key(event, text or "?")
            return
        plain = text is not None and event.style in (None, "")
        if plain and (trap := trap_in(str(text))):
            self._problem(event, *trap)
        self._put(event, None if plain and text in _EMPTY else text)

    def _key(self, event: Any, key: str) -> None:
        top = self.stack[-1]
        loc = (*top.loc, key)
        if loc in self.keys:
            first = self.keys[loc][0]
            self._problem(
                event,
                f"the key {shown(key)!r} stands here a second time (first in line {first})",
                "Keep one of the two.",
            )
        else:
            self.keys[loc] = self._place(event)
        top.key = key

    def _put(self, event: Any, value: Any) -> None:
        loc = self._loc()
        self.places.setdefault(loc, self._place(event))
        if not self.stack:
            self.root = value
            return
        top = self.stack[-1]
        if isinstance(top.data, list):
            self._note_comma(top, event)
            top.data.append(value)
        else:
            if value is not None:
                top.data.setdefault(top.key, value)
            elif glued := _GLUED.match(str(top.key)):
                line, column = self.keys[loc]
                place = line, column + len(glued[1]) + 1
                wrong = f"a space is missing after the colon in {shown(glued[0])}"
                self.problems.append(Problem(self.path, *place, wrong, "Write key: value."))
                self.places.setdefault((*top.loc, glued[1]), place)
                top.data.setdefault(glued[1], glued[2])
            else:
                self.empty.append(loc)
            top.key = None

    def _note_comma(self, top: _Open, event: Any) -> None:
        if top.flow and top.data:
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
        wrong = f"the file holds more than {MAX_VALUES} values"
        self._problem(event, wrong, "A sheet holds a lesson: take out what is not part of it.")

    def _expects_key(self) -> bool:
        return bool(self.stack) and isinstance(self.stack[-1].data, dict) and self.stack[-1].key is None

    def _loc(self) -> Loc:
        if not self.stack:
            return ()
        top = self.stack[-1]
        return (*top.loc, len(top.data) if isinstance(top.data, list) else str(top.key))

    def _place(self, event: Any) -> Place:
        return event.start_mark.line + 1 + self.offset, event.start_mark.column + 1

    def _no_marks(self, event: Any) -> None:
        if event.anchor is not None:
            mend = "Write the value out where it is needed; put a text that begins with & or * in quotes."
            self._problem(event, "anchors and aliases (& and *) are not read", mend)
        if getattr(event, "tag", None) is not None:
            mend = "Take out the word with the exclamation mark, or put the text in quotes."
            self._problem(event, f"a tag ({shown(event.tag)}) is not read", mend)

    def _problem(self, event: Any, wrong: str, mend: str) -> None:
        self.problems.append(Problem(self.path, *self._place(event), wrong, mend))
