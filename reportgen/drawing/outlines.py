"""Outlines in the words of SVG and of PDF, from the same places: hundredths of a point, each rounded on its own."""

from collections.abc import Callable, Iterator
from functools import lru_cache, wraps
from typing import TypeVar
from weakref import WeakKeyDictionary

import numpy as np
from matplotlib.path import Path as Outline

Place = tuple[int, int]
T = TypeVar("T")

_MOVE, _LINE, _QUADRATIC, _CUBIC, _CLOSE = (
    int(code) for code in (Outline.MOVETO, Outline.LINETO, Outline.CURVE3, Outline.CURVE4, Outline.CLOSEPOLY)
)
_PLACES_OF = {_MOVE: 1, _LINE: 1, _QUADRATIC: 2, _CUBIC: 3, _CLOSE: 1}
_SVG = {_MOVE: "m", _LINE: "l", _QUADRATIC: "q", _CUBIC: "c"}


def _kept_with_its_outline(of: Callable[[Outline], T]) -> Callable[[Outline], T]:
    """Computed once for an outline, and forgotten with it: letters are drawn again and again, a line only once."""
    known: WeakKeyDictionary[Outline, T] = WeakKeyDictionary()

    @wraps(of)
    def kept(outline: Outline) -> T:
        found = known.get(outline)
        if found is None:
            found = known[outline] = of(outline)
        return found

    return kept


@_kept_with_its_outline
def svg_way(outline: Outline) -> tuple[Place, str]:
    """Where an outline begins, and its way from there as SVG writes it, each place counted from the one before: short,
    and the same wherever the outline lies."""
    written: list[str] = []
    (_, (first,)), *rest = _commands(outline)
    start = here = first
    for code, places in rest:
        if code == _CLOSE:
            written.append("z")
            here = start
            continue
        if code == _LINE and 0 in (across := places[0][0] - here[0], down := places[0][1] - here[1]):
            written.append(f"h{hundredths(across)}" if down == 0 else f"v{hundredths(down)}")
        else:
            way = " ".join(f"{hundredths(x - here[0])} {hundredths(y - here[1])}" for x, y in places)
            # A minus sign parts two numbers as well as a space does.
            written.append(_SVG[code] + way.replace(" -", "-"))
        here = places[-1]
        if code == _MOVE:
            start = here
    return first, "".join(written)


@_kept_with_its_outline
def pdf_way(outline: Outline) -> str:
    """An outline as PDF writes it, in hundredths of a point about its (0, 0), the second coordinate downward."""
    written: list[str] = []
    here = (0, 0)
    for code, places in _commands(outline):
        if code == _CLOSE:
            written.append("h")
            continue
        if code == _QUADRATIC:
            (x, y), end = places
            # The cubic curve of the same shape has its handles two thirds of the way to the one handle.
            handles = [(round((2 * x + px) / 3), round((2 * y + py) / 3)) for px, py in (here, end)]
            code, places = _CUBIC, (*handles, end)
        written.append(" ".join(f"{x} {y}" for x, y in places) + {_MOVE: " m", _LINE: " l", _CUBIC: " c"}[code])
        here = places[-1]
    return "\n".join(written)


def _commands(outline: Outline) -> Iterator[tuple[int, tuple[Place, ...]]]:
    """The commands of an outline with their places in hundredths of a point, the second coordinate downward."""
    places = [(x, y) for x, y in np.rint(np.asarray(outline.vertices) * (100, -100)).astype(int).tolist()]
    codes = [_MOVE] + [_LINE] * (len(places) - 1) if outline.codes is None else np.asarray(outline.codes).tolist()
    at = 0
    while at < len(places):
        count = _PLACES_OF[codes[at]]
        yield codes[at], tuple(places[at : at + count])
        at += count


@lru_cache(maxsize=8192)
def hundredths(count: int) -> str:
    """`-27` as `-.27`, `150` as `1.5`."""
    text = f"{abs(count) / 100:.2f}".rstrip("0").rstrip(".").removeprefix("0") or "0"
    return text if count >= 0 else f"-{text}"
