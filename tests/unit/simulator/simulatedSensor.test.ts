// Statistics of the simulated sensor against what it is configured to do: each within five standard errors of its estimate,
// so that of a million right simulators one would fail. The seed is fixed.
import { describe, expect, test } from 'vitest';
import { loadWorld } from '../../../src/cli/simulation.js';
import { ECHO } from '../../../src/simulator/beam.js';
import type { Measured } from '../../../src/simulator/simulatedSensor.js';
import { STRIP } from '../../../src/simulator/surface.js';
import type { Place } from '../../../src/simulator/world.js';
import { LEVEL, roomWith, SENSOR, simulatedSensor } from '../../support/simulatedLine.js';

const RATE = 2000;
const SIGMAS = 5;
const right = -Math.PI / 2; // the wall on the rover's right is 2.0 m away, the one on its left 2.5 m
const away = (a: number, b: number): number => Math.abs(Math.atan2(Math.sin(a - b), Math.cos(a - b)));
const indices = (m: Measured, isWanted: (i: number) => boolean): number[] =>
  Array.from({ length: m.count }, (_, i) => i).filter(isWanted);
const wall = (name: string, points: Place[], surface: 'wall' | 'foil' | 'glass' | 'strip' | 'curtain' = 'wall') => ({
  name,
  points,
  surface,
  height: [0, 2.5] as const,
});

describe('the spin', () => {
  test('comes up within a second to 10 turns/s of 200 samples, clockwise', () => {
    const { bearing, start } = simulatedSensor({ model: { wobble: 0 } }).sensor.measure(11 * RATE);
    const marks = Array.from(start).flatMap((mark, i) => (mark ? [i] : []));
    expect(marks[0]).toBe(0);
    const late = marks.filter((i) => i >= RATE);
    expect(Math.abs(late.length - 100)).toBeLessThanOrEqual(1); // 10 s at 10 turns/s
    for (let i = RATE + 1; i < bearing.length; i++) {
      let step = bearing[i] - bearing[i - 1];
      if (step > 0) step -= 2 * Math.PI;
      expect(step).toBeCloseTo((-2 * Math.PI) / 200, 6);
    }
  });
  test('goes the other way where the layout does', () => {
    const { bearing } = simulatedSensor({ sense: 'counterclockwise' }).sensor.measure(100);
    expect(bearing[99]).toBeGreaterThan(bearing[98]);
  });
  // Ornstein-Uhlenbeck process: its deviation is `wobble`; a turn of 0.1 s averages little of its 1 s. Over 400 s the estimate of
  // the deviation itself is good to some 5 % (200 independent stretches), five of which are 25 %.
  test('wavers by the share that is said', () => {
    const { start } = simulatedSensor({ model: { wobble: 0.05 } }).sensor.measure(400 * RATE);
    const marks = Array.from(start).flatMap((mark, i) => (mark && i > 2 * RATE ? [i] : []));
    const turns = marks.slice(1).map((mark, i) => RATE / (mark - marks[i]) / 10 - 1);
    const sd = Math.sqrt(turns.reduce((sum, turn) => sum + turn * turn, 0) / turns.length);
    expect(Math.abs(sd / 0.05 - 1)).toBeLessThan(0.25);
  });
  test('stands while the motor is held, and runs up again', () => {
    const { sensor } = simulatedSensor();
    sensor.measure(2 * RATE);
    sensor.isHeld = true;
    const held = sensor.measure(100).bearing;
    expect(new Set(held.slice(1)).size).toBe(1);
    sensor.isHeld = false;
    const { start } = sensor.measure(3 * RATE);
    expect(start.slice(2 * RATE).reduce((sum, mark) => sum + mark, 0)).toBeGreaterThan(8); // from 0 to 10 turns/s in 2 s
  });
});

