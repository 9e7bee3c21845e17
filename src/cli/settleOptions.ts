import { Decoder } from '../device/decoder.js';
import type { Layout } from '../device/layouts/layout.js';
import { type OptionValues, wallTrials, withOptions } from '../device/layouts/options.js';
import { straightness } from '../geometry/straightness.js';

/** What straight walls say about a layout's options. */
export interface SettledOptions {
  /** The values under which walls come out clearly straightest; absent: the bytes do not tell, or there is nothing to settle. */
  readonly values?: OptionValues;
  /** Every combination, and how far (m, rms) echoes of a wall lie from its line under it; NaN: no wall in sight. */
  readonly trials: readonly { readonly values: OptionValues; readonly roughness: number }[];
  /** Echoes on walls. */
  readonly echoes: number;
}

/**
 * The second best must be rougher, in mean squares, by this share (no wall is quite flat), and by so much that noise alone does not do
 * it: the share times the echoes is what a chi-squared test would look at, and 30 are more than 5 sigma.
 */
const SHARE = 0.05;
const SURELY = 30;

/**
 * Decodes the same bytes under each combination of the options that a straight wall settles, and takes the one under which
 * walls are straight.
 * @param bytes three seconds or more, with a straight wall somewhere, 0.3 to 1 m away and 3.5 times as wide as it is away.
 */
export function settleOptions(bytes: Readonly<Uint8Array>, layout: Layout): SettledOptions {
  const combinations = wallTrials(layout);
  const readings = combinations.map((values) => {
    const { bearing, range, count } = new Decoder(withOptions(layout, values)).push(bytes);
    return { bearing: bearing.slice(0, count), range: range.slice(0, count) };
  });
  const { roughness, echoes } = straightness(
    readings.map(({ bearing }) => bearing),
    readings[0].range,
  );
  const trials = combinations.map((values, k) => ({ values, roughness: roughness[k] }));
  const [best, second] = trials.toSorted((a, b) => a.roughness - b.roughness);
  const rougher = second === undefined ? 0 : (second.roughness / best.roughness) ** 2 - 1;
  const isSettled = rougher > SHARE && rougher * echoes > SURELY;
  return { ...(isSettled && { values: best.values }), trials, echoes };
}
