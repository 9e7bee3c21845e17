import { expect, test } from 'vitest';
import { fakeClock } from '../../support/fakeClock.js';

test('timers run in order of their time, each at its own time', () => {
  const clock = fakeClock(100);
  const log: string[] = [];
  clock.after(2, () => log.push(`b ${clock.now()}`));
  clock.after(1, () => {
    log.push(`a ${clock.now()}`);
    clock.after(0.5, () => log.push(`c ${clock.now()}`));
  });
  clock.after(5, () => log.push('late'));
  clock.advance(3);
  expect(log).toEqual(['a 101', 'c 101.5', 'b 102']);
  expect(clock.now()).toBe(103);
  expect(clock.waiting).toBe(1);
});

test('a cancelled timer does not run, and cancelling again is harmless', () => {
  const clock = fakeClock();
  let ran = 0;
  const cancel = clock.after(1, () => ran++);
  cancel();
  cancel();
  clock.advance(10);
  expect(ran).toBe(0);
});

test('among equal times the first set runs first', () => {
  const clock = fakeClock();
  const log: number[] = [];
  for (let i = 0; i < 4; i++) clock.after(1, () => log.push(i));
  clock.advance(1);
  expect(log).toEqual([0, 1, 2, 3]);
});

test('promises settle between timers', async () => {
  const clock = fakeClock(0);
  const log: number[] = [];
  const wait = (seconds: number): Promise<void> => new Promise((resolve) => clock.after(seconds, resolve));
  const done = (async () => {
    for (let i = 0; i < 3; i++) {
      await wait(1);
      log.push(clock.now());
    }
  })();
  await clock.advanceAsync(3);
  expect(log).toEqual([1, 2, 3]);
  await done;
});

test('time does not run backwards', () => {
  expect(() => fakeClock().advance(-1)).toThrow(RangeError);
});
