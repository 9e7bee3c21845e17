// The clearance machine against the contract ("What leeway means"), in scenes whose truth is a closed form.
import { describe, expect, test } from 'vitest';
import { TAU, wrapAngle } from '../../../src/core/angles.js';
import { Outline } from '../../../src/geometry/outline.js';
import { Clearance, type ClearanceValues, SECTOR } from '../../../src/perception/clearance/clearance.js';
import { looksToRelease } from '../../../src/perception/clearance/posts.js';
import type { ClearanceSetting } from '../../../src/perception/clearance/setting.js';
import { SAMPLE_KIND } from '../../../src/sweep/echoBatch.js';
import { batchOf, clearanceSetting, type Sample } from '../../support/clearanceRig.js';
import { seededRandom } from '../../support/random.js';

type Scene = (bearing: number, revolution: number, sample: number) => number | Partial<Sample> | undefined;

const degree = Math.PI / 180;
const PERIOD = 0.1;

/** A sensor turning in a scene: the scene gives the range by bearing about the sensor; undefined: the sample is lost. */
class Rig {
  readonly machine: Clearance;
  time = 0;
  revolution = 0;
  readonly sense: 1 | -1;
  readonly samples: number;
  readonly phase: number;
  constructor(setting: ClearanceSetting, samples = 400, sense: 1 | -1 = 1, phase = 0.3) {
    this.machine = new Clearance(setting);
    this.samples = samples;
    this.sense = sense;
    this.phase = phase;
  }
  /** Turns on by `turns` revolutions, chunk by chunk; `each` is called after each chunk. */
  turn(
    scene: Scene,
    turns: number,
    each?: (values: ClearanceValues, suspect: boolean) => void,
    chunk = 8,
  ): ClearanceValues {
    const last = Math.round(turns * this.samples);
    let held: Sample[] = [];
    for (let i = 0; i < last; i++) {
      const turned = ((i + this.phase) / this.samples) * TAU + this.#offset;
      const bearing = wrapAngle(this.sense * turned);
      const seen = scene(bearing, this.revolution + Math.floor(i / this.samples), i % this.samples);
      const time = this.time + (i / this.samples) * PERIOD;
      if (seen !== undefined)
        held.push(
          typeof seen === 'number' ? { time, bearing, range: seen } : { time, bearing, range: Infinity, ...seen },
        );
      if (held.length >= chunk || i === last - 1) {
        const suspect = this.machine.push(batchOf(held, this.sense));
        held = [];
        each?.(this.machine.read(time), suspect);
      }
    }
    this.time += (last / this.samples) * PERIOD;
    this.#offset = (this.#offset + (last / this.samples) * TAU) % TAU;
    this.revolution += Math.round(turns);
    return this.machine.read(this.time);
  }
  #offset = 0;
}

/** @returns m, range to the inside of a box around the sensor: walls at x = front and -back, y = left and -right. */
const box =
  (front: number, back: number, left: number, right: number): Scene =>
  (bearing) => {
    const c = Math.cos(bearing);
    const s = Math.sin(bearing);
    return Math.min(c > 0 ? front / c : back / -c, s > 0 ? left / s : right / -s);
  };
const still = (changes: Partial<ClearanceSetting> = {}): ClearanceSetting =>
  clearanceSetting({ speedMax: 0, turnMax: 0, ...changes });
const isSeen = (values: ClearanceValues): boolean => values.state.every((state) => state !== SECTOR.unknown);
const seenShare = (values: ClearanceValues): number =>
  values.state.filter((state) => state !== SECTOR.unknown).length / values.state.length;
const middle = (k: number, n = 72): number => ((k + 0.5) / n) * TAU;

