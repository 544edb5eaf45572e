"""One test for a rule that many cases keep: it asks the rule of each, and names every case that breaks it. A test for
each case and rule says no more, and thousands of them take minutes to collect and to hand to the processes of a run."""

from collections.abc import Callable, Iterable, Mapping
from functools import wraps
from inspect import signature
from typing import Any

Rule = Callable[..., None]


def for_each(argument: str, cases: Iterable[tuple[str, Any]]) -> Callable[[Rule], Rule]:
    """A decorator: the test gets each of the cases, given with their names, as its `argument`."""
    return for_each_of({name: {argument: case} for name, case in cases})


def for_each_of(cases: Mapping[str, Mapping[str, Any]]) -> Callable[[Rule], Rule]:
    """The same of cases that are several arguments, by the case's name."""
    assert cases
    given = set().union(*cases.values())

    def asked_of_all(rule: Rule) -> Rule:
        @wraps(rule)
        def of_all(**others: Any) -> None:
            broken: dict[str, Exception] = {}
            for name, arguments in cases.items():
                try:
                    rule(**others, **arguments)
                except Exception as error:
                    broken[name] = error
            if broken:
                raise ExceptionGroup(f"broken by {', '.join(broken)}", list(broken.values()))

        whole = signature(rule)
        asked = [parameter for name, parameter in whole.parameters.items() if name not in given]
        of_all.__signature__ = whole.replace(parameters=asked)  # type: ignore[attr-defined]
        return of_all

    return asked_of_all
