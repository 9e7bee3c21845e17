import type { Mask } from './sheet/ground.js';

/** What the daemon lets a page change while it runs. */
export interface Settings {
  readonly noReturn: 'unknown' | 'clear';
  readonly noReturnM: number;
  readonly masks: readonly Mask[];
  readonly mount: Readonly<{ xM: number; yM: number }>;
  readonly noise: Readonly<{ constantM: number; growthPerM: number }>;
  /** Name of the configuration file; null: a change lasts until the daemon stops. */
  readonly file: string | null;
}

/** A part of the settings that may be changed. */
export type Change = Partial<Pick<Settings, 'noReturn' | 'noReturnM' | 'masks'>>;

const EVERY = 5; // s between looks: another page may have changed them

/** Settings that act live: read from the daemon, changed on it, and taken back until the page closes. */
export class Controls {
  settings: Settings | undefined;
  /** Why the last change was not made; empty: it was. */
  fault = '';
  onChange = (): void => {};
  readonly #ask: (path: string, init?: RequestInit) => Promise<unknown>;
  readonly #undo: Change[] = [];
  readonly #redo: Change[] = [];
  #lookedAt = -Infinity;
  #isBusy = false;
  #last: Promise<void> = Promise.resolve();

  /** @param ask asks the daemon. */
  constructor(ask: (path: string, init?: RequestInit) => Promise<unknown>) {
    this.#ask = ask;
  }

  get canUndo(): boolean {
    return this.#undo.length > 0;
  }
  get canRedo(): boolean {
    return this.#redo.length > 0;
  }

  /** Looks again where it is time to. @param now s. */
  look(now: number): void {
    if (now - this.#lookedAt < EVERY || this.#isBusy) return;
    this.#lookedAt = now;
    void this.#ask('/v1/settings').then(
      (told) => this.#take(told),
      () => {
        this.settings = undefined; // an older daemon, or none
      },
    );
  }

  /** The next look is due at once. */
  hurry(): void {
    this.#lookedAt = -Infinity;
  }

  /** Changes settings; what they were can be taken back. */
  change(change: Change): void {
    this.#queue(async () => {
      const before = this.#before(change);
      if (!(await this.#put(change))) return;
      this.#undo.push(before);
      this.#redo.length = 0;
    });
  }

  undo(): void {
    this.#queue(() => this.#swap(this.#undo, this.#redo));
  }

  redo(): void {
    this.#queue(() => this.#swap(this.#redo, this.#undo));
  }

  /** One change after the other: each begins with what the one before it left. */
  #queue(act: () => Promise<void>): void {
    this.#last = this.#last.then(act).then(() => this.onChange());
  }

  async #swap(from: Change[], to: Change[]): Promise<void> {
    const change = from.pop();
    if (change === undefined) return;
    const before = this.#before(change);
    if (await this.#put(change)) to.push(before);
    else from.push(change);
  }

  #before(change: Change): Change {
    const { settings } = this;
    if (settings === undefined) return {};
    return {
      ...(change.noReturn !== undefined && { noReturn: settings.noReturn }),
      ...(change.noReturnM !== undefined && { noReturnM: settings.noReturnM }),
      ...(change.masks !== undefined && { masks: settings.masks }),
    };
  }

  async #put(change: Change): Promise<boolean> {
    this.#isBusy = true;
    try {
      const headers = { 'content-type': 'application/json' };
      this.#take(await this.#ask('/v1/settings', { method: 'PUT', headers, body: JSON.stringify(change) }));
      this.fault = '';
      return true;
    } catch (error) {
      this.fault = error instanceof Error ? error.message : String(error);
      return false;
    } finally {
      this.#isBusy = false;
    }
  }

  #take(told: unknown): void {
    if (typeof told !== 'object' || told === null || !('masks' in told)) return;
    const isNew = JSON.stringify(told) !== JSON.stringify(this.settings);
    this.settings = told as Settings;
    if (isNew) this.onChange();
  }
}
