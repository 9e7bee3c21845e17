import type { Clock } from '../core/clock.js';

interface Timer {
  readonly due: number;
  readonly act: () => void;
}

/**
 * The time of the day on which a run was recorded: it stands still until the {@link Player} moves it on. Timers fall due in the order
 * of their time, those of one time in the order of setting: what is done in it does not depend on how fast it is played.
 */
export class ReplayClock implements Clock {
  readonly #timers = new Set<Timer>();
  #now: number;
  #lead = 0;

  /** @param start s, Unix time. */
  constructor(start: number) {
    this.#now = start;
  }

  now(): number {
    return this.#now;
  }

  wallLead(): number {
    return this.#lead;
  }

  after(delay: number, act: () => void): () => void {
    const timer = { due: this.#now + Math.max(0, delay), act };
    this.#timers.add(timer);
    return () => void this.#timers.delete(timer);
  }

  /** s, when the next timer falls due; Infinity: there is none. */
  get nextDue(): number {
    return this.#first()?.due ?? Infinity;
  }

  /** The wall clock was ahead by so much from now on. */
  setLead(lead: number): void {
    this.#lead = lead;
  }

  /** Moves on to `time` without calling timers. */
  moveTo(time: number): void {
    this.#now = Math.max(this.#now, time);
  }

  /** Calls the next timer at its time. */
  runNext(): void {
    const timer = this.#first();
    if (timer === undefined) return;
    this.#timers.delete(timer);
    this.moveTo(timer.due);
    timer.act();
  }

  #first(): Timer | undefined {
    let first: Timer | undefined;
    for (const timer of this.#timers) if (first === undefined || timer.due < first.due) first = timer;
    return first;
  }
}