describe('the ranges', () => {
  test('have the noise that is said, near and far, and the drop-outs', () => {
    // walls at 0.5 to 11 m, so that both parts of the noise show
    const world = roomWith({
      walls: [
        wall('box', [
          [1.7, 1.2],
          [11, 1.2],
          [11, 8],
          [1.7, 8],
          [1.7, 1.2],
        ]),
      ],
    });
    const m = simulatedSensor({ world, model: { beam: 0 } }).sensor.measure(40 * RATE);
    for (const [near, far] of [
      [0.4, 1],
      [1, 3],
      [3, 6],
      [6, 9],
    ]) {
      const rows = indices(m, (i) => m.range[i] > 0 && m.truth.range[i] > near && m.truth.range[i] < far);
      const z = rows.map(
        (i) => (m.range[i] - m.truth.range[i]) / Math.hypot(0.005, (0.005 / 6) * m.truth.range[i] ** 2),
      );
      const mean = z.reduce((sum, each) => sum + each, 0) / z.length;
      const variance = z.reduce((sum, each) => sum + each * each, 0) / z.length;
      expect(z.length).toBeGreaterThan(1000);
      expect(Math.abs(mean)).toBeLessThan(SIGMAS / Math.sqrt(z.length));
      expect(Math.abs(variance - 1)).toBeLessThan(SIGMAS * Math.sqrt(2 / z.length));
    }
    const hits = indices(m, (i) => m.truth.range[i] < 8);
    const dropped = hits.filter((i) => m.range[i] === 0).length / hits.length;
    expect(Math.abs(dropped - 0.015)).toBeLessThan(SIGMAS * Math.sqrt((0.015 * 0.985) / hits.length));
  });

  // Gilbert's chain: share p, mean run L. The share's variance is that of independent draws times about (1 + r) / (1 - r), r the
  // correlation of neighbours, 1 - 1/L - (its way in).
  test('lose echoes in runs of the length that is said', () => {
    const p = 0.6;
    const run = 12;
    const m = simulatedSensor({ model: { dropped: p, droppedRun: run } }).sensor.measure(60 * RATE);
    const lost = Array.from(m.range, (range) => range === 0);
    const runs = lost.filter((is, i) => is && !lost[i - 1]).length;
    const share = lost.filter(Boolean).length / lost.length;
    const r = 1 - 1 / run - p / (1 - p) / run;
    expect(Math.abs(share - p)).toBeLessThan(SIGMAS * Math.sqrt(((p * (1 - p)) / lost.length) * ((1 + r) / (1 - r))));
    const length = lost.filter(Boolean).length / runs;
    expect(Math.abs(length - run)).toBeLessThan((SIGMAS * run) / Math.sqrt(runs)); // of a geometric length the deviation is about its mean
  });

  // Closed form: an edge lies across a beam of width w in the share w / 2π of all bearings; a free-standing face has two edges.
  test('lie between both sides of an edge as often as is said, and only there', () => {
    const beam = 0.01;
    const world = roomWith({
      walls: [
        ...roomWith().walls,
        wall('screen', [
          [4.2, 1.6],
          [4.2, 2.4],
        ]),
      ],
    });
    const m = simulatedSensor({ world, model: { beam, mixed: 0.6, dropped: 0 } }).sensor.measure(200 * RATE);
    const rows = indices(m, (i) => m.truth.kind[i] === ECHO.mixed);
    const expected = m.count * ((2 * beam) / (2 * Math.PI)) * 0.6;
    expect(Math.abs(rows.length - expected)).toBeLessThan(SIGMAS * Math.sqrt(expected));
    for (const i of rows) {
      expect(m.range[i]).toBeGreaterThan(2 - 0.05);
      expect(m.range[i]).toBeLessThan(3.85 + 0.1);
      expect(Math.abs(away(m.truth.bearing[i], 0) - Math.atan2(0.4, 2))).toBeLessThan(beam);
    }
    const between = rows.filter((i) => m.range[i] > 2.2 && m.range[i] < 3.6).length / rows.length;
    expect(between).toBeGreaterThan(0.6); // evenly over 2.04 to 3.85 m: (3.6 - 2.2) / 1.81 = 0.77
  });

  test('come in the steps that are said, and not from below the nearest', () => {
    const { sensor } = simulatedSensor({ model: { quantum: 0.01, near: 2.1 } });
    const { range } = sensor.measure(RATE);
    for (const r of range) expect(Math.abs(r / 0.01 - Math.round(r / 0.01))).toBeLessThan(1e-6);
    expect(Array.from(range).filter((r) => r > 0 && r < 2.05)).toEqual([]);
  });

  test('strays come as often as is said, evenly over the reach', () => {
    const m = simulatedSensor({ model: { strays: 0.05, dropped: 0 } }).sensor.measure(40 * RATE);
    const strays = indices(m, (i) => m.truth.kind[i] === ECHO.stray);
    expect(Math.abs(strays.length / m.count - 0.05)).toBeLessThan(SIGMAS * Math.sqrt((0.05 * 0.95) / m.count));
    const mean = strays.reduce((sum, i) => sum + m.range[i], 0) / strays.length;
    expect(Math.abs(mean - (0.05 + 12) / 2)).toBeLessThan((SIGMAS * 12) / Math.sqrt(12 * strays.length)); // even: 1/√12 of the span
  });

  test('of one seed are the same however they are asked for, of another not', () => {
    const whole = simulatedSensor().sensor.measure(3000);
    const { sensor } = simulatedSensor();
    const parts = [1, 7, 992, 2000].map((n) => sensor.measure(n));
    expect(parts.flatMap(({ range }) => Array.from(range))).toEqual(Array.from(whole.range));
    expect(parts.flatMap(({ bearing }) => Array.from(bearing))).toEqual(Array.from(whole.bearing));
    expect(Array.from(simulatedSensor({ seed: 2 }).sensor.measure(3000).range)).not.toEqual(Array.from(whole.range));
  });
});

