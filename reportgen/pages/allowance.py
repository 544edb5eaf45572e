"""How much a template may make: it is counted beforehand, so that no template takes the memory or the day."""

from collections.abc import Callable, Iterator
from datetime import date
from functools import wraps
from math import inf
from typing import Any

from jinja2 import TemplateRuntimeError, Undefined
from markupsafe import Markup

from reportgen.pages.plain import Plain

LARGEST_PAGE = 50_000_000
"""Signs that are written and values that are looked at, for one page: some hundred times what the largest takes."""
STEP = 20
"""What one item of a list, one round of a loop and one filter count, in the same measure."""
CALL = 5 * STEP

_ONE = frozenset({int, float, bool, type(None), date, Plain, slice})
_ROWS = frozenset({list, tuple, frozenset, type({}.keys()), type({}.values()), type({}.items())})


class Allowance:
    """What is left for the page that is being made."""

    def __init__(self, whole: float = LARGEST_PAGE) -> None:
        self.whole = self.left = whole

    def spend(self, cost: float) -> None:
        """Take `cost` from what is left. Raises TemplateRuntimeError where that is not enough."""
        self.left -= cost
        if self.left < 0:
            raise TemplateRuntimeError("it makes far more than a page holds: something repeats or grows without end")

    def weigh(self, value: Any) -> Any:
        """The value itself, its size spent, at any depth and as often as it stands there. Raises TemplateRuntimeError
        where it is too large, or holds what is no value, as a function."""
        if type(value) in _ONE:
            return value
        waiting = [value]
        while waiting:
            one = waiting.pop()
            kind = type(one)
            if kind is str or kind is Markup:
                self.spend(len(one))
            elif kind in _ROWS:
                self.spend(STEP * (len(one) + 1))
                waiting.extend(one)
            elif kind is dict:
                self.spend(STEP * (2 * len(one) + 1))
                waiting.extend(one)
                waiting.extend(one.values())
            elif kind is range:
                self.spend(STEP * len(one))
            elif kind not in _ONE and not isinstance(one, Undefined):
                raise TemplateRuntimeError(f"this {kind.__name__} is no value that could be used here")
        return value

    def rounds(self, values: Any, parts: int = 0) -> Any:
        """The values that a loop of so many `parts` goes through, its rounds spent. Raises TemplateRuntimeError where
        they are none."""
        kind = type(values)
        if kind in _ROWS or kind in (str, Markup, dict, range):
            self.spend((STEP + parts) * len(values))
        elif not isinstance(values, Undefined):
            raise TemplateRuntimeError(f"this {kind.__name__} is no list to go through")
        return values

    def metered(self, function: Callable[..., Any]) -> Callable[..., Any]:
        """A filter or test, what it is given and what it makes spent. Lists come out whole, never one by one."""
        before = hasattr(function, "jinja_pass_arg")  # the library gives it something of its own before its value

        @wraps(function)
        def spent(*values: Any, **named: Any) -> Any:
            self.spend(STEP)
            for value in values[before:]:
                self.weigh(value)
            for value in named.values():
                self.weigh(value)
            made = function(*values, **named)
            if isinstance(made, Iterator):
                return list(made)
            if isinstance(made, str):
                self.spend(len(made))
            return made

        return spent


def unlimited() -> Allowance:
    """For templates that came with the program: a page may hold a whole video."""
    return Allowance(inf)
