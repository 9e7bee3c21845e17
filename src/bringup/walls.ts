import { wrapAngle } from '../core/angles.js';
import { SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { median } from './quantile.js';

/** A flat piece in sight, by all revolutions together; the rover stands still. */
export interface Flat {
  /** rad, rover axes: middle of the window it was seen in. */
  readonly bearing: number;
  /** m, mean range. */
  readonly range: number;
  /** m, standard deviation of one range about its mean at the same bearing. */
  readonly noise: number;
  /** m, rms of those means about the straight line: what is not flat, or bends. */
  readonly roughness: number;
  /** Share of the echoes that are far from the others of their bearing: damaged bytes, rain, dust. They count for nothing else. */
  readonly strays: number;
  /** m, the step that all ranges are multiples of, as far as they tell; NaN: they are all the same. */
  readonly step: number;
}

const DEGREE = Math.PI / 180;
/** Windows of 20 degrees every 5: at 1 m some 35 cm of wall. */
const WINDOW = 20 * DEGREE;
const EVERY = 5 * DEGREE;
const CELL = DEGREE;
const CELLS = Math.round(WINDOW / CELL);
const ECHOES_LEAST = 100;
const ECHO_SHARE = 0.5;
/** Standard deviations from the middle of its bearing beyond which an echo is a stray, and m that it takes at least. */
const STRAY = 5;
const STRAY_LEAST = 0.005;
/** rad between beam and the wall's normal: at a flatter angle a range says more of the bearing than of the wall. */
const SLANT = 50 * DEGREE;
/** m: what counts as a wall may be so rough, plus half of the noise. */
const ROUGH = 0.01;
/** m, noise beyond this is no wall's. */
const NOISE_MOST = 0.2;
const SWEEPS_MOST = 60;

/**
 * Looks for straight pieces in the windows of the circle.
 * @returns every flat piece, the flattest first.
 * @source the line of least squared perpendicular distance: Pearson 1901, Phil. Mag. 2(11):559-572; noise by the one-way
 *   analysis of variance: pooled within cells of equal bearing, roughness between them.
 */
export function flatsOf(sweeps: readonly Sweep[]): Flat[] {
  const used = sweeps.slice(-SWEEPS_MOST);
  const flats: Flat[] = [];
  for (let middle = -Math.PI; middle < Math.PI - EVERY / 2; middle += EVERY) {
    const flat = flatIn(used, middle);
    if (flat !== undefined) flats.push(flat);
  }
  return flats.sort((a, b) => a.noise + a.roughness - b.noise - b.roughness);
}

function flatIn(sweeps: readonly Sweep[], middle: number): Flat | undefined {
  const bearings: number[] = []; // rad, from the window's middle
  const ranges: number[] = [];
  let samples = 0;
  for (const { count, bearing, range, kind } of sweeps) {
    for (let i = 0; i < count; i++) {
      const aside = wrapAngle(bearing[i] - middle);
      if (Math.abs(aside) >= WINDOW / 2) continue;
      samples++;
      if (kind[i] !== SAMPLE_KIND.echo) continue;
      bearings.push(aside);
      ranges.push(range[i]);
    }
  }
  if (bearings.length < ECHOES_LEAST || bearings.length < ECHO_SHARE * samples) return undefined;
  const kept = withoutStrays(bearings, ranges);
  const { normal, distance } = fitLine(kept.bearings, kept.ranges);
  if (Math.abs(normal) > SLANT) return undefined;
  const strays = 1 - kept.ranges.length / ranges.length;
  return flatAbout({ ...kept, normal, distance, middle, strays });
}

const cellOf = (bearing: number): number => Math.min(CELLS - 1, Math.max(0, Math.floor((bearing + WINDOW / 2) / CELL)));

/** One damaged range in a hundred would outweigh all others in any sum of squares. */
function withoutStrays(
  bearings: readonly number[],
  ranges: readonly number[],
): { bearings: number[]; ranges: number[] } {
  const cells = Array.from({ length: CELLS }, (): number[] => []);
  for (let i = 0; i < ranges.length; i++) cells[cellOf(bearings[i])].push(ranges[i]);
  const step = stepOf(ranges);
  const least = step > 0 ? Math.max(STRAY_LEAST, 1.5 * step) : STRAY_LEAST; // the neighbouring step is no stray
  const middles = cells.map((values) => median(values));
  // 1.4826: from the median of distances to the standard deviation of a normal distribution
  const limits = cells.map((values, cell) =>
    Math.max(least, STRAY * 1.4826 * median(values.map((range) => Math.abs(range - middles[cell])))),
  );
  const kept = ranges
    .map((_, i) => i)
    .filter((i) => {
      const cell = cellOf(bearings[i]);
      return Math.abs(ranges[i] - middles[cell]) <= limits[cell];
    });
  return { bearings: kept.map((i) => bearings[i]), ranges: kept.map((i) => ranges[i]) };
}

/** @returns the line x cos(normal) + y sin(normal) = distance, normal in rad from the window's middle, distance > 0. */
function fitLine(bearings: readonly number[], ranges: readonly number[]): { normal: number; distance: number } {
  const n = bearings.length;
  const xs = ranges.map((range, i) => range * Math.cos(bearings[i]));
  const ys = ranges.map((range, i) => range * Math.sin(bearings[i]));
  const mx = xs.reduce((a, b) => a + b, 0) / n;
  const my = ys.reduce((a, b) => a + b, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let i = 0; i < n; i++) {
    xx += (xs[i] - mx) ** 2;
    xy += (xs[i] - mx) * (ys[i] - my);
    yy += (ys[i] - my) ** 2;
  }
  const normal = 0.5 * Math.atan2(-2 * xy, yy - xx);
  const distance = mx * Math.cos(normal) + my * Math.sin(normal);
  return distance >= 0 ? { normal, distance } : { normal: wrapAngle(normal + Math.PI), distance: -distance };
}

function flatAbout(window: {
  readonly bearings: readonly number[];
  readonly ranges: readonly number[];
  readonly normal: number;
  readonly distance: number;
  readonly middle: number;
  readonly strays: number;
}): Flat | undefined {
  const { bearings, ranges, normal, distance, middle, strays } = window;
  const count = new Float64Array(CELLS);
  const sum = new Float64Array(CELLS);
  const squares = new Float64Array(CELLS);
  for (let i = 0; i < bearings.length; i++) {
    const cell = cellOf(bearings[i]);
    const off = ranges[i] - distance / Math.cos(bearings[i] - normal);
    count[cell]++;
    sum[cell] += off;
    squares[cell] += off * off;
  }
  let within = 0;
  let between = 0;
  let cells = 0;
  for (let cell = 0; cell < CELLS; cell++) {
    if (count[cell] === 0) continue;
    cells++;
    between += (sum[cell] / count[cell]) ** 2;
    within += squares[cell] - sum[cell] ** 2 / count[cell];
  }
  const noise = Math.sqrt(Math.max(0, within / (bearings.length - cells)));
  const chance = (noise * noise * cells) / bearings.length; // what noise alone makes of the means
  const roughness = Math.sqrt(Math.max(0, between / cells - chance));
  if (!(noise <= NOISE_MOST && roughness <= ROUGH + noise / 2)) return undefined;
  const range = ranges.reduce((a, b) => a + b, 0) / ranges.length;
  return { bearing: wrapAngle(middle), range, noise, roughness, strays, step: stepOf(ranges) };
}

/** m: ranges nearer together are the same one; single precision rounds to less. */
const SAME = 2e-5;

/** @returns m, the least distance between two different ranges; NaN where there is but one. */
export function stepOf(ranges: readonly number[]): number {
  const sorted = Float64Array.from(ranges).sort();
  let step = NaN;
  for (let i = 1; i < sorted.length; i++) {
    const gap = sorted[i] - sorted[i - 1];
    if (gap > SAME && !(gap >= step)) step = gap;
  }
  return step;
}
