import { TAU } from '../core/angles.js';
import type { EchoBatch } from './echoBatch.js';
import type { Sweep } from './sweep.js';

/** A recorded revolution as a sweep. */
export interface WholeSweep {
  readonly sweep: Sweep;
  /** [sweep.count], each sample's place in the batch. */
  readonly from: Readonly<Int32Array>;
}

/**
 * Makes a sweep of a batch that holds one whole revolution. Samples that do not advance, or go beyond one turn, are left out: a
 * sweep runs one way round, once.
 * @param period s, the revolution took.
 */
export function wholeSweep(batch: EchoBatch, number: number, period: number): WholeSweep {
  const kept = new Int32Array(batch.count);
  let count = 0;
  let turned = 0;
  for (let i = 0; i < batch.count; i++) {
    if (count > 0) {
      const ahead = batch.sense * (batch.bearing[i] - batch.bearing[kept[count - 1]]);
      const step = ahead - TAU * Math.floor(ahead / TAU);
      if (step === 0 || step > TAU / 2 + 0.1 || turned + step > TAU) continue;
      turned += step;
    }
    kept[count++] = i;
  }
  const from = kept.subarray(0, count);
  const pick = <T extends Float64Array | Float32Array | Uint16Array | Uint8Array>(column: Readonly<T>): T =>
    (count === batch.count ? column : column.filter((_, i) => from[lower(from, i)] === i)) as T;
  return {
    sweep: {
      number,
      count,
      firstTime: batch.time[0],
      period,
      time: pick(batch.time),
      bearing: pick(batch.bearing),
      range: pick(batch.range),
      strength: pick(batch.strength),
      kind: pick(batch.kind),
      sense: batch.sense,
    },
    from,
  };
}

/** @returns the first place in the rising column whose value is at least `value`. */
function lower(column: Readonly<Int32Array>, value: number): number {
  let low = 0;
  let high = column.length - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (column[middle] < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
