"""Charts for the layout engine as ready PDF operators.

The engine can lay out our SVG files itself, but it reads each letter's outline by regular expressions: 40 to 70 ms a
chart, more than the rest of a recap together. It looks pictures up in the cache that it is given before it fetches and
reads them. What stands there only needs the two methods below, and paints itself. Where a later version of the engine
asks pictures for something else, the cache stays empty and it reads the SVG files as before.
"""

from collections.abc import Mapping
from inspect import signature
from typing import Any

from reportgen.pages.engine import SVGImage
from reportgen.pages.printing import Painting

_PX_PER_PT = 96 / 72
_AS_KNOWN = {
    "get_intrinsic_size": ["self", "image_resolution", "font_size"],
    "draw": ["self", "stream", "concrete_width", "concrete_height", "_style"],
}
"""What version 70 of the engine calls on a picture."""


class ChartImage:
    """A chart that paints itself onto a page of the engine."""

    def __init__(self, painting: Painting) -> None:
        self._painting = painting

    def get_intrinsic_size(self, image_resolution: float, font_size: float) -> tuple[float, float, float]:
        """Width and height in CSS pixels, and their ratio."""
        width, height = self._painting.width, self._painting.height
        return width * _PX_PER_PT, height * _PX_PER_PT, width / height

    def draw(self, stream: Any, concrete_width: float, concrete_height: float, _style: Any) -> None:
        """Paint the chart into a box of that size whose upper left corner is the origin, as large as fits, centred."""
        width, height = self._painting.width, self._painting.height
        scale = min(concrete_width / width, concrete_height / height)
        left, top = (concrete_width - scale * width) / 2, (concrete_height - scale * height) / 2
        stream.transform(a=scale / 100, d=scale / 100, e=left, f=top)
        for opacity, operators in self._painting.parts:
            stream.set_alpha(opacity)
            stream.stream.append(operators.encode())


def image_cache(paintings: Mapping[str, Painting]) -> dict[str, Any]:
    """The charts by their addresses, for the engine's cache of pictures; empty where it would not fit."""
    known = all(list(signature(getattr(SVGImage, name)).parameters) == told for name, told in _AS_KNOWN.items())
    return {address: ChartImage(painting) for address, painting in paintings.items()} if known else {}
