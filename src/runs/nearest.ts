import type { Outline } from '../geometry/outline.js';
import type { ServerMessage } from '../messages/codec.js';

/** What must be known of rover and sensor to say how near an echo is. */
export interface NearSetting {
  readonly outline: Outline;
  /** m, of the sensor from the rover's origin; nearest and farthest range that is believed. */
  readonly sensor: readonly [number, number];
  readonly reach: readonly [number, number];
}

/** Echoes in reach, m, rover axes, in the order of the sweep. */
export interface Points {
  readonly count: number;
  readonly x: Readonly<Float64Array>;
  readonly y: Readonly<Float64Array>;
}

const COMPANION = 0.15; // m: a neighbouring echo so near says that it is no stray one

/** @returns the echoes of a sweep. @cost a sine and a cosine an echo. */
export function echoPoints(
  { bearingRad, rangeMm }: NonNullable<ServerMessage['sweep']>,
  { sensor, reach }: NearSetting,
): Points {
  const bearings = bearingRad ?? [];
  const ranges = rangeMm ?? [];
  const x = new Float64Array(ranges.length);
  const y = new Float64Array(ranges.length);
  let count = 0;
  for (let i = 0; i < ranges.length; i++) {
    const range = ranges[i] / 1000;
    if (!(range >= reach[0] && range <= reach[1])) continue;
    x[count] = sensor[0] + range * Math.cos(bearings[i]);
    y[count++] = sensor[1] + range * Math.sin(bearings[i]);
  }
  return { count, x, y };
}

/**
 * The echo nearest to the outline; strays that stand alone, and what lies inside the outline (the rover's own body), are left out.
 * @param below m: none farther counts. @returns its number, -1 for none.
 */
export function nearestEcho(
  { x, y, count }: Points,
  outline: Outline,
  below: number,
): { at: number; distance: number } {
  let distance = below;
  let at = -1;
  for (let i = 1; i + 1 < count; i++) {
    const far = distance + outline.radius;
    if (x[i] * x[i] + y[i] * y[i] > far * far) continue;
    const before = Math.hypot(x[i] - x[i - 1], y[i] - y[i - 1]);
    const after = Math.hypot(x[i] - x[i + 1], y[i] - y[i + 1]);
    if (Math.min(before, after) > COMPANION) continue;
    const here = outline.distance(x[i], y[i]);
    if (here >= distance || here === 0) continue;
    distance = here;
    at = i;
  }
  return { at, distance };
}
