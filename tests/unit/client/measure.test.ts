import { beforeEach, describe, expect, test } from 'vitest';
import type { Wall } from '../../../clients/typescript/src/client.js';
import { spotVariance, tapeLength } from '../../../clients/web/src/measure/deviation.js';
import { Marks } from '../../../clients/web/src/measure/marks.js';
import { Residuals } from '../../../clients/web/src/measure/residuals.js';
import type { Spot } from '../../../clients/web/src/measure/snap.js';
import { Model } from '../../../clients/web/src/model.js';
import { degrees, measuredLength, useUnits } from '../../../clients/web/src/units.js';
import { seededRandom } from '../../support/random.js';

const stamps = { sequence: 1, timeS: 100, sentS: 100 };
const noise = (): number => 0.006;

function wall(normalRad: number, distanceM: number, half: number, distanceVar = 9e-6): Wall {
  const [c, s] = [Math.cos(normalRad), Math.sin(normalRad)];
  return {
    ...{ normalRad, distanceM, distanceVar, crossCov: 0, normalVar: 1e-8, roughnessM: 0, echoes: 60 },
    ...{ x1M: distanceM * c + half * s, y1M: distanceM * s - half * c },
    ...{ x2M: distanceM * c - half * s, y2M: distanceM * s + half * c },
  };
}

/** A rover between two parallel walls, 1.4 m to the left and 1.1 m to the right. */
function corridor(walls: readonly Wall[]): Model {
  const model = new Model();
  model.shapes = { sweep: 1, walls, corners: [], openings: [], posts: [] };
  return model;
}

const on = (normal: number, distance: number): Spot => ({
  ...{ hold: 'wall', x: distance * Math.cos(normal), y: distance * Math.sin(normal), normal, distance },
});

describe('tape', () => {
  test('across a corridor: variances of both walls add up (independent errors)', () => {
    const model = corridor([wall(Math.PI / 2, 1.4, 3, 9e-6), wall(-Math.PI / 2, 1.1, 3, 16e-6)]);
    const { length, deviation } = tapeLength(model, on(Math.PI / 2, 1.4), on(-Math.PI / 2, 1.1), noise);
    expect(length).toBeCloseTo(2.5, 9);
    expect(deviation).toBeCloseTo(0.005, 9); // √(3² + 4²) mm
  });

  test('along a wall its own doubt does not count; away from the foot the doubt of its angle does', () => {
    const model = corridor([{ ...wall(Math.PI / 2, 1.4, 3), normalVar: 4e-6, distanceVar: 0 }]);
    const spot = { ...on(Math.PI / 2, 1.4), x: 2 };
    expect(spotVariance(model, spot, 0, noise)).toBeCloseTo(0, 12);
    expect(Math.sqrt(spotVariance(model, spot, Math.PI / 2, noise))).toBeCloseTo(0.004, 9); // 2 m · 2 mrad
  });

  test('a corner of two square walls: each wall gives the doubt across itself', () => {
    const model = corridor([wall(0, 2, 1, 4e-6), wall(Math.PI / 2, 1, 2, 9e-6)]);
    model.shapes = {
      sweep: 1,
      walls: model.shapes?.walls ?? [],
      openings: [],
      posts: [],
      corners: [{ xM: 2, yM: 1, angleRad: Math.PI / 2, angleSdRad: 0.01, kind: 'inner' }],
    };
    const spot: Spot = { hold: 'corner', x: 2, y: 1, normal: 0, distance: 0 };
    // the walls' ends meet there; their angles' doubt over 1 m and 2 m is 1e-8 and 4e-8 m²
    expect(spotVariance(model, spot, 0, noise)).toBeCloseTo(4e-6 + 1e-8, 9);
    expect(spotVariance(model, spot, Math.PI / 2, noise)).toBeCloseTo(9e-6 + 4e-8, 9);
  });

  test('a point in the open has no deviation to give', () => {
    const model = corridor([wall(Math.PI / 2, 1.4, 3)]);
    const open: Spot = { hold: 'open', x: 0, y: 0, normal: 0, distance: 0 };
    expect(tapeLength(model, open, on(Math.PI / 2, 1.4), noise).deviation).toBeNaN();
  });
});

