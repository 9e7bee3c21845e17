import { Observable, Subject } from 'rxjs';
import type { Config } from '../config/config.js';
import type { LinkEvent } from '../pipeline/senses.js';
import { LineBatches } from './lineBatches.js';
import { readSweepLine } from './sweepLines.js';

/** Stands in for the line to a sensor where a run holds whole sweeps: it always streams. */
export class SweepLink {
  readonly events: Observable<LinkEvent>;
  readonly tally = { receivedBytes: 0, skippedBytes: 0, badChecks: 0 };
  readonly #out = new Subject<LinkEvent>();
  readonly #batches: LineBatches;
  #lines = 0;

  constructor(config: Config) {
    this.#batches = new LineBatches(config);
    this.events = new Observable((subscriber) => {
      subscriber.next({ kind: 'status', status: { phase: 'streaming', findings: [] } });
      return this.#out.subscribe(subscriber);
    });
  }

  async closed(): Promise<void> {}

  /** @param text a line as `process` reads it. @throws {Fault} INPUT_LINE_BAD. */
  take(text: string): void {
    this.tally.receivedBytes += text.length;
    const line = readSweepLine(text, ++this.#lines);
    const batch = this.#batches.batch(line);
    this.#out.next({ kind: 'sweep', batch, period: Number.isNaN(line.dt) ? 0 : line.dt * batch.count });
  }
}
