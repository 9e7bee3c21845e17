const RATE = 5; // samples a second
const KEPT = 600; // s
const SLOTS = RATE * KEPT;

/** What the time strip shows below the curve, each with a shape of its own. */
export type EventKind = 'mark' | 'mover' | 'stop' | 'fault';

/** Something that happened. */
export interface Happening {
  /** s: Unix time of the daemon's clock, or from the beginning of a run. */
  readonly at: number;
  readonly kind: EventKind;
  readonly what: string;
}

/** Leeway ahead over the last ten minutes, and what happened in them. NaN: nothing was known. */
export class History {
  readonly #time = new Float64Array(SLOTS);
  readonly #ahead = new Float32Array(SLOTS);
  #next = 0;
  #count = 0;
  #last = -Infinity;
  happenings: Happening[] = [];
  #wasShort = false;
  #wasBlind = false;
  readonly #near = new Map<number, number>();

  /** Says how far ahead was vouched for at a time; kept five times a second, the least of each fifth. @param time s. */
  sample(time: number, ahead: number): void {
    if (time - this.#last < 1 / RATE) {
      const newest = (this.#next + SLOTS - 1) % SLOTS;
      if (this.#count > 0 && ahead < this.#ahead[newest]) this.#ahead[newest] = ahead;
      return;
    }
    this.#last = time;
    this.#time[this.#next] = time;
    this.#ahead[this.#next] = ahead;
    this.#next = (this.#next + 1) % SLOTS;
    this.#count = Math.min(SLOTS, this.#count + 1);
  }

  /** Calls `take` with each sample since a time, oldest first. */
  since(from: number, take: (time: number, ahead: number) => void): void {
    for (let i = 0; i < this.#count; i++) {
      const at = (this.#next + SLOTS - this.#count + i) % SLOTS;
      if (this.#time[at] >= from) take(this.#time[at], this.#ahead[at]);
    }
  }

  note(happening: Happening): void {
    this.happenings.push(happening);
    this.happenings = this.happenings.filter(({ at }) => at > happening.at - KEPT);
  }

  /** Notes when the leeway ahead falls below the stopping distance while the rover goes on, and when the senses go blind. */
  watch(time: number, ahead: number, stop: number, isMoving: boolean, isBlind: boolean): void {
    if (isBlind && !this.#wasBlind) this.note({ at: time, kind: 'fault', what: 'The senses went blind' });
    const isShort = isMoving && !isBlind && ahead < stop;
    if (isShort && !this.#wasShort) this.note({ at: time, kind: 'stop', what: 'Leeway below the stopping distance' });
    this.#wasBlind = isBlind;
    this.#wasShort = isShort;
  }

  /** Notes a mover that comes close, once in ten seconds. */
  watchMover(time: number, id: number, distance: number): void {
    if (time - (this.#near.get(id) ?? -Infinity) < 10) return;
    this.#near.set(id, time);
    this.note({ at: time, kind: 'mover', what: `Mover ${id} came within ${distance.toFixed(2)} m` });
  }
}
