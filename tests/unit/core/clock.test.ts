import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { systemClock } from '../../../src/core/clock.js';

const START = Date.UTC(2026, 0, 1); // ms

beforeEach(() => {
  vi.useFakeTimers({ now: START });
});
afterEach(() => {
  vi.useRealTimers();
});

test('begins at Unix time and counts seconds', () => {
  const clock = systemClock();
  expect(clock.now()).toBeCloseTo(START / 1000, 6);
  vi.advanceTimersByTime(1500);
  expect(clock.now()).toBeCloseTo(START / 1000 + 1.5, 6);
  expect(clock.wallLead()).toBeCloseTo(0, 6);
});

test.each([3600, -3600])('a step of the wall clock by %i s is told, not followed', (step) => {
  const clock = systemClock();
  vi.advanceTimersByTime(1000);
  vi.setSystemTime(START + 1000 + step * 1000);
  expect(clock.now()).toBeCloseTo(START / 1000 + 1, 6);
  expect(clock.wallLead()).toBeCloseTo(step, 6);
});

test('a timer runs once, at its time, and not when it was cancelled', () => {
  const clock = systemClock();
  const log: string[] = [];
  clock.after(0.2, () => log.push('a'));
  const cancel = clock.after(0.1, () => log.push('b'));
  cancel();
  cancel();
  vi.advanceTimersByTime(199);
  expect(log).toEqual([]);
  vi.advanceTimersByTime(1000);
  expect(log).toEqual(['a']);
});

test('a time that has passed is soon, not an error', () => {
  const clock = systemClock();
  const act = vi.fn();
  clock.after(-1, act);
  vi.advanceTimersByTime(1);
  expect(act).toHaveBeenCalledTimes(1);
});
