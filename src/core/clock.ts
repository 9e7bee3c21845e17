/**
 * Time for everything inside: seconds as a double, monotonic, equal to Unix time at the moment the clock was anchored.
 * Steps of the wall clock are not followed; {@link Clock.wallLead} tells them.
 */
export interface Clock {
  /** @returns s, never less than an earlier answer. */
  now(): number;
  /** @returns s, how far the wall clock has moved ahead of this clock since the anchor; 0 where nobody has set it. */
  wallLead(): number;
  /**
   * Calls `act` once.
   * @param delay s from now.
   * @returns cancels the call; harmless afterwards.
   */
  after(delay: number, act: () => void): () => void;
}

/** The machine's clock: `performance.now()` anchored once to `Date.now()`. */
export function systemClock(): Clock {
  const anchor = Date.now() / 1000 - performance.now() / 1000;
  const now = (): number => anchor + performance.now() / 1000;
  return {
    now,
    wallLead: () => Date.now() / 1000 - now(),
    after: (delay, act) => {
      const timer = setTimeout(act, Math.max(0, delay * 1000));
      return () => clearTimeout(timer);
    },
  };
}

/** @param time s, Unix time. @returns such as 2026-11-25T03:34:06.250Z. */
export function isoTime(time: number): string {
  return new Date(time * 1000).toISOString();
}
