"""Findings and series for the charts: one plain pelvis at impact, of which a test changes what it is about."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest

from reportgen.records.findings import PlayerLevel
from reportgen.records.report import Point
from reportgen.records.told import ToldBand, ToldFinding, ToldSeries, ToldSign

OPEN = ToldSign(plus="open", minus="closed")
CLOSED = ToldSign(plus="closed", minus="open")


def make_band(low: float | None = 35, high: float | None = 55, *, context: bool = False) -> ToldBand:
    return ToldBand(
        band="adults", low=low, high=high, for_="adults", source="common practice", basis="common practice",
        limits="usual span", why="the only one", context=context,
    )  # fmt: skip


def make_level(value: float, half: float, lessons: int = 1) -> PlayerLevel:
    interval = value - half, value + half
    return PlayerLevel(value=value, u=half / 1.96, interval=interval, lessons=lessons, since=date(2026, 1, 8))


def make_finding(
    value: float = 62, u: float = 4, *, band: ToldBand | None = None, alone: float | None = None, **changed: Any
) -> ToldFinding:
    level = make_level(value, 1.96 * u, lessons=1 if alone is None else 2)
    fields: dict[str, Any] = {
        "metric": "pelvis-open-impact", "name": "Pelvis open", "short": "Pelvis open", "checkpoint": "impact",
        "value": value if alone is None else alone, "u": u, "interval": level.interval, "level": level, "unit": "deg",
        "decimals": 0, "sign": OPEN, "how": "still", "views": 2, "swings": (), "band": band, "probability": None,
        "verdict": "above range" if band else "not judged", "likelihood": None, "change": None,
        "means": None, "too_coarse": False, "note": None,
    }  # fmt: skip
    beside = {"sign_beside": changed.get("sign", OPEN)}
    return ToldFinding(**{**fields, **beside, **changed})


def make_series(
    values: list[float], days: list[int] | None = None, *, u: float = 4, band: ToldBand | None = None, **changed: Any
) -> ToldSeries:
    days = days or [7 * k for k in range(len(values))]
    fields: dict[str, Any] = {
        "metric": "pelvis-open-impact", "name": "Pelvis open at impact", "short": "Pelvis open", "checkpoint": "impact",
        "unit": "deg", "decimals": 0, "sign": OPEN, "band": band, "says": "It has come down by 17°.",
        "points": tuple(
            Point(
                lesson="2026-01-08", date=date(2026, 1, 8) + timedelta(days=day), value=value,
                interval=(value - 2 * u, value + 2 * u), level=make_level(value, 2 * u),
                verdict="above range" if band else "not judged",
            )
            for value, day in zip(values, days, strict=True)
        ),
    }  # fmt: skip
    beside = {"sign_beside": changed.get("sign", OPEN)}
    return ToldSeries(**{**fields, **beside, **changed})


@pytest.fixture(scope="session")
def band() -> Callable[..., ToldBand]:
    return make_band


@pytest.fixture(scope="session")
def finding() -> Callable[..., ToldFinding]:
    return make_finding


@pytest.fixture(scope="session")
def series() -> Callable[..., ToldSeries]:
    return make_series


@pytest.fixture(scope="session")
def turns() -> Callable[..., tuple[ToldFinding, ...]]:
    """Findings of hips and shoulders at the top and at impact; None leaves one out."""

    def make(
        hips_top: float | None, shoulders_top: float | None, hips_impact: float | None, shoulders_impact: float | None
    ) -> tuple[ToldFinding, ...]:
        values = {
            "pelvis-closed-top": hips_top, "thorax-closed-top": shoulders_top,
            "pelvis-open-impact": hips_impact, "thorax-open-impact": shoulders_impact,
        }  # fmt: skip
        return tuple(
            make_finding(value, metric=metric, sign=CLOSED if metric.endswith("top") else OPEN, band=make_band())
            for metric, value in values.items()
            if value is not None
        )

    return make


Box = tuple[float, float, float, float]


@pytest.fixture(scope="session")
def label_boxes() -> Callable[..., dict[str, Box]]:
    """Left, bottom, right, top in points of every label on a plate, by its text (and a number, as texts recur)."""

    def boxes(plate: Any) -> dict[str, Box]:
        from reportgen.drawing.saving import to_figure
        from reportgen.drawing.style import COLOURS

        found = {}
        for k, artist in enumerate(to_figure(plate).artists):
            if artist.get_gid() is not None and artist.get_gid() not in COLOURS:
                path = artist.get_path()
                # The control points of its curves hold the letter; the place of a closing stroke means nothing.
                places = path.vertices[path.codes != path.CLOSEPOLY]
                found[f"{artist.get_gid()} ({k})"] = (*places.min(axis=0), *places.max(axis=0))
        return found

    return boxes


@pytest.fixture(scope="session")
def assert_labels_stand_clear(label_boxes: Callable[..., dict[str, Box]]) -> Callable[[Any], None]:
    """Every label is on the plate and none touches another."""

    def check(plate: Any) -> None:
        placed = list(label_boxes(plate).items())
        for k, (text, (left, bottom, right, top)) in enumerate(placed):
            assert left >= 0, text
            assert bottom >= 0, text
            assert right <= plate.width, text
            assert top <= plate.height, text
            for other, (left2, bottom2, right2, top2) in placed[k + 1 :]:
                apart = right <= left2 or right2 <= left or top <= bottom2 or top2 <= bottom
                assert apart, f"{text} touches {other}"

    return check
