import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { ServerMessage } from '../messages/codec.js';
import { freeName } from './folder.js';
import { type About, CREATE, ENTRY, EntryWriter, type LineNote, MOMENT_COLUMNS, type RunNote } from './format.js';
import type { RecordAnswer, RecordBatch, RecordSetting } from './recordThread.js';
import type { Tap } from './tappedPort.js';
import { Timeline, type TimelineSetting } from './timeline.js';

/** How runs are kept. */
export interface RecorderSetting {
  /** Absolute. */
  readonly folder: string;
  /** Bytes after which a new file goes on; of all runs that are not pinned together; that stay free on the disk. */
  readonly fileMax: number;
  readonly totalMax: number;
  readonly freeMin: number;
  /** s after which a new file goes on. */
  readonly ageMax: number;
}

/** What a recording must know of the daemon when it begins. */
export type RecordedFacts = Pick<About, 'version' | 'rover' | 'source' | 'port' | 'layout' | 'stride' | 'settings'>;

/** What the recorder tells: something happened to the run of that name. */
export interface RecorderNews {
  readonly run: string;
  readonly what: string;
  readonly text: string;
  readonly at: number;
}

const FLUSH = 0.4; // s between commits: with the card's own time for one, under a second is lost when the power goes
const BACKLOG_MAX = 16 * 1024 * 1024; // bytes that wait for the disk; beyond it they are left out, and said so
const BLOCK_MAX = 256 * 1024; // bytes: a burst is cut, so that a reader never unpacks more at a time
const STOP_WITHIN = 1; // s
const WALL_STEP = 0.05; // s, a correction of the wall clock that is worth a note

/**
 * Records what comes in. All that happens on the caller's side is a copy of each chunk; packing and writing are a thread's, which is
 * told every {@link FLUSH} s. Trouble with the disk ends the recording with a {@link fault}, and nothing else.
 */
export class Recorder implements Tap {
  /** Why nothing is recorded although it was asked for. */
  fault: Fault | undefined;
  /** What was left out because the disk could not keep up. */
  readonly tally = { lostBytes: 0 };
  readonly #setting: RecorderSetting;
  readonly #facts: RecordedFacts;
  readonly #clock: Clock;
  readonly #timeline: TimelineSetting;
  readonly #standing: () => Readonly<{ isOpen: boolean; lines?: LineNote }>;
  readonly #tell: (news: RecorderNews) => void;
  #file: RunWriter | undefined;
  #messages: ServerMessage[] = [];
  #cancel = (): void => {};

  /** @param standing how the line stands; asked when a file begins. */
  constructor(parts: {
    setting: RecorderSetting;
    facts: RecordedFacts;
    clock: Clock;
    timeline: TimelineSetting;
    standing: () => Readonly<{ isOpen: boolean; lines?: LineNote }>;
    tell: (news: RecorderNews) => void;
  }) {
    this.#setting = parts.setting;
    this.#facts = parts.facts;
    this.#clock = parts.clock;
    this.#timeline = parts.timeline;
    this.#standing = parts.standing;
    this.#tell = parts.tell;
  }

  /** Name of the run being recorded; empty: none. */
  get name(): string {
    return this.#file?.about.name ?? '';
  }
  get about(): Readonly<About> | undefined {
    return this.#file?.about;
  }
  /** Bytes of its file so far. */
  get size(): number {
    return this.#file?.size ?? 0;
  }

  /** Begins a run; harmless while one is being recorded. */
  start(title = ''): void {
    if (this.#file !== undefined) return;
    this.fault = undefined;
    this.#messages = [];
    this.#begin(title);
    const turn = (): void => {
      this.#cancel = this.#clock.after(FLUSH, () => {
        this.#flush();
        if (this.#file !== undefined) turn();
      });
    };
    turn();
  }

