"""The sandbox that templates stand in: a theme can come from anybody.

Jinja's own sandbox asks of each attribute whether it is a dangerous one. Here it is the other way about: a template
reaches the fields of plain values and the few methods that are named here, and nothing else is there.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from types import BuiltinMethodType, GeneratorType, MappingProxyType, MethodType
from typing import Any, NoReturn

from jinja2 import Template, TemplateRuntimeError, Undefined, nodes, pass_context
from jinja2.compiler import CodeGenerator, Frame
from jinja2.environment import TemplateModule
from jinja2.exceptions import SecurityError
from jinja2.runtime import BlockReference, Context, LoopContext, Macro, TemplateReference, markup_join, str_join
from jinja2.sandbox import SandboxedEnvironment
from jinja2.utils import Namespace
from markupsafe import Markup

from reportgen.pages.allowance import CALL, STEP, Allowance
from reportgen.pages.plain import Plain, plain
from reportgen.pages.theme_errors import not_compiled, told

_OF_TEXTS = frozenset({
    "capitalize", "endswith", "lower", "lstrip", "removeprefix", "removesuffix", "rstrip", "split", "splitlines",
    "startswith", "strip", "title", "upper",
})  # fmt: skip
REACHED: Mapping[type, frozenset[str]] = {
    str: _OF_TEXTS,
    Markup: _OF_TEXTS,
    list: frozenset({"count", "index"}),
    tuple: frozenset({"count", "index"}),
    dict: frozenset({"get", "items", "keys", "values"}),
    date: frozenset({"day", "isoformat", "isoweekday", "month", "weekday", "year"}),
    BlockReference: frozenset({"super"}),
    LoopContext: frozenset({
        "changed", "cycle", "depth", "depth0", "first", "index", "index0", "last", "length", "nextitem", "previtem",
        "revindex", "revindex0",
    }),
}  # fmt: skip
"""What a template reaches of a value besides its items and, of a plain value, its fields."""

_CALLED = (Macro, BlockReference, LoopContext)
_WRITTEN = frozenset({str, Markup, int, float, bool, type(None), date})
_KEYS = frozenset({str, Markup, int, bool, slice})
_NONE: Mapping[str, Any] = MappingProxyType({})
_LOOPS = 12
_BITS = 64
"""What a number that a template makes may have."""


class _Compiler(CodeGenerator):
    """Writes templates as the library does, but for what nobody else would count: the rounds of a loop, and the size of
    what is compared, joined by `~` or a key of a dictionary."""

    loops = 0

    def visit_For(self, node: nodes.For, frame: Frame) -> None:  # noqa: N802  the library's names
        self.loops += 1
        if self.loops > _LOOPS:
            self.fail(f"more than {_LOOPS} loops stand in each other", node.lineno)
        ours = nodes.EnvironmentAttribute("allowance", lineno=node.lineno)
        parts = sum(1 for _ in node.find_all(nodes.Node))
        node.iter = nodes.Call(ours, [node.iter, nodes.Const(parts)], [], None, None, lineno=node.lineno)
        super().visit_For(node, frame)
        self.loops -= 1

    def visit_Call(self, node: nodes.Call, frame: Frame, forward_caller: bool = False) -> None:  # noqa: N802
        if isinstance(node.node, nodes.EnvironmentAttribute):
            self.write("environment.allowance.rounds(")
            self.visit(node.args[0], frame)
            self.write(", ")
            self.visit(node.args[1], frame)
            self.write(")")
        else:
            super().visit_Call(node, frame, forward_caller=forward_caller)

    def visit_Assign(self, node: nodes.Assign, frame: Frame) -> None:  # noqa: N802
        self.writeline("pass", node)  # what the library writes first has no line of the template
        super().visit_Assign(node, frame)

    def visit_NSRef(self, node: nodes.NSRef, frame: Frame) -> None:  # noqa: N802
        self.write(f"environment.namespace({frame.symbols.ref(node.name)})[{node.attr!r}]")

    def visit_Concat(self, node: nodes.Concat, frame: Frame) -> None:  # noqa: N802
        escapes = "context.eval_ctx.autoescape" if frame.eval_ctx.volatile else repr(bool(frame.eval_ctx.autoescape))
        self.write(f"environment.joined(context, {escapes}, (")
        for part in node.nodes:
            self.visit(part, frame)
            self.write(", ")
        self.write("))")

    def visit_Compare(self, node: nodes.Compare, frame: Frame) -> None:  # noqa: N802
        self.write("(")
        self._weighed(node.expr, frame)
        for operand in node.ops:
            self.visit(operand, frame)
        self.write(")")

    def visit_Operand(self, node: nodes.Operand, frame: Frame) -> None:  # noqa: N802
        self.write(f" {_COMPARED[node.op]} ")
        self._weighed(node.expr, frame)

    def visit_Dict(self, node: nodes.Dict, frame: Frame) -> None:  # noqa: N802
        self.write("{")
        for pair in node.items:
            self._weighed(pair.key, frame)
            self.write(": ")
            self.visit(pair.value, frame)
            self.write(", ")
        self.write("}")

    def _weighed(self, node: nodes.Expr, frame: Frame) -> None:
        self.write("environment.allowance.weigh(")
        self.visit(node, frame)
        self.write(")")


_COMPARED = {
    "eq": "==", "ne": "!=", "gt": ">", "gteq": ">=", "lt": "<", "lteq": "<=", "in": "in", "notin": "not in",
}  # fmt: skip


class _PlainTemplate(Template):
    """A template that is given plain values, whatever it is rendered with."""

    environment: "Sandbox"

    def render(self, *values: Any, **named: Any) -> str:
        self.environment.allowance.left = self.environment.allowance.whole
        return super().render(*values, **named)

    def new_context(
        self, vars: dict[str, Any] | None = None, shared: bool = False, locals: Mapping[str, Any] | None = None
    ) -> Context:
        return super().new_context(vars if shared or not vars else plain(vars), shared, locals)


class Sandbox(SandboxedEnvironment):
    """Where templates run. What they ask for wrongly raises ThemeError, with file and line."""

    template_class = _PlainTemplate
    code_generator_class = _Compiler
    intercepted_binops = frozenset({"+", "*", "**", "%"})

    def __init__(self, allowance: Allowance, **options: Any) -> None:
        # nothing is computed while a template is compiled: it may be kept, and said in another language then
        super().__init__(**options, optimized=False, finalize=_written)
        self.allowance = allowance
        self.globals, self.filters, self.tests = {}, {}, {}

    def offer(self, filters: Mapping[str, Callable[..., Any]], tests: Mapping[str, Callable[..., Any]] = _NONE) -> None:
        """Let templates use filters and tests."""
        self.filters |= {name: self.allowance.metered(function) for name, function in filters.items()}
        self.tests |= {name: self.allowance.metered(function) for name, function in tests.items()}

    def getattr(self, obj: Any, attribute: str) -> Any:
        """`obj.attribute`, where a template may reach it; otherwise what is not there."""
        kind = type(obj)
        if kind is Plain:
            if attribute in obj.__dict__:
                return obj.__dict__[attribute]
            return self.undefined(f"{obj!r} has no {attribute}")
        if attribute.startswith("_"):
            raise SecurityError(f"{attribute} is out of a template's reach")
        if isinstance(obj, Undefined):
            obj._fail_with_undefined_error()
        if attribute in REACHED.get(kind, ()):
            return getattr(obj, attribute)
        if kind is TemplateModule:
            return obj.__dict__.get(attribute, self.undefined(f"the imported file has no {attribute}"))
        if kind is Namespace and hasattr(obj, attribute):
            return getattr(obj, attribute)
        if kind in (dict, TemplateReference):
            try:
                return obj[attribute]
            except KeyError:
                pass
        return self.undefined(f"this {kind.__name__} has no {attribute}")

    def getitem(self, obj: Any, argument: Any) -> Any:
        """`obj[argument]`, or `obj.argument` where there is no such item."""
        if type(obj) in (dict, list, tuple, str, Markup) and type(argument) in _KEYS:
            try:
                found = obj[argument]
            except (TypeError, LookupError):
                pass
            else:
                return self.allowance.weigh(found) if type(argument) is slice else found
        if isinstance(argument, str):
            return self.getattr(obj, str(argument))
        if isinstance(obj, Undefined):
            obj._fail_with_undefined_error()
        return self.undefined(f"this {type(obj).__name__} has no item {self.allowance.weigh(argument)!r}")

    def is_safe_callable(self, obj: Any) -> bool:
        """Whether it is a macro, a block, a loop that goes deeper, a method of REACHED, or one of our functions."""
        if isinstance(obj, (BuiltinMethodType, MethodType)):
            return obj.__name__ in REACHED.get(type(obj.__self__), ())
        return type(obj) in _CALLED or any(obj is known for known in self.globals.values())

    def call(self, context: Context, obj: Any, /, *values: Any, **named: Any) -> Any:
        """Call what may be called."""
        if isinstance(obj, Undefined):
            obj._fail_with_undefined_error()
        if not self.is_safe_callable(obj):
            raise SecurityError(f"this {type(obj).__name__} cannot be called")
        self.allowance.spend(CALL)
        kind = type(obj)
        if kind is LoopContext:
            values = tuple(map(self.allowance.rounds, values))
        elif kind is not Macro:
            given = [value for name, value in named.items() if not name.startswith("_")]  # the library adds its own
            self.allowance.weigh([*values, *given])
        made = context.call(obj, *values, **named)
        return self.allowance.weigh(made) if isinstance(made, (str, list)) else made

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """What an operator gives that can make much of little."""
        self.allowance.weigh(left)
        self.allowance.weigh(right)
        if operator == "%" and isinstance(left, str):
            raise SecurityError("a text is filled in by _(), not by %")
        if operator == "*":
            for row, times in ((left, right), (right, left)):
                if isinstance(row, (str, list, tuple)) and isinstance(times, int):
                    self.allowance.spend(len(row) * max(times, 0) * (1 if isinstance(row, str) else STEP))
        if operator in ("*", "**") and isinstance(left, int) and isinstance(right, int):
            bits = left.bit_length() + right.bit_length() if operator == "*" else left.bit_length() * right
            if bits > _BITS:
                raise TemplateRuntimeError("the number is too large")
        return super().call_binop(context, operator, left, right)

    def namespace(self, of: Any) -> Namespace:
        """What a template may set a value in. The library makes sure of it for some forms of `set` alone."""
        if type(of) is not Namespace:
            raise SecurityError(f"nothing can be set in this {type(of).__name__}")
        return of

    def joined(self, context: Context, escapes: bool, parts: tuple[Any, ...]) -> str:
        """What `~` makes of its parts."""
        for part in parts:
            self.allowance.weigh(_written(context, part))
        return markup_join(parts) if escapes else str_join(parts)

    def concat(self, parts: Iterable[str]) -> str:
        """The pieces of a page, a block or a macro, in one."""
        kept = []
        for part in parts:
            try:
                self.allowance.spend(len(part) + 1)
            except TemplateRuntimeError as error:
                if isinstance(parts, GeneratorType):
                    parts.throw(error)  # it stands in the line of the template that is to blame
                raise
            kept.append(part)
        return "".join(kept)

    def compile(self, source: Any, name: Any = None, filename: Any = None, *more: Any, **named: Any) -> Any:
        """The code of a template."""
        try:
            return super().compile(source, name, filename, *more, **named)
        except (RecursionError, MemoryError, SyntaxError) as error:
            raise not_compiled(error, str(filename or name)) from error

    def handle_exception(self, source: str | None = None) -> NoReturn:
        """Raise what went wrong as ThemeError, where the academy can mend it."""
        try:
            super().handle_exception(source)
        except Exception as error:
            told(error)


@pass_context
def _written(context: Context, value: Any) -> Any:
    """A value that stands in the text, as it is. Raises TemplateRuntimeError where it is no text or number."""
    if type(value) in _WRITTEN or isinstance(value, Undefined):  # the latter says itself what is wrong
        return value
    what = repr(value) if type(value) is Plain else f"this {type(value).__name__}"
    raise TemplateRuntimeError(f"{what} is no text that could be printed")
