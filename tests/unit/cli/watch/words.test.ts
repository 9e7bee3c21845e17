import { expect, test } from 'vitest';
import {
  bearingWords,
  motionWords,
  moversWords,
  nearestOf,
  oldestOf,
  plainLine,
  shapesWords,
} from '../../../../src/cli/watch/words.js';
import { AISLE, clearanceOf, HEALTH, stateOf } from '../../../support/watched.js';

test.each([
  [0, 'ahead'],
  [0.61, '35° left'],
  [-0.61, '35° right'],
  [Math.PI, 'behind'],
  [-Math.PI, 'behind'],
  [1.75 * Math.PI, '45° right'],
])('bearing %s rad is %s', (bearing, words) => expect(bearingWords(bearing)).toBe(words));

test('nearest: the least range and the middle of its sector', () => {
  const one = clearanceOf((b) => ({ state: 'obstacle', leeway: Math.abs(b - 0.65) < 0.04 ? 0.64 : 2 }));
  expect(nearestOf(one)).toEqual({ range: 0.64 + 0.2, bearing: expect.closeTo((7.5 * Math.PI) / 36, 6) }); // sector 7 of 5 degrees
  expect(nearestOf(clearanceOf(() => ({ state: 'clear', leeway: 3 })))).toBeUndefined();
  expect(nearestOf(undefined)).toBeUndefined();
});

test('the oldest evidence leaves out where there is none', () => {
  expect(oldestOf({ ...AISLE, ageS: [0.05, Infinity, 0.12] })).toBe(0.12);
  expect(oldestOf({ ...AISLE, ageS: [Infinity] })).toBeUndefined();
});

const opening = { x1M: 2, y1M: 0.5, x2M: 2, y2M: -0.5, widthM: 1, widthSdM: 0.02 };
test('shapes', () => {
  expect(shapesWords(undefined)).toEqual([]);
  expect(shapesWords({ sweep: 1, walls: [], corners: [], openings: [], posts: [] })).toEqual(['no shapes']);
  const doubt = { distanceVar: 0, crossCov: 0, normalVar: 0, roughnessM: 0 };
  const wall = { normalRad: 0, distanceM: 2, ...doubt, x1M: 2, y1M: 1, x2M: 2, y2M: -1, echoes: 30 };
  const post = { xM: 1, yM: 1, radiusM: 0.03, radiusSdM: 0 };
  const far = { ...opening, x1M: 5, x2M: 5 };
  expect(shapesWords({ sweep: 1, walls: [wall, wall], corners: [], openings: [far, opening], posts: [post] })).toEqual([
    '2 walls, 1 post',
    'opening 1.00 m wide, 2.00 m, ahead (1 more)',
  ]);
});

const mover = {
  ...{ id: 7, xM: 2, yM: 0, vxMps: -0.8, vyMps: 0, widthM: 0.4, ageS: 3, confidence: 0.9 },
  ...{ closestM: 0, closestInS: 2.25 },
};
test('movers: the one that comes soonest first', () => {
  expect(moversWords(undefined)).toEqual([]);
  expect(moversWords({ sweep: 1, movers: [] })).toEqual(['nothing moves']);
  const leaving = { ...mover, id: 3, vxMps: 0.5, closestM: 1.8, closestInS: 0 };
  expect(moversWords({ sweep: 1, movers: [leaving, mover] })).toEqual([
    '#7: 2.00 m, ahead, 0.8 m/s, coming: 0.00 m in 2.3 s',
    '#3: 2.00 m, ahead, 0.5 m/s, leaving',
  ]);
  expect(moversWords({ sweep: 1, movers: [mover, mover, mover, mover, mover] }).at(-1)).toBe('and 2 more');
});

test('motion', () => {
  const still = { xM: 0, yM: 0, headingRad: 0, vxMps: 0, vyMps: 0, turnRadps: 0, quality: 1 };
  expect(motionWords(undefined)).toBe('');
  expect(motionWords(still)).toBe('stands');
  expect(motionWords({ ...still, vxMps: 0.3, turnRadps: -Math.PI / 18 })).toBe('drives at 0.30 m/s, turns 10°/s right');
});

test('a line for a pipe tells all that matters', () => {
  const finding = { code: 'BYTES_SKIPPED', what: 'many bytes were lost', remedy: 'Check the cable.', sinceS: 0 };
  const health = { ...HEALTH, state: 'degraded' as const, findings: [finding] };
  const { standing, picture } = stateOf({
    picture: { health, movers: { sweep: 1, movers: [mover] } },
    standing: { trust: 'degraded' },
  });
  expect(plainLine(standing, picture)).toBe(
    '12:03:14 SENSES DEGRADED: since 12:03:04, unknown on 18 of 72 bearings, 1 finding, data 62 ms old; ahead 1.20 m, ' +
      'nearest 2.20 m at 3° left, spin 10.0/s, 1980 echoes/s, mover #7: 2.00 m, ahead, 0.8 m/s, coming: 0.00 m in 2.3 s. ' +
      'Many bytes were lost [BYTES_SKIPPED]. Do: Check the cable.',
  );
});

test('a line for a pipe vouches for nothing when the connection is gone', () => {
  const { standing, picture } = stateOf({
    picture: { clearance: undefined, health: undefined },
    standing: { trust: 'lost', retryIn: 1.2 },
  });
  expect(plainLine(standing, picture)).toMatch(
    /^12:03:14 CONNECTION LOST: at 12:03:04, nothing is vouched for, trying again in 2 s\. No word from the daemon for 10 s\. Do: look /,
  );
});
