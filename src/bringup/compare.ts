import { Fault } from '../core/fault.js';
import { type NoiseModel, rangeSigma } from '../estimate/noise.js';
import type { Figures } from './examine.js';

/** Times as noisy, and as uneven, as at bring-up. */
const NOISIER = 1.8;
const UNEVEN = 3;
/** Shares that a figure may have moved. */
const SPIN_MOVED = 0.1;
const RATE_FELL = 0.1;
const RETURNS_FELL = 0.1;
const SPREAD_SEEN = 0.01;

/**
 * Compares a look with the one kept at bring-up. Noise grows with range, so each is taken relative to what `model` says at its range.
 * @returns one finding with everything that is worse; undefined: nothing is.
 */
export function compare(now: Figures, before: Figures, model: NoiseModel): Fault | undefined {
  const worse: string[] = [];
  const relative = ({ noise_m, noise_at_m }: Figures): number =>
    noise_m === null || noise_at_m === null ? NaN : noise_m / rangeSigma(model, noise_at_m);
  const times = relative(now) / relative(before);
  if (times > NOISIER) worse.push(`noise is ${times.toFixed(1)} times that of bring-up`);
  if (Math.abs(now.spin_hz / before.spin_hz - 1) > SPIN_MOVED)
    worse.push(`spin was ${before.spin_hz.toFixed(1)}, is ${now.spin_hz.toFixed(1)} revolutions/s`);
  if (now.spin_spread > SPREAD_SEEN && now.spin_spread > UNEVEN * before.spin_spread)
    worse.push(`spin is ${(now.spin_spread / before.spin_spread).toFixed(0)} times as uneven`);
  if (now.samples_per_s < (1 - RATE_FELL) * before.samples_per_s)
    worse.push(`samples fell from ${before.samples_per_s.toFixed(0)} to ${now.samples_per_s.toFixed(0)} a second`);
  if (now.valid_share < before.valid_share - RETURNS_FELL)
    worse.push(`echoes fell from ${percent(before.valid_share)} to ${percent(now.valid_share)} of the samples`);
  return worse.length === 0
    ? undefined
    : new Fault('BASELINE_WORSE', { text: `worse than at bring-up: ${worse.join('; ')}` });
}

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
