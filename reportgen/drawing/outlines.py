"""Outlines of lines and curves, and how SVG and PDF write them: both from the same places in hundredths of a point,
each rounded on its own."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Literal

Point = tuple[float, float]
Command = tuple[Literal["m", "l", "q", "c", "z"], tuple[Point, ...]]
"""What SVG calls it, and its places: a move, a line, a curve with one handle, one with two, and the way back to the
last move, which has no place."""
Place = tuple[int, int]


@dataclass(frozen=True, eq=False)
class Outline:
    """A shape in points. What it is in the words of a format is computed once: letters and marks are drawn again and
    again."""

    commands: tuple[Command, ...]

    @classmethod
    def of(cls, outlines: Iterable["Outline"]) -> "Outline":
        """Several outlines as one."""
        return cls(tuple(command for outline in outlines for command in outline.commands))

    @classmethod
    def line(cls, places: Iterable[Point]) -> "Outline":
        """A line through the places."""
        first, *rest = places
        return cls((("m", (first,)), *(("l", (place,)) for place in rest)))

    @classmethod
    def polygon(cls, corners: Iterable[Point]) -> "Outline":
        """A closed outline through the corners."""
        return cls((*cls.line(corners).commands, ("z", ())))

    def moved(self, x: float, y: float, scale: float = 1) -> "Outline":
        """The outline made `scale` times as large about (0, 0), then moved to (x, y)."""
        return Outline(
            tuple(
                (name, tuple((px * scale + x, py * scale + y) for px, py in places)) for name, places in self.commands
            )
        )

    @cached_property
    def svg_way(self) -> tuple[Place, str]:
        """Where it begins, and its way from there as SVG writes it, each place counted from the one before: short, and
        the same wherever the outline lies."""
        first, _, way = self._svg
        return first, way

    @cached_property
    def _svg(self) -> tuple[Place, Place, str]:
        """Where it begins, where what comes next is counted from, and the way."""
        written: list[str] = []
        (_, (first,)), *rest = self._in_hundredths()
        start = here = first
        for name, places in rest:
            if name == "z":
                written.append("z")
                here = start
                continue
            if name == "l" and 0 in (across := places[0][0] - here[0], down := places[0][1] - here[1]):
                written.append(f"h{hundredths(across)}" if down == 0 else f"v{hundredths(down)}")
            else:
                way = " ".join(f"{hundredths(x - here[0])} {hundredths(y - here[1])}" for x, y in places)
                # A minus sign parts two numbers as well as a space does.
                written.append(name + way.replace(" -", "-"))
            here = places[-1]
            if name == "m":
                start = here
        return first, here, "".join(written)

    @cached_property
    def pdf_way(self) -> str:
        """As PDF writes it, in hundredths of a point about (0, 0), the second coordinate downward."""
        return self._pdf_way_from((0, 0))

    def _pdf_way_from(self, origin: Place) -> str:
        x0, y0 = origin
        return "\n".join(
            " ".join([*(f"{x + x0} {y + y0}" for x, y in places), operator]) for operator, places in self._pdf
        )

    @cached_property
    def _pdf(self) -> list[tuple[str, tuple[Place, ...]]]:
        """The operators of PDF with their places. It knows no curve with one handle: the one with two of the same shape
        has its handles two thirds of the way to the one."""
        written: list[tuple[str, tuple[Place, ...]]] = []
        here = (0, 0)
        for name, places in self._in_hundredths():
            if name == "z":
                written.append(("h", ()))
                continue
            if name == "q":
                (x, y), end = places
                handles = [(round((2 * x + px) / 3), round((2 * y + py) / 3)) for px, py in (here, end)]
                name, places = "c", (*handles, end)
            written.append((name, places))
            here = places[-1]
        return written

    def _in_hundredths(self) -> Iterator[tuple[str, tuple[Place, ...]]]:
        """The commands with their places in hundredths of a point, the second coordinate downward."""
        for name, places in self.commands:
            yield name, tuple(_rounded(place) for place in places)


@dataclass(frozen=True, eq=False)
class Row:
    """Closed outlines in a row, each with its place (in points) from where the row begins: letters. What one is in the
    words of a format serves every row that it stands in; its place is rounded to a hundredth of a point."""

    parts: tuple[tuple[Outline, Point], ...]

    def moved(self, x: float, y: float) -> Outline:
        """The row as one outline, moved to (x, y)."""
        return Outline.of(part.moved(x + px, y + py) for part, (px, py) in self.parts)

    @cached_property
    def svg_way(self) -> tuple[Place, str]:
        """As that of an outline."""
        written: list[str] = []
        begin = here = (0, 0)
        for number, (part, place) in enumerate(self.parts):
            x, y = _rounded(place)
            first, last, way = part._svg
            if number:
                written.append(
                    f"m{hundredths(x + first[0] - here[0])} {hundredths(y + first[1] - here[1])}".replace(" -", "-")
                )
            else:
                begin = (x + first[0], y + first[1])
            written.append(way)
            here = (x + last[0], y + last[1])
        return begin, "".join(written)

    @cached_property
    def pdf_way(self) -> str:
        """As that of an outline."""
        return "\n".join(part._pdf_way_from(_rounded(place)) for part, place in self.parts)


def _rounded(place: Point) -> Place:
    """In hundredths of a point, the second coordinate downward."""
    return round(place[0] * 100), round(place[1] * -100)


@lru_cache(maxsize=8192)
def hundredths(count: int) -> str:
    """`-27` as `-.27`, `150` as `1.5`."""
    text = f"{abs(count) / 100:.2f}".rstrip("0").rstrip(".").removeprefix("0") or "0"
    return text if count >= 0 else f"-{text}"