describe('pins', () => {
  test('a pinned wall is found again while the rover turns on its place, whatever is known of its motion', () => {
    const marks = new Marks();
    const model = corridor([wall(Math.PI / 2, 1.4, 3)]);
    marks.pin(on(Math.PI / 2, 1.4));
    for (let turned = 0; turned < 1.2; turned += 0.05) {
      model.shapes = { sweep: 1, walls: [wall(Math.PI / 2 - turned, 1.4, 3)], corners: [], openings: [], posts: [] };
      marks.update(model, noise, 100);
      expect(marks.pins[0].isSeen).toBe(true);
    }
    expect(marks.pins[0].lines[0]).toBe('wall ⊥ 1.400 ± 0.003');
    expect(marks.pins[0].lines[1]).toMatch(/^at 24\.\d° ± 0\.0 · roughness 1\.0$/); // 90° less 65.9°
  });

  test('a wall that is gone is said to be', () => {
    const marks = new Marks();
    const model = corridor([wall(Math.PI / 2, 1.4, 3)]);
    marks.pin(on(Math.PI / 2, 1.4));
    marks.update(model, noise, 100);
    model.shapes = { sweep: 2, walls: [], corners: [], openings: [], posts: [] };
    marks.update(model, noise, 101);
    expect(marks.pins[0]).toMatchObject({ isSeen: false, seenAt: 100 });
  });

  test('pinning the same wall again takes the pin away', () => {
    const marks = new Marks();
    marks.pin(on(0, 2));
    marks.pin(on(0.01, 2.01));
    expect(marks.pins).toHaveLength(0);
  });
});

test('residuals of a wall have the spread that its echoes were given', () => {
  const seed = 7;
  const next = seededRandom(seed);
  const model = corridor([wall(Math.PI / 2, 2, 2)]);
  const residuals = new Residuals();
  for (let sweep = 0; sweep < 12; sweep++) {
    const bearingRad: number[] = [];
    const rangeMm: number[] = [];
    for (let i = 0; i < 100; i++) {
      const bearing = Math.PI / 2 + (i / 99 - 0.5) * 0.6;
      // Box and Muller 1958
      const off = 0.006 * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
      bearingRad.push(bearing);
      rangeMm.push((1000 * (2 + off)) / Math.cos(bearing - Math.PI / 2));
    }
    model.takeSweep({ number: sweep, firstTimeS: 100, periodS: 0.1, bearingRad, rangeMm, strength: [] }, stamps);
    // the wall as told may be a little off: the spread is about the echoes' own line
    residuals.add(model, wall(Math.PI / 2 + 0.004 * Math.sin(sweep), 2 + 0.003 * Math.cos(sweep), 2), 0.008);
  }
  expect(residuals.count, `seed ${seed}`).toBe(1200);
  expect(residuals.deviation).toBeGreaterThan(0.0056); // 1200 draws: 2 % standard error, three of them
  expect(residuals.deviation).toBeLessThan(0.0064);
});

test('echoes of a moving rover are placed where its axes at the sweep’s end see them', () => {
  const model = new Model();
  model.takeMotion({ xM: 0, yM: 0, headingRad: 0, vxMps: 1, vyMps: 0, turnRadps: 0, quality: 1 });
  const sweep = { number: 1, firstTimeS: 100, periodS: 0.1, bearingRad: [0, 0], rangeMm: [2000, 1950], strength: [] };
  model.takeSweep(sweep, stamps);
  // a wall 2 m ahead at the start is 1.9 m ahead a tenth of a second later; half way the sensor read 1.95
  expect(model.echoes[0]).toBeCloseTo(1.9, 5);
  expect(model.echoes[2]).toBeCloseTo(1.9, 5);
});

describe('units', () => {
  beforeEach(() => useUnits('metric'));
  test('metres with a deviation; feet and inches to an eighth (1 ft = 0.3048 m, 1 in = 25.4 mm)', () => {
    expect(measuredLength(2.5171, 0.0071)).toBe('2.517 ± 0.007');
    useUnits('imperial');
    expect(measuredLength(3 * 0.3048 + 5.375 * 0.0254, Number.NaN)).toBe('3′ 5⅜″');
    expect(measuredLength(0.3048, 0.00254)).toBe('1′ 0″ ± 0.10″');
    useUnits('metric');
  });
  test('no negative zero', () => {
    expect(degrees(-0.0001)).toBe('0.0°');
    expect(degrees(-0.1)).toBe('−5.7°');
  });
});