describe('leeway', () => {
  test('in a box: the distance from the outline to each wall', () => {
    const values = new Rig(still()).turn(box(3, 2, 1.5, 1), 4);
    expect(isSeen(values)).toBe(true);
    // closed form: straight ahead 3 - 0.2, left 1.5 - 0.16, behind 2 - 0.2, right 1 - 0.16
    for (const [k, expected] of [
      [0, 2.8],
      [71, 2.8],
      [17, 1.34],
      [18, 1.34],
      [35, 1.8],
      [36, 1.8],
      [53, 0.84],
      [54, 0.84],
    ]) {
      expect(values.leeway[k]).toBeCloseTo(expected, 2);
    }
    expect(values.nearest[0]).toBeCloseTo(3, 2);
    expect(values.state[0]).toBe(SECTOR.obstacle);
    expect(values.ahead).toBeCloseTo(2.8, 2);
  });

  test('mirror: the same room seen clockwise and counter-clockwise gives the same sectors', () => {
    const scene = box(3, 2, 1.5, 1);
    const ccw = new Rig(still(), 400, 1).turn(scene, 4);
    const cw = new Rig(still(), 400, -1).turn(scene, 4);
    for (let k = 0; k < 72; k++) {
      expect(cw.leeway[k]).toBeCloseTo(ccw.leeway[k], 1);
      expect(cw.state[k]).toBe(ccw.state[k]);
    }
  });

  test('a mirrored room gives mirrored sectors', () => {
    const scene = box(3, 2, 1.5, 1);
    const plain = new Rig(still()).turn(scene, 4);
    const mirrored = new Rig(still(), 400, -1).turn((b, r, s) => scene(-b, r, s), 4);
    for (let k = 0; k < 72; k++) expect(mirrored.leeway[71 - k]).toBeCloseTo(plain.leeway[k], 3);
  });

  test('echoes beyond reach vouch to reach: CLEAR', () => {
    const values = new Rig(still({ reach: [0.15, 5] })).turn(() => 9, 4);
    expect([...values.state].every((state) => state === SECTOR.clear)).toBe(true);
    expect(values.leeway.every((leeway) => leeway === 5)).toBe(true);
    expect(values.nearest.every((nearest) => nearest === Infinity)).toBe(true);
  });

  test('an echo inside the outline: 0, and an obstacle', () => {
    const values = new Rig(still()).turn((b) => (Math.abs(b) < 3 * degree ? 0.19 : 3), 4);
    expect(values.leeway[0]).toBe(0);
    expect(values.state[0]).toBe(SECTOR.obstacle);
    expect(values.ahead).toBe(0);
  });

  test('an echo nearer than reach that no mask explains: unknown', () => {
    const values = new Rig(still()).turn(
      (b) => (Math.abs(b - 0.5) < 0.02 ? { range: 0.1, kind: SAMPLE_KIND.tooNear } : 3),
      4,
    );
    expect(values.state[5]).toBe(SECTOR.unknown);
    expect(values.leeway[5]).toBe(0);
    expect(values.ahead).toBe(0); // 0.5 rad lies within the strip's 38.7 degrees
    expect(values.nearest[5]).toBeCloseTo(3, 2);
    expect(values.state[20]).toBe(SECTOR.obstacle);
  });

  test('an echo within half a degree of an edge counts for both sectors', () => {
    const values = new Rig(still(), 800).turn((b) => (Math.abs(b - 5.3 * degree) < 0.25 * degree ? 1 : 3), 4);
    expect(values.leeway[1]).toBeCloseTo(0.8, 1);
    expect(values.leeway[0]).toBeCloseTo(0.8, 1);
    expect(values.leeway[2]).toBeGreaterThan(2);
  });

  test('thinnest: beam spacing at the leeway', () => {
    const values = new Rig(still(), 400).turn(() => 3, 4);
    expect(values.thinnest[0]).toBeCloseTo(3 * (TAU / 400), 3); // chord of 0.9 degrees at 3 m
    const gappy = new Rig(still(), 400).turn((_b, _r, sample) => (sample % 40 === 1 ? Infinity : 3), 4);
    expect(gappy.thinnest[0]).toBeCloseTo(3 * 2 * (TAU / 400), 3);
  });
});

