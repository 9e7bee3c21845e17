import type { Clock } from '../core/clock.js';
import { explain, type Facts, type Fault, type FaultCode } from '../core/fault.js';
import { type EchoBatch, SAMPLE_KIND } from '../sweep/echoBatch.js';

/** In the order of the enum on the wire. */
export const HEALTH = { ok: 1, degraded: 2, blind: 3 } as const;

/** Something a person should know, with what to do about it. */
export interface Finding {
  readonly code: FaultCode;
  readonly what: string;
  readonly remedy: string;
  /** s, Clock: since when. */
  readonly since: number;
}

/** The senses' health at one moment; s, m, Hz. */
export interface HealthValues {
  readonly at: number;
  readonly state: (typeof HEALTH)[keyof typeof HEALTH];
  /** NaN: not measured. */
  readonly spin: number;
  /** Accepted echoes a second. */
  readonly echoRate: number;
  /** Share of the samples that carried an accepted echo; NaN without samples. */
  readonly validShare: number;
  readonly receivedBytes: number;
  readonly skippedBytes: number;
  readonly badChecks: number;
  readonly blindBeyondOutline: number;
  readonly findings: readonly Finding[];
}

/** What health watches; each is asked for anew, nothing is copied. */
export interface Watched {
  /** What the link says of itself: whether samples come, why not, and lasting remarks. */
  readonly link: () => Readonly<{ isStreaming: boolean; fault?: Fault; findings: readonly Fault[] }>;
  readonly tally: Readonly<{ receivedBytes: number; skippedBytes: number; badChecks: number }>;
  /** What the clearance machine knows of the beam. */
  readonly beam: Readonly<{
    isStarted: boolean;
    isSlow: boolean;
    isStalled: boolean;
    ageLimit: number;
    spin: Readonly<{ period: number; seenAt: number }>;
  }>;
  /** m, how far the sensor's blind ring reaches beyond the outline. */
  readonly blindBeyondOutline: number;
}

const SLOT = 0.1; // s
const SLOTS = 10;
const SKIPPED_SHARE = 0.01; // of the bytes of a second: a sound line loses none
const CLOCK_LEAD = 0.5; // s: a slow correction by the time service stays below
const FADE = 2; // s without its cause after which a finding goes

/** Watches the stream and says what is wrong, since when, and what to do. Pure but for the clock it is given. */
export class Health {
  readonly #watched: Watched;
  readonly #clock: Clock;
  readonly #samples = new Uint32Array(SLOTS);
  readonly #echoes = new Uint32Array(SLOTS);
  readonly #received = new Float64Array(SLOTS);
  readonly #skipped = new Float64Array(SLOTS);
  readonly #active = new Map<FaultCode, { since: number; seen: number; what: string }>();
  #slot: number;
  #startedAt = NaN; // s, since when the senses have been started without a break

  constructor(watched: Watched, clock: Clock) {
    this.#watched = watched;
    this.#clock = clock;
    this.#slot = Math.floor(clock.now() / SLOT);
  }

  /** Counts the samples of a batch. */
  push(batch: EchoBatch): void {
    this.#turnTo(this.#clock.now());
    let echoes = 0;
    for (let i = 0; i < batch.count; i++) if (batch.kind[i] === SAMPLE_KIND.echo) echoes++;
    this.#samples[this.#slot % SLOTS] += batch.count;
    this.#echoes[this.#slot % SLOTS] += echoes;
  }

