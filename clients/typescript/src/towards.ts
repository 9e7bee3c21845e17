/** A corner of the rover's outline, m, rover axes. */
export interface Corner {
  readonly x: number;
  readonly y: number;
}

/** What leewayTowards needs of a Clearance. */
export interface SectorLeeway {
  /** rad, where sector 0 begins; sectors follow counter-clockwise and fill the circle evenly. */
  readonly firstBearing: number;
  /** m, one a sector; 0 where nothing is vouched for. */
  readonly leeway: ArrayLike<number>;
  /** One a sector: whether its state is known. */
  readonly isKnown: ArrayLike<boolean>;
}

const TAU = 2 * Math.PI;
const ROUNDING = 1e-9;

/**
 * Bearings that the outline sweeps when it moves along `bearing` without turning, as seen from the rover's origin.
 *
 * Of the outline's hull only the side that faces the movement sweeps new ground, from its leftmost to its rightmost corner across
 * the movement (of several, the foremost). A point of that side moves along a line whose bearing from the origin turns
 * steadily towards `bearing` and stays between those two corners. The side itself already covers every bearing between them:
 * so these, no more and no fewer, are the bearings of the swept ground, however far it goes.
 *
 * @param outline m, rover axes; the origin lies inside.
 * @param bearing rad.
 * @returns rad, counter-clockwise from `from` over `span`.
 */
export function sweptBearings(outline: readonly Corner[], bearing: number): { readonly from: number; readonly span: number } {
  const c = Math.cos(bearing);
  const s = Math.sin(bearing);
  let left = { across: -Infinity, along: 0 };
  let right = { across: Infinity, along: 0 };
  for (const { x, y } of outline) {
    const along = x * c + y * s;
    const across = y * c - x * s;
    if (across > left.across + ROUNDING || (across > left.across - ROUNDING && along > left.along)) left = { across, along };
    if (across < right.across - ROUNDING || (across < right.across + ROUNDING && along > right.along)) right = { across, along };
  }
  const low = Math.atan2(right.across, right.along);
  const high = Math.atan2(left.across, left.along);
  return { from: bearing + low, span: high - low };
}

/**
 * How far the outline may move along `bearing` without turning: `leeway[k]` is how far it may move in any direction before it
 * could touch anything in sector k, so the answer is the least over the sectors whose ground it sweeps, 0 with any unknown.
 * @returns m.
 */
export function leewayAlong(sectors: SectorLeeway, outline: readonly Corner[], bearing: number): number {
  const count = sectors.leeway.length;
  if (count === 0 || outline.length < 3 || !Number.isFinite(bearing)) return 0;
  const width = TAU / count;
  const { from, span } = sweptBearings(outline, bearing);
  const start = (from - sectors.firstBearing) / width;
  const first = Math.floor(start + ROUNDING);
  const last = Math.min(first + count - 1, Math.ceil(start + span / width - ROUNDING) - 1);
  let least = Infinity;
  for (let i = first; i <= last; i++) {
    const k = ((i % count) + count) % count;
    const leeway = sectors.leeway[k];
    least = Math.min(least, sectors.isKnown[k] && leeway > 0 ? leeway : 0); // NaN counts as 0 too
  }
  return least === Infinity ? 0 : least;
}
