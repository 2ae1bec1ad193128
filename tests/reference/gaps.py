"""Gaps between still parts and hanging wires, measured by two distance libraries and decided by a closed form.

    python3.11 -m venv VENV && VENV/bin/pip install coal==3.0.3 python-fcl==0.7.0.11 numpy==2.4.6 scipy==1.17.1
    VENV/bin/python tests/reference/gaps.py

writes gaps.csv beside this file (5 to 15 minutes on one core) and prints how far each library is from the closed form.
The same versions give the same file. Every number of the geometry is written out; whoever reads the file needs no random
numbers.

Units metres and radians, z up. A row's columns:

kind
    box       the hull of 8 points, a boom section that may taper (lower four corners, then the upper four)
    capsule   the hull of two balls of one radius
    tapered   the hull of two balls of two radii
    cylinder  the hull of two coaxial discs of one radius
    frustum   the hull of two coaxial discs of two radii
wire
    ax ay az bx by bz 1/a radius blowout: c(t) = (1-t)A + tB + depth(t)*(-up*cos(blowout) + lateral*sin(blowout)), where
    depth(t) is that of the catenary of constant a over the run and rise of A to B below its chord, and lateral is the
    horizontal run turned a quarter to the left, made a unit vector. The wire is all that is within radius of the curve.
part
    box: 24 coordinates; the others: p0 (3), p1 (3), r0, r1
coal_m, fcl_m
    what each library says of the part and the wire's chords (capsules), chords as short as `sagitta_m` asks where near
sagitta_m
    the chords leave the curve by no more: |error| <= sagitta_m from this
mesh_m
    the part as the libraries see it lies inside the true one, and what they say is larger by no more than this for it:
    0 where the shape is exact (box, capsule, cylinder); frustum: 256-gons, r*(1-cos(pi/256)); tapered: two balls' points in
    directions that are dense around the one that decides, max(r)*(1-cos(largest angle to a direction))
third_m
    the closed form: nearest point of the exact part for a point of the exact curve, least over the curve
t
    where on the wire
ruling
    agree     the libraries differ by no more than their known errors and mesh_m, and third_m confirms one at least
    coal, fcl they differ by more, and third_m confirms this one alone
    neither   third_m confirms none
"""

import csv
import math
import pathlib
import time

import coal
import fcl
import numpy as np
from scipy.optimize import brentq, minimize_scalar
from scipy.spatial import ConvexHull

OUT = pathlib.Path(__file__).with_name("gaps.csv")
PAIRS_OF_A_KIND = 2100
KINDS = ("box", "capsule", "tapered", "cylinder", "frustum")

SAGITTA_M = 2e-7
# Over-estimates measured before on cylinders up to 40 m long.
COAL_ERROR_M = 1e-5
FCL_ERROR_M = 1.3e-4

POLYGON = 256
PATCH_STEP, PATCH_HALF = 0.004, 12
UP = np.array([0.0, 0.0, 1.0])


def rounded(values):
    """To the nanometre, as they are written: the file is the geometry."""
    return np.round(np.asarray(values, dtype=float), 9)


# --- the wire ------------------------------------------------------------------------------------------------------------


class Wire:
    def __init__(self, a, b, curvature, radius, blowout):
        self.a, self.b, self.curvature, self.radius, self.blowout = a, b, curvature, radius, blowout
        across = b - a
        self.run, self.rise = math.hypot(across[0], across[1]), across[2]
        lateral = np.array([-across[1], across[0], 0.0]) / self.run
        self.down = -UP * math.cos(blowout) + lateral * math.sin(blowout)
        c = 1.0 / curvature
        self.low_x = self.run / 2 - c * math.asinh(self.rise / (2 * c * math.sinh(self.run / (2 * c))))

    def numbers(self):
        return [*self.a, *self.b, self.curvature, self.radius, self.blowout]

    def depth(self, t):
        """z = c*cosh((x - low_x)/c) from the first end, taken from the chord."""
        c = 1.0 / self.curvature
        x = np.asarray(t) * self.run
        rise = 2 * c * np.sinh(x / (2 * c)) * np.sinh((x - 2 * self.low_x) / (2 * c))
        return np.asarray(t) * self.rise - rise

    def at(self, t):
        t = np.asarray(t, dtype=float)
        return self.a + t[..., None] * (self.b - self.a) + self.depth(t)[..., None] * self.down

    def sagitta(self, pieces):
        """No chord of `pieces` equal ones leaves the curve by more: run^2 * max|z''| / 8, z'' = cosh((x - low_x)/c)/c."""
        steepest = max(abs(self.low_x), abs(self.run - self.low_x)) * self.curvature
        return (self.run / pieces) ** 2 * self.curvature * math.cosh(steepest) / 8


