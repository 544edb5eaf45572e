"""The drawn chain from the body, through the club, to the ball."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from reportgen.drawing.cause_chain import cause_chain, cause_chain_plate
from reportgen.drawing.plate import Disc, Label
from reportgen.drawing.style import MUTED
from reportgen.records.told_shots import ToldChain, ToldChainEnd

words = st.text("abcdefghijklmnopqrstuvwxyzW ", min_size=1, max_size=40).map(str.strip).filter(bool)


def end(what: str, name: str, where: str, verdict: Any = "not judged", *, seen: bool = True) -> ToldChainEnd:
    return ToldChainEnd(what=what, side="above", seen=seen, name=name, where=where, verdict=verdict)


def told(*ends: ToldChainEnd, rests_on: tuple[str, ...] = ("what teachers hold", "geometry")) -> ToldChain:
    return ToldChain(
        ends=ends,
        rows=tuple("abc"[: len(ends) - 1]),
        bases=("geometry",) * (len(ends) - 1),
        rests_on=rests_on[: len(ends) - 1],
        caveats=(),
        says="The chain in words.",
    )


SHOULDERS = end("thorax-open-impact", "Shoulders open", "Impact", "above range")
PATH = end("path", "Path from outside to inside", "Club, not measured", seen=False)
START = end("start", "Start to the lead side", "Ball")


def labels(chain: ToldChain) -> list[str]:
    down = sorted(
        (part for part in cause_chain_plate(chain).drawn if isinstance(part, Label)), key=lambda p: -p.baseline
    )
    return [part.text for part in down]


def test_the_ends_stand_below_each_other_with_what_each_step_rests_on_between_them() -> None:
    assert labels(told(SHOULDERS, PATH, START)) == [
        "Shoulders open", "Impact", "what teachers hold", "Path from outside to inside", "Club, not measured",
        "geometry", "Start to the lead side", "Ball",
    ]  # fmt: skip


def test_what_was_not_measured_has_an_empty_ring() -> None:
    discs = [part for part in cause_chain_plate(told(SHOULDERS, PATH, START)).drawn if isinstance(part, Disc)]
    assert [part.look.edge for part in discs if part.verdict is None] == [MUTED]


def test_a_chain_fits_on_a_phone() -> None:
    assert cause_chain_plate(told(SHOULDERS, PATH, START)).width < 240


def test_the_alternative_text_is_the_chain_in_words() -> None:
    drawing = cause_chain(told(SHOULDERS, START))
    assert drawing.alt == "The chain in words."
    assert "<title>The chain in words.</title>" in drawing.svg


@given(st.lists(st.tuples(words, words, words), min_size=2, max_size=4))
def test_no_label_leaves_the_chain_or_touches_another(assert_labels_stand_clear: Any, drawn: Any) -> None:
    ends = [end("path", name, where) for name, where, _ in drawn]
    assert_labels_stand_clear(cause_chain_plate(told(*ends, rests_on=tuple(basis for _, _, basis in drawn))))
