import { describe, expect, test } from 'vitest';
import { settleOptions } from '../../../src/cli/settleOptions.js';
import { findLayout } from '../../../src/device/layouts/builtIn.js';
import { type Layout, samplesPerTurn } from '../../../src/device/layouts/layout.js';
import { withOptions } from '../../../src/device/layouts/options.js';
import { WireEncoder } from '../../../src/simulator/encode.js';
import { Random } from '../../../src/simulator/random.js';

const deg = Math.PI / 180;
const SEED = 5;
const random = new Random(SEED);

/** m, to the walls of a room seen from inside: 0.6 m ahead, 1.5 m right, 2 m left, 3 m behind. */
function room(bearing: number): number {
  const x = Math.cos(bearing) > 0 ? 0.6 / Math.cos(bearing) : -3 / Math.cos(bearing);
  const y = Math.sin(bearing) > 0 ? 2 / Math.sin(bearing) : -1.5 / Math.sin(bearing);
  return Math.min(x, y);
}

/** @returns thirty revolutions of a sensor that truly is as `layout` says. @param uneven degrees that a sample lies behind its place. */
function bytesOf(layout: Layout, uneven: () => number): Uint8Array {
  const count = Number.isNaN(samplesPerTurn(layout)) ? 400 : samplesPerTurn(layout);
  const bearing: number[] = [];
  const range: number[] = [];
  for (let i = 0; i < 30 * count; i++) {
    const angle = (i * 360) / count - (i % 32 === 0 ? 0 : uneven()); // in the sensor's own, clockwise sense
    let truth = Infinity;
    const aside = (d: number): number =>
      layout.triangulation && !layout.triangulation.isDone ? Math.atan(21.8 * (1 / (1000 * d) - 1 / 155.3)) : 0; // the formula of the description
    for (let k = 0; k < 5; k++) truth = room(-(angle * deg + aside(truth)));
    bearing.push(-(angle * deg + aside(truth)));
    range.push(truth + 0.005 * random.normal());
  }
  return new WireEncoder(layout).encode(
    { count: bearing.length, bearing, range, start: range.map((_, i) => (i % count === 0 ? 1 : 0)) },
    0,
    10,
  );
}
const even = (): number => 0;

describe('a straight wall settles', () => {
  const block32 = findLayout('block32');
  const packetN = findLayout('packetN');
  test.each([
    { layout: block32, truth: { correction_signed: false }, uneven: () => 6 * random.uniform() },
    { layout: block32, truth: { correction_signed: true }, uneven: () => 3 * random.uniform() - 1.5 },
    { layout: packetN, truth: { bearings_corrected: false }, uneven: even },
    { layout: packetN, truth: { bearings_corrected: true }, uneven: even },
  ])('$layout.name: $truth, at the noise of a cheap sensor', ({ layout, truth, uneven }) => {
    const { values, trials, echoes } = settleOptions(bytesOf(withOptions(layout, truth), uneven), layout);
    console.log(
      `${layout.name} ${JSON.stringify(truth)}: ${echoes} echoes, ${trials.map(({ values: v, roughness }) => `${JSON.stringify(v)} ${(1000 * roughness).toFixed(1)} mm`).join(', ')}`,
    );
    expect(values).toEqual(truth);
  });

  test('nothing where nothing tells: no corrections in the bytes, no bytes, no such option', () => {
    expect(settleOptions(bytesOf(block32, even), block32).values).toBeUndefined();
    expect(settleOptions(new Uint8Array(0), packetN)).toMatchObject({ echoes: 0 });
    const sample5 = findLayout('sample5');
    const { values, trials } = settleOptions(bytesOf(sample5, even), sample5);
    expect(values).toBeUndefined();
    expect(trials).toHaveLength(1);
    expect(trials[0].roughness).toBeLessThan(0.008);
  });
});