  /** Ends the run. @returns when it is on the disk, or the disk has had its time. */
  async stop(): Promise<void> {
    const file = this.#file;
    if (file === undefined) return;
    this.#cancel();
    this.#pass(file);
    this.#file = undefined;
    this.#tell({ run: file.about.name, what: 'stopped', text: '', at: this.#clock.now() });
    await file.end(this.#clock.now());
  }

  bytes(chunk: Readonly<Uint8Array>, at: number): void {
    this.#file?.add(ENTRY.bytes, at, chunk);
  }

  line(note: LineNote, at: number): void {
    this.#file?.add(ENTRY.line, at, Buffer.from(JSON.stringify(note)));
  }

  /** What the wheels said. */
  odometry(time: number, x: number, y: number, heading: number): void {
    this.#file?.add(ENTRY.odometry, this.#clock.now(), new Uint8Array(Float64Array.of(time, x, y, heading).buffer));
  }

  /** @throws {Fault} RUN_NOT_RECORDING. */
  mark(text: string): void {
    if (this.#file === undefined) throw new Fault('RUN_NOT_RECORDING');
    const at = this.#clock.now();
    this.#file.note({ at, kind: 'mark', text });
    this.#tell({ run: this.name, what: 'mark', text, at });
  }

  /** Changes facts of the run being recorded. */
  change(about: Readonly<Partial<Pick<About, 'title' | 'pinned'>>>): void {
    this.#file?.change(about);
  }

  /** What the senses made of it; looked at when the next batch goes, since whoever waits for clearance comes first. */
  heard(message: ServerMessage): void {
    if (this.#file !== undefined) this.#messages.push(message);
  }

  #begin(title: string, continues?: RunWriter): void {
    const at = this.#clock.now();
    const { folder } = this.#setting;
    try {
      mkdirSync(folder, { recursive: true });
    } catch (error) {
      this.#fail(error instanceof Error ? error.message : String(error), false);
      return;
    }
    const about: About = {
      ...this.#facts,
      name: freeName(folder, at + this.#clock.wallLead()),
      began_s: at,
      wall_lead_s: this.#clock.wallLead(),
      title,
      pinned: continues?.about.pinned ?? false,
      ...(continues && { continues: continues.about.name }),
    };
    const file = new RunWriter(about, this.#setting, new Timeline(this.#timeline), this.#clock, {
      failed: (reason, isFull) => {
        if (this.#file === file) this.#fail(reason, isFull);
      },
      lost: (bytes) => {
        this.tally.lostBytes += bytes;
      },
    });
    this.#file = file;
    const { isOpen, lines } = this.#standing();
    if (isOpen) this.line({ what: 'opened' }, at);
    if (isOpen && lines) this.line(lines, at);
    this.#tell({ run: about.name, what: 'started', text: continues?.about.name ?? '', at });
  }

  #fail(reason: string, isFull: boolean): void {
    const file = this.#file;
    this.#file = undefined;
    this.#cancel();
    this.fault = new Fault(isFull ? 'RUN_DISK_FULL' : 'RUN_UNWRITABLE', { folder: this.#setting.folder, reason });
    this.#tell({ run: file?.about.name ?? '', what: 'stopped', text: this.fault.code, at: this.#clock.now() });
  }

  #flush(): void {
    const file = this.#file;
    if (file === undefined) return;
    this.#pass(file);
    file.flush();
    if (this.#file !== file) return;
    const { fileMax, ageMax } = this.#setting;
    if (file.size < fileMax && this.#clock.now() - file.about.began_s < ageMax) return;
    this.#begin(file.about.title, file);
    void file.end(this.#clock.now());
  }

  #pass(file: RunWriter): void {
    for (const message of this.#messages) file.heard(message);
    this.#messages = [];
  }
}

/** One file being written: gathers on this side, hands over to the thread. */
class RunWriter {
  about: About;
  size = 0;
  readonly #clock: Clock;
  readonly #report: { failed(reason: string, isFull: boolean): void; lost(bytes: number): void };
  readonly #worker: Worker;
  readonly #entries = new EntryWriter();
  readonly #timeline: Timeline;
  readonly #waiting: number[] = [];
  #events: RunNote[] = [];
  #changes: Record<string, unknown> = {};
  #backlog = 0;
  #lost = 0;
  #wallLead: number;
  #settle = (): void => {};
  readonly #settled = new Promise<void>((resolve) => {
    this.#settle = resolve;
  });

  constructor(
    about: About,
    setting: RecorderSetting,
    timeline: Timeline,
    clock: Clock,
    report: { failed(reason: string, isFull: boolean): void; lost(bytes: number): void },
  ) {
    this.about = about;
    this.#timeline = timeline;
    this.#clock = clock;
    this.#report = report;
    this.#wallLead = about.wall_lead_s;
    const workerData: RecordSetting = {
      path: join(setting.folder, `${about.name}.run`),
      create: CREATE,
      about: { ...about },
      momentColumns: MOMENT_COLUMNS.length,
      freeMin: setting.freeMin,
      totalMax: setting.totalMax,
      stride: about.stride,
    };
    const script = import.meta.url.endsWith('.ts') ? './recordThread.ts' : './recordThread.js';
    this.#worker = new Worker(new URL(script, import.meta.url), { workerData });
    this.#worker.on('message', (answer: RecordAnswer) => this.#answered(answer));
    this.#worker.on('error', (error: Error) => this.#failed(error.message, false));
    this.#worker.on('exit', () => this.#settle());
  }

  add(kind: (typeof ENTRY)[keyof typeof ENTRY], at: number, payload: Readonly<Uint8Array>): void {
    if (this.#backlog > BACKLOG_MAX) {
      this.#lost += payload.length;
      return;
    }
    const isFirst = this.#entries.length === 0; // of its block, which is named by its time: no two alike
    this.#entries.add(kind, Math.max(this.#us(at), this.#entries.lastUs + (isFirst ? 1 : 0)), payload);
    if (this.#entries.length > BLOCK_MAX) this.flush();
  }

  note(note: RunNote): void {
    this.#events.push(note);
  }

  heard(message: ServerMessage): void {
    this.#timeline.push(message);
  }

  change(about: Partial<About>): void {
    this.about = { ...this.about, ...about };
    Object.assign(this.#changes, about);
  }

  /** Hands over what has come in since. */
  flush(isLast = false): void {
    this.#noteLosses();
    const { events, moments } = this.#timeline.take();
    const notes = [...this.#events, ...events];
    this.#events = [];
    const atUs = this.#entries.firstUs;
    const untilUs = this.#entries.lastUs;
    const { heads, raw } = this.#entries.take();
    const isEmpty = heads.length === 0 && notes.length + moments.length + Object.keys(this.#changes).length === 0;
    if (isEmpty && !isLast) return;
    const batch: RecordBatch = {
      ...(heads.length > 0 && { block: { atUs, untilUs, heads, raw } }),
      events: notes.map(({ at, kind, text }) => [this.#us(at), kind, text] as const),
      moments: moments.map(({ at, values }) => [this.#us(at), ...values]),
      about: this.#changes,
      isLast,
    };
    this.#changes = {};
    this.#backlog += heads.length + raw.length;
    this.#waiting.push(heads.length + raw.length);
    this.#worker.postMessage(batch, [heads.buffer, raw.buffer]);
  }

  /** The last batch. @returns when the thread has ended, or has been given up. */
  async end(at: number): Promise<void> {
    this.change({ ended_s: at });
    this.flush(true);
    const cancel = this.#clock.after(STOP_WITHIN, () => this.#settle()); // a hung disk must not hold up the daemon's end
    await this.#settled;
    cancel();
    this.#worker.unref();
  }

  #noteLosses(): void {
    const at = this.#clock.now();
    if (this.#lost > 0) {
      this.#report.lost(this.#lost);
      this.note({ at, kind: 'lost_bytes', text: String(this.#lost) });
      this.#lost = 0;
    }
    const lead = this.#clock.wallLead();
    if (Math.abs(lead - this.#wallLead) < WALL_STEP) return;
    this.#wallLead = lead;
    this.note({ at, kind: 'clock', text: lead.toFixed(3) });
  }

  #answered(answer: RecordAnswer): void {
    if ('failed' in answer) {
      this.#failed(answer.failed, answer.isFull);
      return;
    }
    this.#backlog -= this.#waiting.shift() ?? 0;
    this.size = answer.bytes;
  }

  #failed(reason: string, isFull: boolean): void {
    this.#settle();
    this.#report.failed(reason, isFull);
  }

  #us(at: number): number {
    return Math.max(0, Math.round((at - this.about.began_s) * 1e6));
  }
}
