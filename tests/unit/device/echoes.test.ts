import { describe, expect, test } from 'vitest';
import type { DecodedSamples } from '../../../src/device/decoder.js';
import { Echoes } from '../../../src/device/echoes.js';
import type { SensorSetting } from '../../../src/device/setting.js';
import { SAMPLE_KIND } from '../../../src/sweep/echoBatch.js';

const deg = Math.PI / 180;
const plain: SensorSetting = {
  mount: { x: 0.1, y: 0.2, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false },
  reach: [0.15, 12],
  range: { offset: 0, scale: 1 },
  masks: [],
};
const mounted = (mount: Partial<SensorSetting['mount']>): SensorSetting => ({
  ...plain,
  mount: { ...plain.mount, ...mount },
});

function samples(rows: readonly { deg: number; range: number }[]): DecodedSamples {
  return {
    count: rows.length,
    bearing: Float32Array.from(rows, (row) => row.deg * deg),
    range: Float32Array.from(rows, (row) => row.range),
    strength: Uint16Array.from(rows, (_, i) => i),
    start: Uint8Array.from(rows, (_, i) => (i === 0 ? 1 : 0)),
    index: Float64Array.from(rows, (_, i) => i),
    begin: Float64Array.from(rows, (_, i) => 5 * i),
  };
}
const convert = (
  sense: 'clockwise' | 'counterclockwise',
  setting: SensorSetting,
  rows: readonly { deg: number; range: number }[],
) => new Echoes(sense, setting).convert(samples(rows), new Float64Array(rows.length));

describe('mounting and sense', () => {
  // Closed form: a vector (cos b, sin b, 0) of the sensor, b = -w for a clockwise angle w; upside down is a half turn about x,
  // (x, y, z) -> (x, -y, -z); yaw turns counter-clockwise about z afterwards.
  test.each([
    { name: 'clockwise', sense: 'clockwise' as const, mount: {}, expected: -30, beam: -1 },
    { name: 'counter-clockwise', sense: 'counterclockwise' as const, mount: {}, expected: 30, beam: 1 },
    { name: 'clockwise, upside down', sense: 'clockwise' as const, mount: { upsideDown: true }, expected: 30, beam: 1 },
    {
      name: 'counter-clockwise, upside down',
      sense: 'counterclockwise' as const,
      mount: { upsideDown: true },
      expected: -30,
      beam: -1,
    },
    { name: 'clockwise, yaw', sense: 'clockwise' as const, mount: { yaw: 90 * deg }, expected: 60, beam: -1 },
    {
      name: 'clockwise, upside down before yaw',
      sense: 'clockwise' as const,
      mount: { upsideDown: true, yaw: 90 * deg },
      expected: 120,
      beam: 1,
    },
  ])('$name: the sensor says 30 degrees', ({ sense, mount, expected, beam }) => {
    const batch = convert(sense, mounted(mount), [{ deg: 30, range: 2 }]);
    expect(batch.bearing[0]).toBeCloseTo(expected * deg, 6);
    expect(batch.sense).toBe(beam);
  });

  test('bearings stay in [-180, 180) degrees, and the offset does not move them', () => {
    const batch = convert('counterclockwise', mounted({ yaw: 90 * deg }), [
      { deg: 0, range: 2 },
      { deg: 91, range: 2 },
      { deg: 359, range: 2 },
    ]);
    expect([...batch.bearing].map((b) => Math.round(b / deg))).toEqual([90, -179, 89]);
  });
});

test('range correction, reach, no echo', () => {
  const setting: SensorSetting = { ...plain, range: { scale: 1.02, offset: -0.05 } };
  const batch = convert(
    'clockwise',
    setting,
    [1, 0, 0.19, 0.2, 0.03, 14].map((range) => ({ deg: 10, range })),
  );
  const { echo, empty, tooNear } = SAMPLE_KIND;
  // 1.02 r - 0.05: 0.97; none; 0.1438 nearer than 0.15; 0.154; -0.0194, nearer than nothing; 14.23 beyond the far end
  expect([...batch.kind]).toEqual([echo, empty, tooNear, echo, tooNear, echo]);
  for (const [i, range] of [0.97, Infinity, 0.1438, 0.154, 0, 14.23].entries())
    expect(batch.range[i]).toBeCloseTo(range, 5);
  expect([...batch.strength]).toEqual([0, 1, 2, 3, 4, 5]);
  expect([...batch.start]).toEqual([1, 0, 0, 0, 0, 0]);
});

test('masks: in rover axes, over the wrap, only up to their range, and before reach', () => {
  const setting: SensorSetting = {
    ...plain,
    masks: [
      { from: 170 * deg, to: -170 * deg, upTo: 0.4 },
      { from: 20 * deg, to: 40 * deg, upTo: 0.2 },
    ],
  };
  const rows = [
    { deg: 175, range: 0.3, kind: SAMPLE_KIND.masked },
    { deg: 185, range: 0.39, kind: SAMPLE_KIND.masked },
    { deg: 195, range: 0.3, kind: SAMPLE_KIND.echo },
    { deg: 180, range: 0.5, kind: SAMPLE_KIND.echo },
    { deg: 30, range: 0.1, kind: SAMPLE_KIND.masked },
    { deg: 45, range: 0.1, kind: SAMPLE_KIND.tooNear },
    { deg: 30, range: 0, kind: SAMPLE_KIND.empty },
  ];
  const batch = convert('counterclockwise', setting, rows);
  expect([...batch.kind]).toEqual(rows.map((row) => row.kind));
  expect(batch.range[0]).toBe(Infinity);
});
