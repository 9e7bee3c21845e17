import { map, merge, type Observable, Subject, share, takeUntil } from 'rxjs';
import type { Clock } from '../core/clock.js';
import type { Facts, FaultCode } from '../core/fault.js';
import { HEALTH } from '../health/health.js';
import { Feed } from '../messages/codec.js';
import type { HelloFacts } from '../messages/toMessage.js';
import type { ClearanceSetting } from '../perception/clearance/setting.js';
import type { PerceptionSetting } from '../perception/perceive.js';
import { Feeds, type RunDesk } from './feeds.js';
import { type LinkEvent, type LinkTally, Senses } from './senses.js';
import { wire } from './wire.js';

export interface DaemonParts {
  readonly link: Readonly<{ events: Observable<LinkEvent>; tally: LinkTally; closed(): Promise<void> }>;
  readonly clearance: ClearanceSetting;
  readonly perception: PerceptionSetting;
  readonly hello: HelloFacts;
  readonly clock: Clock;
  /** Drives the simulated rover, m/s and rad/s; absent: the rover is a real one. */
  readonly drive?: (speed: number, turn: number) => void;
  /** Recording; absent: nothing can be recorded. */
  readonly desk?: RunDesk;
  /** Whole recorded sweeps come: start rules do not apply. */
  readonly isLocked?: boolean;
  /** Of each feed, how many messages went before. */
  readonly sequences?: Map<number, number>;
  readonly log: Readonly<{ info(facts: object, text: string): void; warn(facts: object, text: string): void }>;
}

export interface Daemon {
  readonly feeds: Feeds;
  /** Whether the senses vouch for anything; else the code of the first finding. */
  state(): { readonly ready: boolean; readonly code?: FaultCode };
  /** Stops the sensor and closes the port. */
  stop(): Promise<void>;
}

/**
 * Starts the senses on a link and keeps them running until {@link Daemon.stop}.
 * @param onBug called once when a bug ended the stream; the process should end.
 */
export function startDaemon(parts: DaemonParts, onBug: (error: unknown) => void): Daemon {
  const senses = new Senses({
    clearance: parts.clearance,
    perception: parts.perception,
    hello: parts.hello,
    tally: parts.link.tally,
    clock: parts.clock,
    ...(parts.isLocked && { isLocked: true }),
    ...(parts.sequences && { sequences: parts.sequences }),
    ...(parts.desk && { remarks: () => parts.desk?.remarks() ?? [] }),
  });
  const stop = new Subject<void>();
  const wired = wire(parts.link.events, senses, parts.clock, stop);
  const messages = parts.desk
    ? merge(wired, parts.desk.news.pipe(map((run) => senses.run(run)))).pipe(
        takeUntil(stop),
        share({ resetOnRefCountZero: true, resetOnComplete: false, resetOnError: false }), // as in wire
      )
    : wired;
  const told = new Set<FaultCode>();
  messages.subscribe({
    next: ({ feed }) => {
      if (feed === Feed.FEED_HEALTH) tell(senses, told, parts.log);
    },
    error: onBug,
  });
  return {
    feeds: new Feeds(senses, messages, parts.drive, parts.desk),
    state: () => {
      const { state, findings } = senses.health;
      return state === HEALTH.blind ? { ready: false, code: findings[0]?.code ?? 'SENSOR_STARTING' } : { ready: true };
    },
    stop: async () => {
      stop.next();
      await parts.link.closed();
    },
  };
}

/** Logs findings as they come and go. */
function tell(senses: Senses, told: Set<FaultCode>, log: DaemonParts['log']): void {
  const now = new Map(senses.health.findings.map((finding) => [finding.code, finding]));
  for (const [code, { what, remedy }] of now) {
    if (told.has(code)) continue;
    told.add(code);
    const facts: Facts = { code, what, remedy };
    log.warn(facts, 'finding');
  }
  for (const code of told) {
    if (now.has(code)) continue;
    told.delete(code);
    log.info({ code }, 'finding gone');
  }
}
