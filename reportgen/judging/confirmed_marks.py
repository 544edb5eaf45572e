"""Whether marks that were proposed and confirmed scatter or lean more than those set on the bare picture.

A second look is at the bare picture, so it is one rule for both. What it differs by from the first look is analysed as
in `second_looks`, once for points that were confirmed and once for points set by hand: what a still has of its own is
scatter; what the stills of a lesson share at one landmark is lean, and so is where a proposal has drawn them all.
"""

from collections.abc import Iterator, Sequence
from math import sqrt
from random import Random
from typing import NamedTuple

from reportgen.judging.components import DRAWS, SEED, Analysis, Components
from reportgen.judging.second_looks import Look, analysed

_SURE = 0.95


class Beside(NamedTuple):
    """Root mean squares, in millimetres along one axis, of what two looks differ by: of points that were `confirmed`
    and of points set by `hand`. `more` where the confirmed ones surely have more (95 %, one-sided)."""

    confirmed: float
    hand: float
    more: bool


class ConfirmedMarks(NamedTuple):
    """How many points of each kind were looked at twice, and what the looks tell of them; None where too few hang
    together."""

    confirmed: int
    hand: int
    scatter: Beside | None
    lean: Beside | None


def confirmed_marks(looks: Sequence[Look]) -> ConfirmedMarks:
    """What second looks tell of confirmed points beside those set by hand. A point of which its sheet does not say how
    it came about counts in neither."""
    pairs = list(_first_and_later(looks))
    confirmed, hand = list(_of_kind(pairs, "confirmed")), list(_of_kind(pairs, "hand"))
    counts = [sum(len(one.points.keys() & other.points.keys()) for one, other in kind) for kind in (confirmed, hand)]
    proposed, free = analysed(confirmed), analysed(hand)
    if proposed is None or free is None:
        return ConfirmedMarks(counts[0], counts[1], None, None)
    more_scatter, more_lean = _more(proposed, free)
    p, f = proposed.components(), free.components()
    scatter = Beside(sqrt(p.within), sqrt(f.within), more_scatter)
    lean = Beside(sqrt(max(0.0, p.between)), sqrt(max(0.0, f.between)), more_lean)
    return ConfirmedMarks(counts[0], counts[1], scatter, lean)


def _first_and_later(looks: Sequence[Look]) -> Iterator[tuple[Look, Look]]:
    """The look of the sheet at each picture, and the latest later one: the same marker's before anybody else's."""
    by_picture: dict[str, list[Look]] = {}
    for look in sorted(looks, key=lambda look: look.occasion):
        by_picture.setdefault(look.picture, []).append(look)
    for first, *later in by_picture.values():
        if later:
            yield first, max(later, key=lambda look: (look.marker == first.marker, look.occasion))


def _of_kind(pairs: Sequence[tuple[Look, Look]], how: str) -> Iterator[tuple[Look, Look]]:
    """The pairs with those points alone that came about so in the first look."""
    for first, later in pairs:
        points = {mark: at for mark, at in first.points.items() if first.how.get(mark) == how}
        if points:
            yield first._replace(points=points), later


def _more(proposed: Analysis, free: Analysis) -> tuple[bool, bool]:
    """Whether scatter and lean of the first surely are larger: by draws of all mean squares, as `deviation` has it."""
    random = Random(SEED)  # noqa: S311  no secret: the same marks give the same figures
    drawn = [(proposed.drawn(random), free.drawn(random)) for _ in range(DRAWS)]

    def share(part: int) -> float:
        return sum(_part(one, part) > _part(other, part) for one, other in drawn) / DRAWS

    return share(0) > _SURE, share(1) > _SURE


def _part(components: Components, part: int) -> float:
    return components[part]