def random_wire(rng):
    while True:
        span = rng.uniform(20, 150)
        sag = math.exp(rng.uniform(math.log(0.3), math.log(5)))
        bearing = rng.uniform(0, 2 * math.pi)
        a = np.array([*rng.uniform(-99, 99, 2), rng.uniform(5, 25)])
        b = a + span * np.array([math.cos(bearing), math.sin(bearing), 0]) + UP * rng.uniform(-6, 6)
        if np.abs(b).max() > 99:
            continue
        a, b = rounded(a), rounded(b)

        def lacks(curvature):
            return float(Wire(a, b, curvature, 0.0, 0.0).depth(0.5)) - sag

        curvature = float(f"{brentq(lacks, 1e-7, 0.5):.12e}")
        blowout = rng.uniform(-1.2, 1.2) if rng.random() < 0.4 else 0.0
        return Wire(a, b, curvature, float(rounded(rng.uniform(0.005, 0.02))), float(rounded(blowout)))


# --- the parts, in closed form -------------------------------------------------------------------------------------------


def to_segment(points, a, b):
    along = b - a
    s = np.clip((points - a) @ along / (along @ along), 0, 1)
    nearest = a + s[..., None] * along
    return np.linalg.norm(points - nearest, axis=-1), nearest


class Box:
    kind = "box"

    def __init__(self, corners):
        self.corners = corners
        hull = ConvexHull(corners)
        self.normals, self.offsets = hull.equations[:, :3], hull.equations[:, 3]
        self.faces = wound(hull)

    def numbers(self):
        return list(self.corners.ravel())

    def moved(self, by):
        return Box(rounded(self.corners + by))

    def support(self, n):
        return (self.corners @ n).max()

    def extent(self):
        return np.abs(self.corners).max()

    def nearest(self, points):
        """Distance and nearest point; zero inside."""
        best = np.full(points.shape[:-1], np.inf)
        where = np.array(points)

        def take(distance, nearest, valid=True):
            better = (distance < best) & valid
            best[better] = distance[better]
            where[better] = nearest[better]

        beyond = points @ self.normals.T + self.offsets
        for face, normal, height in zip(self.faces, self.normals, np.moveaxis(beyond, -1, 0)):
            foot = points - height[..., None] * normal
            inside = np.ones(height.shape, bool)
            for i in range(3):
                p, q = self.corners[face[i]], self.corners[face[(i + 1) % 3]]
                inside &= (foot - p) @ np.cross(normal, q - p) >= 0
                take(*to_segment(points, p, q))
            take(np.abs(height), foot, inside)
        best[(beyond <= 0).all(-1)] = 0
        return best, where


class Round:
    """What is round about the axis p0 p1, in the half-plane of x along it and y from it."""

    def __init__(self, p0, p1, r0, r1):
        self.p0, self.p1, self.r0, self.r1 = p0, p1, r0, r1
        self.length = np.linalg.norm(p1 - p0)
        self.axis = (p1 - p0) / self.length

    def numbers(self):
        return [*self.p0, *self.p1, self.r0, self.r1]

    def moved(self, by):
        return type(self)(rounded(self.p0 + by), rounded(self.p1 + by), self.r0, self.r1)

    def extent(self):
        return max(np.abs(self.p0).max(), np.abs(self.p1).max())

    def flat(self, points):
        x = (points - self.p0) @ self.axis
        across = points - self.p0 - x[..., None] * self.axis
        y = np.linalg.norm(across, axis=-1)
        return x, y, across / np.maximum(y, 1e-300)[..., None]


