import type { FreeSpace } from '../motion/freeSpace.js';
import type { Pose } from '../motion/reference.js';
import type { SensorModel, SweepPoints } from '../motion/sweepPoints.js';

/** Widest thing that may be a person or a cart, m. */
const WIDEST = 1.0;
/** Samples without such an echo inside one blob, at most. */
const HOLES = 2;
/** s: what was free more recently than this says little, the thing may stand there already. */
const RECENT = 0.35;

/** A few neighbouring echoes that no standing surface explains. */
export interface Blob {
  /** Echoes. */
  readonly count: number;
  /** m, mean of the visible surface in the frame of the start. */
  readonly x: number;
  readonly y: number;
  /** Unit vector from the sensor to it, frame of the start. */
  readonly dx: number;
  readonly dy: number;
  /** m, from the sensor. */
  readonly range: number;
  /** m, across the line of sight, half a sample step added on either side. */
  readonly width: number;
  /** m, one standard deviation of one range there. */
  readonly sigma: number;
  /** Share of earlier sweeps that saw its place and found it free; -1: none saw it. */
  readonly free: number;
  /** Whether something nearer hides its side, so that it may go on. */
  readonly hidden: boolean;
  /** Whether nothing as near adjoins it on either side. */
  readonly alone: boolean;
  /** First and last echo (rows of the points). */
  readonly first: number;
  readonly last: number;
}

/**
 * Groups the echoes that no standing surface explains.
 * @param standing Uint8Array[points.count], 1 where a proven line explains the echo.
 */
export function findBlobs(
  points: SweepPoints,
  standing: Readonly<Uint8Array>,
  sensor: SensorModel,
  pose: Pose,
  free: FreeSpace,
): Blob[] {
  const blobs: Blob[] = [];
  const { count, index, x, y, range, variance, step } = points;
  let first = -1;
  let last = -1;
  for (let i = 0; i <= count; i++) {
    if (i < count && standing[i] === 1) continue;
    if (first >= 0 && i < count && index[i] - index[last] <= HOLES + 1) {
      const dx = x[i] - x[last];
      const dy = y[i] - y[last];
      const r = Math.min(range[i], range[last]);
      const gap = 0.08 + 1.5 * r * step * (index[i] - index[last]) + 3 * Math.sqrt(variance[last]);
      if (dx * dx + dy * dy < gap * gap) {
        last = i;
        continue;
      }
    }
    if (first >= 0) close(points, standing, first, last, sensor, pose, free, blobs);
    first = i;
    last = i;
  }
  return blobs;
}

function close(
  points: SweepPoints,
  standing: Readonly<Uint8Array>,
  first: number,
  last: number,
  sensor: SensorModel,
  pose: Pose,
  free: FreeSpace,
  blobs: Blob[],
): void {
  const { index, x, y, range, variance, step, count } = points;
  let n = 0;
  let mx = 0;
  let my = 0;
  for (let i = first; i <= last; i++) {
    if (standing[i] === 1) continue;
    n++;
    mx += x[i];
    my += y[i];
  }
  const before = first === 0 ? count - 1 : first - 1;
  const after = last === count - 1 ? 0 : last + 1;
  // A lone echo between a nearer and a farther one is a beam that straddles an edge, not a thing.
  if (n === 1 && (range[before] - range[first]) * (range[after] - range[first]) < 0) return;
  mx /= n;
  my /= n;
  const bx = mx - sensor.x;
  const by = my - sensor.y;
  const r = Math.hypot(bx, by);
  const across = Math.abs((x[last] - x[first]) * by - (y[last] - y[first]) * bx) / r + r * step;
  const along = Math.abs((x[last] - x[first]) * bx + (y[last] - y[first]) * by) / r;
  if (Math.max(across, along) > WIDEST) return;
  const c = Math.cos(pose.heading);
  const s = Math.sin(pose.heading);
  const wx = pose.x + c * mx - s * my;
  const wy = pose.y + s * mx + c * my;
  const sigma = Math.sqrt(variance[(first + last) >> 1]);
  const hidden =
    hides(index[first] - index[before], range[before], range[first]) ||
    hides(index[after] - index[last], range[after], range[last]);
  blobs.push({
    count: n,
    x: wx,
    y: wy,
    dx: (c * bx - s * by) / r,
    dy: (s * bx + c * by) / r,
    range: r,
    width: across,
    sigma,
    free: free.freeShare(wx, wy, sigma / Math.sqrt(n), points.middle - RECENT),
    hidden,
    alone:
      isClear(index[first] - index[before], range[before], range[first] + 3 * sigma) &&
      isClear(index[after] - index[last], range[after], range[last] + 3 * sigma),
    first,
    last,
  });
}

function hides(steps: number, neighbour: number, own: number): boolean {
  return Math.abs(steps) <= 3 && neighbour < own - 0.1;
}

function isClear(steps: number, neighbour: number, own: number): boolean {
  return Math.abs(steps) > 4 || neighbour > own + 0.2;
}