describe('light', () => {
  const lookAt = (surface: 'wall' | 'foil' | 'glass' | 'strip' | 'curtain', x: number, extra = {}) =>
    roomWith({
      start: { x: 0, y: 0, heading: 0 },
      walls: [
        wall(
          'it',
          [
            [x, -6],
            [x, 6],
          ],
          surface,
        ),
      ],
      ...extra,
    });

  // The power falls with the square of the range and the cosine: a surface of reflectance p is lost beyond far √(p cos).
  test('foil is lost farther off and at a slant, a wall is not', () => {
    const far = 12;
    for (const [surface, x, isSeen] of [
      ['wall', 4, true],
      ['foil', 1.2, true],
      ['foil', 4, false],
    ] as const) {
      const m = simulatedSensor({ world: lookAt(surface, x), model: { dropped: 0, far, beam: 0 } }).sensor.measure(
        4 * RATE,
      );
      const ahead = indices(m, (i) => away(m.truth.bearing[i], 0) < 0.1);
      const share = ahead.filter((i) => m.range[i] > 0).length / ahead.length;
      expect(share, `${surface} at ${x} m`).toBeCloseTo(isSeen ? 1 : 0, 2);
    }
    const m = simulatedSensor({ world: lookAt('foil', 1.2), model: { dropped: 0, far, beam: 0 } }).sensor.measure(
      4 * RATE,
    );
    const slanted = indices(m, (i) => Math.abs(away(m.truth.bearing[i], 0) - 1.1) < 0.1); // 2.6 m off, cos 0.45: 12 √(0.03 · 0.45) = 1.4
    expect(slanted.filter((i) => m.range[i] > 0).length).toBe(0);
  });

  test('a pane echoes near its normal, lets the rest through to what is behind, and mirrors at a grazing angle', () => {
    const walls = [
      wall(
        'pane',
        [
          [2, -6],
          [2, 6],
        ],
        'glass',
      ),
      wall('behind', [
        [4, -20],
        [4, 20],
      ]),
    ];
    const m = simulatedSensor({ world: lookAt('glass', 2, { walls }), model: { dropped: 0, beam: 0 } }).sensor.measure(
      10 * RATE,
    );
    const near = indices(m, (i) => away(m.truth.bearing[i], 0) < 0.1);
    for (const i of near) expect(Math.abs(m.range[i] - 2 / Math.cos(m.truth.bearing[i]))).toBeLessThan(0.03);
    const slanted = indices(m, (i) => away(m.truth.bearing[i], 0.6) < 0.1);
    for (const i of slanted) {
      expect(m.truth.kind[i]).toBe(ECHO.behind);
      expect(Math.abs(m.range[i] - 4 / Math.cos(m.truth.bearing[i]))).toBeLessThan(0.15);
    }
    // a pane along the way, and a wall across it that ends before the pane: its image stands at the same x beyond the pane
    const walls2 = [
      wall(
        'pane',
        [
          [0, 0.5],
          [20, 0.5],
        ],
        'glass',
      ),
      wall('wall', [
        [4, -3],
        [4, 0.45],
      ]),
    ];
    const n = simulatedSensor({
      world: lookAt('glass', 2, { walls: walls2 }),
      model: { dropped: 0, beam: 0 },
    }).sensor.measure(10 * RATE);
    const images = indices(n, (i) => n.truth.kind[i] === ECHO.mirror);
    expect(images.length).toBeGreaterThan(100);
    for (const i of images) {
      expect(n.truth.range[i] * Math.cos(n.truth.bearing[i])).toBeCloseTo(4, 9);
      expect(n.truth.range[i] * Math.sin(n.truth.bearing[i])).toBeGreaterThan(0.5);
    }
  });

  test('a strip is at the top of the strength, seems nearer, and blooms over its neighbours', () => {
    const walls = [
      wall('wall', [
        [2.01, -3],
        [2.01, 3],
      ]),
      wall(
        'strip',
        [
          [2, -0.1],
          [2, 0.1],
        ],
        'strip',
      ),
    ];
    const m = simulatedSensor({ world: lookAt('wall', 2, { walls }), model: { dropped: 0, beam: 0 } }).sensor.measure(
      20 * RATE,
    );
    const on = indices(m, (i) => away(m.truth.bearing[i], 0) < 0.045);
    for (const i of on) expect(m.strength[i]).toBe(65535);
    const mean = on.reduce((sum, i) => sum + m.range[i] * Math.cos(m.truth.bearing[i]), 0) / on.length;
    expect(Math.abs(mean - 1.97)).toBeLessThan((SIGMAS * 0.006) / Math.sqrt(on.length)); // 3 cm nearer than it is
    expect(indices(m, (i) => m.truth.kind[i] === ECHO.bloom).length).toBeGreaterThan(20);
    const beside = indices(m, (i) => away(m.truth.bearing[i], 0.3) < 0.1);
    for (const i of beside) expect(m.strength[i]).toBeLessThan(100);
  });

  test('a low sun takes the share of echoes that is said, towards it only', () => {
    const sun = { bearing: 2, width: 0.2, dropped: 0.7 };
    const m = simulatedSensor({ world: roomWith({ sun }), model: { dropped: 0 } }).sensor.measure(60 * RATE);
    const lost = (bearing: number) => {
      const rows = indices(m, (i) => away(m.truth.bearing[i], bearing) < 0.02);
      return { share: rows.filter((i) => m.range[i] === 0).length / rows.length, count: rows.length };
    };
    const towards = lost(2);
    expect(Math.abs(towards.share - 0.7)).toBeLessThan(SIGMAS * Math.sqrt(0.21 / towards.count) + 0.7 * 0.005); // 0.1 sigma: 0.5 %
    const beside = lost(2.2);
    expect(Math.abs(beside.share - 0.7 * Math.exp(-0.5))).toBeLessThan(SIGMAS * Math.sqrt(0.25 / beside.count));
    expect(lost(-1).share).toBe(0);
  });
});

