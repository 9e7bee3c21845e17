import type { Clock } from '../../src/core/clock.js';

/** A Clock whose time passes only when the test says so. */
export interface FakeClock extends Clock {
  /** Lets time pass, running due timers in order of their time, each with `now()` at its own time. @param seconds s, >= 0. */
  advance(seconds: number): void;
  /** As {@link advance}, letting promises settle before and after every timer: for code that awaits between its timers. */
  advanceAsync(seconds: number): Promise<void>;
  /** Sets the wall clock ahead. @param lead s. */
  stepWall(lead: number): void;
  /** Timers that wait: 0 after a clean stop. */
  readonly waiting: number;
}

interface Timer {
  readonly due: number;
  readonly act: () => void;
}

const START = 1_767_225_600; // s, 2026-01-01T00:00:00Z: like a real time, so that a float32 on the way shows up

/** @param start s, Unix time at which the clock stands. */
export function fakeClock(start = START): FakeClock {
  const timers = new Set<Timer>(); // in order of setting, which is also the order among equal times
  let now = start;
  let lead = 0;

  function takeDue(until: number): Timer | undefined {
    let first: Timer | undefined;
    for (const timer of timers) if (timer.due <= until && (first === undefined || timer.due < first.due)) first = timer;
    if (first !== undefined) timers.delete(first);
    return first;
  }
  function end(seconds: number): number {
    if (!(seconds >= 0)) throw new RangeError(`fakeClock: ${seconds} s`);
    return now + seconds;
  }
  function run(timer: Timer): void {
    now = Math.max(now, timer.due);
    timer.act();
  }

  return {
    now: () => now,
    wallLead: () => lead,
    after: (delay, act) => {
      const timer = { due: now + Math.max(0, delay), act };
      timers.add(timer);
      return () => void timers.delete(timer);
    },
    advance: (seconds) => {
      const until = end(seconds);
      for (let timer = takeDue(until); timer !== undefined; timer = takeDue(until)) run(timer);
      now = until;
    },
    advanceAsync: async (seconds) => {
      const until = end(seconds);
      await settle();
      for (let timer = takeDue(until); timer !== undefined; timer = takeDue(until)) {
        run(timer);
        await settle();
      }
      now = until;
    },
    stepWall: (seconds) => {
      lead = seconds;
    },
    get waiting() {
      return timers.size;
    },
  };
}

/** Lets every promise that is already settled run its followers: a turn of the event loop comes after all microtasks. */
async function settle(): Promise<void> {
  await new Promise((resolve) => setImmediate(resolve));
}
