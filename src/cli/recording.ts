import { type Observable, Subject } from 'rxjs';
import type { Settings } from '../config/load.js';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { type Layout, usualPacket } from '../device/layouts/layout.js';
import type { Port } from '../device/port.js';
import type { ServerMessage } from '../messages/codec.js';
import { leeway } from '../messages/gen/leeway.js';
import type { FeedMessage } from '../pipeline/feedMessage.js';
import type { RunDesk } from '../pipeline/feeds.js';
import { namedRun, removeRun } from '../runs/folder.js';
import { Recorder, type RecorderNews } from '../runs/recorder.js';
import { changeRun } from '../runs/runFile.js';
import { TappedPort } from '../runs/tappedPort.js';
import { timelineSetting } from './compose.js';

type RunBody = NonNullable<ServerMessage['run']>;
const { RunState } = leeway.v1;

const REGULAR = 1; // s between messages when nothing happens
const MOVING_SPEED = 0.05; // m/s; what matching makes of a standing rover stays below
const MOVING_TURN = 0.1; // rad/s
const STANDING = 30; // s without moving after which a run of `record: moving` ends

/** Recording for a daemon: the line that is listened to, and what clients may ask for. */
export class RecordingDesk implements RunDesk {
  /** Give this to the link. */
  readonly port: TappedPort;
  readonly recorder: Recorder;
  readonly news: Observable<RunBody>;
  readonly #news = new Subject<RunBody>();
  readonly #clock: Clock;
  readonly #folder: string;
  readonly #isOnMoving: boolean;
  #movedAt = -Infinity;
  #isByMoving = false;
  #cancel: () => void;

  constructor(port: Port, { config, written }: Settings, layout: Layout, version: string, clock: Clock) {
    const { runs, rover, sensor } = config;
    this.#clock = clock;
    this.#folder = runs.folder;
    this.#isOnMoving = runs.record === 'moving';
    this.recorder = new Recorder({
      setting: runs,
      facts: {
        ...{
          version,
          rover: rover.name,
          source: sensor.source,
          port: port.name,
          layout,
          stride: usualPacket(layout).bytes,
        },
        settings: recordedSettings(written),
      },
      clock,
      timeline: timelineSetting(config),
      standing: () => this.port.standing,
      tell: (news) => this.#tell(news),
    });
    this.port = new TappedPort(port, clock, this.recorder);
    this.news = this.#news;
    const turn = (): void => {
      this.#cancel = clock.after(REGULAR, () => {
        if (this.#isByMoving && clock.now() - this.#movedAt > STANDING) this.record(false, '');
        this.#news.next(this.#state());
        turn();
      });
    };
    this.#cancel = (): void => {};
    turn();
    if (runs.record === true) this.record(true, '');
  }

  get name(): string {
    return this.recorder.name;
  }

  remarks(): readonly Fault[] {
    return this.recorder.fault === undefined ? [] : [this.recorder.fault];
  }

  /** Listens to what the senses make of it. */
  hear({ message }: FeedMessage): void {
    this.recorder.heard(message);
    if (!this.#isOnMoving || !message.motion) return;
    const { vxMps, vyMps, turnRadps } = message.motion;
    if (Math.hypot(vxMps ?? 0, vyMps ?? 0) < MOVING_SPEED && Math.abs(turnRadps ?? 0) < MOVING_TURN) return;
    this.#movedAt = this.#clock.now();
    if (this.name !== '' || this.recorder.fault !== undefined) return;
    this.record(true, '');
    this.#isByMoving = true;
  }

  mark(text: string): void {
    this.#orRefused(() => this.recorder.mark(text));
  }

  record(on: boolean, title: string): void {
    this.#isByMoving = false;
    if (on) this.recorder.start(title);
    else void this.recorder.stop();
  }

  keep(run: string, { pinned, title, remove }: Readonly<{ pinned?: boolean; title?: string; remove?: boolean }>): void {
    this.#orRefused(() => {
      const isOwn = run === '' || run === this.name;
      if (isOwn && (this.name === '' || remove)) throw new Fault(remove ? 'RUN_BUSY' : 'RUN_NOT_RECORDING', { run });
      const about = { ...(pinned !== undefined && { pinned }), ...(title !== undefined && { title }) };
      const name = isOwn ? this.name : run;
      if (isOwn) this.recorder.change(about);
      else if (remove) removeRun(namedRun(this.#folder, run));
      else changeRun(namedRun(this.#folder, run), about);
      const at = this.#clock.now();
      if (remove) this.#tell({ run: name, what: 'removed', text: '', at });
      if (pinned !== undefined) this.#tell({ run: name, what: pinned ? 'pinned' : 'unpinned', text: '', at });
      if (title !== undefined) this.#tell({ run: name, what: 'titled', text: title, at });
    });
  }

  odometry(time: number, x: number, y: number, heading: number): void {
    this.recorder.odometry(time, x, y, heading);
  }

  /** Ends the run under way. */
  async stop(): Promise<void> {
    this.#cancel();
    await this.recorder.stop();
    this.#news.complete();
  }

  #orRefused(act: () => void): void {
    try {
      act();
    } catch (error) {
      if (error instanceof Fault)
        this.#tell({ run: this.name, what: 'refused', text: error.code, at: this.#clock.now() });
      throw error;
    }
  }

  #tell({ run, what, text, at }: RecorderNews): void {
    this.#news.next({ ...this.#state(), run, what, text, atS: at });
    this.#news.next(this.#state()); // who comes later learns how it is, not what happened before
  }

  #state(): RunBody {
    const now = this.#clock.now();
    const { about, size, name } = this.recorder;
    return {
      ...{ run: name, what: 'state', atS: now, text: '', bytes: size, pace: 1 },
      state: about ? RunState.RUN_STATE_RECORDING : RunState.RUN_STATE_IDLE,
      ...{ fromS: about?.began_s ?? now, toS: now, pinned: about?.pinned ?? false, title: about?.title ?? '' },
    };
  }
}

/** @returns what of the configuration a replay takes over: how the sensor sits, the rover, what leeway means. */
export function recordedSettings({ sensor, rover, clearance }: Settings['written']): unknown {
  const { source: _source, port: _port, ...kept } = sensor;
  return { sensor: kept, rover, clearance };
}
