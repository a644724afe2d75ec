"""A part made of flat plates and the lines along which they are welded: what `soak` follows in time."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

from advisor.physics.ranges import PhysicsRangeError, positive, within

Point = tuple[float, float]
SNAP = 1e-6  # m: lines nearer than this to an edge lie on it


@dataclass(frozen=True)
class Plate:
    """One flat rectangular plate; places on it are (u, v) [m] from one corner.

    length, width, thickness [m]; conductivity [W/(m K)]; heat_capacity rho c [J/(m3 K)]; solidus_c [degC];
    convection h [W/(m2 K)] and emissivity of each face that loses heat; faces, how many do (0 to 2: one for
    the wall of a closed box, whose inside only sees its own hot walls); start_c [degC], preheat.
    Raises PhysicsRangeError for anything else.
    """

    name: str
    length: float
    width: float
    thickness: float
    conductivity: float
    heat_capacity: float
    solidus_c: float
    convection: float = 10.0
    emissivity: float = 0.2
    faces: float = 2.0
    start_c: float = 20.0

    def __post_init__(self) -> None:
        within("plate length", self.length, 5e-3, 5.0, "m")
        within("plate width", self.width, 5e-3, 5.0, "m")
        within("thickness", self.thickness, 0.2e-3, 25e-3, "m")
        within("conductivity", self.conductivity, 5.0, 500.0, "W/(m K)")
        within("heat capacity", self.heat_capacity, 1e6, 6e6, "J/(m3 K)")
        within("solidus", self.solidus_c, 200.0, 2000.0, "degC")
        within("convection", self.convection, 0.0, 1000.0, "W/(m2 K)")
        within("emissivity", self.emissivity, 0.0, 1.0)
        within("faces that lose heat", self.faces, 0.0, 2.0)
        within("start temperature", self.start_c, -50.0, self.solidus_c, "degC")

    @property
    def capacity(self) -> float:
        """Heat capacity of the whole plate [J/K]."""
        return self.length * self.width * self.thickness * self.heat_capacity


@dataclass(frozen=True)
class PlateLine:
    """A straight line on a plate, parallel to one of its edges: from start to end, (u, v) [m]."""

    plate: int
    start: Point
    end: Point

    def __post_init__(self) -> None:
        if (self.start[0] == self.end[0]) == (self.start[1] == self.end[1]):
            raise PhysicsRangeError("length of the line across its plate", 0.0, SNAP, math.inf, "m", "not parallel")

    @property
    def length(self) -> float:
        """Length of the line [m]."""
        return math.dist(self.start, self.end)

    def reversed(self) -> PlateLine:
        """The same line run the other way."""
        return PlateLine(self.plate, self.end, self.start)


@dataclass(frozen=True)
class SeamLine:
    """Two lines, of one length, that are welded to each other from start to end.

    contact 0 to 1: how well the joint passes heat before it is welded, as a share of solid metal. Tacked
    edges hardly touch, so 0 is the careful choice: the plates welded first get hotter.
    """

    name: str
    first: PlateLine
    second: PlateLine
    contact: float = 0.0

    def __post_init__(self) -> None:
        within("contact before welding", self.contact, 0.0, 1.0)
        length = self.first.length
        within("length of the second line", self.second.length, 0.99 * length, 1.01 * length, "m")

    def reversed(self) -> SeamLine:
        """The same seam run the other way."""
        return SeamLine(self.name, self.first.reversed(), self.second.reversed(), self.contact)


@dataclass(frozen=True)
class ChillBar:
    """A bar clamped along a line of a plate: takes heat through its contact and keeps it.

    breadth [m] of the strip under it; contact [W/(m2 K)], 50 to 20 000; capacity m c [J/K] of the bar.
    """

    line: PlateLine
    breadth: float
    contact: float
    capacity: float

    def __post_init__(self) -> None:
        within("breadth of the chill bar", self.breadth, 1e-3, 0.5, "m")
        within("contact of the chill bar", self.contact, 50.0, 2e4, "W/(m2 K)")
        positive("heat capacity of the chill bar", self.capacity, "J/K")


@dataclass(frozen=True)
class HeatedPart:
    """Plates, the seams between them, chill bars, and the air around."""

    plates: tuple[Plate, ...]
    seams: tuple[SeamLine, ...]
    chills: tuple[ChillBar, ...] = ()
    ambient_c: float = 20.0

    def __post_init__(self) -> None:
        within("plates", len(self.plates), 1, 200)
        within("ambient temperature", self.ambient_c, -50.0, 100.0, "degC")
        lines = [line for seam in self.seams for line in (seam.first, seam.second)]
        for line in (*lines, *(chill.line for chill in self.chills)):
            within("plate of the line", line.plate, 0, len(self.plates) - 1)
            plate = self.plates[line.plate]
            for u, v in (line.start, line.end):
                within("place along the plate", u, -SNAP, plate.length + SNAP, "m")
                within("place across the plate", v, -SNAP, plate.width + SNAP, "m")

    def seam(self, name: str) -> int:
        """Number of the seam of that name; KeyError where there is none."""
        for index, seam in enumerate(self.seams):
            if seam.name == name:
                return index
        raise KeyError(name)


# Axes of a box: 0 length, 1 width, 2 height. A face is normal to one axis, at its near or its far end.
FACE_NAMES = {(0, 0): "left", (0, 1): "right", (1, 0): "front", (1, 1): "back", (2, 0): "bottom", (2, 1): "top"}
Face = tuple[int, int]


def box(size: tuple[float, float, float], like: Plate, open_top: bool = True, contact: float = 0.0) -> HeatedPart:
    """A box of plates of one kind: five sides and eight seams, or six and twelve.

    Every corner is one seam along its whole length; no allowance for thickness. Seams are named after
    their two sides, `bottom-front` first, then the uprights, then the top.

    Parameters: size (length, width, height) [m]; like: thickness, metal and losses of every side (its own
    length and width are ignored); contact as in `SeamLine`.
    Raises: PhysicsRangeError where a side is out of range. Source: geometry (computed).
    Example: An open box has five sides and eight seams; its bottom is 80 x 60 mm.
    >>> part = box((0.08, 0.06, 0.04), Plate("any", 0.1, 0.1, 3e-3, 167.0, 2.42e6, 582.0))
    >>> len(part.plates), len(part.seams), (part.plates[0].length, part.plates[0].width)
    (5, 8, (0.08, 0.06))
    """
    faces: list[Face] = [(2, 0), (1, 0), (0, 1), (1, 1), (0, 0)] + ([] if open_top else [(2, 1)])
    plates = tuple(_side(size, face, like) for face in faces)
    seams = [
        _corner(size, faces, one, other, contact)
        for one, other in combinations(range(len(faces)), 2)
        if faces[one][0] != faces[other][0]
    ]
    return HeatedPart(plates, tuple(sorted(seams, key=_welding_place)))


def _across(face: Face) -> tuple[int, int]:
    """The two axes a face spreads along: its u and v."""
    u, v = (axis for axis in range(3) if axis != face[0])
    return u, v


def _side(size: tuple[float, float, float], face: Face, like: Plate) -> Plate:
    u, v = _across(face)
    return Plate(
        FACE_NAMES[face],
        size[u],
        size[v],
        like.thickness,
        like.conductivity,
        like.heat_capacity,
        like.solidus_c,
        like.convection,
        like.emissivity,
        like.faces,
        like.start_c,
    )


def _corner(size: tuple[float, float, float], faces: list[Face], one: int, other: int, contact: float) -> SeamLine:
    """The seam where two neighbouring faces meet."""
    along = 3 - faces[one][0] - faces[other][0]

    def line(plate: int, fixed: Face) -> PlateLine:
        u, v = _across(faces[plate])
        ends = []
        for place in (0.0, size[along]):
            where = {along: place, fixed[0]: fixed[1] * size[fixed[0]]}
            ends.append((where[u], where[v]))
        return PlateLine(plate, ends[0], ends[1])

    name = f"{FACE_NAMES[faces[one]]}-{FACE_NAMES[faces[other]]}"
    return SeamLine(name, line(one, faces[other]), line(other, faces[one]), contact)


def _welding_place(seam: SeamLine) -> int:
    """Bottom seams first, then the uprights, then the top."""
    names = seam.name.split("-")
    return 0 if "bottom" in names else 2 if "top" in names else 1
