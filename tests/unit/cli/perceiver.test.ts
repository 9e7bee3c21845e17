import { expect, test } from 'vitest';
import { Perceiver } from '../../../src/cli/perceiver.js';
import { loadConfig } from '../../../src/config/load.js';

interface Row {
  readonly sweep: number;
  readonly timeS: number;
  readonly clearance: {
    readonly state: string[];
    readonly leewayM: number[];
    readonly nearestM: (number | string)[];
    readonly ageS: (number | string)[];
  };
}

const SAMPLES = 720;
const PERIOD = 0.1;

/** A line of a rectangular room about the sensor: walls at x = 3 and -2, y = 1.5 and -1 (m). Closed form: wall / direction. */
function line(t: number, way: 1 | -1, options: { dt?: number; turned?: number; first?: number } = {}) {
  const bearings = Float64Array.from(
    { length: SAMPLES },
    (_, i) => (options.first ?? 0) + (way * 2 * Math.PI * i) / SAMPLES,
  );
  const ranges = bearings.map((bearing) => {
    const a = bearing + (options.turned ?? 0);
    const x = Math.cos(a) > 0 ? 3 / Math.cos(a) : -2 / Math.cos(a);
    const y = Math.sin(a) > 0 ? 1.5 / Math.sin(a) : -1 / Math.sin(a);
    return Math.min(Math.abs(x), Math.abs(y));
  });
  return { t, dt: options.dt ?? NaN, bearings, ranges };
}

const rowOf = (perceiver: Perceiver, ...args: Parameters<typeof line>): Row =>
  JSON.parse(perceiver.push(line(...args))) as Row;
const sectorAt = (degrees: number): number => degrees / 5;

test('a line without dt: every sector seen, leeway the distance from the outline to the wall, nothing paid for age', () => {
  for (const way of [1, -1] as const) {
    const { sweep, timeS, clearance } = rowOf(new Perceiver(loadConfig()), 7, way);
    expect({ sweep, timeS }).toEqual({ sweep: 1, timeS: 7 });
    expect(new Set(clearance.state)).toEqual(new Set(['SECTOR_STATE_OBSTACLE']));
    // outline: 0.2 m ahead and behind, 0.16 m to either side
    expect(clearance.leewayM[sectorAt(0)]).toBeCloseTo(2.8, 2);
    expect(clearance.leewayM[sectorAt(90)]).toBeCloseTo(1.34, 2);
    expect(clearance.leewayM[sectorAt(180)]).toBeCloseTo(1.8, 2);
    expect(clearance.leewayM[sectorAt(270)]).toBeCloseTo(0.84, 2);
    expect(clearance.nearestM[sectorAt(90)]).toBeCloseTo(1.5, 2);
    expect(new Set(clearance.ageS)).toEqual(new Set([0]));
  }
});

test('without dt a line stands alone; with dt earlier ones age by t', () => {
  const wall = { first: Math.PI / 2 };
  for (const dt of [undefined, PERIOD / SAMPLES]) {
    const perceiver = new Perceiver(loadConfig());
    rowOf(perceiver, 0, 1, dt === undefined ? wall : { ...wall, dt });
    const half = line(PERIOD, 1, dt === undefined ? wall : { ...wall, dt });
    // the second line holds the first half of the turn only: 90 to 270 degrees
    const second = JSON.parse(
      perceiver.push({
        ...half,
        bearings: half.bearings.slice(0, SAMPLES / 2),
        ranges: half.ranges.slice(0, SAMPLES / 2),
      }),
    ) as Row;
    expect(second.clearance.state[sectorAt(180)]).toBe('SECTOR_STATE_OBSTACLE');
    expect(second.clearance.state[sectorAt(45)]).toBe(
      dt === undefined ? 'SECTOR_STATE_UNKNOWN' : 'SECTOR_STATE_OBSTACLE',
    );
  }
});

test('with dt the time is that of the last sample, and leeway pays for age', () => {
  const { timeS, clearance } = rowOf(new Perceiver(loadConfig()), 7, 1, { dt: PERIOD / SAMPLES });
  expect(timeS).toBeCloseTo(7 + (PERIOD * (SAMPLES - 1)) / SAMPLES, 12);
  const age = Number(clearance.ageS[sectorAt(90)]);
  expect(age).toBeCloseTo(0.75 * PERIOD, 2); // a quarter of the turn after the first sample
  expect(clearance.leewayM[sectorAt(90)]).toBeLessThanOrEqual(1.34 - 0.5 * age + 1e-3); // speed_max 0.5 m/s
});

test('the mounting is that of the daemon: a sensor turned to the left sees the room turned to the right', () => {
  const perceiver = new Perceiver(loadConfig(undefined, [`sensor.mount.yaw_rad=${Math.PI / 2}`]));
  const { clearance } = rowOf(perceiver, 0, 1, { turned: Math.PI / 2 });
  expect(clearance.leewayM[sectorAt(0)]).toBeCloseTo(2.8, 2);
  expect(clearance.leewayM[sectorAt(90)]).toBeCloseTo(1.34, 2);
});
