"""How far an outline may go in one direction, by what is vouched for in each sector. Pure: no clock, no network."""
import math

ALONG = 1e-9  # rad: an edge so nearly along the way leads by rounding only


def leeway_towards(bearing, first_bearing, leeway, is_known, outline, reach):
    """How far the outline may go towards `bearing` without turning, m; 0 where anything is missing or not a number.

    bearing        rad, rover axes, counter-clockwise from ahead
    first_bearing  rad, where sector 0 begins; sectors follow counter-clockwise and fill the circle evenly
    leeway         m, one a sector: how far the outline may move in any direction before it could touch anything in it
    is_known       one a sector: whether it is seen; of one that is not, nothing is vouched for
    outline        corners (x, y) of a simple polygon, m, rover axes
    reach          m, at most this is answered

    With e_k the way after which the moving outline enters sector k, the answer is the least of max(e_k, leeway_k). The outline
    enters a sector first with an edge whose outer side faces the way: in the half-strip a + s (b - a) + t d, 0 <= s <= 1, t >= 0,
    e_k is the least t inside the sector's wedge, a polygon in (s, t).
    """
    count = len(leeway)
    if count < 3 or count != len(is_known) or len(outline) < 3:
        return 0.0
    if not math.isfinite(bearing + first_bearing) or not reach > 0:
        return 0.0
    d = (math.cos(bearing), math.sin(bearing))
    edges = _leading_edges(outline, d)
    least = reach
    for k in range(count):
        vouched = leeway[k] if is_known[k] and leeway[k] > 0 else 0.0  # NaN is not above 0
        if vouched >= least:
            continue
        u, v = (_direction(first_bearing, k + side, count) for side in (0, 1))
        for a, b in edges:
            least = min(least, max(vouched, _entry(a, b, d, u, v, least)))
    return least


def _leading_edges(outline, d):
    edges = [(a, outline[(i + 1) % len(outline)]) for i, a in enumerate(outline)]
    sense = math.copysign(1, sum(_cross(a, b) for a, b in edges))  # counter-clockwise: the outer side is on the right
    leading = []
    for a, b in edges:
        along = (b[0] - a[0], b[1] - a[1])
        if sense * _cross(d, along) > ALONG * math.hypot(*along):
            leading.append((a, b))
    return leading


def _entry(a, b, d, u, v, most):
    """m, the way after which the half-strip of edge a-b enters the wedge from u to v; infinite: not before `most`."""

    def place(s, t):
        return (a[0] + s * (b[0] - a[0]) + t * d[0], a[1] + s * (b[1] - a[1]) + t * d[1])

    region = [(0.0, 0.0), (1.0, 0.0), (1.0, most), (0.0, most)]
    region = _cut(region, lambda s, t: _cross(u, place(s, t)))
    region = _cut(region, lambda s, t: _cross(place(s, t), v))
    return min((t for _, t in region), default=math.inf)


def _cut(region, side):
    """The part of a convex region where a linear `side` is not negative (Sutherland and Hodgman 1974, CACM 17(1):32-42)."""
    kept = []
    for i, start in enumerate(region):
        end = region[(i + 1) % len(region)]
        from_side, to_side = side(*start), side(*end)
        if from_side >= 0:
            kept.append(start)
        if from_side * to_side < 0:
            share = from_side / (from_side - to_side)
            kept.append((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))
    return kept


def _direction(first_bearing, k, count):
    bearing = first_bearing + 2 * math.pi * k / count
    return (math.cos(bearing), math.sin(bearing))


def _cross(a, b):
    return a[0] * b[1] - a[1] * b[0]
