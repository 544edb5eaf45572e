"""Points and directions in space, in metres: X toward the target, Y from the player toward the ball, Z up."""

from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True, slots=True)
class Vec:
    """A point or a direction."""

    x: float
    y: float
    z: float

    def __add__(self, other: "Vec") -> "Vec":
        return Vec(self.x + other.x, self.y + other.y, self.z + other.z)

    def __sub__(self, other: "Vec") -> "Vec":
        return Vec(self.x - other.x, self.y - other.y, self.z - other.z)

    def __mul__(self, times: float) -> "Vec":
        return Vec(self.x * times, self.y * times, self.z * times)

    def __neg__(self) -> "Vec":
        return Vec(-self.x, -self.y, -self.z)

    def dot(self, other: "Vec") -> float:
        """The inner product."""
        return self.x * other.x + self.y * other.y + self.z * other.z

    @property
    def length(self) -> float:
        """The length."""
        return sqrt(self.dot(self))

    @property
    def unit(self) -> "Vec":
        """The direction with length 1."""
        return self * (1 / self.length)


UP = Vec(0, 0, 1)
TARGET = Vec(1, 0, 0)
BALL = Vec(0, 1, 0)


def between(a: Vec, b: Vec, share: float = 0.5) -> Vec:
    """The point on the way from `a` to `b`."""
    return a + (b - a) * share