test("another rover's light gives ranges of no meaning, in its direction only and as often as is said", () => {
  const mover = { name: 'rover 2', kind: 'cart' as const, speed: 0.01, rest: 1e6, laser: 0.2 };
  const way: Place[] = [
    [5.4, 2],
    [5.401, 2],
  ];
  const world = roomWith({ movers: [{ ...mover, way }] });
  const m = simulatedSensor({ world, model: { dropped: 0, beam: 0 } }).sensor.measure(60 * RATE);
  const share = (bearing: number) => {
    const rows = indices(m, (i) => away(m.truth.bearing[i], bearing) < 0.2);
    return { share: rows.filter((i) => m.truth.kind[i] === ECHO.stray).length / rows.length, count: rows.length };
  };
  const towards = share(0);
  expect(Math.abs(towards.share - 0.2)).toBeLessThan(SIGMAS * Math.sqrt(0.16 / towards.count));
  expect(share(1).share).toBe(0);
});

test('the truth beside the samples says where each beam ended: on the thing that it names', () => {
  const { sensor, simulation } = simulatedSensor({ world: loadWorld('nursery'), seed: 4 });
  const { scene } = simulation;
  const faces = scene.faces.length / 4;
  let checked = 0;
  for (let chunk = 0; chunk < 2000; chunk++) {
    const m = sensor.measure(8); // fewer than a tick holds: the movers stand where they stood for these samples, or a tick before
    for (let i = 0; i < m.count; i++) {
      const { truth } = m;
      const thing = truth.thing[i];
      if (
        truth.kind[i] !== ECHO.plain ||
        thing < 0 ||
        scene.names[thing].match(/hedge|curtain|gardener|waterer|visitor|potter|trolley|door/)
      )
        continue;
      if (scene.surface[thing] === STRIP) continue; // it seems nearer than it is
      const x = truth.x[i] + truth.range[i] * Math.cos(truth.bearing[i]);
      const y = truth.y[i] + truth.range[i] * Math.sin(truth.bearing[i]);
      if (thing < faces) {
        const [x1, y1, x2, y2] = scene.faces.slice(4 * thing, 4 * thing + 4);
        expect(Math.abs((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)) / Math.hypot(x2 - x1, y2 - y1)).toBeLessThan(1e-9);
      } else {
        const [cx, cy, r] = scene.rounds.slice(3 * (thing - faces), 3 * (thing - faces) + 3);
        expect(Math.abs(Math.hypot(x - cx, y - cy) - r)).toBeLessThan(1e-9);
      }
      checked++;
    }
  }
  expect(checked).toBeGreaterThan(5000);
});

