import { median } from './quantile.js';

/** s: a driver hands bytes on some milliseconds after they came; an adapter's latency timer is 16 ms. */
const USUAL = 0.01;
/** A sensor that sends a packet at a time makes chunks as far apart as its packets. */
const PACKETS = 1.6;

/**
 * Do the bytes come in batches, later than they need?
 * @param at s[chunks]. @param packetTime s, that a packet takes on the line.
 * @returns gap: s, usual time between chunks; isBatched: more than driver and packets explain.
 */
export function batchingOf(at: readonly number[], packetTime: number): { gap: number; isBatched: boolean } {
  const gaps: number[] = [];
  for (let i = 1; i < at.length; i++) gaps.push(at[i] - at[i - 1]);
  const gap = median(gaps);
  return { gap, isBatched: gap > Math.max(USUAL, PACKETS * packetTime) };
}
