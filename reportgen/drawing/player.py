"""The shapes of the player: hulls of discs in space, from joints. The demo's stills and the drills' figures share them.

What is sized is a part of the stature `h`, in metres; own proportions, no source.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from reportgen.posing.vectors import Vec, between

Disc3 = tuple[Vec, float]
"""A ball in space: its middle and its radius in metres. Two of them span a limb."""
Tone = Literal[
    "lead-leg", "trail-leg", "lead-arm", "trail-arm", "lead-sleeve", "trail-sleeve", "lead-shoe", "trail-shoe",
    "shirt", "belt", "skin", "hands", "cap", "club",
]  # fmt: skip


@dataclass(frozen=True)
class Shape:
    """Several hulls of discs with one outline round all of them."""

    tone: Tone
    hulls: tuple[tuple[Disc3, ...], ...]


@dataclass(frozen=True)
class Member:
    """Something to draw: points whose mean says how far away it is, and its shapes, each over those before it."""

    at: tuple[Vec, ...]
    shapes: tuple[Shape, ...]


_LEGS: Mapping[str, tuple[Tone, Tone]] = {"lead": ("lead-leg", "lead-shoe"), "trail": ("trail-leg", "trail-shoe")}
_ARMS: Mapping[str, tuple[Tone, Tone]] = {"lead": ("lead-arm", "lead-sleeve"), "trail": ("trail-arm", "trail-sleeve")}


def legs(body: Mapping[str, Vec], h: float) -> list[Member]:
    """Legs and shoes."""
    members = []
    for side, (cloth, leather) in _LEGS.items():
        hip, knee, ankle, buttock = (body[f"{side}-{name}"] for name in ("hip", "knee", "ankle", "buttock"))
        heel, ball, toe = (body[f"{side}-{name}"] for name in ("heel", "ball-of-foot", "toe"))
        thigh = ((hip, 0.045 * h), (buttock, 0.042 * h), (knee, 0.031 * h))
        shank = ((knee, 0.031 * h), (between(knee, ankle, 0.35), 0.031 * h), (ankle, 0.023 * h))
        shoe = (((heel, 0.016 * h), (ankle, 0.018 * h), (ball, 0.016 * h)), ((ball, 0.016 * h), (toe, 0.013 * h)))
        members.append(Member((heel, ball), (Shape(leather, shoe),)))
        members.append(Member((hip, knee, knee, ankle), (Shape(cloth, (thigh, shank)),)))
    return members


def arms(body: Mapping[str, Vec], h: float) -> list[Member]:
    """Arms with their sleeves."""
    members = []
    for side, (skin, cloth) in _ARMS.items():
        shoulder, elbow, wrist = (body[f"{side}-{name}"] for name in ("shoulder", "elbow", "wrist"))
        arm = (((shoulder, 0.024 * h), (elbow, 0.020 * h)), ((elbow, 0.020 * h), (wrist, 0.014 * h)))
        sleeve = ((shoulder, 0.031 * h), (between(shoulder, elbow, 0.55), 0.028 * h))
        shapes = Shape(skin, arm), Shape(cloth, (sleeve,))
        members.append(Member((elbow, elbow, wrist), shapes))
    return members


def trunk_and_head(body: Mapping[str, Vec], h: float, looks_at: Vec) -> list[Member]:
    """Belt, shirt, head, and a cap, so that one sees where the player looks."""
    lead, trail = body["lead-hip"], body["trail-hip"]
    middle, neck, head = between(lead, trail), body["neck"], body["head"]
    up, across = (neck - middle).unit, (lead - trail).unit
    chest_across = (body["lead-shoulder"] - body["trail-shoulder"]).unit
    belt, waist, chest = (middle + up * (part * h) for part in (0.035, 0.085, 0.19))
    hem = ((belt + across * (0.046 * h), 0.043 * h), (belt - across * (0.046 * h), 0.043 * h))
    middle_of_trunk = ((waist + across * (0.030 * h), 0.054 * h), (waist - across * (0.030 * h), 0.054 * h))
    ribs = ((chest + chest_across * (0.048 * h), 0.058 * h), (chest - chest_across * (0.048 * h), 0.058 * h))
    yoke = ((body["lead-shoulder"], 0.030 * h), (body["trail-shoulder"], 0.030 * h), (neck, 0.030 * h))
    face = (((neck, 0.026 * h), (between(neck, head), 0.025 * h)), ((head, 0.056 * h),))
    return [
        Member((middle,), (Shape("belt", (((lead, 0.044 * h), (trail, 0.044 * h)),)),)),
        Member((waist, chest), (Shape("shirt", (hem + middle_of_trunk, middle_of_trunk + ribs, ribs + yoke)),)),
        Member((head,), (Shape("skin", face), _cap(neck, head, looks_at, h))),
    ]


def _cap(neck: Vec, head: Vec, looks_at: Vec, h: float) -> Shape:
    crown = (head - neck).unit
    looks = looks_at - head
    ahead = (looks - crown * looks.dot(crown)).unit
    top = head + crown * (0.026 * h)
    dome = ((top - ahead * (0.012 * h), 0.046 * h), (top + ahead * (0.014 * h), 0.040 * h))
    brim = ((top + ahead * (0.045 * h), 0.010 * h), (top + ahead * (0.085 * h) - crown * (0.012 * h), 0.006 * h))
    return Shape("cap", (dome, brim))


def club_and_hands(body: Mapping[str, Vec], h: float) -> list[Member]:
    """The club and the hands on it. Its grip is at the lead wrist, unless the body has a `grip`."""
    hands, clubhead = body.get("grip", body["lead-wrist"]), body["clubhead"]
    shaft = (clubhead - hands).unit
    butt, toe = hands - shaft * (0.02 * h), clubhead + Vec(0, 0.06, 0) - shaft * 0.02
    club = (
        ((butt, 0.010), (hands + shaft * (0.1 * h), 0.008)),
        ((hands, 0.006), (clubhead, 0.004)),
        ((clubhead, 0.014), (toe, 0.019)),
    )
    grip = ((hands + shaft * (0.015 * h), 0.020 * h), (body["trail-wrist"] + shaft * (0.012 * h), 0.019 * h))
    toward_ball = Vec(-0.05, 0.05, 0)
    return [
        Member((hands + toward_ball,), (Shape("club", club),)),
        Member((hands + toward_ball * 1.5,), (Shape("hands", (grip,)),)),
    ]