class Balls(Round):
    def __init__(self, *numbers):
        super().__init__(*numbers)
        self.kind = "capsule" if self.r0 == self.r1 else "tapered"

    def support(self, n):
        return max(self.p0 @ n + self.r0, self.p1 @ n + self.r1)

    def nearest(self, points):
        """|point - axis(s)| - r(s) is convex in s: its stationary point, clamped."""
        x, y, _ = self.flat(points)
        grows = (self.r1 - self.r0) / self.length
        s = np.clip(x + y * grows / math.sqrt(1 - grows**2), 0, self.length)
        centre = self.p0 + s[..., None] * self.axis
        radius = self.r0 + grows * s
        away = np.linalg.norm(points - centre, axis=-1)
        nearest = centre + (points - centre) * (radius / np.maximum(away, 1e-300))[..., None]
        return np.maximum(away - radius, 0), nearest


class Discs(Round):
    def __init__(self, *numbers):
        super().__init__(*numbers)
        self.kind = "cylinder" if self.r0 == self.r1 else "frustum"

    def support(self, n):
        flat = np.linalg.norm(n - (n @ self.axis) * self.axis)
        return max(self.p0 @ n + self.r0 * flat, self.p1 @ n + self.r1 * flat)

    def nearest(self, points):
        """The nearest of the three sides of the half section."""
        x, y, out = self.flat(points)
        flat = np.stack([x, y], -1)
        best, where = np.full(x.shape, np.inf), flat.copy()
        corners = np.array([[0, 0], [0, self.r0], [self.length, self.r1], [self.length, 0]])
        for p, q in zip(corners, corners[1:]):
            distance, nearest = to_segment(flat, p, q)
            better = distance < best
            best[better], where[better] = distance[better], nearest[better]
        inside = (x >= 0) & (x <= self.length) & (y <= self.r0 + (self.r1 - self.r0) * x / self.length)
        best[inside] = 0
        return best, self.p0 + where[..., :1] * self.axis + where[..., 1:] * out


def third(part, wire):
    """The gap by closed form, and where on the wire.

    Sampled every few centimetres; every cell that could hold the least (distance changes no faster than one goes along
    the wire) is searched. The answer must also be the part's support in the direction found, which does not rest on
    the closed form of the nearest point.
    """
    ts = np.linspace(0, 1, 2001)
    points = wire.at(ts)
    distances, _ = part.nearest(points)
    if distances.min() <= 0:
        return 0.0, 0.0
    cell = np.linalg.norm(np.diff(points, axis=0), axis=1).max()
    best, best_t = math.inf, 0.0
    low = distances.min()
    lowest_local = np.r_[True, distances[1:] <= distances[:-1]] & np.r_[distances[:-1] <= distances[1:], True]
    for i in np.flatnonzero(lowest_local & (distances < low + cell)):
        ends = (ts[max(i - 1, 0)], ts[min(i + 1, 2000)])
        found = minimize_scalar(
            lambda t: float(part.nearest(wire.at(np.array([t])))[0][0]), bounds=ends, method="bounded", options={"xatol": 1e-10}
        )
        for t in (float(found.x), *ends):
            value = float(part.nearest(wire.at(np.array([t])))[0][0])
            if value < best:
                best, best_t = value, t
    point = wire.at(np.array([best_t]))
    nearest = part.nearest(point)[1][0]
    n = (point[0] - nearest) / best
    assert abs(part.support(n) - n @ nearest) < 1e-8, (part.kind, best)
    return best - wire.radius, best_t


# --- the parts and the wire, as the libraries see them ------------------------------------------------------------------


def wound(hull):
    """The hull's triangles, counterclockwise seen from outside."""
    faces = []
    for (i, j, k), normal in zip(hull.simplices, hull.equations[:, :3]):
        turn = np.cross(hull.points[j] - hull.points[i], hull.points[k] - hull.points[i]) @ normal
        faces.append((int(i), int(j), int(k)) if turn > 0 else (int(i), int(k), int(j)))
    return faces


def turned_to(direction):
    """A rotation that takes z to the direction."""
    z = direction / np.linalg.norm(direction)
    other = np.eye(3)[np.argmin(np.abs(z))]
    x = np.cross(other, z)
    x /= np.linalg.norm(x)
    return np.column_stack([x, np.cross(z, x), z])


