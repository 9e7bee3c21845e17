import type { Clearance, Point } from './messages.js';

/** rad: an edge so nearly along the way sweeps less than a thousandth of a millimetre in 1 km; that it leads is rounding. */
const ALONG = 1e-9;

/** A corner of the half-strip that an edge of the outline sweeps: `part` of the way along the edge, `way` m in the direction. */
type Place = readonly [part: number, way: number];

/**
 * How far the outline may go in one direction, without turning, before it could leave what is vouched for.
 *
 * `leeway_m[k]` is how far the outline may move in *any* direction before it could touch anything in sector k. A translation by L
 * along d touches nothing in sector k if L <= leeway_m[k], or if the area swept on the way does not reach into sector k. So the
 * answer is the greatest L such that every sector k entered on a way shorter than L has leeway_m[k] >= L. With e_k the way after
 * which sector k is entered,
 *
 *     L = min over k of max(e_k, leeway_m[k]).
 *
 * Swept area: a point outside the outline that some translate covers was passed by an edge whose outer side faces d. So the swept
 * area lies in the half-strips that those leading edges a-b sweep, the points a + s (b - a) + t d with 0 <= s <= 1 and t >= 0. In a
 * sector, a wedge of less than half a turn about the origin between unit vectors u and v, both cross(u, p) >= 0 and
 * cross(p, v) >= 0, linear in s and t: the half-strip cut by these two lines is a polygon in (s, t), and e_k is its least t.
 *
 * For a convex outline that holds the origin every swept sector is entered at once (e_k = 0), and the answer is the least leeway
 * of the sectors that the leading edges lie in: one of them unknown makes it 0. For other outlines half-strips may also cover
 * parts of the outline itself; that can only make the answer smaller.
 *
 * @param bearing rad, rover axes, counter-clockwise from ahead.
 * @param outline corners of a simple polygon, either way round. Without one nothing is vouched for.
 * @param reach m, at most this is answered.
 * @returns m; 0 where anything is missing or not a number.
 */
export function leewayTowards(bearing: number, clearance: Clearance, outline: readonly Point[], reach: number): number {
  const sectors = clearance.state.length;
  if (sectors < 3 || outline.length < 3 || !Number.isFinite(bearing + clearance.firstBearingRad) || !(reach > 0))
    return 0;
  const d: Point = { xM: Math.cos(bearing), yM: Math.sin(bearing) };
  const edges = leadingEdges(outline, d);
  let least = reach;
  for (let k = 0; k < sectors; k++) {
    const vouched = vouchedIn(clearance, k);
    if (vouched >= least) continue;
    const u = direction(clearance, k);
    const v = direction(clearance, k + 1);
    for (const [a, b] of edges) least = Math.min(least, Math.max(vouched, entry(a, b, d, u, v, least)));
  }
  return least;
}

/** @returns m, what sector k vouches for; 0 where it is not seen. */
function vouchedIn({ state, leewayM }: Clearance, k: number): number {
  const leeway = leewayM[k] ?? 0;
  return state[k] !== 'unknown' && leeway > 0 ? leeway : 0; // NaN is not above 0
}

function direction({ firstBearingRad, state }: Clearance, k: number): Point {
  const bearing = firstBearingRad + (2 * Math.PI * k) / state.length;
  return { xM: Math.cos(bearing), yM: Math.sin(bearing) };
}

/** @returns the edges of the outline whose outer side faces d. */
function leadingEdges(outline: readonly Point[], d: Point): ReadonlyArray<readonly [Point, Point]> {
  const edges = outline.map((a, i) => [a, outline[(i + 1) % outline.length]] as const);
  const area = edges.reduce((sum, [a, b]) => sum + cross(a, b), 0);
  return edges.filter(([a, b]) => {
    const edge = { xM: b.xM - a.xM, yM: b.yM - a.yM };
    const facing = cross(d, edge) * Math.sign(area); // the outer side of a counter-clockwise edge is on its right
    return facing > ALONG * Math.hypot(edge.xM, edge.yM);
  });
}

/** @returns m, the way after which the half-strip that a-b sweeps along d enters the wedge from u to v; Infinity: not before `most`. */
function entry(a: Point, b: Point, d: Point, u: Point, v: Point, most: number): number {
  let region: readonly Place[] = [
    [0, 0],
    [1, 0],
    [1, most],
    [0, most],
  ];
  const place = ([part, way]: Place): Point => ({
    xM: a.xM + part * (b.xM - a.xM) + way * d.xM,
    yM: a.yM + part * (b.yM - a.yM) + way * d.yM,
  });
  region = cut(region, (at) => cross(u, place(at)));
  region = cut(region, (at) => cross(place(at), v));
  return region.reduce((least, [, way]) => Math.min(least, way), Infinity);
}

/** @returns the part of a convex region where a linear `side` is not negative. @source Sutherland and Hodgman 1974, CACM 17(1):32-42. */
function cut(region: readonly Place[], side: (at: Place) => number): readonly Place[] {
  return region.flatMap((from, i) => {
    const to = region[(i + 1) % region.length];
    const sideFrom = side(from);
    const sideTo = side(to);
    const kept: Place[] = sideFrom >= 0 ? [from] : [];
    if (sideFrom * sideTo < 0) {
      const share = sideFrom / (sideFrom - sideTo);
      kept.push([from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]);
    }
    return kept;
  });
}

function cross(a: Point, b: Point): number {
  return a.xM * b.yM - a.yM * b.xM;
}
