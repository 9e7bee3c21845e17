import { SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { binOf, runsOf, type Stretch, stretchOf } from './stretches.js';

/** Bins of 5 degrees: wide enough for some tens of samples each in some seconds. */
export const RETURN_BINS = 72;
/** More than this share of empty samples: nothing is seen there. */
const MISSING = 0.5;

/** Samples without an echo, by bearing. */
export interface Returns {
  /** [RETURN_BINS] share of the samples that came back, from -π on, masked ones too; NaN where none came. */
  readonly share: Float64Array;
  /** Of all samples outside masks. */
  readonly validShare: number;
  /** Where most samples come back empty. */
  readonly missing: readonly Stretch[];
  /** Share of the circle that is missing. */
  readonly missingShare: number;
  /** Share of empty samples in the directions that are not missing. */
  readonly scattered: number;
}

/** @returns how many samples came back with an echo, by bearing; an echo in a mask is one too. */
export function returnsOf(sweeps: readonly Sweep[]): Returns {
  const total = new Uint32Array(RETURN_BINS);
  const empty = new Uint32Array(RETURN_BINS);
  let masked = 0;
  for (const { count, bearing, kind } of sweeps) {
    for (let i = 0; i < count; i++) {
      const bin = binOf(bearing[i], RETURN_BINS);
      total[bin]++;
      if (kind[i] === SAMPLE_KIND.empty) empty[bin]++;
      else if (kind[i] === SAMPLE_KIND.masked) masked++;
    }
  }
  const share = Float64Array.from(total, (n, bin) => (n === 0 ? NaN : 1 - empty[bin] / n));
  const isMissing = (bin: number): boolean => share[bin] < 1 - MISSING;
  const runs = runsOf(RETURN_BINS, isMissing);
  let seen = 0;
  let seenEmpty = 0;
  for (let bin = 0; bin < RETURN_BINS; bin++) {
    if (isMissing(bin)) continue;
    seen += total[bin];
    seenEmpty += empty[bin];
  }
  const sum = (counts: Uint32Array): number => counts.reduce((a, b) => a + b, 0);
  return {
    share,
    validShare: 1 - sum(empty) / Math.max(1, sum(total) - masked),
    missing: runs.map((run) => stretchOf(run, RETURN_BINS)),
    missingShare: runs.reduce((bins, { first, last }) => bins + last - first, 0) / RETURN_BINS,
    scattered: seen === 0 ? 0 : seenEmpty / seen,
  };
}