def polygon_mesh(part, turn):
    """256-gons inscribed in both discs, corner to corner: the sides are planar quads."""
    angles = turn + np.arange(POLYGON) * 2 * math.pi / POLYGON
    frame = turned_to(part.axis)
    ring = np.cos(angles)[:, None] * frame[:, 0] + np.sin(angles)[:, None] * frame[:, 1]
    points = np.concatenate([part.p0 + part.r0 * ring, part.p1 + part.r1 * ring])
    faces = []
    for i in range(POLYGON):
        j = (i + 1) % POLYGON
        faces += [(i, j, POLYGON + j), (i, POLYGON + j, POLYGON + i)]
    # The ends zigzag across: a fan would give one corner more neighbours than a library takes.
    low, high = 0, POLYGON - 1
    while high - low > 1:
        faces += [(low, high, low + 1), (POLYGON + low, POLYGON + low + 1, POLYGON + high)]
        low += 1
        if high - low > 1:
            faces += [(low, high, high - 1), (POLYGON + low, POLYGON + high - 1, POLYGON + high)]
            high -= 1
    return points, faces, max(part.r0, part.r1) * (1 - math.cos(math.pi / POLYGON))


def ball_mesh(part, n):
    """Points of both balls in the same directions: some everywhere, a fine grid around n.

    Along any direction within the grid the mesh falls short of the part by no more than max(r)*(1 - cos(half a
    diagonal)). The direction that decides between mesh and wire must lie there for that, which `main` checks.
    """
    i = np.arange(160) + 0.5
    polar, azimuth = np.arccos(1 - 2 * i / 160), math.pi * (1 + 5**0.5) * i
    everywhere = np.column_stack([np.cos(azimuth) * np.sin(polar), np.sin(azimuth) * np.sin(polar), np.cos(polar)])
    frame = turned_to(n)
    steps = np.arange(-PATCH_HALF, PATCH_HALF + 1) * PATCH_STEP
    u, v = np.meshgrid(steps, steps)
    around = n + u.reshape(-1, 1) * frame[:, 0] + v.reshape(-1, 1) * frame[:, 1]
    around /= np.linalg.norm(around, axis=1)[:, None]
    directions = np.concatenate([everywhere, around])
    hull = ConvexHull(np.concatenate([part.p0 + part.r0 * directions, part.p1 + part.r1 * directions]))
    used = np.unique(hull.simplices)
    place = {int(old): new for new, old in enumerate(used)}
    faces = [tuple(place[i] for i in face) for face in wound(hull)]
    return hull.points[used], faces, max(part.r0, part.r1) * (1 - math.cos(PATCH_STEP / math.sqrt(2)))


def strays(away, n):
    """Whether the direction between a library's nearest points leaves the fine grid around n."""
    return np.linalg.norm(np.cross(n, away)) > 0.8 * PATCH_HALF * PATCH_STEP * np.linalg.norm(away)


class Coal:
    name = "coal"

    def __init__(self):
        # Defaults: gjk_tolerance 1e-6. A tighter one has been seen 23 mm wrong.
        self.request = coal.DistanceRequest()

    def mesh(self, points, faces):
        vertices, triangles = coal.StdVec_Vec3s(), coal.StdVec_Triangle()
        for point in points:
            vertices.append(point)
        for face in faces:
            triangles.append(coal.Triangle(*face))
        return coal.Convex(vertices, triangles), coal.Transform3s.Identity()

    def placed(self, shape, turn, centre):
        return shape, coal.Transform3s(turn, centre)

    def capsule(self, radius, length, turn, centre):
        return self.placed(coal.Capsule(radius, length), turn, centre)

    def cylinder(self, radius, length, turn, centre):
        return self.placed(coal.Cylinder(radius, length), turn, centre)

    def distance(self, one, other):
        result = coal.DistanceResult()
        value = coal.distance(*one, *other, self.request, result)
        return value, result.getNearestPoint1(), result.getNearestPoint2()