describe('evidence', () => {
  test.each([
    { name: 'one sample missing at 200', samples: 200, missing: 1, seen: true }, // 3.6 degrees
    { name: 'two samples missing at 200', samples: 200, missing: 2, seen: false }, // 5.4 degrees > 4
    { name: 'two samples missing at 400', samples: 400, missing: 2, seen: true }, // 2.7 degrees
    { name: 'three samples missing at 400', samples: 400, missing: 3, seen: false },
    { name: 'two samples missing at 800', samples: 800, missing: 2, seen: true },
    { name: 'three samples missing at 800', samples: 800, missing: 3, seen: false },
  ])('$name: seen $seen, whether received empty, masked or lost', ({ samples, missing, seen }) => {
    for (const gone of [Infinity, { kind: SAMPLE_KIND.masked }, undefined]) {
      const at = Math.round(samples * 0.3); // 108 degrees: sector 21
      const values = new Rig(still(), samples).turn(
        (_b, _r, sample) => (sample >= at && sample < at + missing ? gone : sample === at - 1 ? 2 : 3),
        4,
      );
      expect(values.state.includes(SECTOR.unknown)).toBe(!seen);
      if (seen) for (const k of [21]) expect(values.leeway[k]).toBeLessThan(2); // filled at the nearer of the two
    }
  });

  test.each([0.01, 0.02])(
    'at 200 samples and drop-outs of %d at least 95 % of the sectors of a room stay seen',
    (share) => {
      const random = seededRandom(7);
      const rig = new Rig(still(), 200);
      rig.turn(box(3, 2, 1.5, 1), 4);
      let least = 1;
      let sum = 0;
      let count = 0;
      rig.turn(
        (b, r, s) => (random() < share ? Infinity : box(3, 2, 1.5, 1)(b, r, s)),
        200,
        (values) => {
          sum += seenShare(values);
          least = Math.min(least, seenShare(values));
          count++;
        },
      );
      expect(sum / count).toBeGreaterThan(0.95);
      expect(least).toBeGreaterThan(0.9);
    },
  );

  test('no_return: clear lets a received empty vouch, a lost one never', () => {
    const setting = still({ noReturn: 3 });
    const open = new Rig(setting).turn((b) => (Math.abs(b) < 40 * degree ? Infinity : 4), 4);
    expect(open.state[0]).toBe(SECTOR.clear);
    expect(open.leeway[0]).toBeCloseTo(2.8, 1);
    expect(open.ahead).toBeCloseTo(2.8, 1);
    const lost = new Rig(setting).turn((b) => (Math.abs(b) < 40 * degree ? undefined : 4), 4);
    expect(lost.state[0]).toBe(SECTOR.unknown);
    const masked = new Rig(setting).turn((b) => (Math.abs(b) < 40 * degree ? { kind: SAMPLE_KIND.masked } : 4), 4);
    expect(masked.state[0]).toBe(SECTOR.unknown);
    expect(new Rig(still()).turn((b) => (Math.abs(b) < 40 * degree ? Infinity : 4), 4).state[0]).toBe(SECTOR.unknown);
  });

  test('no_return: clear: a bearing whose last echo was close stays unseen until it echoes again', () => {
    const rig = new Rig(still({ noReturn: 3 }));
    const close =
      (range: number): Scene =>
      (b) =>
        Math.abs(b - middle(20)) < 4 * degree ? range : 4;
    expect(rig.turn(close(0.4), 4).state[20]).toBe(SECTOR.obstacle); // 0.4 < 3 x 0.15
    expect(rig.turn(close(Infinity), 12).state[20]).toBe(SECTOR.unknown); // it may have gone into the blind ring
    expect(rig.turn(close(1), 2).state[20]).toBe(SECTOR.obstacle);
    expect(rig.turn(close(Infinity), 2).state[20]).toBe(SECTOR.clear);
  });
});

