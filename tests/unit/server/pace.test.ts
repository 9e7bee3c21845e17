import { expect, test } from 'vitest';
import { Pace } from '../../../src/server/pace.js';
import { Ration } from '../../../src/server/ration.js';
import { fakeClock } from '../../support/fakeClock.js';

function paced() {
  const clock = fakeClock();
  const pings: Buffer[] = [];
  return { clock, pings, pace: new Pace(clock, (payload) => pings.push(payload)) };
}

test('one ping is out at a time, at most ten a second', () => {
  const { clock, pings, pace } = paced();
  for (let i = 0; i < 5; i++) pace.sent();
  expect(pings.length).toBe(1);
  expect(pace.answered(pings[0])).toBe(true);
  pace.sent();
  expect(pings.length).toBe(1);
  clock.advance(0.11);
  pace.sent();
  expect(pings.length).toBe(2);
});

test('a pong late by more than 250 ms shuts the gate, its coming opens it, ten seconds without it end it', () => {
  const { clock, pings, pace } = paced();
  pace.sent();
  clock.advance(0.25);
  expect(pace.isOpen).toBe(true);
  clock.advance(0.01);
  expect(pace.isOpen).toBe(false);
  expect(pace.isGone).toBe(false);
  pace.answered(pings[0]);
  expect(pace.isOpen).toBe(true);
  pace.sent();
  clock.advance(10.1);
  expect(pace.isGone).toBe(true);
});

test('a pong that nobody asked for opens nothing (RFC 6455, 5.5.3)', () => {
  const { clock, pings, pace } = paced();
  pace.sent();
  clock.advance(1);
  for (const payload of [Buffer.alloc(0), Buffer.alloc(4), Buffer.from('hello')])
    expect(pace.answered(payload)).toBe(false);
  expect(pace.isOpen).toBe(false);
  expect(pace.answered(pings[0])).toBe(true);
  expect(pace.answered(pings[0])).toBe(false);
});

test('a quiet client is asked every five seconds', () => {
  const { clock, pings, pace } = paced();
  for (let second = 0; second < 20; second++) {
    pace.tick();
    for (const payload of pings) pace.answered(payload);
    clock.advance(1);
  }
  expect(pings.length).toBe(4);
});

/** Offers a message at every time given; what is held goes when it may. @returns the times at which one went. */
function went(maxRate: number | undefined, offers: readonly number[], urgent: readonly number[] = []): number[] {
  const clock = fakeClock(0);
  const ration = new Ration(clock, maxRate);
  const out: number[] = [];
  const go = (): void => {
    out.push(clock.now());
    ration.gone();
  };
  for (const offer of offers) {
    clock.advance(offer - clock.now());
    if (urgent.includes(offer) || ration.isDue) go();
    else ration.hold(go);
  }
  clock.advance(10);
  expect(clock.waiting).toBe(0);
  return out;
}

test('without a rate everything goes', () => {
  expect(went(undefined, [0, 0.001, 0.001, 0.002])).toEqual([0, 0.001, 0.001, 0.002]);
});

test('a rate thins, and the last of a burst still goes, once, when it may', () => {
  expect(went(10, [0, 0.02, 0.04])).toEqual([0, 0.1]);
});

test('jitter does not lower the rate: 20 Hz of a jittered 20 Hz stream loses none', () => {
  const jittered = Array.from({ length: 100 }, (_, i) => i / 20 + (0.004 * ((i * 7) % 5)) / 5);
  expect(went(20, jittered).length).toBe(100);
});

test.each([1, 7, 19.9, 333])('%s Hz is never exceeded over a second, nor by more than a tenth between two', (rate) => {
  const offers = Array.from({ length: 5000 }, (_, i) => i / 1000);
  const out = went(rate, offers);
  for (let i = 1; i < out.length; i++) expect(out[i] - out[i - 1]).toBeGreaterThanOrEqual(0.9 / rate - 1e-9);
  expect(out.length).toBeLessThanOrEqual(5 * rate + 2);
  expect(out.length).toBeGreaterThanOrEqual(Math.floor(5 * rate * 0.9));
});

test('an urgent message goes at once and takes the place of the one held', () => {
  expect(went(1, [0, 0.3, 0.31, 0.32], [0.31])).toEqual([0, 0.31, 1.31]);
});