describe('the mounting', () => {
  const mean = (mount: Partial<typeof LEVEL>, range: { offset: number; scale: number }, wanted: number): number => {
    const { sensor } = simulatedSensor({ sensor: { ...SENSOR, mount: { ...LEVEL, ...mount }, range } });
    sensor.measure(RATE);
    const m = sensor.measure(20 * RATE);
    const rows = indices(m, (i) => away(m.bearing[i], wanted) < 0.012 && m.range[i] > 0);
    expect(rows.length).toBeGreaterThan(50);
    return rows.reduce((sum, i) => sum + m.range[i], 0) / rows.length;
  };
  const plain = { offset: 0, scale: 1 };
  test.each([
    { name: 'upright', mount: {}, range: plain, bearing: right, expected: 2 },
    {
      name: 'upside down: left and right change places',
      mount: { upsideDown: true },
      range: plain,
      bearing: -right,
      expected: 2,
    },
    { name: 'turned to the left by a quarter', mount: { yaw: Math.PI / 2 }, range: plain, bearing: 0, expected: 2.5 },
    {
      name: 'upside down, then turned',
      mount: { upsideDown: true, yaw: Math.PI / 2 },
      range: plain,
      bearing: Math.PI,
      expected: 2,
    },
    { name: '0.3 m to the left', mount: { y: 0.3 }, range: plain, bearing: right, expected: 2.3 },
    { name: '0.3 m ahead, looking back', mount: { x: 0.3 }, range: plain, bearing: Math.PI, expected: 2.5 },
    {
      name: 'with a range that a tape would correct',
      mount: {},
      range: { offset: 0.1, scale: 0.95 },
      bearing: right,
      expected: 2,
    },
    // nose down by p the beam ahead meets the floor after z / tan p, along the beam z / sin p
    { name: 'nose down', mount: { pitch: 0.1 }, range: plain, bearing: 0, expected: 0.15 / Math.sin(0.1) },
    { name: 'nose down, to the side', mount: { pitch: 0.1 }, range: plain, bearing: right, expected: 2 },
    {
      name: 'left side up: the floor is on the right',
      mount: { roll: 0.1 },
      range: plain,
      bearing: right,
      expected: 0.15 / Math.sin(0.1),
    },
  ])('$name', ({ mount, range, bearing, expected }) => {
    expect(range.scale * mean(mount, range, bearing) + range.offset).toBeCloseTo(expected, 2);
  });
});