describe('start, age, blindness', () => {
  test('unknown until a whole revolution and two periods that agree', () => {
    const rig = new Rig(still());
    rig.turn(
      () => 3,
      1.9,
      (values) => expect(values.state.every((state) => state === SECTOR.unknown)).toBe(true),
    );
    expect(isSeen(rig.turn(() => 3, 0.3))).toBe(true);
    rig.machine.reset();
    expect(rig.machine.read(rig.time).state.every((state) => state === SECTOR.unknown)).toBe(true);
    rig.turn(
      () => 3,
      1.9,
      (values) => expect(isSeen(values)).toBe(false),
    );
  });

  test('silence: unknown after 1.5 revolutions, never later than 0.3 s', () => {
    const rig = new Rig(still());
    rig.turn(() => 3, 6);
    const end = rig.time;
    expect(isSeen(rig.machine.read(end + 0.04))).toBe(true);
    expect(seenShare(rig.machine.read(end + 0.1))).toBeGreaterThan(0.4); // the older half is gone
    expect(seenShare(rig.machine.read(end + 0.1))).toBeLessThan(0.6);
    expect(seenShare(rig.machine.read(end + 0.151))).toBe(0);
    expect(rig.machine.nextExpiry(end)).toBeCloseTo(end + 0.05, 2);
  });

  test('a stalled motor is no evidence', () => {
    const rig = new Rig(still());
    rig.turn(() => 3, 6);
    const bearing = 0.5;
    const stuck = Array.from({ length: 2000 }, (_, i) => ({ time: rig.time + i / 4000, bearing, range: 3 }));
    rig.machine.push(batchOf(stuck));
    expect(rig.machine.isStalled).toBe(true);
    expect(seenShare(rig.machine.read(rig.time + 0.5))).toBe(0);
  });

  test('a stalled motor still lets something come nearer', () => {
    const rig = new Rig(still());
    rig.turn(() => 3, 6);
    const bearing = wrapAngle((5.3 / 400) * TAU);
    rig.machine.push(
      batchOf([
        { time: rig.time + 0.0005, bearing, range: 3 },
        { time: rig.time + 0.001, bearing, range: 0.8 },
      ]),
    );
    expect(rig.machine.read(rig.time + 0.001).leeway[0]).toBeLessThan(0.65);
  });

  test('below four revolutions a second everything is unknown', () => {
    const machine = new Clearance(still());
    for (let i = 0; i < 2000; i++)
      machine.push(batchOf([{ time: (i / 400) * 0.26, bearing: (i / 400) * TAU, range: 3 }]));
    expect(machine.isSlow).toBe(true);
    expect(seenShare(machine.read((2000 / 400) * 0.26))).toBe(0);
  });

  test('age: of the oldest evidence in the sector, and what the rover may have done in it is paid for', () => {
    const rig = new Rig(clearanceSetting({ speedMax: 0.5, turnMax: 1 }));
    const values = rig.turn(() => 3, 4);
    const newest = 70; // the beam has just ended its turn: sector 71's edge it has not passed by half a degree yet
    expect(values.age[0]).toBeCloseTo(PERIOD, 2);
    expect(values.age[newest]).toBeLessThan(0.01);
    // a round room of 3 m; the turn of 0.05 s x 1 rad/s reaches into the sectors either side, up to 190 degrees (and half a degree of edge):
    // there the wall is hypot(3 cos 10.5 - 0.2, 3 sin 10.5 - 0.16) = 2.777 m from the outline's corner
    expect(values.leeway[36]).toBeCloseTo(2.777 - 0.5 * values.age[36], 2);
  });

  test('the least of the sectors within the turn; an unknown one counts as 0', () => {
    const dark = (b: number): number => (Math.abs(wrapAngle(b - middle(40))) < 2 * degree ? Infinity : 3);
    const values = new Rig(clearanceSetting({ speedMax: 0, turnMax: 1 })).turn(dark, 4);
    expect(values.state[40]).toBe(SECTOR.unknown);
    // age of sectors 38..42 is near 0.1 s x (1 - 40/72) = 0.045 s: 2.6 degrees reach into one neighbour only
    expect(values.leeway[39]).toBe(0);
    expect(values.leeway[41]).toBe(0);
    expect(values.state[39]).toBe(SECTOR.obstacle);
    expect(values.leeway[37]).toBeGreaterThan(2.5);
  });

  test('samples that repeat or step back are no evidence', () => {
    const rig = new Rig(still());
    rig.turn(() => 3, 6);
    const again = Array.from({ length: 20 }, (_, i) => ({
      time: rig.time + i * 1e-4,
      bearing: wrapAngle(((380.3 + i) / 400) * TAU),
      range: 1,
    }));
    rig.machine.push(batchOf(again));
    expect(rig.machine.tally.repeatedSamples).toBe(20);
    expect(rig.machine.read(rig.time).leeway[69]).toBeGreaterThan(2.7);
  });
});

