import type { Wall } from '../../../typescript/src/client.js';
import { wrapAngle } from '../geometry.js';
import type { Model } from '../model.js';
import { cornerAt, type Spot, wallAt } from './snap.js';

/** m, standard deviation of a range that the sensor is expected to have. */
export type Noise = (range: number) => number;

/** @returns m², variance of a wall's place at a point of it, across the wall. @param along m from the foot of the normal. */
function variance(wall: Wall, along: number): number {
  return Math.max(0, wall.distanceVar - 2 * along * wall.crossCov + along * along * wall.normalVar);
}

/** @returns m, along the wall (counter-clockwise from its normal's foot) to a point of the rover's axes. */
function alongOf(wall: Wall, x: number, y: number): number {
  return -x * Math.sin(wall.normalRad) + y * Math.cos(wall.normalRad);
}

/**
 * @param towards rad, world. @returns m², variance of a spot's place in that direction; NaN where nothing is known of it:
 * a point in the open, or one whose wall or corner is not seen.
 */
export function spotVariance(model: Model, spot: Spot, towards: number, noise: Noise): number {
  const bearing = towards - model.pose.heading;
  const dx = spot.x - model.pose.x;
  const dy = spot.y - model.pose.y;
  const c = Math.cos(model.pose.heading);
  const s = Math.sin(model.pose.heading);
  const x = dx * c + dy * s;
  const y = -dx * s + dy * c;
  if (spot.hold === 'wall') {
    const wall = wallAt(model, spot);
    if (wall === undefined) return Number.NaN;
    return Math.cos(wall.normalRad - bearing) ** 2 * variance(wall, alongOf(wall, x, y));
  }
  if (spot.hold === 'corner')
    return cornerAt(model, spot) === undefined ? Number.NaN : cornerVariance(model, x, y, bearing);
  if (spot.hold === 'open') return Number.NaN;
  const beam = Math.atan2(y - model.mounting.yM, x - model.mounting.xM);
  return Math.cos(beam - bearing) ** 2 * noise(Math.hypot(x - model.mounting.xM, y - model.mounting.yM)) ** 2;
}

/** A corner is where two lines cross: N p = d, so its covariance is N⁻¹ diag(var) N⁻ᵀ. */
function cornerVariance(model: Model, x: number, y: number, bearing: number): number {
  let first: Wall | undefined;
  let second: Wall | undefined;
  for (const wall of model.shapes?.walls ?? []) {
    const isNear = Math.min(Math.hypot(wall.x1M - x, wall.y1M - y), Math.hypot(wall.x2M - x, wall.y2M - y)) < 0.3;
    if (!isNear) continue;
    if (first === undefined) first = wall;
    else if (Math.abs(Math.sin(wrapAngle(wall.normalRad - first.normalRad))) > 0.3) second ??= wall;
  }
  if (first === undefined || second === undefined) return Number.NaN;
  const crossing = Math.sin(second.normalRad - first.normalRad);
  const weight1 = Math.sin(second.normalRad - bearing) / crossing;
  const weight2 = -Math.sin(first.normalRad - bearing) / crossing;
  return weight1 ** 2 * variance(first, alongOf(first, x, y)) + weight2 ** 2 * variance(second, alongOf(second, x, y));
}

/** @returns m, length between two spots and its standard deviation; NaN where one end is not measured. */
export function tapeLength(model: Model, a: Spot, b: Spot, noise: Noise): { length: number; deviation: number } {
  const towards = Math.atan2(b.y - a.y, b.x - a.x);
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const variances = spotVariance(model, a, towards, noise) + spotVariance(model, b, towards, noise);
  return { length, deviation: Math.sqrt(variances) };
}