class Fcl:
    name = "fcl"

    def mesh(self, points, faces):
        flat = [n for face in faces for n in (3, *face)]
        return fcl.CollisionObject(fcl.Convex(points, len(faces), flat), fcl.Transform())

    def placed(self, shape, turn, centre):
        return fcl.CollisionObject(shape, fcl.Transform(turn, centre))

    def capsule(self, radius, length, turn, centre):
        return self.placed(fcl.Capsule(radius, length), turn, centre)

    def cylinder(self, radius, length, turn, centre):
        return self.placed(fcl.Cylinder(radius, length), turn, centre)

    def distance(self, one, other):
        result = fcl.DistanceResult()
        value = fcl.distance(one, other, fcl.DistanceRequest(enable_nearest_points=True), result)
        return value, *result.nearest_points


def part_in(library, part, n, turn):
    """The part in a library, and how far its shape may fall short of the true one in direction n."""
    if part.kind in ("capsule", "cylinder"):
        make = library.capsule if part.kind == "capsule" else library.cylinder
        return make(part.r0, part.length, turned_to(part.axis), (part.p0 + part.p1) / 2), 0.0
    if part.kind == "box":
        points, faces, short = part.corners, part.faces, 0.0
    elif part.kind == "frustum":
        points, faces, short = polygon_mesh(part, turn)
    else:
        points, faces, short = ball_mesh(part, n)
    return library.mesh(points, faces), short


def measure(library, shape, wire):
    """The least over the wire's chords: all of them coarse, then only those that could hold the least, halved until fine."""
    pieces, near = 16, list(range(16))
    while True:
        sagitta = wire.sagitta(pieces)
        ends = wire.at(np.arange(pieces + 1) / pieces) if pieces <= 64 else None
        found = []
        for i in near:
            p, q = (ends[i], ends[i + 1]) if ends is not None else wire.at(np.array([i, i + 1]) / pieces)
            chord = library.capsule(wire.radius, float(np.linalg.norm(q - p)), turned_to(q - p), (p + q) / 2)
            found.append((*library.distance(shape, chord), i))
        least = min(found, key=lambda each: each[0])
        if sagitta <= SAGITTA_M:
            return least[0], sagitta, least[2] - least[1]
        # Twice the sagitta, and what a library may be wrong by.
        near = [2 * each[3] + half for each in found if each[0] <= least[0] + 2 * sagitta + 3e-4 for half in (0, 1)]
        pieces *= 2


# --- random pairs ---------------------------------------------------------------------------------------------------------


def log_uniform(rng, low, high):
    return math.exp(rng.uniform(math.log(low), math.log(high)))


def random_turn(rng):
    q = rng.normal(size=4)
    w, x, y, z = q / np.linalg.norm(q)
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
    )


def random_part(rng, kind):
    """About the origin; sizes 0.1 to 40 m."""
    turn = random_turn(rng)
    if kind == "box":
        size = np.array([log_uniform(rng, 0.1, 1.5), log_uniform(rng, 0.1, 1.5), log_uniform(rng, 0.3, 40)])
        taper = 1.0 if rng.random() < 0.5 else rng.uniform(0.4, 1)
        square = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) / 2
        corners = np.array([[*(xy * k * size[:2]), z] for k, z in ((1, 0), (taper, size[2])) for xy in square])
        return Box(rounded(corners @ turn.T))
    length = log_uniform(rng, 0.1, 40)
    r0 = log_uniform(rng, 0.05, 0.8)
    r1 = r0
    if kind in ("tapered", "frustum"):
        r1 = rng.uniform(0.3, 0.95) * r0
        length = max(length, 1.2 * (r0 - r1), 0.1)
        if rng.random() < 0.5:
            r0, r1 = r1, r0
    shape = Balls if kind in ("capsule", "tapered") else Discs
    return shape(np.zeros(3), rounded(turn[:, 2] * length), float(rounded(r0)), float(rounded(r1)))