describe('following the beam', () => {
  test('a fall is immediate, a rise waits until the whole sector has been looked past', () => {
    const rig = new Rig(still());
    const k = 20;
    const wall =
      (range: number): Scene =>
      (b) =>
        Math.abs(wrapAngle(b - middle(k))) < 2.4 * degree ? range : 4;
    rig.turn(wall(3), 4);
    const seen: Array<{ beam: number; leeway: number }> = [];
    const note = (values: ClearanceValues): void => {
      seen.push({ beam: ((seen.length + 1) / 400) * 360, leeway: values.leeway[k] });
    };
    rig.turn(wall(1), 1, note, 1);
    const fall = seen.find(({ leeway }) => leeway < 1);
    expect(fall?.beam).toBeGreaterThan(99);
    expect(fall?.beam).toBeLessThan(101.1); // the first echo inside 100 .. 105 degrees
    seen.length = 0;
    rig.turn(wall(3), 1, note, 1);
    const rise = seen.find(({ leeway }) => leeway > 1);
    expect(rise?.beam).toBeGreaterThan(105.4); // past the edge by half a degree
    expect(rise?.beam).toBeLessThan(107);
  });

  test('a lone stray is released by one look past', () => {
    const rig = new Rig(still());
    rig.turn(() => 3, 4);
    const stray =
      (at: number): Scene =>
      (_b, _r, s) =>
        s === at ? 1 : 3;
    expect(rig.turn(stray(100), 1).leeway[18]).toBeLessThan(1);
    expect(rig.turn(() => 3, 1).leeway[18]).toBeGreaterThan(2.7);
  });

  test('a look past needs an echo: an empty sample does not release a lone echo', () => {
    const rig = new Rig(still());
    rig.turn(() => 3, 4);
    rig.turn((_b, _r, s) => (s === 100 ? 1 : 3), 1);
    const filled = rig.turn((_b, _r, s) => (s === 100 ? Infinity : 3), 0.3);
    expect(filled.leeway[18]).toBeLessThan(1);
  });

  test('two neighbouring echoes of one surface: one look past releases them', () => {
    const rig = new Rig(still());
    rig.turn(() => 3, 4);
    expect(rig.turn((_b, _r, s) => (s === 100 || s === 101 ? 1 : 3), 6).leeway[18]).toBeLessThan(1);
    expect(rig.turn(() => 3, 1).leeway[18]).toBeGreaterThan(2.7);
  });

  test.each([
    [200, 0.8],
    [400, 0.85],
    [800, 0.95],
  ])('a 2 cm post at 3 m at %d samples a revolution is held for a share of %d', (samples, share) => {
    // hit where the beam's bearing falls within its 0.382 degrees; the bearings of each revolution are shifted, as a free motor's are
    const random = seededRandom(samples);
    const rig = new Rig(still(), samples);
    const half = Math.asin(0.01 / 3);
    const target = middle(20);
    let hits = 0;
    let held = 0;
    let after = 0;
    let shift = 0;
    let revolution = -1;
    const scene: Scene = (b, r) => {
      if (r !== revolution) {
        revolution = r;
        shift = (random() - 0.5) * (TAU / samples);
      }
      const isHit = Math.abs(wrapAngle(b + shift - target)) < half;
      if (isHit) hits++;
      return isHit ? 3 - 0.01 : 5;
    };
    for (let i = 0; i < 300; i++) {
      const values = rig.turn(scene, 1);
      if (i < 100) continue;
      after++;
      if (values.leeway[20] < 2.9) held++;
    }
    expect(hits).toBeGreaterThan(10);
    // at 200 it is hit in one revolution of five: runs of more than ten without a hit (0.79^10 = 9 %) end the memory the contract gives it
    expect(held / after).toBeGreaterThan(share);
    rig.turn(() => 5, 40);
    expect(rig.turn(() => 5, 1).leeway[20]).toBeGreaterThan(4); // and given up when it has gone
  });

  test('looks past that release a post: ln 0.05 / ln(1 - p), rounded up', () => {
    // computed by hand: p 0.1: 28.43; 0.2: 13.43; 0.5: 4.32; 0.9: 1.30
    expect([0.1, 0.2, 0.5, 0.9, 1].map(looksToRelease)).toEqual([29, 14, 5, 2, 1]);
  });

  test('urgent: told once the echo is there, and only where it breaks what was sent', () => {
    const rig = new Rig(still());
    const values = rig.turn(() => 1.5, 4);
    rig.machine.sent(values);
    rig.turn(
      () => 1.5,
      1,
      (now, suspect) => {
        expect(suspect && rig.machine.isUrgent(now)).toBe(false);
      },
    );
    let told = 0;
    rig.turn(
      (_b, _r, s) => (s >= 100 && s < 110 ? 1.2 : 1.5),
      1,
      (now, suspect) => {
        if (suspect && rig.machine.isUrgent(now)) {
          told++;
          rig.machine.sent(now);
        }
      },
    );
    expect(told).toBeGreaterThanOrEqual(1);
    expect(told).toBeLessThanOrEqual(4); // once for each sector that falls
    const calm = rig.machine.read(rig.time);
    rig.machine.sent(calm);
    rig.turn(
      (_b, _r, s) => (s > 200 && s < 220 ? Infinity : s >= 100 && s < 110 ? 1.2 : 1.5),
      0.52,
      (now, suspect) => {
        if (suspect && rig.machine.isUrgent(now)) told = 100;
      },
    );
    expect(told).toBe(100); // sectors became unknown
  });
});

