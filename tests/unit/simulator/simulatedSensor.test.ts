import { describe, expect, test } from 'vitest';
import { castRay } from '../../../src/simulator/cast.js';
import { Nursery, ROVER_POSE } from '../../../src/simulator/nursery.js';
import { type SensorTruth, SimulatedSensor } from '../../../src/simulator/simulatedSensor.js';

const SEED = 1;
const RATE = 2000;
const level = { x: 0, y: 0, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false };
const plain: SensorTruth = {
  layout: { sense: 'clockwise' },
  setting: { mount: level, range: { offset: 0, scale: 1 } },
  rate: RATE,
  seed: SEED,
};

describe('the nursery', () => {
  test('is 6 x 4.5 m, with a glass door that gives no echo', () => {
    const { scene } = new Nursery();
    expect(castRay(scene, 3, 0.2, 0)).toBeCloseTo(3, 12);
    expect(castRay(scene, 3, 0.2, Math.PI)).toBeCloseTo(3, 12);
    expect(castRay(scene, 1.65, 4, Math.PI / 2)).toBe(Infinity);
    expect(castRay(scene, 1.1, 4, Math.PI / 2)).toBeCloseTo(0.5, 12);
  });
  test('the person walks back and forth across the front, never faster than a person, never into a wall', () => {
    const nursery = new Nursery();
    const { rounds } = nursery.scene;
    const legs = (): number[] => [rounds[rounds.length - 5], rounds[rounds.length - 2]];
    let before = legs();
    let least = Infinity;
    let most = -Infinity;
    for (let t = 0; t < 60; t += 0.01) {
      nursery.moveTo(t);
      const now = legs();
      for (const [i, y] of now.entries()) {
        if (t > 0) expect(Math.abs(y - before[i]) / 0.01).toBeLessThan(2.5); // a swinging foot of a walker: common practice 2 to 3 times the pace
        least = Math.min(least, y);
        most = Math.max(most, y);
      }
      before = now;
    }
    expect(least).toBeGreaterThan(0.5);
    expect(least).toBeLessThan(1.5);
    expect(most).toBeGreaterThan(3.5);
    expect(most).toBeLessThan(4.2);
    expect(rounds[rounds.length - 6]).toBeLessThan(3.4);
    expect(rounds[rounds.length - 3]).toBeGreaterThan(3.4);
  });
});

describe('the spin', () => {
  test('comes up within a second to 10 turns/s of 200 samples, clockwise', () => {
    const sensor = new SimulatedSensor(plain);
    const { bearing, start } = sensor.measure(11 * RATE);
    const marks = Array.from(start).flatMap((mark, i) => (mark ? [i] : []));
    expect(marks[0]).toBe(0);
    const late = marks.filter((i) => i >= RATE);
    // 10 s at 10 turns/s, and half a turn either way for where the count begins
    expect(Math.abs(late.length - 100)).toBeLessThanOrEqual(1);
    for (let i = 1; i < late.length; i++) expect(Math.abs(late[i] - late[i - 1] - 200)).toBeLessThanOrEqual(2);
    for (let i = RATE; i < bearing.length; i++) {
      let step = bearing[i] - bearing[i - 1];
      if (step > 0) step -= 2 * Math.PI;
      expect(step).toBeCloseTo((-2 * Math.PI) / 200, 3);
    }
  });
  test('goes the other way where the layout does', () => {
    const { bearing } = new SimulatedSensor({ ...plain, layout: { sense: 'counterclockwise' } }).measure(100);
    expect(bearing[99]).toBeGreaterThan(bearing[98]);
  });
});

