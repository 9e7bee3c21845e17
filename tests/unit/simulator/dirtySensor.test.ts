// deploy/dirty-sensor.yaml against the recording of a worn sensor on a small rover (shared/data/lowcost360-a, see its README):
// the same statistics are taken of both, and none of them is written down here.
import { expect, test } from 'vitest';
import { loadConfig } from '../../../src/config/load.js';
import { readRows, sharedPath } from '../../support/sharedData.js';
import { roomWith, simulatedSensor } from '../../support/simulatedLine.js';

interface Figures {
  /** Samples a revolution: mean and deviation as a share of it. */
  readonly samples: number;
  readonly waver: number;
  /** Share of the samples with an echo, and how many of them come in a row. */
  readonly valid: number;
  readonly run: number;
  /** m, deviation of one range, by whole metres from 1 to 6: from second differences of three in a row on one surface. */
  readonly noise: readonly number[];
}

function figuresOf(sweeps: readonly (readonly number[])[]): Figures {
  const counts = sweeps.map((ranges) => ranges.length);
  const mean = counts.reduce((a, b) => a + b) / counts.length;
  const deviation = Math.sqrt(counts.reduce((sum, count) => sum + (count - mean) ** 2, 0) / counts.length);
  let valid = 0;
  let runs = 0;
  const bends: number[][] = Array.from({ length: 7 }, () => []);
  for (const ranges of sweeps) {
    for (const [i, range] of ranges.entries()) {
      if (range === 0) continue;
      valid++;
      if (i === 0 || ranges[i - 1] === 0) runs++;
      const [before, after] = [ranges[i - 1] ?? 0, ranges[i + 1] ?? 0];
      if (before === 0 || after === 0 || Math.max(Math.abs(before - range), Math.abs(after - range)) > 0.1 * range)
        continue;
      bends[Math.floor(range)]?.push(Math.abs(before - 2 * range + after));
    }
  }
  // of a normal distribution the median of the absolute value is 0.6745 sigma; a second difference has √6 of one range's sigma
  const noise = bends.slice(1).map((bin) => bin.sort((a, b) => a - b)[bin.length >> 1] / 0.6745 / Math.sqrt(6));
  const all = counts.reduce((a, b) => a + b);
  return { samples: mean, waver: deviation / mean, valid: valid / all, run: valid / runs, noise };
}

const path = sharedPath('data/lowcost360-a.ndjson.gz');

test.skipIf(path === undefined)('the dirty sensor is as dirty as the recorded one', () => {
  const recorded = figuresOf(readRows<{ ranges: number[] }>(path ?? '').map(({ ranges }) => ranges));
  const { sensor, simulator } = loadConfig('deploy/dirty-sensor.yaml');
  const rate = (2000 * (sensor.baud ?? 115_200)) / 115_200; // as the line carries them
  const world = roomWith({
    start: { x: 2, y: 2.4, heading: 0 },
    walls: [
      {
        name: 'wall',
        points: [
          [0, 0],
          [8.6, 0],
          [8.6, 6],
          [0, 6],
          [0, 0],
        ],
        surface: 'wall',
        height: [0, 2],
      },
    ],
  });
  const m = simulatedSensor({ model: simulator.sensor, world, rate }).sensor.measure(200 * rate);
  const sweeps: number[][] = [];
  for (let i = 0; i < m.count; i++) {
    if (m.start[i] === 1) sweeps.push([]);
    sweeps.at(-1)?.push(m.range[i]);
  }
  const simulated = figuresOf(sweeps.slice(15, -1)); // run up
  console.log(JSON.stringify({ recorded, simulated }));
  expect(Math.abs(simulated.samples / recorded.samples - 1)).toBeLessThan(0.05);
  expect(Math.abs(simulated.waver / recorded.waver - 1)).toBeLessThan(0.25);
  expect(Math.abs(simulated.valid - recorded.valid)).toBeLessThan(0.01);
  expect(Math.abs(simulated.run / recorded.run - 1)).toBeLessThan(0.1);
  for (const [i, sigma] of simulated.noise.entries()) {
    if (i < 6)
      expect(Math.abs(sigma / recorded.noise[i] - 1), `${i + 1} m: ${sigma}, ${recorded.noise[i]}`).toBeLessThan(0.35);
  }
});