describe('a sensor off the origin', () => {
  const mount: [number, number] = [0.15, 0.05];
  /** Scene in rover axes seen from the mount: a disc of `radius` at (x, y) before walls of a box. */
  const discBefore =
    (x: number, y: number, radius: number): Scene =>
    (bearing, r, s) => {
      const qx = x - mount[0];
      const qy = y - mount[1];
      const along = qx * Math.cos(bearing) + qy * Math.sin(bearing);
      const inside = radius * radius - (qx * qx + qy * qy - along * along);
      const wall = box(3 - mount[0], 3 + mount[0], 3 - mount[1], 3 + mount[1])(bearing, r, s) as number;
      return along > 0 && inside >= 0 ? Math.min(wall, along - Math.sqrt(inside)) : wall;
    };

  test('leeway is measured from the outline, sectors from the origin', () => {
    const values = new Rig(still({ sensor: mount }), 800).turn(discBefore(100, 100, 0.01), 4);
    expect(isSeen(values)).toBe(true);
    for (const [k, expected] of [
      [0, 2.8],
      [18, 2.84],
      [36, 2.8],
      [54, 2.84],
    ])
      expect(values.leeway[k]).toBeCloseTo(expected, 1);
    expect(values.nearest[0]).toBeCloseTo(3, 2);
  });

  test('the shadow behind an echo shortens the leeway of the sectors it leads through, without making them unknown', () => {
    // A disc of 6 cm at 60 degrees, 0.5 m from the origin. From the sensor its left edge lies at another bearing than from the
    // origin: behind it the shadow leans over into further sectors. Truth by brute force: the nearest point of each sector that no
    // beam reaches.
    const [dx, dy, radius] = [0.5 * Math.cos(60 * degree), 0.5 * Math.sin(60 * degree), 0.06];
    const setting = still({ sensor: mount });
    const values = new Rig(setting, 800).turn(discBefore(dx, dy, radius), 4);
    const truth = new Float64Array(72).fill(12);
    for (let x = -3.2; x <= 3.2; x += 0.005) {
      for (let y = -3.2; y <= 3.2; y += 0.005) {
        const range = Math.hypot(x - mount[0], y - mount[1]);
        const passed = discBefore(dx, dy, radius)(Math.atan2(y - mount[1], x - mount[0]), 0, 0) as number;
        if (range < passed) continue;
        const k = Math.floor((((Math.atan2(y, x) / TAU) % 1) + 1) * 72) % 72;
        truth[k] = Math.min(truth[k], setting.outline.distance(x, y));
      }
    }
    let shaded = 0;
    for (let k = 0; k < 72; k++) {
      expect(values.state[k]).not.toBe(SECTOR.unknown);
      expect(values.leeway[k]).toBeLessThan(truth[k] + 0.02);
      const around = Math.min(truth[(k + 71) % 72], truth[k], truth[(k + 1) % 72]); // an edge counts for both sides
      expect(values.leeway[k]).toBeGreaterThan(around - 0.03);
      if (truth[k] < 2) shaded++;
    }
    expect(shaded).toBeGreaterThan(2);
  });

  test('a dark bearing makes unknown only the sectors it leads to between outline and leeway', () => {
    const dark =
      (from: number, to: number): Scene =>
      (b, r, s) =>
        b > from * degree && b < to * degree ? Infinity : discBefore(100, 100, 0.01)(b, r, s);
    const values = new Rig(still({ sensor: mount }), 800).turn(dark(80, 90), 4);
    const unknown = [...values.state].flatMap((state, k) => (state === SECTOR.unknown ? [k] : []));
    // seen from the sensor at (0.15, 0.05) bearing 80 .. 90 leads, from the outline's left side (y = 0.16) out to the wall (y = 3):
    // points (0.15 + d / tan b, 0.05 + d): from the origin 43 degrees (near) to 87 degrees (far)
    expect(Math.min(...unknown)).toBe(8);
    expect(Math.max(...unknown)).toBe(17);
    expect(values.state[4]).toBe(SECTOR.obstacle);
    expect(values.state[30]).toBe(SECTOR.obstacle);
  });

  test('an outline that is not convex is measured exactly enough to be safe', () => {
    const notch = new Outline([
      [0.3, 0.2],
      [0.3, 0.1],
      [0.1, 0.1],
      [0.1, -0.1],
      [0.3, -0.1],
      [0.3, -0.2],
      [-0.3, -0.2],
      [-0.3, 0.2],
    ]);
    const values = new Rig(still({ outline: notch }), 400).turn(box(1, 1, 1, 1), 4);
    expect(values.leeway[0]).toBeCloseTo(0.7, 1);
    expect(values.ahead).toBeCloseTo(0.7, 2);
  });
});

describe('straight on', () => {
  test('only bearings that cross the strip before the front count', () => {
    const scene =
      (dark: number): Scene =>
      (b) =>
        Math.abs(b - dark * degree) < 5 * degree ? Infinity : 3;
    expect(new Rig(still()).turn(scene(50), 4).ahead).toBeCloseTo(2.79, 1); // the front's corner lies at 38.7 degrees
    expect(new Rig(still()).turn(scene(35), 4).ahead).toBe(0);
  });

  test('something beside the strip does not stop it, something in it does', () => {
    const post =
      (x: number, y: number): Scene =>
      (b) =>
        Math.abs(wrapAngle(b - Math.atan2(y, x))) < 1.2 * degree ? Math.hypot(x, y) : 4;
    expect(new Rig(still(), 800).turn(post(1, 0.3), 4).ahead).toBeGreaterThan(3.5);
    expect(new Rig(still(), 800).turn(post(1, 0.1), 4).ahead).toBeCloseTo(0.8, 1);
  });
});
