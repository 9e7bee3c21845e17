import { TAU } from '../core/angles.js';
import { Fault } from '../core/fault.js';
import { type NoiseModel, rangeSigma } from '../estimate/noise.js';
import { SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { median, quantile } from './quantile.js';
import { binOf } from './stretches.js';

/** How the beam's plane lies. rad and m. */
export type Level =
  | {
      readonly kind: 'tilted';
      /** Nose down and left side up are positive. */
      readonly pitch: number;
      readonly roll: number;
      /** Standard deviation of each. */
      readonly sd: number;
      /** Where beam and floor meet first: bearing and range. */
      readonly bearing: number;
      readonly range: number;
    }
  /** No beam ended at the floor: the tilt is less than `bound`. */
  | { readonly kind: 'level'; readonly bound: number };

const DEGREE = Math.PI / 180;
const BINS = 72;
const BIN = TAU / BINS;
/** 1/m: cells of inverse range, in which the floor is a sine of the bearing; up to 1 / 0.2 m. */
const CELL = 0.01;
const CELLS = 500;
/** 1/m, how far a sample may be from the sine in the search, and at last. */
const NEAR = 0.03;
const NEAR_LAST = 0.012;
const TILT_MOST = 12 * DEGREE;
const TILT_STEP = 0.1 * DEGREE;
const AIM_STEP = 3 * DEGREE;
/** Bins in which the floor must be seen, and its share of their samples. */
const BINS_LEAST = 6;
const SHARE_LEAST = 0.2;
/** Share of the samples at or beyond the floor that may come from beyond it: chance. */
const BEYOND_MOST = 0.1;
/** A bearing whose ranges stay within this share has not been turned. */
const STILL = 0.08;

/**
 * Pitch and roll from the floor. While the rover turns on the spot, walls come and go at each bearing of the rover; where the
 * tilted beam ends at the floor, the range stays. With beams turned by roll about x, then pitch about y, a beam at bearing b
 * sinks by cos(b) sin(pitch) - sin(b) sin(roll) cos(pitch) a metre, so at height h the floor is at
 *
 *     1 / r = (A cos b + B sin b) / h,   A = sin(pitch),   B = -sin(roll) cos(pitch):
 *
 * linear in A and B. A search over tilt and direction counts the samples on that sine less those that came from beyond it, where
 * no beam can come from; least squares on the samples near it follow.
 *
 * @param sweeps of a turn on the spot. @param height m, of the sensor above the floor. @param reach m, farthest.
 * @throws {Fault} STEP_UNCLEAR: the rover did not turn, or too little came back.
 */
export function levelOf(sweeps: readonly Sweep[], height: number, reach: number, noise: NoiseModel): Level {
  const bearings: number[] = [];
  const ranges: number[] = [];
  const byBin = Array.from({ length: BINS }, (): number[] => []);
  for (const { count, bearing, range, kind } of sweeps) {
    for (let i = 0; i < count; i++) {
      if (kind[i] !== SAMPLE_KIND.echo || range[i] > reach) continue;
      bearings.push(bearing[i]);
      ranges.push(range[i]);
      byBin[binOf(bearing[i], BINS)].push(range[i]);
    }
  }
  const seen = byBin.filter((values) => values.length > 20);
  if (seen.length < BINS / 4) throw new Fault('STEP_UNCLEAR', { text: 'too few echoes come back to tell the level' });
  const spreads = seen.map((values) => (quantile(values, 0.9) - quantile(values, 0.1)) / median(values));
  if (median(spreads) < STILL && quantile(spreads, 0.75) < 2 * STILL)
    throw new Fault('STEP_UNCLEAR', { text: 'the rover has not turned: ranges stay as they are all round' });
  const start = search(byBin, height, reach);
  const bound = Math.max(...seen.map((values) => height / quantile(values, 0.9)));
  if (start === undefined) return { kind: 'level', bound };
  const found = refine(bearings, ranges, start, height, noise);
  return isFloor(byBin, found, height, reach, noise) ? toLevel(found, height) : { kind: 'level', bound };
}

/** Walls far away lie near some wide sine too; but no beam gets beyond a floor, and where it can it ends there. */
function isFloor(
  byBin: readonly (readonly number[])[],
  { a, b }: Sine,
  height: number,
  reach: number,
  noise: NoiseModel,
): boolean {
  let holds = 0;
  let fails = 0;
  byBin.forEach((ranges, bin) => {
    const bearing = (bin + 0.5) * BIN - Math.PI;
    const inverse = (a * Math.cos(bearing) + b * Math.sin(bearing)) / height;
    if (inverse < 1 / reach) return;
    const across = ((Math.hypot(a, b) / height) * BIN) / 2; // how much the sine may change within half a bin
    const near = 3 * rangeSigma(noise, 1 / inverse) * inverse * inverse + across;
    const on = ranges.filter((range) => Math.abs(1 / range - inverse) <= near).length;
    const beyond = ranges.filter((range) => 1 / range < inverse - near).length;
    if (beyond > BEYOND_MOST * (on + beyond)) fails++;
    else if (on > SHARE_LEAST * ranges.length) holds++;
  });
  return holds >= BINS_LEAST && fails <= holds / 4;
}

interface Sine {
  readonly a: number;
  readonly b: number;
}

/** @returns the sine of inverse range times height that most samples lie on; undefined: none does. */
function search(byBin: readonly (readonly number[])[], height: number, reach: number): Sine | undefined {
  // below[bin][cell]: samples of inverse range less than cell * CELL
  const below = byBin.map((values) => {
    const sums = new Uint32Array(CELLS + 1);
    for (const range of values) sums[Math.min(CELLS, Math.floor(1 / range / CELL) + 1)]++;
    for (let cell = 1; cell <= CELLS; cell++) sums[cell] += sums[cell - 1];
    return sums;
  });
  const cellOf = (inverse: number): number => Math.max(0, Math.min(CELLS, Math.round(inverse / CELL)));
  let best: Sine | undefined;
  let bestScore = 0;
  for (let tilt = TILT_STEP; tilt <= TILT_MOST; tilt += TILT_STEP) {
    for (let aim = -Math.PI; aim < Math.PI; aim += AIM_STEP) {
      let score = 0;
      let bins = 0;
      for (let bin = 0; bin < BINS; bin++) {
        const inverse = (Math.sin(tilt) * Math.cos((bin + 0.5) * BIN - Math.PI - aim)) / height;
        if (inverse < 1 / reach) continue;
        const sums = below[bin];
        const from = sums[cellOf(inverse - NEAR)];
        const on = sums[cellOf(inverse + NEAR)] - from;
        score += on - 2 * from;
        if (on > SHARE_LEAST * sums[CELLS] && on > 0) bins++;
      }
      if (bins < BINS_LEAST || score <= bestScore) continue;
      bestScore = score;
      best = { a: Math.sin(tilt) * Math.cos(aim), b: Math.sin(tilt) * Math.sin(aim) };
    }
  }
  return best;
}

function refine(
  bearings: readonly number[],
  ranges: readonly number[],
  start: Sine,
  height: number,
  noise: NoiseModel,
): Sine & { readonly sd: number } {
  let { a, b } = start;
  let sd = NaN;
  for (const near of [NEAR, NEAR, (NEAR + NEAR_LAST) / 2, NEAR_LAST, NEAR_LAST]) {
    let cc = 0;
    let cs = 0;
    let ss = 0;
    let cv = 0;
    let sv = 0;
    for (let i = 0; i < ranges.length; i++) {
      const c = Math.cos(bearings[i]) / height;
      const s = Math.sin(bearings[i]) / height;
      const inverse = 1 / ranges[i];
      if (Math.abs(inverse - a * c - b * s) > near) continue;
      const sigma = rangeSigma(noise, ranges[i]) * inverse * inverse;
      const weight = 1 / (sigma * sigma);
      cc += weight * c * c;
      cs += weight * c * s;
      ss += weight * s * s;
      cv += weight * c * inverse;
      sv += weight * s * inverse;
    }
    const det = cc * ss - cs * cs;
    a = (cv * ss - sv * cs) / det;
    b = (sv * cc - cv * cs) / det;
    sd = Math.sqrt(Math.max(cc, ss) / det);
  }
  return { a, b, sd };
}

function toLevel({ a, b, sd }: Sine & { readonly sd: number }, height: number): Level {
  const pitch = Math.asin(a);
  const roll = Math.asin(-b / Math.cos(pitch));
  return { kind: 'tilted', pitch, roll, sd, bearing: Math.atan2(b, a), range: height / Math.hypot(a, b) };
}
