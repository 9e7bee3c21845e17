// When Clearance messages go: contract, "When messages go".
import { expect, test } from 'vitest';
import { Pacer } from '../../../src/perception/clearance/pacer.js';

test('every 50 ms when nothing happens', () => {
  const pacer = new Pacer();
  expect(pacer.next(10)).toBe('send');
  pacer.sent(10, false);
  expect(pacer.next(10.049)).toBe('wait');
  expect(pacer.next(10.05)).toBe('send');
  expect(pacer.wakeAt(Infinity)).toBeCloseTo(10.05, 9);
});

test('at once on suspicion, also right after a regular one; then at most one in 5 ms', () => {
  const pacer = new Pacer();
  pacer.sent(10, false);
  pacer.suspect();
  expect(pacer.next(10.001)).toBe('look');
  pacer.sent(10.001, true);
  pacer.suspect();
  expect(pacer.next(10.004)).toBe('wait');
  expect(pacer.wakeAt(Infinity)).toBeCloseTo(10.006, 9);
  expect(pacer.next(10.006)).toBe('look');
});

test('a look that found nothing sends nothing, and the regular message still comes', () => {
  const pacer = new Pacer();
  pacer.sent(10, false);
  pacer.suspect();
  pacer.looked(10.01);
  expect(pacer.next(10.02)).toBe('wait');
  expect(pacer.next(10.05)).toBe('send');
});

test('wakes when evidence becomes too old', () => {
  const pacer = new Pacer();
  pacer.sent(10, false);
  expect(pacer.wakeAt(10.02)).toBeCloseTo(10.02, 9);
});
