// Noise, steps and roughness of walls against the simulated truth, over seeds.
import { describe, expect, test } from 'vitest';
import { flatsOf, stepOf } from '../../../src/bringup/walls.js';
import { findLayout } from '../../../src/device/layouts/builtIn.js';
import { DEFAULT_NOISE, rangeSigma } from '../../../src/estimate/noise.js';
import { type BenchSetting, benchSweeps, sceneOf, soundSensor } from '../../support/benchSensor.js';

const as = {
  mount: soundSensor(findLayout('sample5')).mount,
  reach: [0.15, 12] as const,
  range: { offset: 0, scale: 1 },
  masks: [],
};
const flats = (change: Partial<BenchSetting>, seed: number) =>
  flatsOf(benchSweeps({ ...soundSensor(findLayout('sample5')), ...change }, as, 4, seed));

describe('the flattest wall', () => {
  test.each([1, 2, 3, 4, 5, 6])(
    'noise and step of a sound sensor, of a noisy one and of a coarse one, seed %d',
    (seed) => {
      for (const noise of [0.5, 1, 5]) {
        const [flat] = flats({ noise }, seed);
        expect(flat.noise / (noise * rangeSigma(DEFAULT_NOISE, flat.range))).toBeGreaterThan(0.75); // the flattest of many: rather below
        expect(flat.noise / (noise * rangeSigma(DEFAULT_NOISE, flat.range))).toBeLessThan(1.15);
        expect(flat.step).toBeCloseTo(0.00025, 5); // the layout's quarter of a millimetre
      }
      const [coarse] = flats({ step: 0.03 }, seed);
      expect(coarse.step).toBeCloseTo(0.03, 3);
      expect(coarse.noise).toBeLessThan(0.02);
      expect(coarse.strays).toBeLessThan(0.01); // the neighbouring step is none
    },
  );

  test('stems all round are no wall', () => {
    const stems = Array.from({ length: 60 }, (_, i) => {
      const range = 1 + 2 * (((i * 37) % 60) / 60);
      return [range * Math.cos((i * Math.PI) / 30), range * Math.sin((i * Math.PI) / 30), 0.06 * range];
    });
    expect(flats({ world: sceneOf([], stems) }, 1)).toEqual([]);
  });

  test('the step of ranges, by hand', () => {
    expect(stepOf([1, 1.02, 1.06, 1.02])).toBeCloseTo(0.02, 12);
    expect(stepOf([1, 1, 1])).toBeNaN();
    expect(stepOf([])).toBeNaN();
  });
});