  /** @returns the state now. BLIND: nothing can be vouched for, and the first finding says why. */
  read(): HealthValues {
    const now = this.#clock.now();
    this.#turnTo(now);
    const { tally, beam, blindBeyondOutline } = this.#watched;
    const blind = this.#blindness(now);
    if (blind !== undefined) this.#note(blind.code, blind.facts, now);
    for (const fault of this.#watched.link().findings) this.#note(fault.code, fault.facts, now);
    const received = tally.receivedBytes - this.#received[(this.#slot + 1) % SLOTS];
    const skipped = tally.skippedBytes - this.#skipped[(this.#slot + 1) % SLOTS];
    this.#startedAt = !beam.isStarted ? NaN : Number.isNaN(this.#startedAt) ? now : this.#startedAt;
    // finding one's feet at the start skips bytes of course: only what is lost after it counts
    const isSkipping = now - this.#startedAt > SLOTS * SLOT && skipped > SKIPPED_SHARE * received;
    if (isSkipping) this.#note('BYTES_SKIPPED', { skipped_bytes: skipped, of_bytes: received }, now);
    const lead = this.#clock.wallLead();
    if (Math.abs(lead) > CLOCK_LEAD) this.#note('CLOCK_STEPPED', { lead_s: Math.round(lead * 10) / 10 }, now);
    // what blinds is told first, and only while it does; the rest fades
    const findings: Finding[] = [];
    for (const [code, { since, seen, what }] of this.#active) {
      const isNow = seen === now;
      if (!isNow && (BLINDING.has(code) || now - seen > FADE)) this.#active.delete(code);
      else findings.push({ code, what, remedy: explain(code).remedy, since });
    }
    findings.sort((a, b) => Number(b.code === blind?.code) - Number(a.code === blind?.code) || a.since - b.since);
    const seconds = (SLOTS - 1) * SLOT + (now - this.#slot * SLOT);
    const samples = this.#samples.reduce((a, b) => a + b);
    const echoes = this.#echoes.reduce((a, b) => a + b);
    return {
      at: now,
      state: blind !== undefined ? HEALTH.blind : isSkipping ? HEALTH.degraded : HEALTH.ok,
      spin: now - beam.spin.seenAt <= beam.ageLimit ? 1 / beam.spin.period : NaN,
      echoRate: echoes / seconds,
      validShare: samples === 0 ? NaN : echoes / samples,
      receivedBytes: tally.receivedBytes,
      skippedBytes: tally.skippedBytes,
      badChecks: tally.badChecks,
      blindBeyondOutline,
      findings,
    };
  }

  #blindness(now: number): { code: FaultCode; facts: Facts } | undefined {
    const { beam } = this.#watched;
    const link = this.#watched.link();
    if (link.fault !== undefined) return { code: link.fault.code, facts: link.fault.facts };
    if (beam.isStalled) return { code: 'SPIN_STALLED', facts: {} };
    if (beam.isSlow) return { code: 'SPIN_SLOW', facts: { spin_hz: Math.round(10 / beam.spin.period) / 10 } };
    if (!link.isStreaming || !beam.isStarted) return { code: 'SENSOR_STARTING', facts: {} };
    if (now - beam.spin.seenAt > beam.ageLimit)
      return { code: 'SWEEP_OVERDUE', facts: { last_echo_s: Math.round(10 * (now - beam.spin.seenAt)) / 10 } };
    return undefined;
  }

  #note(code: FaultCode, facts: Facts, now: number): void {
    const known = this.#active.get(code);
    this.#active.set(code, { since: known?.since ?? now, seen: now, what: sentence(code, facts) });
  }

  /** Opens the slots up to `now`, keeping the counts at each slot's beginning. */
  #turnTo(now: number): void {
    const slot = Math.floor(now / SLOT);
    for (let i = Math.max(this.#slot + 1, slot - SLOTS + 1); i <= slot; i++) {
      this.#samples[i % SLOTS] = this.#echoes[i % SLOTS] = 0;
      this.#received[i % SLOTS] = this.#watched.tally.receivedBytes;
      this.#skipped[i % SLOTS] = this.#watched.tally.skippedBytes;
    }
    this.#slot = Math.max(this.#slot, slot);
  }
}

const BLINDING: ReadonlySet<FaultCode> = new Set([
  'LAYOUT_NOT_LOCKED',
  'PORT_BUSY',
  'PORT_LOST',
  'PORT_MISSING',
  'PORT_NO_PERMISSION',
  'PORT_OPEN_FAILED',
  'PORT_SILENT',
  'SENSOR_STARTING',
  'SPIN_SLOW',
  'SPIN_STALLED',
  'SWEEP_OVERDUE',
]);

/** @returns the code's sentence with its figures, such as "the sensor spins too slowly (spin_hz 3.2)". */
function sentence(code: FaultCode, facts: Facts): string {
  const { text, ...figures } = facts;
  const told = Object.entries(figures).map(([name, value]) => `${name} ${value}`);
  return `${text ?? explain(code).text}${told.length > 0 ? ` (${told.join(', ')})` : ''}`;
}