def random_pair(rng, kind):
    """A part beside a wire: pushed off from a point of it to the gap wanted, and taken if no other place is too near."""
    while True:
        wire, part = random_wire(rng), random_part(rng, kind)
        wanted = log_uniform(rng, 0.01, 0.5) if rng.random() < 0.5 else log_uniform(rng, 0.5, 30)
        t = rng.uniform(0, 1)
        point, ahead = wire.at(np.array([t, min(t + 1e-3, 1) if t < 0.5 else t - 1e-3]))
        along = (ahead - point) / np.linalg.norm(ahead - point)
        for _ in range(4):
            n = rng.normal(size=3)
            n -= (n @ along) * along
            n /= np.linalg.norm(n)
            # The part's corner farthest along n goes to the gap's far side, somewhere on that support.
            reach = part.support(n)
            corner = corner_along(part, n)
            assert abs(corner @ n - reach) < 1e-9
            moved = part.moved(point - n * (wanted + wire.radius) - corner)
            if moved.extent() > 100:
                continue
            gap, where = third(moved, wire)
            if 0.01 <= gap <= 30:
                return wire, moved, gap, where


def corner_along(part, n):
    """A point of the part farthest along n."""
    if part.kind == "box":
        return part.corners[np.argmax(part.corners @ n)]
    out = n if isinstance(part, Balls) else n - (n @ part.axis) * part.axis
    out = out / np.linalg.norm(out)
    return max((p + r * out for p, r in ((part.p0, part.r0), (part.p1, part.r1))), key=lambda p: p @ n)


# --- the file -------------------------------------------------------------------------------------------------------------


def ruling(coal_m, fcl_m, mesh_m, sagitta_m, third_m):
    def confirmed(value, error):
        return third_m - error - sagitta_m <= value <= third_m + error + sagitta_m + mesh_m

    by_coal, by_fcl = confirmed(coal_m, COAL_ERROR_M), confirmed(fcl_m, FCL_ERROR_M)
    if not (by_coal or by_fcl):
        return "neither"
    if abs(coal_m - fcl_m) <= COAL_ERROR_M + FCL_ERROR_M + mesh_m:
        return "agree"
    return "coal" if by_coal else "fcl"


def text(numbers):
    """All digits of what `rounded` left."""
    return " ".join(f"{n:.13g}" for n in map(float, numbers))


def main():
    started = time.time()
    libraries = [Coal(), Fcl()]
    off = {kind: ([], []) for kind in KINDS}
    rulings = {}
    strayed = {library.name: 0 for library in libraries}
    with OUT.open("w", newline="") as file:
        file.write(
            "# written by gaps.py, which says what each column is: coal 3.0.3 and python-fcl 0.7.0.11 on random parts and"
            " catenaries, with a closed form as third; metres, radians\n"
        )
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(["kind", "wire", "part", "coal_m", "fcl_m", "sagitta_m", "mesh_m", "third_m", "t", "ruling"])
        for number, kind in enumerate(KINDS):
            rng = np.random.default_rng([20240611, number])
            for _ in range(PAIRS_OF_A_KIND):
                wire, part, third_m, t = random_pair(rng, kind)
                point = wire.at(np.array([t]))
                n = point[0] - part.nearest(point)[1][0]
                n /= np.linalg.norm(n)
                turn = rng.uniform(0, 2 * math.pi)
                said = []
                for library in libraries:
                    shape, mesh_m = part_in(library, part, n, turn)
                    value, sagitta_m, away = measure(library, shape, wire)
                    said.append(value)
                    strayed[library.name] += int(kind == "tapered" and strays(away, n))
                rule = ruling(*said, mesh_m, sagitta_m, third_m)
                rulings[rule] = rulings.get(rule, 0) + 1
                for errors, value in zip(off[kind], said):
                    errors.append(value - third_m)
                rows.writerow(
                    [kind, text(wire.numbers()), text(part.numbers()), *(f"{v:.10g}" for v in said)]
                    + [f"{sagitta_m:.3g}", f"{mesh_m:.3g}", f"{third_m:.12g}", f"{t:.9g}", rule]
                )
    for kind, each in off.items():
        for name, errors in zip(strayed, each):
            errors = np.array(errors)
            size = np.abs(errors)
            print(
                f"{kind:9}{name:5} median {np.median(size):.2e}  99 % {np.quantile(size, 0.99):.2e}"
                f"  least {errors.min():.2e}  most {errors.max():.2e}"
            )
    print("rulings", rulings, "nearest points beyond the fine grid", strayed, f"{time.time() - started:.0f} s")


if __name__ == "__main__":
    main()