describe('the ranges', () => {
  test('have the noise and the drop-outs that are said', () => {
    const sensor = new SimulatedSensor(plain);
    const nursery = new Nursery();
    const skip = RATE;
    sensor.measure(skip);
    const n = 40 * RATE;
    const { bearing, range } = sensor.measure(n);
    let count = 0;
    let dropped = 0;
    let sum = 0;
    let square = 0;
    for (let i = 0; i < n; i++) {
      nursery.moveTo((skip + i) / RATE);
      const truth = castRay(nursery.scene, ROVER_POSE.x, ROVER_POSE.y, ROVER_POSE.heading + bearing[i]);
      if (truth > 12) {
        expect(range[i]).toBe(0);
        continue;
      }
      count++;
      if (range[i] === 0) {
        dropped++;
        continue;
      }
      const z = (range[i] - truth) / Math.hypot(0.005, (truth * truth * 0.005) / 6); // the noise model of the test worlds
      sum += z;
      square += z * z;
    }
    const echoes = count - dropped;
    expect(count).toBeGreaterThan(0.9 * n);
    // five standard errors of a mean, a variance and a share
    expect(Math.abs(sum / echoes)).toBeLessThan(5 / Math.sqrt(echoes));
    expect(Math.abs(square / echoes - 1)).toBeLessThan(5 * Math.sqrt(2 / echoes));
    expect(Math.abs(dropped / count - 0.015)).toBeLessThan(5 * Math.sqrt((0.015 * 0.985) / count));
  });
  test('of one seed are the same however they are asked for, of another not', () => {
    const whole = new SimulatedSensor(plain).measure(3000);
    const cut = new SimulatedSensor(plain);
    const parts = [1, 7, 992, 2000].map((n) => cut.measure(n));
    expect(parts.flatMap(({ range }) => Array.from(range))).toEqual(Array.from(whole.range));
    expect(parts.flatMap(({ bearing }) => Array.from(bearing))).toEqual(Array.from(whole.bearing));
    expect(Array.from(new SimulatedSensor({ ...plain, seed: 2 }).measure(3000).range)).not.toEqual(
      Array.from(whole.range),
    );
  });
});

describe('the mounting', () => {
  const mean = (truth: SensorTruth, wanted: number): number => {
    const sensor = new SimulatedSensor(truth);
    sensor.measure(RATE);
    const { bearing, range } = sensor.measure(20 * RATE);
    let sum = 0;
    let count = 0;
    for (let i = 0; i < bearing.length; i++) {
      const away = Math.abs(Math.atan2(Math.sin(bearing[i] - wanted), Math.cos(bearing[i] - wanted)));
      if (away > 0.012 || range[i] === 0) continue;
      sum += range[i];
      count++;
    }
    expect(count).toBeGreaterThan(50);
    return sum / count;
  };
  const mounted = (mount: Partial<typeof level>, range = { offset: 0, scale: 1 }): SensorTruth => ({
    ...plain,
    setting: { mount: { ...level, ...mount }, range },
  });
  const right = -Math.PI / 2; // the wall on the rover's right is 2.0 m away, the one on its left 2.5 m
  test.each([
    { name: 'upright', truth: mounted({}), bearing: right, expected: 2 },
    {
      name: 'upside down: left and right change places',
      truth: mounted({ upsideDown: true }),
      bearing: -right,
      expected: 2,
    },
    {
      name: 'turned to the left by a quarter: its ahead is the left',
      truth: mounted({ yaw: Math.PI / 2 }),
      bearing: 0,
      expected: 2.5,
    },
    {
      name: 'upside down, then turned',
      truth: mounted({ upsideDown: true, yaw: Math.PI / 2 }),
      bearing: Math.PI,
      expected: 2,
    },
    { name: '0.3 m to the left', truth: mounted({ y: 0.3 }), bearing: right, expected: 2.3 },
    { name: '0.3 m ahead, looking back', truth: mounted({ x: 0.3 }), bearing: Math.PI, expected: 2.5 },
    {
      name: 'with a range that a tape would correct',
      truth: mounted({}, { offset: 0.1, scale: 0.95 }),
      bearing: right,
      expected: 2,
    },
  ])('$name', ({ truth, bearing, expected }) => {
    const { offset, scale } = truth.setting.range;
    expect(scale * mean(truth, bearing) + offset).toBeCloseTo(expected, 2);
  });
});
