"""What templates are offered: filters, tests and functions, of the library's own those that pages need and that make
little of little."""

import re
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from itertools import chain
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from jinja2 import TemplateRuntimeError, pass_environment, pass_eval_context
from jinja2.filters import FILTERS, make_attrgetter
from jinja2.nodes import EvalContext
from jinja2.sandbox import safe_range
from jinja2.tests import TESTS
from jinja2.utils import Namespace
from markupsafe import Markup, escape

from reportgen.languages.catalogues import Language
from reportgen.languages.speaking import language_now, say, translation, translation_for
from reportgen.pages.allowance import Allowance
from reportgen.pages.plain import Plain
from reportgen.pages.prose import prose
from reportgen.pages.sandbox import Sandbox
from reportgen.records.told import ToldFinding
from reportgen.saying.wording import (
    SHAPES,
    amount,
    apart,
    club_name,
    day,
    dose_said,
    full_day,
    likelihood_name,
    limits,
    listed,
    mid_sentence,
    moment_name,
    needed_name,
    short_day,
    size,
    slug_name,
    verdict_name,
    way_taken,
    weekday,
)

if TYPE_CHECKING:
    from reportgen.saying.season import ToldTwoWays

EFFECTS_SHOWN = 4
"""How many of the things that can follow from another one a chain shows; a longer one is no picture any more."""

_OF_THE_LIBRARY = (
    "abs", "capitalize", "count", "d", "default", "dictsort", "e", "escape", "first", "float", "last", "length", "list",
    "lower", "map", "max", "min", "reject", "rejectattr", "reverse", "safe", "select", "selectattr", "sort", "string",
    "title", "trim", "truncate", "unique", "upper",
)  # fmt: skip
_NO_TESTS = ("callable", "escaped", "filter", "test")
_PLACES = re.compile(r"%\(\w+\)s|%%")
_PLACES_OF_DECIMALS = 15


def offer(to: Sandbox) -> None:
    """Offer a sandbox all of it."""
    library: dict[str, Any] = {name: FILTERS[name] for name in _OF_THE_LIBRARY}
    tests: dict[str, Any] = {name: test for name, test in TESTS.items() if name not in _NO_TESTS}
    to.offer({**library, **_bounded(to.allowance), **_OURS}, tests)
    to.globals |= {
        "_": _gettext, "ngettext": _ngettext, "pgettext": _pgettext, "namespace": Namespace, "range": safe_range,
        "shapes": SHAPES, "language": lambda: _language(language_now()), "effects_shown": EFFECTS_SHOWN,
    }  # fmt: skip


def _bounded(allowance: Allowance) -> dict[str, Callable[..., Any]]:
    """Filters of the library that could make much of little."""

    @pass_eval_context
    def join(eval_ctx: EvalContext, value: Any, d: str = "", attribute: Any = None) -> str:
        allowance.spend(len(d) * len(value))
        return FILTERS["join"](eval_ctx, value, d, attribute)  # type: ignore[no-any-return]

    @pass_eval_context
    def replace(eval_ctx: EvalContext, s: str, old: str, new: str) -> str:
        allowance.spend(len(new) * (str(s).count(str(old)) + 1))
        return FILTERS["replace"](eval_ctx, s, old, new)  # type: ignore[no-any-return]

    return {"join": join, "replace": replace, "sum": _sum, "round": _round, "int": _int, "tojson": _tojson}


@pass_environment
def _sum(environment: Sandbox, values: Iterable[Any], attribute: str | int | None = None, start: Any = 0) -> Any:
    """Numbers added, or lists one after the other."""
    if attribute is not None:
        values = map(make_attrgetter(environment, attribute), values)
    return [*start, *chain.from_iterable(values)] if isinstance(start, (list, tuple)) else sum(values, start)


def _round(value: float, precision: int = 0) -> float:
    if abs(precision) > _PLACES_OF_DECIMALS:
        raise TemplateRuntimeError(f"a number has no {precision} decimals")
    return round(float(value), precision)


def _int(value: Any, default: int = 0) -> Any:
    return FILTERS["int"](value, default)


@pass_eval_context
def _tojson(eval_ctx: EvalContext, value: Any) -> Markup:
    return FILTERS["tojson"](eval_ctx, value)  # type: ignore[no-any-return]


def _said(finding: ToldFinding, value: float | None = None) -> str:
    return amount(finding.value if value is None else value, finding.unit, finding.decimals, finding.sign_beside)


def _span(finding: ToldFinding) -> str:
    if finding.band is None:
        raise ValueError(f"{finding.metric} has no range")
    return limits(finding.band.low, finding.band.high, finding.unit, finding.decimals, finding.sign_beside)


def _apart(parts: Iterable[str]) -> Markup:
    """`a; b; c`, the parts escaped where they are not."""
    return Markup(apart(map(escape, parts)))  # noqa: S704  escaped here


def _signed(of: "ToldTwoWays", value: float) -> str:
    """A difference with its sign, `+1.2°`."""
    said = amount(value, of.unit, of.decimals)
    return f"+{said}" if value > 0 else said


_OURS: Mapping[str, Callable[..., Any]] = {
    "apart": _apart,
    "club": club_name,
    "day": day,
    "dose": dose_said,
    "full_day": full_day,
    "heading": lambda text: say(text),  # the text alone: what it could be filled with would be looked into
    "likelihood": likelihood_name,
    "listed": lambda words: listed(list(words)),
    "mailto": lambda mail: f"mailto:{quote(mail, safe='@!$*+-._~')}",  # RFC 6068, 2
    "mid_sentence": mid_sentence,
    "moment": moment_name,
    "needed": needed_name,
    "prose": prose,
    "said": _said,
    "short_day": short_day,
    "signed": _signed,
    "size": lambda f, value: size(value, f.unit, f.decimals),
    "span": _span,
    "taken": lambda f: way_taken(f.how, f.views),
    "verdict": verdict_name,
    "weekday": weekday,
    "words": slug_name,
}


@pass_eval_context
def _gettext(eval_ctx: EvalContext, message: str, /, **values: Any) -> str:
    return _filled(eval_ctx, translation(message), values)


@pass_eval_context
def _ngettext(eval_ctx: EvalContext, one: str, many: str, num: int, /, **values: Any) -> str:
    return _filled(eval_ctx, translation_for(one, many, num), {"num": num, **values})


@pass_eval_context
def _pgettext(eval_ctx: EvalContext, context: str, message: str, /, **values: Any) -> str:
    return _filled(eval_ctx, translation(message, context), values)


def _filled(eval_ctx: EvalContext, said: str, values: Mapping[str, Any]) -> str:
    """A sentence with its places filled in. A place has a name and nothing else: how wide a text is to be, or what is
    inside a value, is nothing for a sentence."""
    if "%" in _PLACES.sub("", said):
        raise TemplateRuntimeError("a sentence has places like %(name)s, and a percent sign is written %%")
    return (Markup(said) if eval_ctx.autoescape else said) % values  # noqa: S704  a message of a template is markup


@lru_cache(maxsize=8)
def _language(language: Language) -> Plain:
    return Plain("language", {"tag": language.tag, "direction": language.direction})
