import type { Observable } from 'rxjs';
import type { Clock } from '../core/clock.js';
import type { Fault } from '../core/fault.js';
import type { EchoBatch } from '../sweep/echoBatch.js';
import type { Layout } from './layouts/layout.js';
import type { Port } from './port.js';
import type { SensorSetting } from './setting.js';

export type LinkPhase = 'opening' | 'starting' | 'streaming' | 'lost';

/** What the link is about; sent whenever any of it changes. */
export interface LinkStatus {
  /** streaming: the decoder is locked and samples come. */
  readonly phase: LinkPhase;
  /** s, Clock: when this phase began. */
  readonly since: number;
  /** Why it is lost, or not streaming yet (SPIN_STALLED: well-framed samples repeat one bearing and are held back). */
  readonly fault?: Fault;
  /** Lasting remarks while the port is open. */
  readonly findings: readonly Fault[];
}

export type LinkEvent =
  | { readonly kind: 'batch'; readonly batch: EchoBatch }
  | { readonly kind: 'status'; readonly status: LinkStatus };

/** Numbers that only grow. Every received byte is taken, skipped or pending (a pending one is skipped when the port goes). */
export interface LinkTally {
  receivedBytes: number;
  takenBytes: number;
  skippedBytes: number;
  /** Candidates that looked like a packet and failed its check. */
  badChecks: number;
  packets: number;
  /** Samples released. */
  samples: number;
  /** Well-framed samples not released: the bearing did not advance, or had been there already. */
  heldSamples: number;
  /** How often the decoder found its feet. */
  locks: number;
  /** Openings of the port after the first. */
  reopened: number;
}

export interface Link {
  /** Cold, for one subscriber: subscribing opens the port, unsubscribing stops the sensor and closes. Errors are bugs only. */
  readonly events: Observable<LinkEvent>;
  readonly tally: Readonly<LinkTally>;
  /** Resolves when the sensor is stopped and the port closed after unsubscribing; at once when nothing is open. Never rejects. */
  closed(): Promise<void>;
}

/** @see Link */
export declare function openLink(port: Port, layout: Layout, sensor: SensorSetting, clock: Clock): Link;
