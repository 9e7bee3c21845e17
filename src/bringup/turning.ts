import type { Sweep } from '../sweep/sweep.js';
import { median, quantile } from './quantile.js';

/** How the sensor turns. */
export interface Turning {
  /** s[revolutions], Clock: middle of each revolution. */
  readonly at: Float64Array;
  /** Hz[revolutions] */
  readonly spin: Float64Array;
  /** Hz */
  readonly median: number;
  /** Half of the span from the 10 % to the 90 % quantile, as a share of the median: a host that was late once or twice is not in it. */
  readonly spread: number;
  /** It sinks: dips from where it usually is, or falls from the first third to the last. Share of the median, >= 0. */
  readonly sag: number;
}

const TAIL = 0.1;
const DIP_TAIL = 0.04;
/** A dip is one-sided: above the median there is less than half as much as below. */
const ONE_SIDED = 0.5;

/** @param sweeps in order. Each value is the median of three, so that one mistimed revolution says nothing. */
export function turningOf(sweeps: readonly Sweep[]): Turning {
  const raw = sweeps.map(({ period }) => 1 / period);
  const spin = Float64Array.from(raw, (_, i) => median(raw.slice(Math.max(0, i - 1), i + 2)));
  const at = Float64Array.from(sweeps, ({ firstTime, period }) => firstTime + period / 2);
  const middle = median(spin);
  const span = (tail: number): [below: number, above: number] => [
    (middle - quantile(spin, tail)) / middle,
    (quantile(spin, 1 - tail) - middle) / middle,
  ];
  const [below, above] = span(DIP_TAIL);
  const [low, high] = span(TAIL);
  const third = Math.floor(spin.length / 3);
  const fall = (median(spin.subarray(0, third)) - median(spin.subarray(spin.length - third))) / middle;
  const dip = above < ONE_SIDED * below ? below : 0;
  return { at, spin, median: middle, spread: (low + high) / 2, sag: Math.max(0, dip, third > 0 ? fall : 0) };
}
