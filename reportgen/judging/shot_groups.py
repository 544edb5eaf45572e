"""Shots that can be looked at together: of one club, from one kind of ground, by one device, and no others."""

from collections.abc import Iterable
from typing import NamedTuple

from reportgen.records.shot_table import Shot, ShotTable
from reportgen.records.words import SpinSource, Surface


class Group(NamedTuple):
    """The shots of one club, surface and device, in the order of the tables; None where it is not said."""

    club: str
    surface: Surface | None
    device: str | None
    shots: tuple[Shot, ...]


def groups_of(tables: Iterable[ShotTable]) -> tuple[Group, ...]:
    """All shots of a lesson in groups that are never pooled, in the order of their first shots. Clubs fly differently,
    a mat forgives what turf does not, and two devices measure from two places of the head."""
    found: dict[tuple[str, Surface | None, str | None], list[Shot]] = {}
    for table in tables:
        for shot in table.shots:
            found.setdefault((shot.club, shot.surface, shot.device), []).append(shot)
    return tuple(Group(*key, tuple(shots)) for key, shots in found.items())


def by_device(groups: Iterable[Group]) -> dict[str | None, tuple[Shot, ...]]:
    """All shots of each device, whatever the club: for questions about the device itself."""
    found: dict[str | None, tuple[Shot, ...]] = {}
    for group in groups:
        found[group.device] = (*found.get(group.device, ()), *group.shots)
    return found


def by_spin_source(shots: Iterable[Shot]) -> dict[SpinSource | None, tuple[Shot, ...]]:
    """The shots with a spin, apart by how it came about: an estimated spin says what the device expects of such a
    launch, and follows no player."""
    found: dict[SpinSource | None, tuple[Shot, ...]] = {}
    for shot in shots:
        if shot.spin is not None:
            found[shot.spin_source] = (*found.get(shot.spin_source, ()), shot)
    return found
